package testsheet

import (
	"fmt"
	"math"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/unit"
)

// Measures of a proof, mm: by eye.
const (
	lineRoom  = 6.0 // across a check line, with its words
	lineEnds  = 2.0 // beyond both its ends
	labelLine = 0.1
	proofRead = 0.5 // how near a check line is read with a steel rule, as for the ruler
)

// proofLines are the check lines a proof tries, the longest first.
var proofLines = [...]float64{stock.CheckLength, 50}

// proofColumns are how its words may stand, the best first.
var proofColumns = [...]struct {
	wide  float64
	steps bool
}{{110, true}, {80, true}, {60, true}, {45, true}, {180, false}, {140, false}, {100, false}, {60, false}}

// Proof returns what is tried on plain paper before the film is spent: each sheet
// of marks, as laid out and before calibration, at its very place, with a
// millimetre rule along two edges, check lines of 100 mm both ways, what to do,
// and the labels of a die-cut stock. All that stands where nothing else does: film
// has no room to spare, so on a full sheet the rules are broken and lines and words
// are left out. If no sheet has room for all of them, a page of their own comes
// first. The sheets are calibrated for s.Printer as the film's are, so they are
// read as the film will be; s.Profile plays no part. s.Stock is the film.
// Errors are Input for stock without a sheet and an impossible printer.
func Proof(s Spec, marks []*draw.Sheet) ([]*draw.Sheet, error) {
	s.Profile = 0
	if err := s.printed(); err != nil {
		return nil, err
	}
	words, err := s.proofWords()
	if err != nil {
		return nil, err
	}
	var all []*draw.Sheet
	told := len(marks) == 0
	for _, m := range marks {
		one, whole, err := s.proof(m, words)
		if err != nil {
			return nil, err
		}
		told = told || whole
		all = append(all, one)
	}
	if !told {
		if s.Stock.Grid != nil {
			s.Stock.Grid = new(stock.Grid) // no labels lie under a page of words, which speaks of them
		}
		own, _, err := s.proof(&draw.Sheet{Name: "rulers", Size: s.Stock.Size}, words)
		if err != nil {
			return nil, err
		}
		all = append([]*draw.Sheet{own}, all...)
	}
	for i, one := range all {
		done, err := stock.Calibrate(one, s.Printer)
		if err != nil {
			return nil, err
		}
		all[i] = done
	}
	return all, nil
}

// proof returns the sheet with what is measured on it, and whether all of that
// had room.
func (s Spec) proof(marks *draw.Sheet, words []block) (sheet *draw.Sheet, whole bool, err error) {
	sheet = new(*marks)
	for l, ops := range marks.Layers {
		sheet.Layers[l] = ops[:len(ops):len(ops)] // what is added here is not added there
	}
	sheet.Name = "proof, " + marks.Name
	margin := math.Max(s.Stock.Margin, s.Printer.Margin)
	r := free(marks, margin)
	if s.Stock.Grid != nil {
		for i, label := range s.Stock.Grid.Outlines() {
			sheet.Add(draw.Guide, &draw.Stroke{Path: label, Ink: cutInk, Width: labelLine})
			r.take(s.Stock.Grid.Cells()[i])
		}
	}
	b := s.bars()
	if err := s.rules(sheet, b, r, free(marks, 0), margin); err != nil {
		return nil, false, err
	}
	across, err := s.proofLine(sheet, r, false)
	if err != nil {
		return nil, false, err
	}
	down, err := s.proofLine(sheet, r, true)
	if err != nil {
		return nil, false, err
	}
	told := place(sheet, r, words)
	if len(b.path) > 0 {
		sheet.Add(draw.Guide, b.fill())
	}
	return sheet, across && down && told, nil
}

// proofLine draws the longest check line that has room, and reports whether one
// had.
func (s Spec) proofLine(sheet *draw.Sheet, r *room, down bool) (bool, error) {
	for _, long := range proofLines {
		size := geom.Size{W: long + 2*lineEnds, H: lineRoom}
		if down {
			size = geom.Size{W: size.H, H: size.W}
		}
		at, ok := r.find(size)
		if !ok {
			continue
		}
		text, err := typeset.Shape(fmt.Sprintf(s.Words.ThisLineIs, s.Words.Millimetre(unit.Millimetre(long), 1)), typeset.Regular(s.Fonts, capNote))
		if err != nil {
			return false, err
		}
		const under = stock.CheckTick + 0.4 + capNote // its words, clear of its ends
		if down {
			from := at.Add(geom.Point{X: stock.CheckTick + 0.5, Y: lineEnds})
			sheet.Add(draw.Guide, stock.Bar(from, long, true)...)
			sheet.Add(draw.Guide, text.Straight(geom.Rotate(-math.Pi/2).Then(geom.Translate(from.X+under, from.Y+long/2)), typeset.Centre, draw.Black)...)
			return true, nil
		}
		from := at.Add(geom.Point{X: lineEnds, Y: stock.CheckTick + 0.5})
		sheet.Add(draw.Guide, stock.Bar(from, long, false)...)
		sheet.Add(draw.Guide, text.Straight(geom.Translate(from.X+long/2, from.Y+under), typeset.Centre, draw.Black)...)
		return true, nil
	}
	return false, nil
}

// block is what is to be done, set in a column.
type block struct {
	sheet      *draw.Sheet
	wide, high float64
}

// proofWords sets what is to be done in every column it may stand in: in steps, or
// else run on.
func (s Spec) proofWords() ([]block, error) {
	var all []block
	for _, column := range proofColumns {
		b := block{sheet: &draw.Sheet{Name: "words"}, wide: column.wide}
		set := s.runOn
		if column.steps {
			set = s.inSteps
		}
		var err error
		if b.high, err = set(b.sheet, b.wide); err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	return all, nil
}

// place sets the first block that has room, and reports whether one had.
func place(sheet *draw.Sheet, r *room, words []block) bool {
	for _, b := range words {
		if at, ok := r.find(geom.Size{W: b.wide + 2*textEdge, H: b.high + textEdge}); ok {
			sheet.Place(b.sheet, geom.Translate(at.X+textEdge, at.Y+textEdge/2))
			return true
		}
	}
	return false
}

func (s Spec) inSteps(sheet *draw.Sheet, wide float64) (high float64, err error) {
	return s.prose(sheet, geom.XYWH(0, 0, wide, 0), s.Words.Tests.Proof, s.proofSteps(), s.remedy())
}

func (s Spec) runOn(sheet *draw.Sheet, wide float64) (high float64, err error) {
	f := typeset.Regular(s.Fonts, capNote)
	lines, err := wrapped(s.Words.Tests.Proof+". "+strings.Join(s.proofSteps(), " ")+" "+s.remedy(), f, wide)
	for i, l := range lines {
		high = f.Cap + float64(float64(i)*leading*f.Cap)
		sheet.Add(draw.Guide, l.Straight(geom.Translate(0, high), typeset.Left, draw.Black)...)
	}
	return high, err
}

func (s Spec) proofSteps() []string {
	w := s.Words.Tests
	steps := []string{w.ProofPrint, fmt.Sprintf(w.ProofMeasure, s.Words.Millimetre(proofRead, 0.1))}
	switch {
	case s.Stock.Grid != nil:
		steps = append(steps, w.ProofLabels)
	case s.Stock.Medium.Mirrored():
		steps = append(steps, w.ProofMirrored)
	default:
		steps = append(steps, w.ProofCut)
	}
	return append(steps, w.ProofThen)
}

// remedy is the command that makes the sheet a printer is calibrated by.
func (s Spec) remedy() string { return "floatmark testsheet ruler --out ruler.pdf" }
