package golden

import (
	"bytes"
	"image"
	"image/png"
	"io/fs"
	"testing"
)

// Picture is Check of a picture as PNG, compared point by point, with room for
// the last bit of a rasteriser on another machine: a grey step of four.
func Picture(t testing.TB, name string, got []byte, read func(string) ([]byte, error), write func(string, []byte, fs.FileMode) error) {
	t.Helper()
	path := "testdata/" + name
	if *update {
		if err := write(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := read(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := differing(t, decoded(t, got), decoded(t, want)); n > 0 {
		t.Errorf("%d points differ from %s; look at it, then run the test with -update", n, path)
	}
}

func decoded(t testing.TB, data []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// differing counts the points that differ.
func differing(t testing.TB, a, b image.Image) int {
	t.Helper()
	const step = 4 << 8
	if a.Bounds() != b.Bounds() {
		t.Fatalf("sizes %v and %v", a.Bounds(), b.Bounds())
	}
	n := 0
	for j := a.Bounds().Min.Y; j < a.Bounds().Max.Y; j++ {
		for i := a.Bounds().Min.X; i < a.Bounds().Max.X; i++ {
			r0, g0, b0, _ := a.At(i, j).RGBA()
			r1, g1, b1, _ := b.At(i, j).RGBA()
			if apart(r0, r1) > step || apart(g0, g1) > step || apart(b0, b1) > step {
				n++
			}
		}
	}
	return n
}

func apart(a, b uint32) uint32 { return max(a, b) - min(a, b) }
