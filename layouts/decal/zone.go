package decal

import (
	"fmt"
	"math"
	"slices"

	"floatmark/label"
	"floatmark/layouts/legible"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// zone lays one zone out: it takes the first way of cutting in which the words
// fit.
func (s Spec) zone(i int, z label.Zone) ([]Piece, []loading.Notice, error) {
	if slices.Contains(z.Show.Row, label.PartCode) {
		// A code stands by itself: each word of the row becomes a face.
		for _, p := range z.Show.Row {
			z.Show.Faces = append(z.Show.Faces, []label.Part{p})
		}
		z.Show.Row = nil
	}
	if z.Floor > 0 {
		s.Floor = z.Floor
	}
	if err := s.thinnest(z); err != nil {
		return nil, nil, err
	}
	ways, err := s.cuttings(i, z)
	if err != nil {
		return nil, nil, err
	}
	var first error
	for _, way := range ways {
		notices := slices.Clone(way.notices)
		var pieces []Piece
		for _, b := range way.bands {
			l, err := s.band(z, b)
			if err != nil && fault.ClassOf(err) != fault.NoFit {
				return nil, nil, err
			}
			if err != nil {
				if first == nil {
					first = err
				}
				pieces = nil
				break
			}
			notices = append(notices, l.notices...)
			pieces = append(pieces, l.finish(b))
		}
		if len(pieces) > 0 {
			return pieces, append(notices, s.grounds(z, pieces)...), nil
		}
	}
	return nil, nil, first
}

// thinnest refuses words on a body so thin that not one line goes round or along
// it, before a seam is asked of it.
func (s Spec) thinnest(z label.Zone) error {
	if len(s.lines(z, z.Show)) == 0 {
		return nil
	}
	d := min(s.Body.Diameter(z.From), s.Body.Diameter(z.To()))
	if d > 0 && math.Pi*float64(d) < (1+descender)*s.Floor+2*sidePad {
		return (&layout{Spec: s}).thin(float64(d), 1)
	}
	return nil
}

// band lays out what one flat piece shows.
func (s Spec) band(z label.Zone, b band) (*layout, error) {
	codes, refused := s.proposeCodes(z, b)
	l, why, err := s.proved(z, b, codes)
	if err != nil {
		return nil, err
	}
	if s.Mark.Code != "" && b.show.Has(label.PartCode) && l.code == nil {
		switch {
		case why != "":
			refused = why
		case refused == "":
			refused = "the words leave no room for it"
		}
		l.notice(OnCard, fmt.Sprintf("the code goes on the card, the id stays on the float: %s", refused))
	}
	if l.code != nil {
		for _, w := range l.code.choice.Warnings {
			l.notice("code", w)
		}
	}
	l.stretch(b.strain)
	return l, nil
}

// proved lays the piece out with the codes in turn until one reads well enough:
// the first that reads however the phone is held, else the first that reads when
// it is held square, unless the maker wants more. Where none does the piece is
// laid out without a code; why says what was wrong with the last.
func (s Spec) proved(z label.Zone, b band, codes []*codePlan) (l *layout, why string, err error) {
	var best *layout
	var told []string
	var first error
	for _, c := range codes {
		if best != nil && (!c.choice.Hopeful() || c.choice.Fine()) {
			continue // it is no better, or it shuts out phones that the other does not
		}
		l, err := s.words(z, b, c)
		if err != nil && fault.ClassOf(err) != fault.NoFit {
			return nil, "", err
		}
		if err != nil || l.code == nil {
			if first == nil {
				first = err
			}
			continue
		}
		v := l.prove()
		told = append(told, s.size(c)+": "+v.Why)
		l.code.at.Proved, l.code.at.Grade = slices.Clone(told), v.Grade
		switch {
		case v.Open || v.Grade == legible.Casual:
			return l, "", nil
		case v.Grade == legible.Aim && s.Want != legible.Casual:
			if best == nil {
				best = l
			}
		default:
			why = "it does not read well enough in simulated pictures; " + told[len(told)-1]
		}
	}
	if best != nil {
		best.code.at.Proved = told // what was tried after it, too
		return best, "", nil
	}
	l, err = s.words(z, b, nil)
	if err != nil && first != nil {
		err = first
	}
	return l, why, err
}

// size names a way to print a code.
func (s Spec) size(c *codePlan) string {
	name := "squares of " + s.Words.Millimetre(unit.Millimetre(c.choice.Module), 0.01)
	if c.choice.Front() {
		name += ", widened to look square from the front"
	}
	return name
}

// words tries the ways the words may run, and drops the least important line
// when neither holds all of them. With a code every line must fit: the code
// yields before a line does, for the card carries it too.
func (s Spec) words(z label.Zone, b band, code *codePlan) (*layout, error) {
	ways := []label.Turn{z.Turn}
	if z.Turn == label.Auto {
		ways = []label.Turn{label.Round, label.Lengthwise}
	}
	all := s.lines(z, b.show)
	var first error
	for dropped := 0; dropped < max(1, len(all)); dropped++ {
		lines, gone := dropLeast(all, dropped)
		if len(gone) < dropped {
			break // nothing more may go
		}
		l, err := s.better(z, b, code, lines, ways)
		if err == nil {
			for _, g := range gone {
				l.notice("line-dropped", fmt.Sprintf("%q is left out: there is no room for it at %s capitals",
					g.Text, s.Words.Millimetre(unit.Millimetre(s.Floor), 0.1)))
			}
			return l, nil
		}
		if fault.ClassOf(err) != fault.NoFit {
			return nil, err
		}
		if first == nil {
			first = err
		}
		if code != nil {
			break
		}
	}
	return nil, first
}

// lines gathers the lines that a piece shows, in the mark's order.
func (s Spec) lines(z label.Zone, show label.Show) []label.Line {
	var all []label.Line
	for _, line := range s.Mark.Lines {
		if slices.ContainsFunc(show.Parts(), func(p label.Part) bool { r, ok := p.Role(); return ok && r == line.Role }) {
			if line.Role != label.RoleOwnMark || len(s.OwnMark) > 0 {
				all = append(all, line)
			}
		}
	}
	if z.Text != "" && show.Has(label.PartText) {
		all = append(all, label.Line{Role: label.RoleText, Text: z.Text})
	}
	return all
}

// better lays the words out each way they may run and takes the first whose
// smallest capitals are easily read, or else the one with the bigger ones: on a
// thin body words along the axis are.
func (s Spec) better(z label.Zone, b band, code *codePlan, lines []label.Line, ways []label.Turn) (*layout, error) {
	var best *layout
	var last error // of the way that is turned to when the one before fails
	for _, way := range ways {
		l := &layout{Spec: s, zone: z, flat: b.flat, show: b.show, turn: way, lines: lines}
		if code != nil {
			own := *code // where it lies is this way's
			l.code = &own
		}
		if err := l.lay(); err != nil {
			if fault.ClassOf(err) != fault.NoFit {
				return nil, err
			}
			last = err
			continue
		}
		if best == nil || best.least < easyCap && l.least > best.least {
			best = l
		}
	}
	if best == nil {
		return nil, last
	}
	return best, nil
}

// easyCap is the height of capitals that are read at arm's length without
// effort, mm (an estimate; the floor is legible.CapFloor).
const easyCap = 1.6

// dropLeast returns the lines without the n least important ones, and those.
// Roles that are kept are never dropped.
func dropLeast(lines []label.Line, n int) (kept, gone []label.Line) {
	kept = append(kept, lines...)
	for ; n > 0; n-- {
		worst := -1
		for i, l := range kept {
			if !l.Role.Kept() && (worst < 0 || l.Role >= kept[worst].Role) {
				worst = i
			}
		}
		if worst < 0 {
			break
		}
		gone = append(gone, kept[worst])
		kept = append(kept[:worst:worst], kept[worst+1:]...)
	}
	return kept, gone
}

// stretch tells how much the film must give on a body that no flat piece fits.
func (l *layout) stretch(strain float64) {
	const tellFrom = 0.001 // a tenth of a percent is less than a sheet of film varies
	if strain >= tellFrom {
		l.notice("stretch", fmt.Sprintf("the film must stretch or shrink by %s to lie on this body; it bears %s",
			l.percent(strain), l.limit()))
	}
}
