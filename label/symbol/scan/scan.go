// Package scan reads the text of a QR code out of a picture.
//
// It is the reader with which codes are proved before film is spent: somewhat
// stricter than good phones, for it needs about 2.5 picture points to a square
// of the code and a pale edge round it, and takes no reversed codes. It knows
// nothing of how the code was made.
package scan

import (
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
	// A photograph may be anything, and the reader computes places in it from
	// what it takes for a code: a slip in there is a code not read.
	defer func() {
		if r := recover(); r != nil {
			text, err = "", unread(fmt.Errorf("reader: %v", r))
		}
	}()
	source := gozxing.NewLuminanceSourceFromImage(img)
	for _, try := range tries() {
		var picture *gozxing.BinaryBitmap
		if picture, err = gozxing.NewBinaryBitmap(try.binarizer(source)); err != nil {
			continue
		}
		var result *gozxing.Result
		if result, err = qrcode.NewQRCodeReader().Decode(picture, try.hints); err == nil {
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
	hints     map[gozxing.DecodeHintType]any
}

// tries lists the ways in the order they are tried. The local threshold takes
// uneven light; the single one takes flat renderings at the limit of
// resolution; the last takes a clean, upright rendering by its outer edges,
// for in a few in a hundred of those the search for the three corner squares
// goes astray. A correction code guards all three, so trying again finds more
// and guesses nothing.
func tries() []try {
	// Texts are written as UTF-8 without a notice of it.
	search := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_CHARACTER_SET: "UTF-8"}
	clean := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_CHARACTER_SET: "UTF-8", gozxing.DecodeHintType_PURE_BARCODE: true}
	return []try{
		{gozxing.NewHybridBinarizer, search},
		{gozxing.NewGlobalHistgramBinarizer, search},
		{gozxing.NewGlobalHistgramBinarizer, clean},
	}
}
