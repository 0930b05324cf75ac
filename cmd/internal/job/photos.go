package job

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/draw"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Bounds of a photograph. Own choice: a phone's camera makes up to 12 million
// points and 10 MB as it is set when bought; what comes is looked at before it is
// unpacked.
const (
	photoMostIn     = 30_000_000 // bytes of a file that is taken
	photoMostPoints = 50_000_000 // of a JPEG: 150 MB unpacked
	pngMostPoints   = 25_000_000 // of a PNG: up to 200 MB unpacked, with 8 bytes to a point
	photoMostPasses = 24         // of a JPEG; the usual ways to write one make up to 10
	photoMostSide   = 16_384     // points; a strip longer than that is no photograph of a float
	photoMostOut    = 300_000    // bytes as it is kept
	photoSide       = 1600       // points of the longest side as it is kept: a phone's screen, twice over
	photoLeastSide  = 64         // points: no picture that is asked for needs to be made smaller than this
)

// photoQualities are tried one after the other until the file is small enough;
// below the last one the picture is made smaller instead.
var photoQualities = [...]int{86, 78, 70, 62, 54}

// photoShrink is how much smaller a picture gets when no quality does.
const photoShrink = 0.8

// Picture is a photograph as it is kept: a JPEG without any of the words that
// cameras write beside a picture (when, where, with what), the right way up.
type Picture struct {
	Width, Height int // points
	JPEG          []byte
}

// PhotoOf reads a photograph, JPEG or PNG, turns it the right way up, makes its
// longest side 1600 points or less and writes it anew as a JPEG of 300 kB or
// less: nothing but the picture itself is left of it. Errors: Input for what is no
// such picture, is too big, or cannot be read.
func PhotoOf(r io.Reader) (Picture, error) {
	data, err := io.ReadAll(io.LimitReader(r, photoMostIn+1))
	if err != nil {
		return Picture{}, machine("photograph", "cannot be read", err)
	}
	if len(data) > photoMostIn {
		return Picture{}, fault.Inputf("send it in a smaller size", "the photograph is bigger than 30 MB")
	}
	img, err := decodePhoto(data)
	if err != nil {
		return Picture{}, err
	}
	return smallEnough(upright(scaled(img, photoSide), orientation(data)))
}

func decodePhoto(data []byte) (image.Image, error) {
	noPicture := fault.Inputf("send it as JPEG or PNG", "this is no photograph that can be read")
	decode, most, made := jpeg.Decode, photoMostPoints, passes(data)
	conf, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		decode, most, made = png.Decode, pngMostPoints, 0
		if conf, err = png.DecodeConfig(bytes.NewReader(data)); err != nil {
			return nil, noPicture
		}
	}
	switch {
	case conf.Width < 1 || conf.Height < 1:
		return nil, noPicture
	case conf.Width > photoMostSide || conf.Height > photoMostSide || conf.Width*conf.Height > most:
		return nil, fault.Inputf("send it in a smaller size", "the photograph has too many points: %d by %d", conf.Width, conf.Height)
	}
	if made > photoMostPasses {
		return nil, fault.Inputf("save it anew as a plain JPEG and send that", "the photograph is made of too many passes")
	}
	img, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, fault.New(fault.Input, "", "the photograph is damaged: "+err.Error(), "send it again", err)
	}
	return img, nil
}

// scaled draws a picture on white, its longest side most points or less.
func scaled(img image.Image, most int) *image.RGBA {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	if long := max(w, h); long > most {
		w, h = max(1, w*most/long), max(1, h*most/long)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	if w == b.Dx() {
		draw.Draw(out, out.Bounds(), img, b.Min, draw.Over)
	} else {
		draw.BiLinear.Scale(out, out.Bounds(), img, b, draw.Over, nil)
	}
	return out
}

// smallEnough writes a picture in the best quality that is small enough.
func smallEnough(img *image.RGBA) (Picture, error) {
	for {
		for _, q := range photoQualities {
			var buf bytes.Buffer
			if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: q}); err != nil {
				return Picture{}, err
			}
			if buf.Len() <= photoMostOut {
				return Picture{img.Bounds().Dx(), img.Bounds().Dy(), buf.Bytes()}, nil
			}
		}
		long := max(img.Bounds().Dx(), img.Bounds().Dy())
		if long <= photoLeastSide {
			return Picture{}, fault.New(fault.Ours, "photograph", "it cannot be made small enough", "")
		}
		img = scaled(img, int(photoShrink*float64(long)))
	}
}

// AddPhoto adds a photograph to the build record of a float, a batch or a
// pattern; caption and date, calendar text, may be "". by and key are those of
// Change. Errors are those of PhotoOf and Change.
func (w *Workshop) AddPhoto(ctx context.Context, of label.Subject, r io.Reader, caption, date, by, key string) (BuildChanged, error) {
	pic, err := PhotoOf(r)
	if err != nil {
		return BuildChanged{}, err
	}
	// Checked with a number in place, stored with a 0 that the record replaces.
	p := label.Photo{Photo: 1, Caption: caption, Date: date, Width: pic.Width, Height: pic.Height, Bytes: len(pic.JPEG)}
	value, err := json.Marshal(p)
	if err != nil {
		return BuildChanged{}, err
	}
	if value, err = label.CheckPhoto(value); err != nil {
		return BuildChanged{}, err
	}
	if err := json.Unmarshal(value, &p); err != nil {
		return BuildChanged{}, err
	}
	p.Photo = 0
	if value, err = json.Marshal(p); err != nil {
		return BuildChanged{}, err
	}
	sum := sha256.Sum256(pic.JPEG)
	return w.changeBuild(ctx, []BuildChange{{of, label.Adding(label.ListPhotos), value, Unseen}}, by, key,
		&record.Photo{SHA256: hex.EncodeToString(sum[:]), Width: pic.Width, Height: pic.Height, JPEG: pic.JPEG})
}

// Photo returns the picture of that number (label.Photo) and whether there is
// one. Whether it may be shown, its build record says.
func (w *Workshop) Photo(number int) ([]byte, bool, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, false, err
	}
	defer s.Close()
	p, ok, err := s.Photo(number)
	return p.JPEG, ok, err
}
