package job

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/chart"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/jobsheet"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Graded is the batch sorted by its ratings, with stable names.
type Graded struct {
	Tolerance unit.Gram      `json:"tolerance_g"`
	Ratings   []GradedRating `json:"ratings"`
	Floats    []GradedFloat  `json:"floats"`
}

// GradedRating is the spread of the floats made as one rating.
type GradedRating struct {
	Rating    unit.Gram `json:"rating_g"`
	Tested    int       `json:"tested"`
	Untested  int       `json:"untested"`
	Inside    int       `json:"within_tolerance"`
	Mean      unit.Gram `json:"mean_g"`
	Deviation unit.Gram `json:"standard_deviation_g"`
	Least     unit.Gram `json:"least_g"`
	Most      unit.Gram `json:"most_g"`
}

// GradedFloat is the verdict on one float.
type GradedFloat struct {
	Number   int       `json:"number"`
	Verdict  string    `json:"verdict"` // keeps, regrade, trim, off, untested
	MadeAs   unit.Gram `json:"made_as_g"`
	Rating   unit.Gram `json:"rating_g"`
	Sum      unit.Gram `json:"measured_g"`
	Off      unit.Gram `json:"off_g"`
	Doubtful bool      `json:"doubtful,omitempty"` // another figure within its uncertainty would change it
	Advice   string    `json:"advice,omitempty"`
}

// grade sorts the floats and draws the plot. There is none when no float was
// tested itself.
func (p *Plan) grade() error {
	r, err := p.gradings()
	if err != nil {
		return err
	}
	p.Graded = p.graded(r)
	p.Spread, err = p.plot(r, jobsheet.PlotWidth(p.paper), false)
	if fault.ClassOf(err) == fault.NotFound {
		return nil
	}
	return err
}

// NarrowSpread draws the plot for a narrow screen.
func (p *Plan) NarrowSpread() (*draw.Sheet, error) {
	r, err := p.gradings()
	if err != nil {
		return nil, err
	}
	const width = 70
	return p.plot(r, width, true)
}

func (p *Plan) plot(r loading.Report, width float64, narrow bool) (*draw.Sheet, error) {
	said := p.words.Spread
	return chart.Grading(r, chart.Spec{Width: width, Narrow: narrow, Fonts: p.fonts, Number: p.words.Number,
		Facts: func(s loading.Spread) []string { return facts(s, p.words) },
		Captions: chart.Captions{Title: said.Title, Off: said.Off, Key: []string{
			fmt.Sprintf(said.Shaded, p.words.Gram(r.Tolerance, fine)), said.Bar, said.Triangle}}})
}

// gradings sorts the floats by the batch's ratings.
func (p *Plan) gradings() (loading.Report, error) {
	b := p.File.Batch
	floats := make([]loading.Graded, len(p.Floats))
	tolerance := b.Step
	var ratings []unit.Gram
	for i, fp := range p.Floats {
		floats[i] = loading.GradedOf(fp.Float.Number, fp.Rating)
		ratings = append(ratings, fp.Rating.Nominal)
		// What cannot be told apart on a mark is one rating: the coarsest step
		// printed is the tolerance.
		tolerance = max(tolerance, fp.Rating.Step)
	}
	for _, r := range b.Ratings {
		ratings = append(ratings, r.Nominal)
	}
	slices.Sort(ratings)
	if b.Tolerance > 0 {
		tolerance = b.Tolerance
	}
	return loading.Grade(floats, slices.Compact(ratings), tolerance)
}

// fine is the step of means and deviations, g: a digit finer than one float.
const fine unit.Gram = 0.001

// facts are the lines beside a rating's row of the plot.
func facts(s loading.Spread, w words.Words) []string {
	switch s.N {
	case 0:
		return []string{w.Spread.NoneTested}
	case 1:
		return []string{fmt.Sprintf(w.Spread.OneTested, w.FixedGram(s.Mean, fine))}
	}
	return []string{fmt.Sprintf(w.Spread.Tested, strconv.Itoa(s.N), w.FixedGram(s.Mean, fine)), fmt.Sprintf(w.Spread.Deviation, w.FixedGram(s.Deviation, fine))}
}

func (p *Plan) graded(r loading.Report) *Graded {
	g := &Graded{Tolerance: r.Tolerance}
	for _, s := range r.Spreads {
		g.Ratings = append(g.Ratings, GradedRating{s.Rating, s.N, s.Untested, s.Inside, s.Mean, s.Deviation, s.Min, s.Max})
	}
	for i, f := range r.Floats {
		g.Floats = append(g.Floats, GradedFloat{f.Number, f.Verdict.String(), f.MadeAs(), f.Rating, f.Sum, f.Off, f.Doubtful, p.advice(f, p.Floats[i].Float)})
	}
	return g
}

// advice says what to do with a float that does not keep its rating; "" for one
// that does.
func (p *Plan) advice(g loading.Grading, f *label.Float) string {
	text := func(m unit.Gram) string { return m.Text(0.01, p.words.Number) }
	switch g.Verdict {
	case loading.Regrade:
		return "regrade to " + text(g.Rating)
	case loading.OffAll:
		if off := g.Off.Text(fine, p.words.Number); g.Off > 0 {
			return fmt.Sprintf("off all ratings: %s over %s, printed with its measured sum", off, text(g.Rating))
		}
		return fmt.Sprintf("off all ratings: %s under %s, printed with its measured sum", (-g.Off).Text(fine, p.words.Number), text(g.Rating))
	case loading.TrimIt:
		a, err := p.trimming(g, f)
		if err != nil {
			return ""
		}
		return "to come to " + text(g.Rating) + ": " + a.Text()
	}
	return ""
}

// trimming is the next step for a float that is to be trimmed: to the rating it is
// to come to, less what is then still built in.
func (p *Plan) trimming(g loading.Grading, f *label.Float) (loading.Advice, error) {
	return loading.AdviseTrim(loading.Trimming{Weight: *f.Weight, Fitted: measured(p.ratingOf(g.Number)),
		Want: max(0, g.Rating-f.Weight.Mass+g.Take), Metal: g.Metal, Water: g.Water})
}

// Lines tells the spread per rating and what to do with the floats outside, as
// lines for a terminal, ratings rising.
func (g *Graded) Lines(st unit.Style) []string {
	var lines []string
	outside := slices.Clone(g.Floats)
	slices.SortStableFunc(outside, func(a, b GradedFloat) int { return cmp.Compare(a.Number, b.Number) })
	for _, r := range g.Ratings {
		name := r.Rating.Text(fine, st)
		switch r.Tested {
		case 0:
			lines = append(lines, name+": none tested")
		case 1:
			lines = append(lines, name+": 1 tested, "+r.Mean.FixedText(fine, st))
		default:
			lines = append(lines, fmt.Sprintf("%s: %d tested, mean %s, standard deviation %s, from %s to %s; %d within %s", name, r.Tested,
				r.Mean.FixedText(fine, st), r.Deviation.FixedText(fine, st), r.Least.FixedText(fine, st), r.Most.FixedText(fine, st), r.Inside, g.Tolerance.Text(fine, st)))
		}
		for _, f := range outside {
			if f.MadeAs != r.Rating || f.Advice == "" {
				continue
			}
			line := fmt.Sprintf("  float %d: %s", f.Number, f.Advice)
			if f.Doubtful {
				line += " (within its uncertainty it may be otherwise)"
			}
			lines = append(lines, line)
		}
	}
	return lines
}

// framed sets a picture on a white sheet with some air round it, for files that
// stand alone.
func framed(s *draw.Sheet) *draw.Sheet {
	const air = 5.0 // mm
	out := &draw.Sheet{Name: s.Name, Size: geom.Size{W: s.Size.W + 2*air, H: s.Size.H + 2*air}}
	out.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, out.Size.W, out.Size.H)), Ink: draw.White})
	out.Place(s, geom.Translate(air, air))
	return out
}
