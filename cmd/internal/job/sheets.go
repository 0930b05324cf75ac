package job

import (
	"context"
	"fmt"

	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/layouts/svg"
	"floatmark/layouts/testsheet"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// printer takes the profile of the printer that the batch file names. What the
// printer cannot reach is no part of a sheet.
func (w *Workshop) printer(p *Plan) error {
	if name := p.File.Printer; name != "" {
		known, ok, err := w.Printer(name)
		if err != nil {
			return err
		}
		if !ok {
			return fault.New(fault.Input, p.File.Path, fmt.Sprintf("there is no printer %q", name),
				"calibrate it first: floatmark testsheet ruler, then floatmark testsheet calibrate; or remove the key")
		}
		p.print = known
	}
	for _, s := range []*stock.Stock{&p.film, &p.card, &p.paper} {
		s.Margin = max(s.Margin, p.print.Margin)
	}
	return nil
}

// decals nests the pieces on sheets of film, or makes jigs where there is none.
func (p *Plan) decals(ctx context.Context, progress Progress) error {
	if p.film.Sheetless() {
		return p.jigs()
	}
	var pieces []nest.Piece
	for _, one := range p.sheetPieces() {
		pieces = append(pieces, one.Piece.Piece)
	}
	var keep []geom.Path
	if p.forShop != nil {
		r := svg.DefaultRegistration
		for _, c := range r.At(p.film.Size) {
			keep = append(keep, geom.Rectangle(geom.XYWH(c.X-r.Diameter/2, c.Y-r.Diameter/2, r.Diameter, r.Diameter)))
		}
	}
	if len(pieces) == 0 {
		return nil // every mark lies ready
	}
	b := p.File.Batch
	laid, report, err := decal.Sheets(ctx, decal.Order{Pieces: pieces, Stock: p.film, Fonts: p.fonts, Words: p.words,
		Title: b.Maker.Name + " · " + p.words.Batch + " " + b.Name, Tight: p.File.Tight, Together: p.File.Together, Quick: p.preview, Feed: nest.Edge(p.File.Feed),
		Open: p.sheets.Decal(), Next: p.sheets.Next, Keep: keep,
	}, func(done, total int) { progress.tell("nesting", done, total) })
	if err != nil {
		return err
	}
	p.Film, p.Laid = report, laid
	sheets := make([]*draw.Sheet, len(laid))
	for i, l := range laid {
		sheets[i] = l.Sheet
	}
	p.Decals, err = calibrated(sheets, p.print)
	return err
}

// proof puts the decal sheets on plain paper, with the rules and long check lines
// that film has no room for, calibrated as they are.
func (p *Plan) proof() error {
	var marks []*draw.Sheet
	for _, l := range p.Laid {
		marks = append(marks, l.Sheet)
	}
	if len(marks) == 0 {
		return nil
	}
	var err error
	p.Proof, err = testsheet.Proof(testsheet.Spec{Stock: p.film, Printer: p.print, Fonts: p.fonts, Words: p.words}, marks)
	return err
}

// FilmLine says in a line what the print spends of the film; "" for marks by hand.
func (p *Plan) FilmLine() string {
	if len(p.Laid) == 0 {
		return ""
	}
	pct := func(share float64) string { return unit.Number(100*share, 1, p.words.Number) + " %" }
	line := ""
	if p.preview {
		line = "laid out coarsely, printing packs closer; "
	}
	if p.Film.Used > 0 {
		line += fmt.Sprintf("%d part-used sheets are filled first; ", p.Film.Used)
	}
	if p.Film.Fresh == 0 {
		return "film: " + line + "no fresh sheet is opened"
	}
	if len(p.Film.Strips) == 0 {
		return fmt.Sprintf("film: %s%d fresh sheets of labels", line, p.Film.Fresh)
	}
	line = fmt.Sprintf("film: %s%d fresh, %s of what is spent goes on floats", line, p.Film.Fresh, pct(p.Film.Net()))
	last := p.Film.Strips[len(p.Film.Strips)-1]
	if !p.File.Tight {
		across := last.Part.H()
		if last.Edge == nest.Left || last.Edge == nest.Right {
			across = last.Part.W()
		}
		line += fmt.Sprintf("; the last one is spent %s deep from its %s edge", p.words.Millimetre(unit.Millimetre(across), 1), edgeName(last.Edge))
	}
	return line
}

// SheetLines says, page by page, which sheet to put in and how.
func (p *Plan) SheetLines() []string {
	var all []string
	for i, l := range p.Laid {
		if l.Number == 0 {
			return nil // the shop's own sheets
		}
		what := "a fresh one: write its number on it"
		if l.Open >= 0 {
			what = "part-used"
		}
		all = append(all, fmt.Sprintf("page %d: sheet %d, %s; its %s edge goes in first", i+1, l.Number, what, edgeName(l.Feed)))
	}
	return all
}

func edgeName(e nest.Edge) string { return [...]string{"top", "right", "bottom", "left"}[e] }
