package job

import (
	"strconv"
	"strings"

	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/jobsheet"
	"floatmark/layouts/legible"
	"floatmark/loading"
	"floatmark/loading/unit"
)

// jobSheets lays out the sheet of the marking day.
func (p *Plan) jobSheets() error {
	b := p.File.Batch
	bench := words.BenchSheetFor(p.words.Language)
	maps, fields := p.maps(bench)
	trims, err := p.trims(bench)
	if err != nil {
		return err
	}
	rows := make([]jobsheet.Row, len(p.Floats))
	board := jobsheet.Board{Pitch: p.File.Board}
	fattest := 0.0
	for i := range p.Floats {
		fp := &p.Floats[i]
		tank, u := p.tankResult(fp)
		rows[i] = jobsheet.Row{Number: fp.Float.Number, ID: string(fp.Float.ID), Pattern: fp.Float.Pattern.Name,
			Tank: tank, U: u, Rating: p.words.Gram(fp.Rating.Printed, fp.Rating.Step), Band: draw.Ink(fp.Mark.Band),
			Trim: trims[fp.Float.Number], Grounds: p.grounds(fp), Decals: fields[i], Edges: p.edges(fp), Code: p.codeFor(fp, bench), Note: p.noteFor(*fp)}
		switch {
		case p.film.Sheetless():
			rows[i].Decals = []string{bench.Jig}
		case fp.Ready:
			rows[i].Decals = []string{bench.LiesReady}
		}
		board.Numbers, board.Bands = append(board.Numbers, fp.Float.Number), append(board.Bands, draw.Ink(fp.Mark.Band))
		fattest = max(fattest, float64(fp.Float.Shape().MaxDiameter()))
	}
	if board.Pitch == 0 {
		board.Pitch = jobsheet.PitchFor(fattest)
	}
	plots, err := p.strainPlots()
	if err != nil {
		return err
	}
	guides, notes := p.guides(bench)
	sheets, err := jobsheet.Lay(jobsheet.Spec{Maker: b.Maker.Name, Batch: b.Name, Date: b.Date, Rows: rows,
		Fonts: p.fonts, Stock: p.paper, Words: p.words, Plot: p.Spread, Plots: plots, Board: board, Maps: maps,
		Guides: guides, GuideNotes: notes, Rings: p.groundRings(), Steps: jobsheet.Steps(p.film.Medium, p.words)})
	if err != nil {
		return err
	}
	p.JobSheets, err = calibrated(sheets, p.print)
	return err
}

// tankResult writes a float's measured sum and its uncertainty; "" for one that was
// not tested itself.
func (p *Plan) tankResult(fp *FloatPlan) (sum, u string) {
	if fp.Rating.About {
		return "", ""
	}
	const step = unit.Gram(0.01) // as pocket scales show it
	return (fp.Rating.Weighed + fp.Rating.Measured).Apart(fp.Rating.U, step, p.words.Number)
}

// trims writes what is still to be done to built-in weights, by float number, for
// those that grading sends to be trimmed.
func (p *Plan) trims(bench words.BenchSheet) (map[int]string, error) {
	const step = unit.Gram(0.01)
	r, err := p.gradings()
	if err != nil {
		return nil, err
	}
	all := map[int]string{}
	for i, g := range r.Floats {
		if g.Verdict != loading.TrimIt {
			continue
		}
		a, err := p.trimming(g, p.Floats[i].Float)
		if err != nil {
			continue // grading tells of it, and no step is better than a wrong one
		}
		switch a.State {
		case loading.TrimTake:
			all[g.Number] = words.Filled(bench.TakeOff, p.words.Gram(a.Take, step))
		case loading.TrimPast:
			all[g.Number] = words.Filled(bench.FitMore, p.words.Gram(a.More, step))
		}
	}
	return all, nil
}

// grounds lists the rings of paint that a float needs under its mark.
func (p *Plan) grounds(fp *FloatPlan) []jobsheet.Ground {
	const step = 0.1 // mm, as a ring is masked
	var all []jobsheet.Ground
	for _, r := range fp.Decal.Rings {
		all = append(all, jobsheet.Ground{Span: unit.Number(float64(r.From), step, p.words.Number) + "–" + p.words.Millimetre(r.To, step), Colour: r.Colour})
	}
	return all
}

// edges lists where a float's pieces sit, for the bench.
func (p *Plan) edges(fp *FloatPlan) []jobsheet.Edge {
	const step = 0.1
	var all []jobsheet.Edge
	for _, piece := range fp.Decal.Pieces {
		if piece.Zone.AtTip {
			all = append(all, jobsheet.Edge{At: p.words.Millimetre(fp.Float.Shape().Top()-piece.Flat.To, step), From: p.words.FromTip + ", " + p.words.UpperEdge})
		} else {
			all = append(all, jobsheet.Edge{At: p.words.Millimetre(piece.Flat.From, step), From: p.words.FromBase})
		}
	}
	return all
}

// codeFor says how a float's code is read: who ticks it off must know how to hold
// the phone.
func (p *Plan) codeFor(fp *FloatPlan, bench words.BenchSheet) string {
	switch {
	case fp.Decal.CodeOn && fp.Decal.Code.Grade == legible.Casual:
		return bench.ReadAnyhow
	case fp.Decal.CodeOn:
		return p.words.CodeHeldSquare
	case fp.Card.Code != "":
		return bench.OnCard
	}
	return "–"
}

// noteFor is the short note of the job sheet: the maker's own, and what is
// unusual about the figures.
func (p *Plan) noteFor(fp FloatPlan) string {
	var parts []string
	if fp.Rating.About {
		parts = append(parts, p.words.About)
	}
	if fp.Rating.Regraded {
		parts = append(parts, p.words.Regraded)
	} else if fp.Rating.Printed != fp.Rating.Nominal {
		parts = append(parts, p.words.MeasuredSum)
	}
	if fp.Ready {
		parts = append(parts, p.words.MarkReady)
	}
	if fp.Float.Note != "" {
		parts = append(parts, fp.Float.Note)
	}
	return strings.Join(parts, "; ")
}

// pageName is how the bench calls a page of the decals.
func (p *Plan) pageName(bench words.BenchSheet, i int) string {
	name := words.Filled(bench.Page, strconv.Itoa(i+1))
	if n := p.Laid[i].Number; n > 0 {
		name += ", " + p.words.Sheet + " " + p.words.Number1 + " " + strconv.Itoa(n)
	}
	return name
}
