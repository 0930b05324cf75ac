// Package scan reads the text of a QR code out of a picture.
//
// It is the reader with which codes are proved before film is spent: somewhat
// stricter than good phones, for it needs about 2.5 picture points to a square
// of the code and a pale edge round it, and takes no reversed codes. It knows
// nothing of how the code was made.
package scan

import (
	"context"
	"fmt"
	"image"

	"floatmark/loading/fault"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// QR returns the text of the code in img: the one the reader meets first, if
// there are several. A picture without a code that reads is a NotFound error;
// a nil or empty picture is an Input error.
func QR(img image.Image) (text string, err error) {
	if img == nil || img.Bounds().Empty() {
		return "", fault.Inputf("give a picture that holds the code", "the picture is empty")
	}
	source := gozxing.NewLuminanceSourceFromImage(img)
	for _, t := range tries() {
		var result *gozxing.Result
		if result, err = t.read(context.Background(), source); err == nil {
			return result.GetText(), nil
		}
	}
	return "", unread(err)
}

func unread(cause error) error {
	return fault.New(fault.NotFound, "", "no code could be read in the picture",
		"hold the camera square to the code, 10 to 15 cm away, without glare", cause)
}

// try is one way of looking at a picture.
type try struct {
	binarizer func(gozxing.LuminanceSource) gozxing.Binarizer
	clean     bool // an upright rendering by its outer edges
}

// read looks in one way for a code. A photograph may be anything, and the reader
// computes places in it from what it takes for a code: a slip in there is a code
// not read.
func (t try) read(ctx context.Context, source gozxing.LuminanceSource) (result *gozxing.Result, err error) {
	defer func() {
		if r := recover(); r != nil {
			result, err = nil, fmt.Errorf("reader: %v", r)
		}
	}()
	picture, err := gozxing.NewBinaryBitmap(t.binarizer(source))
	if err != nil {
		return nil, err
	}
	centres := 0
	hints := map[gozxing.DecodeHintType]any{
		gozxing.DecodeHintType_CHARACTER_SET: "UTF-8", // texts are written so without a notice of it
		// The reader has no other way to be stopped.
		gozxing.DecodeHintType_NEED_RESULT_POINT_CALLBACK: gozxing.ResultPointCallback(func(gozxing.ResultPoint) {
			if centres++; centres > mostCentres {
				panic(errCrowded)
			}
			if err := ctx.Err(); err != nil {
				panic(err)
			}
		}),
	}
	if t.clean {
		hints[gozxing.DecodeHintType_PURE_BARCODE] = true
	}
	return qrcode.NewQRCodeReader().Decode(picture, hints)
}

// tries lists the ways in the order they are tried. The local threshold takes
// uneven light; the single one takes flat renderings at the limit of
// resolution; the last takes a clean, upright rendering by its outer edges,
// for in a few in a hundred of those the search for the three corner squares
// goes astray. A correction code guards all three, so trying again finds more
// and guesses nothing.
func tries() []try {
	return []try{
		{gozxing.NewHybridBinarizer, false},
		{gozxing.NewGlobalHistgramBinarizer, false},
		{gozxing.NewGlobalHistgramBinarizer, true},
	}
}
