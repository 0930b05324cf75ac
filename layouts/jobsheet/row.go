package jobsheet

import (
	"strconv"

	"floatmark/layouts/draw"
	"floatmark/layouts/typeset"
)

// Row is one float of the table.
type Row struct {
	Number      int
	ID, Pattern string
	Tank, U     string   // the measured sum and its uncertainty: "7.99 g", "0.02 g"; "" for a float not tested
	Rating      string   // to mark: "8 g"
	Band        draw.Ink // of its rating
	Trim        string   // what is still to be done to its weight; "" for nothing
	Grounds     []Ground // rings of paint under its mark
	Decals      []string // where its pieces lie: page and field, "1 B3"; or words
	Edges       []Edge   // where its pieces sit
	Code        string   // how the code is read, or where it is
	Note        string
}

// Ground is a ground ring of one float.
type Ground struct {
	Span   string // heights over the base end: "27–54 mm"
	Colour draw.Ink
}

// Edge is where a piece sits: a length and the end it is measured from.
type Edge struct{ At, From string } // "28 mm", "from base"

// column is one column of the table: its head and what stands in it; a column
// without a passage is a box to tick.
type column struct {
	head   string
	what   func(Row) passage
	swatch func(Row) []draw.Ink // colours beside the words; nil for none
	own    float64              // the width at which a maker's own word is broken, mm; 0 for a column of our words
	centre bool
	x, w   float64
}

// Widths of a column's swatch and of words that are a maker's own, mm. Own
// choices.
const (
	swatchRoom = 3.6
	swatchCell = 2.6
	ownWord    = 24.0
)

// makeColumns lists the columns. What no float of the batch needs takes no room:
// the ground rings.
func (p *pages) makeColumns() {
	w, b := p.Words, p.bench
	word := typeset.Regular(p.Fonts, bodyCap)
	figure, strong := typeset.Regular(p.Fonts, figureCap), typeset.Bold(p.Fonts, figureCap)
	one := func(f typeset.Font, text string) passage {
		if text == "" {
			return nil
		}
		return passage{{{text, f, true}}}
	}
	p.cols = []column{
		{head: w.Number1, what: func(r Row) passage { return one(typeset.Bold(p.Fonts, 3.2), strconv.Itoa(r.Number)) }, centre: true},
		{head: w.ID + ", " + w.Pattern, what: func(r Row) passage {
			return append(one(strong, r.ID), []span{{r.Pattern, word, false}})
		}, own: ownWord},
		{head: b.Tank, what: func(r Row) passage {
			if r.Tank == "" {
				return passage{{{b.NotTested, word, false}}}
			}
			return passage{{{r.Tank, figure, true}, {"± " + r.U, figure, true}}}
		}},
		{head: b.ToMark, what: func(r Row) passage { return one(typeset.Bold(p.Fonts, figureCap+0.3), r.Rating) },
			swatch: func(r Row) []draw.Ink { return []draw.Ink{r.Band} }},
		{head: b.Trim, what: func(r Row) passage {
			if r.Trim == "" {
				return one(word, "–")
			}
			return passage{{{r.Trim, typeset.Bold(p.Fonts, bodyCap), false}}}
		}},
	}
	for _, r := range p.Rows {
		if len(r.Grounds) > 0 {
			p.cols = append(p.cols, column{head: b.Ring, what: grounds(word), swatch: func(r Row) []draw.Ink {
				var inks []draw.Ink
				for _, g := range r.Grounds {
					inks = append(inks, g.Colour)
				}
				return inks
			}})
			break
		}
	}
	p.cols = append(p.cols,
		column{head: b.Decal, what: func(r Row) passage {
			var q passage
			for _, d := range r.Decals {
				f, whole := strong, true
				if d == b.LiesReady || d == b.Jig {
					f, whole = word, false
				}
				q = append(q, []span{{d, f, whole}})
			}
			return q
		}},
		column{head: b.Edge, what: func(r Row) passage {
			var q passage
			for _, e := range r.Edges {
				q = append(q, []span{{e.At, strong, true}, {e.From, word, false}})
			}
			return q
		}},
		column{head: w.Code, what: func(r Row) passage { return passage{{{r.Code, word, false}}} }},
		column{head: w.Cut}, column{head: w.Applied}, column{head: w.Varnished}, column{head: w.Retested})
}

// grounds writes a float's rings: where, and which colour for who mixes it.
func grounds(f typeset.Font) func(Row) passage {
	return func(r Row) passage {
		var q passage
		for i, g := range r.Grounds {
			q = append(q, []span{{g.Span, f, true}})
			if i == len(r.Grounds)-1 || r.Grounds[i+1].Colour != g.Colour {
				q = append(q, []span{{g.Colour.String(), f, true}})
			}
		}
		return q
	}
}
