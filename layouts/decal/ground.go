package decal

import (
	"fmt"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
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

// grounds tells of words, codes and bands that would not show on what lies under
// them, and proposes what would do: white film, or a pale ring in the paint. No
// printer is asked for white letters or a reversed code.
func (l *layout) grounds() {
	v := l.judge(l.show)
	paint, tint := draw.Ink(l.Pattern.Ground), l.Film.Colour
	if !l.Film.Clear {
		tint = draw.White
	}
	pale, _ := legible.PaleGround([]draw.Ink{ink}, l.show.Has(label.PartCode), tint)
	on := fmt.Sprintf("clear film over %s", paint)
	do := fmt.Sprintf("use white film, or spray a pale ring such as %s from %s to %s under the mark and give its colour as ground", pale,
		l.Words.Millimetre(l.flat.From-ringAside, 0.1), l.Words.Millimetre(l.flat.To+ringAside, 0.1))
	if !l.Film.Clear {
		on, do = fmt.Sprintf("film of the colour %s", l.Film.Colour), "use white film"
	}
	if v.Text != legible.Good {
		hard := "is hard to read"
		if v.Text == legible.Unreadable {
			hard = "cannot be read"
		}
		l.notice("contrast", fmt.Sprintf("black on %s %s, its contrast is %s : 1 and should be %s : 1: %s", on, hard,
			unit.Number(v.TextContrast, 0.1, l.Words.Number), unit.Number(legible.TextContrast, 0.1, l.Words.Number), do))
	}
	if v.Code == legible.Doubtful && l.code != nil {
		l.notice("code-contrast", fmt.Sprintf("the code has a contrast of %s %% on %s, and phones like %s %%: %s",
			unit.Number(v.CodeContrast, 1, l.Words.Number), on, unit.Number(legible.CodeWarns, 1, l.Words.Number), do))
	}
	if l.show.Has(label.PartBand) {
		if _, g := legible.JudgeBand(draw.Ink(l.Mark.Band), l.Film.Colour, l.Film.Clear, paint); g != legible.Good {
			l.notice("band", fmt.Sprintf("the rating knocked out of the band %s hardly shows: use a darker colour", l.Mark.Band))
		}
	}
}

// rings returns the ground rings of a zone's pieces: those the maker planned,
// and those without which nothing can be read. Film that hides the paint needs none.
func (s Spec) rings(z label.Zone, pieces []Piece) []Ring {
	if !s.Film.Clear {
		return nil
	}
	colour, proposed, why := draw.Ink(s.Pattern.Ground), false, "under what is seen through"
	if s.judge(z.Show).Overall() == legible.Unreadable {
		pale, ok := legible.PaleGround([]draw.Ink{ink}, z.Show.Has(label.PartCode), s.Film.Colour)
		if !ok {
			return nil
		}
		colour, proposed, why = pale, true, "proposed: black does not show on "+s.Pattern.Ground.String()
	} else if s.Pattern.Ground == s.Pattern.Body {
		return nil // the body is pale enough
	}
	var all []Ring
	for _, p := range pieces {
		all = append(all, Ring{max(s.Body.Base(), p.Flat.From-ringAside), min(s.Body.Top(), p.Flat.To+ringAside), colour, proposed, why})
	}
	return all
}
