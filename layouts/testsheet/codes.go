package testsheet

import (
	"fmt"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Dowels returns the diameters that the strips of CodeSize are for, mm: those of
// bodies on which a code is at its limits.
func Dowels() []unit.Millimetre { return []unit.Millimetre{6, 8, 10, 12, 14, 16} }

// Size is one size of code on the strips, as a maker names it in his answer.
type Size struct {
	legible.Rung
	Front bool // widened so as to look square from the front of its dowel
}

// Name is "7" for plain squares of seven dots, "7f" for widened ones.
func (z Size) Name() string {
	if z.Front {
		return whole(z.Dots) + "f"
	}
	return whole(z.Dots)
}

// On reports whether a code of this size can be made for a dowel of that
// diameter, mm: one that is so wide that nothing would be seen of its sides
// cannot be widened.
func (z Size) On(dowel unit.Millimetre, dot float64) bool {
	return !z.Front || z.columns(dowel, dot) != nil
}

func (z Size) columns(dowel unit.Millimetre, dot float64) []float64 {
	return legible.FrontColumns(legible.TestSide, z.Module, float64(dowel), dot)
}

// Sizes returns the sizes on the strips of CodeSize for a printer of that many
// dots an inch: those of legible.Ladder, all plain and then all widened. It is
// empty where no code can be made of such dots.
func Sizes(dpi float64) []Size {
	var all []Size
	for _, front := range [...]bool{false, true} {
		for _, r := range legible.Ladder(dpi) {
			all = append(all, Size{r, front})
		}
	}
	return all
}

// mostPages is how many pages of strips are laid out, half as large as A4 at the
// least: more are not cut out by anybody. Own choice.
const mostPages = 4

// CodeSize lays out strips that go round the dowels of Dowels, with a code of 21
// squares at level M in each of Sizes whose text is what the strip is, and says
// how to try them and what to type. For a printer whose gain is known they are
// made up for it, as marks are, and a page to compare has them as they are drawn.
// Errors are Input for stock without a sheet, an impossible printer and one too
// coarse for any code, NoFit for stock too small.
func CodeSize(s Spec) ([]*draw.Sheet, error) {
	if err := s.printed(); err != nil {
		return nil, err
	}
	if len(Sizes(s.Printer.DPI)) == 0 {
		return nil, fault.Inputf("give the printer's dots an inch, usually 600", "no code can be made of dots of %s dpi", unit.Number(s.Printer.DPI, 1, unit.Style{}))
	}
	f := &flow{Spec: s, room: geom.XYWH(0, 0, s.Stock.Size.W, s.Stock.Size.H).Inset(s.Stock.Margin)}
	take := s.Printer.Reduction()
	f.page()
	if err := f.strips(take); err != nil {
		return nil, err
	}
	title := fmt.Sprintf(s.Words.Tests.Codes, s.Words.Name(s.Stock.Name))
	if err := f.words(title, s.codeSteps(take), s.codeCommand()); err != nil {
		return nil, err
	}
	if take > 0 {
		f.page()
		if err := f.line(s.Words.Tests.CodesCompare); err != nil {
			return nil, err
		}
		if err := f.strips(0); err != nil {
			return nil, err
		}
	}
	if len(f.pages) > mostPages {
		return nil, fault.New(fault.NoFit, "", "the strips need "+whole(len(f.pages))+" sheets of "+s.Stock.Key, "use a larger paper: A4 holds them")
	}
	for i, p := range f.pages {
		out, err := stock.Calibrate(p, s.raw())
		if err != nil {
			return nil, err
		}
		f.pages[i] = out
	}
	return f.pages, nil
}

// codeSteps says what to do; take is the dots off for the ink.
func (s Spec) codeSteps(take int) []string {
	w := s.Words.Tests
	steps := []string{w.CodesPrint, w.CodesCut, w.CodesHold, w.CodesNote} // its 2 cm beside 12 cm are the legible.AimTilt that the answer is taken for
	if take > 0 {
		steps = append(steps, fmt.Sprintf(w.CodesMadeUp, whole(s.Profile), s.Printer.Name, whole(take), w.Dots.Of(take), s.gainCommand()))
	} else {
		steps = append(steps, fmt.Sprintf(w.CodesClosed, s.gainCommand()))
	}
	r := legible.Ladder(s.Printer.DPI)
	some := whole(r[len(r)/2].Dots) // any of them, to show how
	return append(steps, fmt.Sprintf(w.CodesType, some, some, some))
}

func (s Spec) gainCommand() string { return "floatmark testsheet gain --out gain.pdf" + s.named() }

// codeCommand is what stores what was read.
func (s Spec) codeCommand() string {
	var blanks []string
	for _, z := range Sizes(s.Printer.DPI) {
		blanks = append(blanks, z.Name()+"=__")
	}
	return "floatmark testsheet codes" + s.named() + ` --reads "` + strings.Join(blanks, " ") + `"`
}

// named is the printer in a command, or its dots where nobody has calibrated it
// and they are not the usual ones.
func (s Spec) named() string {
	switch {
	case s.calls() != unnamed:
		return " --printer " + s.calls()
	case s.Printer.DPI != stock.Plain().DPI:
		return " --dpi " + unit.Number(s.Printer.DPI, 0.01, unit.Style{})
	}
	return ""
}
