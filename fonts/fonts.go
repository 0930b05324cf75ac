// Package fonts holds the faces that marks, cards and sheets are set in: their
// bytes, metrics and outlines. Coordinates are in ems (1 = one em), y up, origin
// on the baseline. It knows no millimetres and no layout.
package fonts

import (
	"eliasnaur.com/font/roboto/robotocondensedbold"
	"eliasnaur.com/font/roboto/robotocondensedregular"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"floatmark/loading/fault"
)

// GlyphID is a glyph's number in its face, as the face's file numbers it.
type GlyphID uint16

// Face is one parsed TrueType face. It never changes, so many goroutines may
// use it at once.
type Face struct {
	name string
	ttf  []byte
	font *sfnt.Font
	upem float64
	cap  float64
	x    float64

	glyphs   memo[rune, GlyphID]
	advances memo[GlyphID, float64]
	kerns    memo[[2]GlyphID, float64]
	outlines memo[GlyphID, []Segment]
}

// Set is a family as the layouts use it: two weights, and a face of wide
// coverage for glyphs that neither has.
type Set struct {
	Bold, Regular, Fallback *Face
}

// Default returns the built-in set: the narrowest open-licence bold that comes
// as a Go module, its regular, and a condensed face with Greek, Cyrillic and
// the signs the first lacks.
func Default() (Set, error) {
	bold, err := Parse("MarkCondensed-Bold", robotocondensedbold.TTF)
	if err != nil {
		return Set{}, err
	}
	regular, err := Parse("MarkCondensed-Regular", robotocondensedregular.TTF)
	if err != nil {
		return Set{}, err
	}
	fallback, err := Parse("MarkWide-Bold", dejavusanscondensedbold.TTF)
	if err != nil {
		return Set{}, err
	}
	return Set{Bold: bold, Regular: regular, Fallback: fallback}, nil
}

// Has reports whether a rune can be set in both weights of the set.
func (s Set) Has(r rune) bool {
	if _, ok := s.Fallback.Glyph(r); ok {
		return true
	}
	_, bold := s.Bold.Glyph(r)
	_, regular := s.Regular.Glyph(r)
	return bold && regular
}

// Parse reads a TrueType file. The name is what PDF and goldens call the face.
// A file that cannot be read is an Input error.
func Parse(name string, ttf []byte) (*Face, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fault.New(fault.Input, name, "this is no TrueType face: "+err.Error(), "give the path of a .ttf file with outlines", err)
	}
	face := &Face{name: name, ttf: ttf, font: f, upem: float64(f.UnitsPerEm())}
	if face.cap, err = face.heightOf('H'); err == nil {
		face.x, err = face.heightOf('x')
	}
	if err != nil {
		return nil, err
	}
	return face, nil
}

// heightOf measures on the outline: the tables' own figures are wrong in sign
// for some faces.
func (f *Face) heightOf(r rune) (float64, error) {
	id, ok := f.Glyph(r)
	if !ok {
		return 0, fault.New(fault.Input, f.name, "the face has no "+string(r), "use a face with Latin letters")
	}
	var buf sfnt.Buffer
	b, _, err := f.font.GlyphBounds(&buf, sfnt.GlyphIndex(id), f.ppem(), font.HintingNone)
	if err != nil {
		return 0, fault.New(fault.Input, f.name, "the face has no outline for "+string(r), "use a TrueType face with outlines", err)
	}
	return f.ems(-b.Min.Y), nil
}

// ppem scales so that one font unit is one pixel: outlines come out exact.
func (f *Face) ppem() fixed.Int26_6 { return fixed.Int26_6(f.font.UnitsPerEm()) << 6 }

func (f *Face) ems(v fixed.Int26_6) float64 { return float64(v) / 64 / f.upem }

// Name returns the face's name.
func (f *Face) Name() string { return f.name }

// TTF returns the face's file; do not change it.
func (f *Face) TTF() []byte { return f.ttf }

// CapHeight returns the height of a capital H in ems.
func (f *Face) CapHeight() float64 { return f.cap }

// XHeight returns the height of a small x in ems.
func (f *Face) XHeight() float64 { return f.x }

// Glyph returns the glyph of a rune; false when the face has none.
func (f *Face) Glyph(r rune) (GlyphID, bool) {
	id := f.glyphs.get(r, func() GlyphID {
		var buf sfnt.Buffer
		i, err := f.font.GlyphIndex(&buf, r)
		if err != nil {
			return 0
		}
		return GlyphID(i)
	})
	return id, id != 0
}

// Advance returns the glyph's advance width in ems.
func (f *Face) Advance(id GlyphID) float64 {
	return f.advances.get(id, func() float64 {
		var buf sfnt.Buffer
		a, err := f.font.GlyphAdvance(&buf, sfnt.GlyphIndex(id), f.ppem(), font.HintingNone)
		if err != nil {
			return 0
		}
		return f.ems(a)
	})
}

// Kern returns what is added between two glyphs, in ems; 0 when the face says nothing.
func (f *Face) Kern(a, b GlyphID) float64 {
	return f.kerns.get([2]GlyphID{a, b}, func() float64 {
		var buf sfnt.Buffer
		k, err := f.font.Kern(&buf, sfnt.GlyphIndex(a), sfnt.GlyphIndex(b), f.ppem(), font.HintingNone)
		if err != nil {
			return 0
		}
		return f.ems(k)
	})
}

// Segment is one step of an outline: "M" and "L" use the first point, "Q" the
// first two, "C" all three. Rings close themselves.
type Segment struct {
	Verb byte
	P    [3][2]float64
}

// Outline returns the glyph's outline in ems, y up, filled by the non-zero
// rule; nil for a blank glyph. It is the face's own: do not change it.
func (f *Face) Outline(id GlyphID) []Segment {
	return f.outlines.get(id, func() []Segment {
		var buf sfnt.Buffer
		segs, err := f.font.LoadGlyph(&buf, sfnt.GlyphIndex(id), f.ppem(), nil)
		if err != nil {
			return nil
		}
		verbs := [...]byte{sfnt.SegmentOpMoveTo: 'M', sfnt.SegmentOpLineTo: 'L', sfnt.SegmentOpQuadTo: 'Q', sfnt.SegmentOpCubeTo: 'C'}
		out := make([]Segment, len(segs))
		for i, s := range segs {
			out[i].Verb = verbs[s.Op]
			for j, p := range s.Args {
				out[i].P[j] = [2]float64{f.ems(p.X), -f.ems(p.Y)}
			}
		}
		return out
	})
}
