package scan

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"strings"

	"floatmark/loading/fault"
)

// Bounds of what is opened at all. Own choices: whoever sends a file must not
// decide how much memory and time it takes.
const (
	// mostBytes of a file: a JPEG of 50 megapixels has about 25 MB (estimate).
	mostBytes = 40 << 20
	// mostPoints of a picture: phones take 12 megapixels, a few 48 or 50.
	mostPoints = 64_000_000
	// mostDecoded bytes of its points: sixteen bits a colour double them.
	mostDecoded = 4 * mostPoints
)

// Photo returns the text of the code in a photograph: a JPEG or PNG file of at
// most 40 MB and 64 megapixels, the code anywhere in it, some 100 points wide at
// least. Which way up the picture is, or says it is (the EXIF notice is not
// read), does not matter to a code. The same text several times is one text.
//
// Errors: NotFound for a picture without a code that reads; Input for one with
// codes of different texts, and for what is no picture, broken, in another format
// or past the bounds. A context that ends gives its own error, wrapped; the
// longest step that it cannot stop is the decoding of one picture within the
// bounds.
func Photo(ctx context.Context, r io.Reader) (string, error) {
	grey, err := load(ctx, r)
	if err != nil {
		return "", err
	}
	texts, err := find(ctx, grey)
	switch {
	case err != nil:
		return "", fmt.Errorf("the search for a code was stopped: %w", err)
	case len(texts) == 0:
		return "", unread(nil)
	case len(texts) > 1:
		return "", fault.Inputf("take the picture with one code in it",
			"there are two codes in the picture: %q and %q", Clip(texts[0]), Clip(texts[1]))
	}
	return texts[0], nil
}

// Clip keeps a code that holds a page of text out of a message.
func Clip(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "..."
}

// load reads a picture in shades of grey.
func load(ctx context.Context, r io.Reader) (*image.Gray, error) {
	data, err := io.ReadAll(io.LimitReader(stopped{ctx, r}, mostBytes+1))
	switch {
	case err != nil:
		return nil, err
	case len(data) == 0:
		return nil, unopened("the picture is empty")
	case len(data) > mostBytes:
		return nil, unopened(fmt.Sprintf("the file has more than %d MB", mostBytes>>20))
	}
	f, err := formatOf(data)
	if err != nil {
		return nil, err
	}
	size, err := f.config(bytes.NewReader(data))
	switch {
	case err != nil:
		return nil, broken(f.name, err)
	case size.Width < 1 || size.Height < 1:
		return nil, unopened("the picture is empty")
	case size.Width > mostPoints/size.Height:
		return nil, unopened(fmt.Sprintf("the picture has %d × %d points, more than %d megapixels", size.Width, size.Height, mostPoints/1_000_000))
	case size.Width*size.Height > mostDecoded/pointBytes(size.ColorModel):
		return nil, unopened(fmt.Sprintf("the picture has %d × %d points of sixteen bits a colour, more than is opened", size.Width, size.Height))
	}
	img, err := f.decode(stopped{ctx, bytes.NewReader(data)})
	if err != nil {
		if ctx.Err() != nil {
			return nil, fmt.Errorf("the picture was not opened to the end: %w", ctx.Err())
		}
		return nil, broken(f.name, err)
	}
	return greyOf(img), nil
}

// stopped is a reader that ends with its context: decoding then ends too.
type stopped struct {
	ctx context.Context
	r   io.Reader
}

// Read implements io.Reader and fails once its context has ended.
func (s stopped) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.Read(p)
}

// pointBytes is how many bytes a decoded point takes.
func pointBytes(m color.Model) int {
	switch m {
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	case color.Gray16Model:
		return 2
	}
	return 4
}

type format struct {
	name   string
	config func(io.Reader) (image.Config, error)
	decode func(io.Reader) (image.Image, error)
}

// formatOf tells a picture's format by how the file begins. Others that phones
// and browsers make are refused by name: whoever has one must know what to do.
func formatOf(data []byte) (format, error) {
	begins := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	after := func(n int, s string) bool { return len(data) >= n && bytes.HasPrefix(data[n:], []byte(s)) }
	switch {
	case begins("\xff\xd8\xff"): // ISO/IEC 10918-1, start of image and the next marker
		return format{"JPEG", jpeg.DecodeConfig, jpeg.Decode}, nil
	case begins("\x89PNG\r\n\x1a\n"): // PNG specification, signature
		return format{"PNG", png.DecodeConfig, png.Decode}, nil
	case after(4, "ftyp"): // ISO/IEC 14496-12: HEIC, HEIF and AVIF, and videos
		return format{}, unopened("the file is a HEIC picture or a video, which is not read")
	case begins("RIFF") && after(8, "WEBP"):
		return format{}, unopened("the file is a WebP picture, which is not read")
	case begins("GIF8"):
		return format{}, unopened("the file is a GIF picture, which is not read")
	case begins("%PDF-"):
		return format{}, unopened("the file is a PDF and no picture")
	}
	return format{}, unopened("the file is no picture")
}

const giveJPEG = "give a photograph as JPEG or PNG, at most 40 MB and 64 megapixels; phones can be set to take JPEG (\"most compatible\")"

func unopened(what string) error { return fault.New(fault.Input, "", what, giveJPEG) }

func broken(name string, cause error) error {
	return fault.New(fault.Input, "", "the "+name+" picture is broken or ends too soon", "take or send it once more", cause)
}
