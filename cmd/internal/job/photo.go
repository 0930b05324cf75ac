package job

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"floatmark/label/symbol/scan"
	"floatmark/loading/fault"
)

// photoTime is how long one photograph may be searched. One of 12 megapixels
// takes a second; whoever waits longer takes another.
const photoTime = 20 * time.Second

// PhotoCode returns what the code in a photograph says (JPEG or PNG). Errors are
// those of scan.Photo; Input for a picture that takes too long.
func (w *Workshop) PhotoCode(ctx context.Context, r io.Reader) (string, error) {
	in, stop := context.WithTimeout(ctx, photoTime)
	defer stop()
	text, err := scan.Photo(in, r)
	var e *fault.Error
	switch {
	case err == nil || errors.As(err, &e):
		return text, err
	case ctx.Err() != nil:
		return "", ctx.Err()
	case in.Err() != nil:
		return "", fault.New(fault.Input, "", fmt.Sprintf("the picture was searched for %.0f s and no code was found", photoTime.Seconds()), "take one with less in it, or type the id", err)
	}
	return "", fault.New(fault.Machine, "", "the picture cannot be read: "+reason(err), "check the file, or type the id", err)
}

// PhotoFile is PhotoCode of a file.
func (w *Workshop) PhotoFile(ctx context.Context, path string) (string, error) {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return "", fault.New(fault.NotFound, path, "there is no such picture", "check its name", err)
	}
	if err != nil {
		return "", machine(path, "cannot be read", err)
	}
	defer f.Close()
	text, err := w.PhotoCode(ctx, f)
	if errors.Is(err, context.Canceled) {
		return "", err
	}
	return text, fault.At(path, err)
}
