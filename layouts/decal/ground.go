package decal

import (
	"fmt"
	"strings"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
	"floatmark/loading"
	"floatmark/loading/unit"
)

// Ring is a ring of pale paint under a mark.
type Ring struct {
	From, To unit.Millimetre // where to mask, over the base end
	Colour   draw.Ink
	Proposed bool // the maker did not plan it: without it the mark does not read
	Why      string
}

// ringAside is how far a ring reaches past the film on either side, mm, so that
// no dark edge shows under it. Own choice.
const ringAside unit.Millimetre = 0.5

// ground is what the mark is seen on where nothing is printed: clear film shows
// the paint, other film hides it.
func (s Spec) ground() draw.Ink {
	return legible.Printed(draw.White, s.Film.Colour, s.Film.Clear, draw.Ink(s.Pattern.Ground))
}

// judge says whether what a zone shows in black reads on its ground.
func (s Spec) judge(show label.Show) legible.Verdict {
	return legible.JudgeGround([]draw.Ink{ink}, show.Has(label.PartCode) && s.Mark.Code != "", s.Film.Colour, s.Film.Clear, draw.Ink(s.Pattern.Ground))
}

// masks returns where a ring under the pieces of a zone is masked.
func (s Spec) masks(pieces []Piece) (from, to unit.Millimetre) {
	from, to = pieces[0].Flat.From, pieces[len(pieces)-1].Flat.To
	return max(s.Body.Base(), from-ringAside), min(s.Body.Top(), to+ringAside)
}

// grounds tells of words, codes and bands that would not show on what lies under
// them, and proposes what would do: white film, or a pale ring in the paint. No
// printer is asked for white letters or a reversed code.
func (s Spec) grounds(z label.Zone, pieces []Piece) (all []loading.Notice) {
	v := s.judge(z.Show)
	paint, tint := draw.Ink(s.Pattern.Ground), s.Film.Colour
	pale, _ := legible.PaleGround([]draw.Ink{ink}, z.Show.Has(label.PartCode), tint)
	from, to := s.masks(pieces)
	on := fmt.Sprintf("clear film over %s", paint)
	do := fmt.Sprintf("use white film, or spray a pale ring such as %s from %s to %s under the mark and give its colour as ground", pale,
		s.Words.Millimetre(from, 0.1), s.Words.Millimetre(to, 0.1))
	switch {
	case s.Film.Sheetless():
		on = fmt.Sprintf("the paint %s", paint)
		do = strings.TrimPrefix(do, "use white film, or ")
	case !s.Film.Clear:
		on, do = fmt.Sprintf("film of the colour %s", s.Film.Colour), "use white film"
	}
	tell := func(code, format string, args ...any) {
		all = append(all, loading.Notice{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	if v.Text != legible.Good {
		hard := "is hard to read"
		if v.Text == legible.Unreadable {
			hard = "cannot be read"
		}
		tell("contrast", "black on %s %s, its contrast is %s : 1 and should be %s : 1: %s", on, hard,
			unit.Number(v.TextContrast, 0.1, s.Words.Number), unit.Number(legible.TextContrast, 0.1, s.Words.Number), do)
	}
	for _, p := range pieces {
		if p.Code != nil && v.Code == legible.Doubtful {
			tell("code-contrast", "the code has a contrast of %s %% on %s, and phones like %s %%: %s",
				unit.Number(v.CodeContrast, 1, s.Words.Number), on, unit.Number(legible.CodeWarns, 1, s.Words.Number), do)
		}
	}
	if z.Show.Has(label.PartBand) && v.Text != legible.Unreadable {
		if _, g := legible.JudgeBand(draw.Ink(s.Mark.Band), s.Film.Colour, s.Film.Clear, paint); g != legible.Good {
			tell("band", "the rating knocked out of the band %s hardly shows: use a darker colour", s.Mark.Band)
		}
	}
	return all
}

// ring returns the ground ring of a zone: the one the maker planned, or the one
// without which nothing can be read. Film that hides the paint needs none.
func (s Spec) ring(z label.Zone, pieces []Piece) []Ring {
	if !s.Film.Clear {
		return nil
	}
	from, to := s.masks(pieces)
	if s.judge(z.Show).Overall() == legible.Unreadable {
		pale, ok := legible.PaleGround([]draw.Ink{ink}, z.Show.Has(label.PartCode), s.Film.Colour)
		if !ok {
			return nil
		}
		return []Ring{{from, to, pale, true, fmt.Sprintf(s.Words.Ground.Proposed, s.Pattern.Ground)}}
	}
	if s.Pattern.Ground == s.Pattern.Body {
		return nil // the body is pale enough
	}
	return []Ring{{from, to, draw.Ink(s.Pattern.Ground), false, s.Words.Ground.UnderWhatShows}}
}
