package job

import (
	"bytes"
	"context"
	"flag"
	"image"
	stdpng "image/png"
	"os"
	"path/filepath"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/png"
)

var update = flag.Bool("update", false, "write the goldens anew")

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
			golden := filepath.Join("testdata", c.name)
			if *update {
				if err := os.MkdirAll("testdata", 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(golden, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if n := differing(t, got, want); n > 0 {
				t.Errorf("%d pixels differ from %s; -update writes it anew", n, golden)
			}
		})
	}
}

// differing counts pixels that differ by more than a grey step of four.
func differing(t *testing.T, a, b []byte) int {
	t.Helper()
	const step = 4 << 8
	read := func(data []byte) image.Image {
		img, err := stdpng.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	x, y := read(a), read(b)
	if x.Bounds() != y.Bounds() {
		t.Fatalf("sizes %v and %v", x.Bounds(), y.Bounds())
	}
	n := 0
	for j := x.Bounds().Min.Y; j < x.Bounds().Max.Y; j++ {
		for i := x.Bounds().Min.X; i < x.Bounds().Max.X; i++ {
			r0, g0, b0, _ := x.At(i, j).RGBA()
			r1, g1, b1, _ := y.At(i, j).RGBA()
			if apart(r0, r1) > step || apart(g0, g1) > step || apart(b0, b1) > step {
				n++
			}
		}
	}
	return n
}

func apart(a, b uint32) uint32 { return max(a, b) - min(a, b) }
