package decal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/wrap"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// on puts a mark on another body and zone.
func on(t testing.TB, st []body.Station, from, height unit.Millimetre, show label.Show) Spec {
	t.Helper()
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	s := spec(t, full, 14, 14, 26)
	s.Pattern = &label.Pattern{Key: "test", Profile: p, Zones: []label.Zone{{Style: label.StyleOwn, Show: show, From: from, Height: height}}}
	return s
}

func codes(r Result) []string {
	var all []string
	for _, n := range r.Notices {
		all = append(all, n.Code)
	}
	return all
}

// A mark on an olive asks for more than film bears: strips and words go on
// bands of their own, each of which lies flat, and the choice is explained.
func TestSplitWhereOnePieceWouldNotLieFlat(t *testing.T) {
	s := on(t, body.Olive(14, 2, 60), 20, 20, label.FullShow())
	r := lay(t, s)
	if len(r.Pieces) != 2 || !slices.Contains(codes(r), "split") {
		t.Fatalf("%d pieces, %v", len(r.Pieces), r.Notices)
	}
	for _, p := range r.Pieces {
		if p.Strain > UsualLimit() || p.Flat.From < 20 || p.Flat.To > 40 {
			t.Errorf("a piece from %v to %v strains %v", p.Flat.From, p.Flat.To, p.Strain)
		}
	}
	words, strips := r.Pieces[0], r.Pieces[1]
	if len(words.Printed) == 0 || len(strips.Printed) != 0 || strips.Flat.From < words.Flat.To-1e-6 {
		t.Errorf("the strips are not above the words: %v, %v", words.Printed, strips.Printed)
	}
	for _, n := range r.Notices {
		if n.Code == "split" && !(strings.Contains(n.Text, "2 %") && strings.Contains(n.Text, "estimate")) {
			t.Errorf("the split is not explained: %q", n.Text)
		}
	}
}

// Without strips there is nothing to part: the mark is shortened.
func TestShortenedWhereWordsCannotBeParted(t *testing.T) {
	s := on(t, body.Olive(14, 2, 60), 20, 20, label.Show{Row: []label.Part{label.PartRating, label.PartID}})
	r := lay(t, s)
	if len(r.Pieces) != 1 || !slices.Contains(codes(r), "shortened") || r.Pieces[0].Strain > UsualLimit() {
		t.Fatalf("%d pieces, %v", len(r.Pieces), r.Notices)
	}
	s.Limit, s.LimitBy = 0.2, "measured on a ball"
	if r = lay(t, s); len(r.Pieces) != 1 || slices.Contains(codes(r), "shortened") {
		t.Errorf("film that bears it: %v", r.Notices)
	}
	s.Pattern.Zones[0].Stretch = label.StretchSplit
	s.Limit = UsualLimit()
	if r = lay(t, s); !slices.Contains(codes(r), "split") {
		t.Errorf("a split was asked for: %v", r.Notices)
	}
}

// No film goes over an edge of the body.
func TestMarkOverAnEdge(t *testing.T) {
	st := []body.Station{{Z: 0, D: 6}, {Z: 20, D: 16}, {Z: 48, D: 16, Corner: true}, {Z: 52, D: 5}, {Z: 100, D: 4}}
	s := on(t, st, 22, 30, label.LeastShow())
	r := lay(t, s)
	for _, p := range r.Pieces {
		if p.Flat.From < 48-1e-6 && p.Flat.To > 48+1e-6 {
			t.Errorf("a piece runs from %v to %v over the edge at 48", p.Flat.From, p.Flat.To)
		}
	}
	told := ""
	for _, n := range r.Notices {
		told += n.Text
	}
	if !strings.Contains(told, "edge at 48") && !strings.Contains(told, "film would have to give") {
		t.Errorf("the edge is not told: %v", r.Notices)
	}
}

// A body that nobody measured gets no seam that would have to meet: 0.3 mm of
// diameter moves one by 0.94 mm.
func TestHandMadeBodiesGetAPartWrap(t *testing.T) {
	s := spec(t, full, 14, 12.5, 26)
	s.Pattern.HandMade = true
	r := lay(t, s)
	if gap := r.Pieces[0].Flat.Gap(); gap < handGap || !slices.Contains(codes(r), "hand-made") {
		t.Errorf("gap %v, %v", gap, r.Notices)
	}
	s.Body, s.Measured = s.Pattern.Profile, true
	if r = lay(t, s); r.Pieces[0].Flat.Gap() != 0 || slices.Contains(codes(r), "hand-made") {
		t.Errorf("measured: gap %v, %v", r.Pieces[0].Flat.Gap(), r.Notices)
	}
}

// A float's own diameter moves the seam by pi times the difference.
func TestOwnDiameterMovesTheSeam(t *testing.T) {
	s := spec(t, least, 14, 14, 20)
	a := lay(t, s)
	s.Body, s.Measured = profile(t, 0, 14.3, 20, 14.3, 40, 14.3, 80, 14.3), true
	b := lay(t, s)
	d := b.Pieces[0].Flat.Bounds().W() - a.Pieces[0].Flat.Bounds().W()
	if math.Abs(d-0.3*math.Pi) > 1e-9 || math.Abs(d-0.94) > 0.005 {
		t.Errorf("the seam moves by %v mm, want 0.94", d)
	}
}

func TestFits(t *testing.T) {
	s := spec(t, least, 14, 14, 26)
	z := &s.Pattern.Zones[0]
	z.Fit, z.Overlap = label.FitButt, 0.6
	if p := lay(t, s).Pieces[0]; math.Abs(p.Flat.Gap()-0.6) > 1e-9 {
		t.Errorf("butt: gap %v", p.Flat.Gap())
	}
	z.Overlap = 0.2
	if r := lay(t, s); !slices.Contains(codes(r), "seam") {
		t.Errorf("a gap that edges may close is not told: %v", r.Notices)
	}
	z.Fit, z.Overlap, z.Arc = label.FitPart, 0, 200
	if p := lay(t, s).Pieces[0]; math.Abs(p.Flat.Right()-p.Flat.Left()-200*math.Pi/180) > 1e-9 {
		t.Errorf("part: %v", p.Flat.Right()-p.Flat.Left())
	}
	z.Fit, z.Arc, z.Width, z.Turn = label.FitPatch, 0, 9, label.Lengthwise
	z.Show = label.Show{Row: []label.Part{label.PartRating}}
	if p := lay(t, s).Pieces[0]; math.Abs(p.Flat.Bounds().W()-9) > 1e-6 || p.Turn != label.Lengthwise {
		t.Errorf("patch: %v wide", p.Flat.Bounds().W())
	}
}

// The seam lies between two faces, and a code on the centre meridian.
func TestFacesKeepOffTheSeam(t *testing.T) {
	for n := 1; n <= 5; n++ {
		for zero := -1; zero < n; zero++ {
			l := &layout{Spec: spec(t, full, 14, 14, 26)}
			l.flat, _ = wrap.Develop(l.Pattern.Profile, 20, 46, wrap.Film{}, wrap.Seam{Overlap: 1})
			all := l.angles(n, zero)
			places := n
			if zero >= 0 && n%2 == 0 {
				places++
			}
			for i, a := range all {
				if math.Abs(a)+math.Pi/float64(places) > math.Pi+1e-9 {
					t.Errorf("%d faces, code on %d: face %d at %v crosses the seam", n, zero, i, a)
				}
				for _, b := range all[:i] {
					if math.Abs(a-b) < 2*math.Pi/float64(places)-1e-9 {
						t.Errorf("%d faces, code on %d: faces at %v and %v lie on each other", n, zero, a, b)
					}
				}
			}
			if zero >= 0 && all[zero] != 0 {
				t.Errorf("%d faces: the code is at %v", n, all[zero])
			}
		}
	}
}

// The maker's own choice: two faces over a rule and rings at the foot, his own
// mark and a text.
func TestOwnChoiceOfParts(t *testing.T) {
	s := spec(t, full, 16, 15, 34)
	z := &s.Pattern.Zones[0]
	z.Style, z.Text = label.StyleOwn, "made at the weir"
	s.OwnMark = geom.Circle(geom.Point{X: 5, Y: 5}, 5)
	s.Mark.Lines = append(s.Mark.Lines, label.Line{Role: label.RoleOwnMark, Text: "own mark"})
	z.Show = label.Show{Top: []label.Part{label.PartRule}, Foot: []label.Part{label.PartRings, label.PartBand},
		Faces: [][]label.Part{{label.PartCode, label.PartID}, {label.PartRating, label.PartAdd}, {label.PartOwnMark, label.PartText}}}
	r := lay(t, s)
	if !r.CodeOn || !strings.Contains(texts(r), "made at the weir") {
		t.Fatalf("%q, %v", texts(r), r.Notices)
	}
	strips, lo, hi := Strips(z.Show, s.Mark.Tally, r.Pieces[0].Flat.Slant)
	if n := len(strips); n != 1+s.Mark.Tally.Thick+s.Mark.Tally.Thin+1 || strips[n-1].From != 0 || !strips[n-1].Band {
		t.Errorf("strips %v: the band does not end at the lower edge", strips)
	}
	for _, st := range strips {
		if st.From < hi-1e-9 && st.To > lo+1e-9 {
			t.Errorf("the strip %v lies in the words' room %v to %v", st, lo, hi)
		}
	}
	checkInside(t, r)
	checkApart(t, r)
	s.OwnMark = nil
	if r = lay(t, s); slices.ContainsFunc(r.Printed, func(l label.Line) bool { return l.Role == label.RoleOwnMark }) {
		t.Error("an own mark that is not there is printed")
	}
}

func TestRepeats(t *testing.T) {
	s := spec(t, least, 24, 24, 12)
	z := &s.Pattern.Zones[0]
	z.Show = label.Show{Row: []label.Part{label.PartRating}}
	if r := lay(t, s); r.Pieces[0].Repeats != 2 || strings.Count(texts(r), "8 g") != 2 {
		t.Errorf("one figure on a thick body stands %d times: %q", r.Pieces[0].Repeats, texts(r))
	}
	z.Repeat = 3
	if r := lay(t, s); strings.Count(texts(r), "8 g") != 3 {
		t.Errorf("three times were asked for: %q", texts(r))
	}
	z.Repeat = 1
	if r := lay(t, s); strings.Count(texts(r), "8 g") != 1 {
		t.Errorf("once was asked for: %q", texts(r))
	}
}

// Colour that meets the cut goes beyond it by the bleed, and nothing else does.
func TestBleed(t *testing.T) {
	s := spec(t, full, 16, 16, 26)
	a := lay(t, s)
	s.Bleed = 1
	b := lay(t, s)
	cut := a.Pieces[0].Outline.Bounds()
	ink := draw.Bounds(b.Pieces[0].Drawing.Layers[draw.Colour])
	if got := (geom.Rect{Min: cut.Min.Sub(geom.Point{X: 1, Y: 1}), Max: cut.Max.Add(geom.Point{X: 1})}); math.Abs(ink.Min.X-got.Min.X) > 1e-6 ||
		math.Abs(ink.Min.Y-got.Min.Y) > 1e-6 || math.Abs(ink.Max.X-got.Max.X) > 1e-6 || ink.Max.Y >= cut.Max.Y {
		t.Errorf("ink %v, cut %v", ink, cut)
	}
	if b.Pieces[0].Outline.Bounds() != cut {
		t.Error("the cut has moved")
	}
	if plain := draw.Bounds(a.Pieces[0].Drawing.Layers[draw.Colour]); plain.Max.X > cut.Max.X+1e-9 || plain.Min.Y < cut.Min.Y-1e-9 {
		t.Errorf("without a bleed ink %v passes the cut %v", plain, cut)
	}
}

// The floor is the maker's: what needs smaller capitals is dropped in the stated
// order, then refused, and says what.
func TestFloorAndDropOrder(t *testing.T) {
	s := spec(t, full, 14, 14, 16)
	s.Pattern.Zones[0].Turn = label.Round
	r := lay(t, s)
	var gone []string
	for _, n := range r.Notices {
		if n.Code == "line-dropped" {
			gone = append(gone, n.Text)
		}
	}
	small := len(gone)
	s.Pattern.Zones[0].Floor = 1.6
	if r, err := Lay(s); err == nil {
		gone = nil
		for _, n := range r.Notices {
			if n.Code == "line-dropped" {
				gone = append(gone, n.Text)
			}
		}
		if len(gone) < small || r.Pieces[0].Least < 1.6 {
			t.Errorf("a higher floor drops %d lines and leaves %v mm; before %d", len(gone), r.Pieces[0].Least, small)
		}
	} else if fault.ClassOf(err) != fault.NoFit {
		t.Error(err)
	}
	order := []label.Line{{Role: label.RoleRating, Text: "a"}, {Role: label.RoleMaker, Text: "m"}, {Role: label.RoleMetal, Text: "b"}, {Role: label.RoleEquivalent, Text: "e"}, {Role: label.RoleDedication, Text: "d"}}
	_, dropped := dropLeast(order, 5)
	if len(dropped) != 3 || dropped[0].Text != "e" || dropped[1].Text != "m" || dropped[2].Text != "b" {
		t.Errorf("dropped %v", dropped)
	}
	s = spec(t, least, 14, 14, 20)
	s.Pattern.Zones[0].Show.Row = append(s.Pattern.Zones[0].Show.Row, label.PartDedication)
	s.Mark.Lines = append(s.Mark.Lines, label.Line{Role: label.RoleDedication, Text: strings.Repeat("long ", 40)})
	if _, err := Lay(s); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("200 characters on a float: %v", err)
	}
}

// Thin stems: words that cannot stand are refused with what would do.
func TestHalfMillimetreStem(t *testing.T) {
	s := spec(t, least, 0.5, 0.5, 30)
	_, err := Lay(s)
	if fault.ClassOf(err) != fault.NoFit || !strings.Contains(fault.List(err)[0].Do, "at least") {
		t.Errorf("%v", err)
	}
}

// Whatever a maker chooses, ink stays inside the cut and words off each other.
func TestAnyChoiceOfParts(t *testing.T) {
	base := spec(t, full, 14, 12, 30)
	base.Mark.Lines = append(base.Mark.Lines, label.Line{Role: label.RoleMaker, Text: "Withy Sluice Floats"},
		label.Line{Role: label.RoleDedication, Text: "for the fifty"}, label.Line{Role: label.RoleEquivalent, Text: "lead 1 BB + 1 B"})
	words := []label.Part{label.PartRating, label.PartBuiltIn, label.PartAdd, label.PartShot, label.PartMetal, label.PartEquivalents, label.PartID, label.PartMaker, label.PartText, label.PartDedication, label.PartCode}
	laid := 0
	rapid.Check(t, func(r *rapid.T) {
		s := base
		d0, d1 := rapid.Float64Range(3, 26).Draw(r, "d0"), rapid.Float64Range(-6, 6).Draw(r, "taper")
		h := rapid.Float64Range(8, 60).Draw(r, "h")
		st := []body.Station{{Z: 0, D: unit.Millimetre(d0)}, {Z: unit.Millimetre(h), D: unit.Millimetre(max(2, d0+d1))}}
		p, err := body.New(st)
		if err != nil {
			r.Skip()
		}
		z := label.Zone{Style: label.StyleOwn, Height: unit.Millimetre(h), Text: "made at the weir", Turn: label.Turn(rapid.IntRange(0, 2).Draw(r, "turn")),
			Repeat: rapid.IntRange(0, 3).Draw(r, "repeat"), Fit: label.Fit(rapid.IntRange(0, 4).Draw(r, "fit"))}
		some := rapid.Permutation(words).Draw(r, "words")[:rapid.IntRange(1, 8).Draw(r, "n")]
		if rapid.Bool().Draw(r, "faces") {
			n := rapid.IntRange(1, 4).Draw(r, "faces")
			z.Show.Faces = make([][]label.Part, min(n, len(some)))
			for i, w := range some {
				z.Show.Faces[i%len(z.Show.Faces)] = append(z.Show.Faces[i%len(z.Show.Faces)], w)
			}
		} else {
			z.Show.Row = some
		}
		strips := []label.Part{label.PartBand, label.PartRings, label.PartRule}
		z.Show.Top = strips[:rapid.IntRange(0, 3).Draw(r, "top")]
		z.Show.Foot = strips[len(z.Show.Top):]
		s.Pattern = &label.Pattern{Key: "any", Profile: p, Zones: []label.Zone{z}}
		got, err := Lay(s)
		if err != nil {
			if c := fault.ClassOf(err); c != fault.NoFit && c != fault.Input {
				r.Fatalf("%v", err)
			}
			return
		}
		laid++
		checkInside(r, got)
		checkApart(r, got)
		for _, piece := range got.Pieces {
			if piece.Least > 0 && piece.Least < base.Floor {
				r.Fatalf("capitals of %v", piece.Least)
			}
		}
	})
	if laid < 10 {
		t.Errorf("only %d choices could be laid out: the test says little", laid)
	}
}

type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// checkInside holds that glyphs and codes lie within the cut.
func checkInside(t fataler, r Result) {
	t.Helper()
	for _, piece := range r.Pieces {
		outline := piece.Flat.Outline().Flatten(0.01)[0]
		for _, m := range marksOf(piece) {
			for _, p := range m.paths {
				for _, ring := range p.Flatten(0.02) {
					for _, q := range ring {
						if !inside(outline, q) {
							t.Fatalf("%q at %v lies outside the cut", m.text, q)
						}
					}
				}
			}
		}
	}
}

// checkApart holds that no two words lie on each other.
func checkApart(t fataler, r Result) {
	t.Helper()
	for _, piece := range r.Pieces {
		all := marksOf(piece)
		for i, a := range all {
			for _, b := range all[i+1:] {
				for _, x := range a.paths {
					for _, y := range b.paths {
						if x.Bounds().Overlaps(y.Bounds()) && overlap(x, y) {
							t.Fatalf("%q and %q overlap", a.text, b.text)
						}
					}
				}
			}
		}
	}
}

// overlap is plain: a corner of one outline inside the other.
func overlap(a, b geom.Path) bool {
	in := func(p, q geom.Path) bool {
		for _, ring := range p.Flatten(0.02) {
			for _, pt := range ring {
				for _, other := range q.Flatten(0.02) {
					if inside(other, pt) {
						return true
					}
				}
			}
		}
		return false
	}
	return in(a, b) || in(b, a)
}

type inked struct {
	text  string
	paths []geom.Path
}

// marksOf returns the words, codes and pictures of a piece as outlines.
func marksOf(p Piece) []inked {
	var all []inked
	draw.Walk(p.Drawing.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
		switch o := o.(type) {
		case *draw.Glyphs:
			m := inked{text: o.Text}
			for _, g := range o.Run {
				if path := draw.GlyphPath(o.Face, g.ID); len(path) > 0 {
					m.paths = append(m.paths, path.Transform(g.At.Then(at)))
				}
			}
			all = append(all, m)
		case *draw.Fill:
			if rigid {
				all = append(all, inked{"code", []geom.Path{geom.Rectangle(o.Path.Transform(at).Bounds())}})
			}
		}
	})
	return all
}

// The pieces of a float share a sheet where that is asked for.
func TestKeptTogether(t *testing.T) {
	s := on(t, body.Olive(14, 2, 60), 20, 20, label.FullShow())
	var pieces []nest.Piece
	var of []string
	for i := range 40 {
		s.Mark.Number, s.Mark.ID = i, fmt.Sprintf("F%05d", i)
		for _, p := range lay(t, s).Pieces {
			pieces, of = append(pieces, p.Piece), append(of, s.Mark.ID)
		}
	}
	laid, _, err := Sheets(t.Context(), Order{Pieces: pieces, Stock: s.Film, Title: "t", Fonts: s.Fonts, Words: s.Words, Quick: true, Together: true}, nil)
	if err != nil || len(laid) < 2 {
		t.Fatalf("%d sheets, %v", len(laid), err)
	}
	on := map[string]int{}
	for i, l := range laid {
		for _, p := range l.Pieces {
			if at, seen := on[of[p]]; seen && at != i {
				t.Errorf("the pieces of %s lie on sheets %d and %d", of[p], at+1, i+1)
			}
			on[of[p]] = i
		}
	}
	if len(on) != 40 {
		t.Errorf("%d floats are on the sheets", len(on))
	}
}

// A ground that leaves a code less contrast than ISO/IEC 15415 grades C (40 %)
// bears none: it goes on the card, and the reason tells the figure.
func TestCodeNeedsContrast(t *testing.T) {
	s := spec(t, full, 18, 18, 30)
	s.Film.Clear = true
	for _, c := range []struct {
		grey uint8
		on   bool
	}{{0xa0, false}, {0xc8, true}, {0xff, true}} { // symbol contrasts of 30, 53 and 95 %
		s.Pattern.Ground = label.Colour{R: c.grey, G: c.grey, B: c.grey}
		r := lay(t, s)
		if r.CodeOn != c.on {
			t.Errorf("grey %x: code %v, %v", c.grey, r.CodeOn, r.Notices)
		}
		if !c.on && !slices.ContainsFunc(r.Notices, func(n loading.Notice) bool { return n.Code == "code-on-card" && strings.Contains(n.Text, "30 %") }) {
			t.Errorf("the reason is not told: %v", r.Notices)
		}
	}
}
