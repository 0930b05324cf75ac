package label

import (
	"math"
	"strings"

	"floatmark/label/words"
	"floatmark/loading"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// Role says what a line of a mark means. A layout sizes and places by it.
type Role int

// The roles, most important first: lines are dropped in the reverse order where
// there is no room. Those up to the dedication are never dropped.
const (
	RoleRating Role = iota
	RoleAdd
	RoleID
	RoleSetup
	RoleDedication
	RoleShot
	RoleMetal
	RoleBuiltIn
	RoleText
	RoleMaker
	RoleOwnMark // the maker's own mark, a picture; its text says so
	RoleEquivalent
)

// Kept reports whether a line of the role is never dropped.
func (r Role) Kept() bool { return r <= RoleDedication }

// Line is one line of text with its meaning.
type Line struct {
	Role Role
	Text string
}

// Tally counts a rating in rings, so that it can be told without colour: a
// thick ring is five thin ones.
type Tally struct {
	Thick, Thin int
	Ring        unit.Gram // what a thin ring stands for
}

// Mark is what is printed on one float.
type Mark struct {
	Number int // the float's number in its batch, printed outside the trim
	ID     string
	Rating string // for the band, which bears it whatever the lines are
	Lines  []Line // every line that a zone of the pattern may show; a zone chooses by role
	Tally  Tally
	Band   Colour
	Code   string // link or plain text of the code; empty when the mark carries none
	About  bool   // the figures come from the float's fellows
}

// Find returns the text of the first line with the role, "" if there is none.
func (m Mark) Find(r Role) string {
	for _, l := range m.Lines {
		if l.Role == r {
			return l.Text
		}
	}
	return ""
}

// TallyOf counts the rating in rings of the given size. What is left over
// under half a ring is dropped: the figure beside the rings is the measure.
func TallyOf(rating, ring unit.Gram) Tally {
	if ring <= 0 {
		return Tally{}
	}
	n := int(math.Round(float64(rating / ring)))
	return Tally{Thick: n / 5, Thin: n % 5, Ring: ring}
}

// mostRings is the most rings that are still counted at a glance and leave room
// for words. Own choice.
const mostRings = 8

// RingFor chooses what a thin ring stands for: the largest of the 1-2-5 series
// from 0.1 g to 1 g of which every rating is a whole multiple; where that would
// take more than mostRings, or there is none, the finest that does not.
func RingFor(ratings []unit.Gram) unit.Gram {
	series := []unit.Gram{1, 0.5, 0.2, 0.1}
	few := func(ring unit.Gram) bool {
		for _, r := range ratings {
			if t := TallyOf(r, ring); t.Thick+t.Thin > mostRings {
				return false
			}
		}
		return true
	}
	for _, ring := range series {
		whole := true
		for _, r := range ratings {
			n := float64(r / ring)
			whole = whole && math.Abs(n-math.Round(n)) < 1e-6
		}
		if whole && few(ring) {
			return ring
		}
	}
	for i := len(series) - 1; i > 0; i-- {
		if few(series[i]) {
			return series[i]
		}
	}
	return series[0]
}

// Link returns what the code of a float says: its link in capitals, which fits
// a smaller symbol, or the figures in plain text for a maker without a host.
func Link(m Maker, id string, r loading.Rating) string {
	if m.Host != "" {
		return scheme + strings.ToUpper(m.Host) + "/" + id
	}
	g := func(v unit.Gram) string { return unit.Number(float64(v), float64(r.Step), unit.Style{}) + "G" }
	if r.Kind == loading.Unloaded {
		return g(r.Printed) + " " + id
	}
	return g(r.Printed) + " ADD " + g(r.Add) + " " + id
}

// scheme begins every link. Capitals keep a code in its compact letters.
const scheme = "HTTPS://"

// HostOf returns the host a link names, in small letters; "" when the code is
// plain text.
func HostOf(code string) string {
	rest, ok := strings.CutPrefix(code, scheme)
	if !ok {
		return ""
	}
	host, _, _ := strings.Cut(rest, "/")
	return strings.ToLower(host)
}

// Figures writes the lines of a rating that mark, card, page and job sheet
// share, in the words of a language.
type Figures struct {
	Rating  string // "8 g"
	BuiltIn string // "7.2 g", "" when nothing is built in
	Add     string // "0.8 g", "about 0.8 g", "nothing to add"
}

// FiguresOf writes a rating's figures as they are printed: they add up.
func FiguresOf(r loading.Rating, w words.Words) Figures { return figuresOf(r, w, w.Gram) }

// TableFigures writes the same figures for a table, where they stand below others:
// with every decimal of the rating's step, "8.00 g".
func TableFigures(r loading.Rating, w words.Words) Figures { return figuresOf(r, w, w.FixedGram) }

func figuresOf(r loading.Rating, w words.Words, gram func(g, step unit.Gram) string) Figures {
	f := Figures{Rating: gram(r.Printed, r.Step), Add: gram(r.Add, r.Step)}
	if r.BuiltIn > 0 {
		f.BuiltIn = gram(r.BuiltIn, r.Step)
	}
	if r.Add == 0 {
		f.Add = w.NothingToAdd
	}
	if r.About {
		f.Add = w.About + " " + f.Add
		f.Rating = w.About + " " + f.Rating
	}
	return f
}

// WaterName writes the water the figures hold for.
func WaterName(r loading.Rating, w words.Words) string {
	if r.Water.Salinity > 0 {
		return w.Sea
	}
	return w.Fresh
}

// Compose writes the mark of one float. eq is the shot that makes the add, in
// the convention c; nil when none does. Lines that the pattern shows nowhere are
// left out.
func Compose(b *Batch, f *Float, r loading.Rating, c shot.Convention, eq *shot.Equivalent, w words.Words) Mark {
	fig := FiguresOf(r, w)
	m := Mark{Number: f.Number, ID: string(f.ID), Rating: fig.Rating, Tally: TallyOf(r.Printed, b.Ring),
		Band: b.RatingOf(r.Nominal).Band, About: r.About}
	p := f.Pattern
	line := func(part Part, text string) {
		if role, ok := part.Role(); ok && text != "" && p.Shows(part) {
			m.Lines = append(m.Lines, Line{role, text})
		}
	}
	line(PartRating, fig.Rating)
	if r.Kind != loading.Unloaded {
		add := w.Add + " " + fig.Add
		if r.Add == 0 {
			add = fig.Add
		}
		line(PartAdd, add)
	}
	line(PartID, m.ID)
	if len(f.Setups) > 0 {
		line(PartSetup, w.With+" "+f.Setups[0].Name)
	}
	line(PartDedication, f.Dedication)
	if r.Add > 0 {
		if eq != nil {
			line(PartShot, eq.Text())
		}
		line(PartMetal, w.Name(c.Metal.Name)+", "+WaterName(r, w))
	}
	if fig.BuiltIn != "" {
		line(PartBuiltIn, w.BuiltIn+" "+fig.BuiltIn)
	}
	line(PartMaker, b.Maker.Name)
	line(PartOwnMark, PartOwnMark.String())
	if p.Shows(PartCode) {
		m.Code = Link(b.Maker, m.ID, r)
	}
	return m
}

// EquivalentLines writes the add in further conventions, each with its own
// metal: "lead 1 BB + 1 B". best holds the first-ranked equivalent per
// convention, nil where no shot makes the add; the convention of the mark itself
// is left out.
func EquivalentLines(own shot.Convention, conventions []shot.Convention, best []*shot.Equivalent, w words.Words) []Line {
	var lines []Line
	for i, c := range conventions {
		if c.Key != own.Key && best[i] != nil {
			lines = append(lines, Line{RoleEquivalent, w.Name(c.Metal.Name) + " " + best[i].Text()})
		}
	}
	return lines
}
