package job

import (
	"fmt"
	"strings"

	"floatmark/label/words"
	"floatmark/layouts/chart"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/jig"
	"floatmark/layouts/jobsheet"
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
)

// groundRings gathers, pattern by pattern, the rings of pale paint that the
// marks need under them.
func (p *Plan) groundRings() []jobsheet.Ring {
	const step = 0.1 // mm, as a ring is masked
	var all []jobsheet.Ring
	seen := map[string]bool{}
	for _, fp := range p.Floats {
		for _, r := range fp.Decal.Rings {
			ring := jobsheet.Ring{Pattern: fp.Float.Pattern.Name, From: p.words.Millimetre(r.From, step), To: p.words.Millimetre(r.To, step), Colour: r.Colour, Why: r.Why}
			key := fmt.Sprint(ring)
			if !seen[key] {
				seen[key] = true
				all = append(all, ring)
			}
		}
	}
	return all
}

// A strain plot's size on the job sheet, mm: three stand beside each other.
const plotWide, plotHigh = 58.0, 30.0

// strainPlots draws how much each pattern's pieces ask of the film, where they
// ask anything.
func (p *Plan) strainPlots() ([]*draw.Sheet, error) {
	const tellFrom = 0.001 // as the notices do
	const looks = 81
	stretch := words.BenchSheetFor(p.words.Language).Stretch
	var all []*draw.Sheet
	for _, fp := range p.firsts() {
		for _, piece := range fp.Decal.Pieces {
			if piece.Strain < tellFrom {
				continue
			}
			var points []chart.StrainPoint
			for _, q := range wrap.Strains(piece.Flat, fp.Float.Shape(), wrap.Film{Thickness: p.film.Thickness}, looks) {
				points = append(points, chart.StrainPoint{S: q.S, E: q.E})
			}
			at := p.words.Millimetre(piece.Flat.From, 0.1)
			var sheet *draw.Sheet
			var err error
			for _, title := range []string{words.Filled(stretch, fp.Float.Pattern.Name, at), words.Filled(stretch, fp.Float.Pattern.Key, at), at} {
				sheet, err = chart.Strain(points, chart.StrainSpec{Width: plotWide, Height: plotHigh, Limit: p.bears.limit, Fonts: p.fonts, Number: p.words.Number, Title: title})
				if fault.ClassOf(err) != fault.NoFit {
					break // else the name is too long for the plot
				}
			}
			if err != nil {
				return nil, err
			}
			all = append(all, sheet)
		}
	}
	return all, nil
}

// jigs makes the paper jigs of marks put on by hand: one for each pattern's
// pieces, or for each float that was measured by itself.
func (p *Plan) jigs() error {
	b := p.File.Batch
	var pieces []jig.Piece
	at := map[string]int{}
	for i := range p.Floats {
		fp := &p.Floats[i]
		for n, piece := range fp.Decal.Pieces {
			title := fp.Float.Pattern.Name + ", " + p.place(fp, piece)
			key := fmt.Sprintf("%s %d", fp.Float.Pattern.Key, n)
			if fp.Float.Measured {
				title = fmt.Sprintf("%s %d, %s", p.words.Float, fp.Float.Number, title)
				key = title
			}
			if _, ok := at[key]; !ok {
				at[key] = len(pieces)
				pieces = append(pieces, jig.Piece{Title: title, Outline: piece.Outline, Drawing: piece.Drawing})
			}
			var lines []string
			for _, l := range piece.Printed {
				lines = append(lines, l.Text)
			}
			one := &pieces[at[key]]
			one.Lines = append(one.Lines, fmt.Sprintf("%d: %s", fp.Float.Number, strings.Join(lines, " · ")))
		}
	}
	var err error
	p.Jigs, err = jig.Lay(jig.Spec{Pieces: pieces, Stock: p.paper, Printer: p.print, Fonts: p.fonts, Words: p.words,
		Title: b.Maker.Name + " · " + p.words.Batch + " " + b.Name})
	return err
}

// place says where a piece sits.
func (p *Plan) place(fp *FloatPlan, piece decal.Piece) string {
	s := p.spec(fp)
	return s.Place(piece.Zone, piece.Flat)
}
