package scan

import (
	"context"
	"errors"
	"image"
	"math"
	"slices"

	"github.com/makiuchi-d/gozxing"
)

// Measures of the search. Own choices, from trials with photographs made up in
// the tests.
const (
	largest  = 4600 // points, the long side of the largest picture searched: 12 megapixels whole
	smallest = 500  // points, long side; a code that fills less is found in a larger one
	first    = 1600 // points: the search begins with the largest picture within this
	tile     = 0.5  // of a side, of the parts that are searched by themselves
	mostRead = 4    // codes that are looked for: two are one too many
	// covers is how far from the middle of a corner square its cover reaches, in
	// squares of the code: the corner square reaches 3.5, and 4 are blank round it.
	covers = 5.0
)

// level is the picture at one scale: k points of the whole to one of its own.
type level struct {
	grey *image.Gray
	k    float64
}

// levels makes the scales, in the order they are searched: a middle one first,
// which is quick and has most codes, then larger ones, then smaller ones.
func levels(g *image.Gray) []level {
	var larger, smaller []level
	for l := (level{g, 1}); ; l = (level{halved(l.grey), 2 * l.k}) {
		long := max(l.grey.Rect.Dx(), l.grey.Rect.Dy())
		if long < smallest && l.k > 1 || l.grey.Rect.Empty() {
			break
		}
		switch {
		case long > largest:
		case long > first:
			larger = append(larger, l)
		default:
			smaller = append(smaller, l)
		}
	}
	if long := max(g.Rect.Dx(), g.Rect.Dy()); long <= first/2 {
		larger = append(larger, level{doubled(g), 0.5})
	}
	slices.Reverse(larger)
	if len(smaller) == 0 {
		return larger
	}
	return append(append(smaller[:1:1], larger...), smaller[1:]...)
}

// find returns the different texts in a picture, in the order they are found. Each
// code that is read is covered and the search begins again, until nothing is found.
func find(ctx context.Context, g *image.Gray) ([]string, error) {
	all := levels(g)
	var texts []string
	for range mostRead {
		r, ok, err := next(ctx, all, len(texts) == 0)
		if err != nil || !ok {
			return texts, err
		}
		if !slices.Contains(texts, r.text) {
			texts = append(texts, r.text)
		}
		if len(texts) > 1 || len(r.corners) < 3 {
			return texts, nil
		}
		for _, l := range all {
			cover(l, r.corners)
		}
	}
	return texts, nil
}

// corner is the middle of a corner square and how large a square of the code is
// there, in points of the whole picture.
type corner struct{ x, y, square float64 }

type reading struct {
	text    string
	corners []corner
}

// next finds one more code: in the picture as a whole at every scale, and, if
// asked, in the picture on its side and in parts of it, where fewer things that look
// like corner squares mislead.
func next(ctx context.Context, all []level, parts bool) (reading, bool, error) {
	for _, l := range all {
		if r, ok, err := l.read(ctx, l.grey.Rect); ok || err != nil {
			return r, ok, err
		}
	}
	if !parts {
		return reading{}, false, nil
	}
	for _, l := range all {
		if r, ok, err := l.readTurned(ctx); ok || err != nil {
			return r, ok, err
		}
	}
	for _, l := range all {
		w, h := l.grey.Rect.Dx(), l.grey.Rect.Dy()
		tw, th := int(tile*float64(w)), int(tile*float64(h))
		for _, fy := range []float64{0, 0.5, 1} {
			for _, fx := range []float64{0, 0.5, 1} {
				x, y := int(fx*float64(w-tw)), int(fy*float64(h-th))
				if r, ok, err := l.read(ctx, image.Rect(x, y, x+tw, y+th)); ok || err != nil {
					return r, ok, err
				}
			}
		}
	}
	return reading{}, false, nil
}

// read looks for a code in a part of the picture at one scale.
func (l level) read(ctx context.Context, part image.Rectangle) (reading, bool, error) {
	if part.Empty() {
		return reading{}, false, nil
	}
	source, err := gozxing.NewPlanarYUVLuminanceSource(l.grey.Pix, l.grey.Stride, l.grey.Rect.Dy(), part.Min.X, part.Min.Y, part.Dx(), part.Dy(), false)
	if err != nil {
		return reading{}, false, err
	}
	for _, t := range tries() {
		if err := ctx.Err(); err != nil {
			return reading{}, false, err
		}
		found, err := t.read(ctx, source)
		if err != nil {
			if ctx.Err() != nil {
				return reading{}, false, ctx.Err()
			}
			continue
		}
		r := reading{text: found.GetText()}
		for i, p := range found.GetResultPoints() {
			if i == 3 { // what follows are no corners
				break
			}
			c := corner{l.k * (p.GetX() + float64(part.Min.X)), l.k * (p.GetY() + float64(part.Min.Y)), 0}
			if m, ok := p.(interface{ GetEstimatedModuleSize() float64 }); ok {
				c.square = l.k * m.GetEstimatedModuleSize()
			}
			r.corners = append(r.corners, c)
		}
		return r, true, nil
	}
	return reading{}, false, nil
}

// readTurned looks at the whole picture a quarter turned: of clean codes on their
// side the search for the corner squares misses one in a hundred.
func (l level) readTurned(ctx context.Context) (reading, bool, error) {
	side := level{turned(l.grey), l.k}
	r, ok, err := side.read(ctx, side.grey.Rect)
	for i, c := range r.corners { // where they lie in the picture as it is
		r.corners[i].x, r.corners[i].y = c.y, l.k*float64(l.grey.Rect.Dy())-c.x
	}
	return r, ok, err
}

// cover paints the corner squares of a code over, so that it is not found again.
func cover(l level, corners []corner) {
	for _, c := range corners {
		r := covers * c.square / l.k
		at := image.Rect(int(math.Floor(c.x/l.k-r)), int(math.Floor(c.y/l.k-r)), int(math.Ceil(c.x/l.k+r)), int(math.Ceil(c.y/l.k+r))).Intersect(l.grey.Rect)
		for y := at.Min.Y; y < at.Max.Y; y++ {
			row := l.grey.Pix[y*l.grey.Stride:]
			for x := at.Min.X; x < at.Max.X; x++ {
				row[x] = 0xff
			}
		}
	}
}

// mostCentres is how many places in a picture may look like corner squares: the
// reader tries each three of them, and a picture full of them would keep it for
// hours. Texture of cloth or gravel gives some dozens.
const mostCentres = 300

var errCrowded = errors.New("too much in the picture looks like the corner of a code")
