package job

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"floatmark/label/words"
	"floatmark/layouts/boxlabel"
	"floatmark/layouts/draw"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// boxes lays out the stickers for boxes and tubes, when the batch file names what
// they are printed on: one for the batch if it has several patterns, one for each
// pattern, and one for each rating of a pattern that has several.
func (p *Plan) boxes() error {
	if p.File.Boxes == "" {
		return nil
	}
	on, ok := p.File.Stock(p.File.Boxes)
	if !ok {
		return fault.New(fault.Input, p.File.Path, "there is no stock "+strconv.Quote(p.File.Boxes), "choose one of: floatmark stocks")
	}
	on.Margin = max(on.Margin, p.print.Margin)
	sheets, err := boxlabel.Lay(boxlabel.Spec{Labels: p.boxLabels(), Stock: on, Fonts: p.fonts, Words: p.words})
	if err != nil {
		return err
	}
	p.Boxes, err = calibrated(sheets, p.print)
	return err
}

func (p *Plan) boxLabels() []boxlabel.Label {
	bench := words.BenchSheetFor(p.words.Language)
	var all []boxlabel.Label
	firsts := p.firsts()
	if len(firsts) > 1 {
		patterns := words.Filled(bench.Patterns.Of(len(firsts)), strconv.Itoa(len(firsts)))
		all = append(all, p.boxLabel(bench, patterns, func(*FloatPlan) bool { return true }))
	}
	for _, first := range firsts {
		pat := first.Float.Pattern
		of := func(fp *FloatPlan) bool { return fp.Float.Pattern == pat }
		all = append(all, p.boxLabel(bench, pat.Name, of))
		if ratings := p.printedRatings(of); len(ratings) > 1 {
			for _, r := range ratings {
				all = append(all, p.boxLabel(bench, pat.Name, func(fp *FloatPlan) bool { return of(fp) && fp.Rating.Printed == r }))
			}
		}
	}
	return all
}

// printedRatings lists the ratings on some floats' marks, rising.
func (p *Plan) printedRatings(of func(*FloatPlan) bool) []unit.Gram {
	var all []unit.Gram
	for i := range p.Floats {
		if of(&p.Floats[i]) {
			all = append(all, p.Floats[i].Rating.Printed)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// boxLabel is the sticker of some floats.
func (p *Plan) boxLabel(bench words.BenchSheet, pattern string, of func(*FloatPlan) bool) boxlabel.Label {
	var in []*FloatPlan
	for i := range p.Floats {
		if of(&p.Floats[i]) {
			in = append(in, &p.Floats[i])
		}
	}
	slices.SortStableFunc(in, func(a, b *FloatPlan) int { return cmp.Compare(a.Rating.Printed, b.Rating.Printed) })
	b := p.File.Batch
	l := boxlabel.Label{Pattern: pattern, Batch: p.words.Batch + " " + b.Name, Maker: b.Maker.Name, Date: b.Date,
		Count: words.Filled(bench.Floats.Of(len(in)), strconv.Itoa(len(in)))}
	least, most := in[0].Rating, in[len(in)-1].Rating
	l.Rating = p.words.Gram(most.Printed, most.Step)
	if least.Printed != most.Printed {
		l.Rating = unit.Number(float64(least.Printed), float64(least.Step), p.words.Number) + "–" + l.Rating
	}
	var numbers []int
	for _, fp := range in {
		if band := draw.Ink(fp.Mark.Band); !slices.Contains(l.Bands, band) {
			l.Bands = append(l.Bands, band)
		}
		numbers = append(numbers, fp.Float.Number)
	}
	slices.Sort(numbers)
	l.Numbers = runs(numbers)
	return l
}

// runs writes rising numbers short: "1–7, 9".
func runs(numbers []int) string {
	var parts []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, strconv.Itoa(numbers[i]))
		case j == i+1:
			parts = append(parts, strconv.Itoa(numbers[i]), strconv.Itoa(numbers[j]))
		default:
			parts = append(parts, strconv.Itoa(numbers[i])+"–"+strconv.Itoa(numbers[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}
