package job

import (
	"bytes"
	"context"
	"os"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/png"
)

// pictureDPI shows a sheet of A4 at a size a page can hold.
const pictureDPI = 110

// TestGoldenPictures holds the pictures that README.md shows to what the demo
// prints today. They are compared by pixel, with room for the last bit of a
// rasteriser on another machine.
func TestGoldenPictures(t *testing.T) {
	shop, path, err := preview(Demo(t.TempDir()))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := shop.Plan(context.Background(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	of := func(s *draw.Sheet) func() ([]byte, error) {
		return func() ([]byte, error) {
			var buf bytes.Buffer
			err := png.Write(&buf, s, pictureDPI)
			return buf.Bytes(), err
		}
	}
	for _, c := range []struct {
		name string
		draw func() ([]byte, error)
	}{{"decal-sheet.png", of(plan.Decals[0])}, {"backer.png", of(plan.Backers[0])}, {"job-sheet.png", of(plan.JobSheets[0])},
		{"float.png", func() ([]byte, error) { return plan.FourSides(&plan.Floats[0]) }}} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.draw()
			if err != nil {
				t.Fatal(err)
			}
			golden.Picture(t, c.name, got, os.ReadFile, os.WriteFile)
		})
	}
}
