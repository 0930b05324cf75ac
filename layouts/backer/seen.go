package backer

import (
	"math"

	"floatmark/label"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/unit"
)

// seenFlat is how far a curve of a mark may be from its chords on the picture,
// mm, and seenStep the longest chord, so that what goes round the body bends.
const (
	seenFlat = 0.02
	seenStep = 0.8
)

// seen draws the pieces of the mark as they are seen on the float from its
// front: each point of the flat piece at its height, and across by the sine of
// its angle round the body. What is round the back is not drawn. The front is
// where the rating stands.
func (f *frame) seen(tip float64) []draw.Op {
	var ops []draw.Op
	for _, one := range f.Pieces {
		if float64(one.Flat.From) >= tip || float64(one.Flat.To) <= f.lowest() {
			continue
		}
		l := f.look(one)
		ops = append(ops, &draw.Fill{Path: l.path(one.Outline), Ink: ink(f.Card.Ground)})
		for _, layer := range []draw.Layer{draw.Ground, draw.Colour} {
			draw.Walk(one.Drawing.Layers[layer], func(op draw.Op, at geom.Affine, _ bool) {
				switch o := op.(type) {
				case *draw.Fill:
					if p := l.path(o.Path.Transform(at)); len(p) > 0 {
						ops = append(ops, &draw.Fill{Path: p, Ink: o.Ink})
					}
				case *draw.Glyphs:
					var all geom.Path
					for _, g := range o.Run {
						all = append(all, l.path(draw.GlyphPath(o.Face, g.ID).Transform(g.At.Then(at)))...)
					}
					if len(all) > 0 {
						ops = append(ops, &draw.Fill{Path: all, Ink: o.Ink})
					}
				}
			})
		}
	}
	return ops
}

// look is how one piece is seen.
type look struct {
	f      *frame
	piece  decal.Piece
	front  float64   // angle round the body that faces the reader
	s, z   []float64 // slant distances and their heights, for going back
	lo, hi float64   // heights between which it is drawn
}

func (f *frame) look(one decal.Piece) look {
	l := look{f: f, piece: one, front: facing(one), lo: f.lowest(), hi: float64(f.profile.Top())}
	const steps = 200
	from, to := float64(one.Flat.From), float64(one.Flat.To)
	for i := range steps + 1 {
		z := from + (to-from)*float64(i)/steps
		l.z = append(l.z, z)
		l.s = append(l.s, one.Flat.SlantAt(unit.Millimetre(z)))
	}
	return l
}

// facing is the angle of the words that say the rating, else of the first words;
// 0, the middle of the piece, where there are none.
func facing(one decal.Piece) float64 {
	rating := ""
	for _, l := range one.Printed {
		if l.Role == label.RoleRating {
			rating = l.Text
		}
	}
	found, sure := 0.0, false
	draw.Walk(one.Drawing.Layers[draw.Colour], func(op draw.Op, at geom.Affine, _ bool) {
		g, ok := op.(*draw.Glyphs)
		if !ok || len(g.Run) == 0 || rating == "" || g.Text != rating || sure {
			return
		}
		a, b := g.Run[0].At.Then(at), g.Run[len(g.Run)-1].At.Then(at)
		theta, _ := one.Flat.Place(geom.Point{X: (a.E + b.E) / 2, Y: (a.F + b.F) / 2})
		found, sure = theta, true
	})
	return found
}

// height returns the height over the base end of a slant distance.
func (l look) height(s float64) float64 {
	n := len(l.s) - 1
	if s <= l.s[0] {
		return l.z[0]
	}
	if s >= l.s[n] {
		return l.z[n]
	}
	lo, hi := 0, n
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; l.s[mid] <= s {
			lo = mid
		} else {
			hi = mid
		}
	}
	t := (s - l.s[lo]) / (l.s[hi] - l.s[lo])
	return l.z[lo] + float64(t*(l.z[hi]-l.z[lo]))
}

// path maps a path of the flat piece to the card. Rings are cut up first, so that
// their edges bend with the body; what is behind is drawn onto the float's edge,
// where it has no area, and rings that are wholly there are left out. A ring that
// goes round past the back is mapped once for each turn.
func (l look) path(p geom.Path) geom.Path {
	type place struct{ theta, z float64 }
	var out geom.Path
	for _, ring := range p.Flatten(seenFlat) {
		var all []place
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			n := max(int(math.Ceil(b.Sub(a).Len()/seenStep)), 1)
			for k := range n {
				theta, s := l.piece.Flat.Place(a.Add(b.Sub(a).Scale(float64(k) / float64(n))))
				all = append(all, place{theta - l.front, math.Min(l.hi, math.Max(l.lo, l.height(s)))})
			}
		}
		for _, turn := range [...]float64{-2 * math.Pi, 0, 2 * math.Pi} {
			var pts []geom.Point
			front := false
			for _, q := range all {
				a := math.Min(math.Pi/2, math.Max(-math.Pi/2, q.theta+turn))
				front = front || a == q.theta+turn
				at := geom.Point{X: l.f.axis + float64(l.f.radius(q.z)*math.Sin(a)), Y: l.f.y(q.z)}
				if m := len(pts); m == 0 || pts[m-1].Sub(at).Len() > 1e-4 {
					pts = append(pts, at)
				}
			}
			if !front { // unless it goes all the way across
				lo, hi := math.Inf(1), math.Inf(-1)
				for _, q := range all {
					lo, hi = math.Min(lo, q.theta+turn), math.Max(hi, q.theta+turn)
				}
				front = lo < 0 && hi > 0
			}
			if front && len(pts) > 2 {
				out = append(out, geom.Polygon(pts...)...)
			}
		}
	}
	return out
}
