package decal

import (
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

// On die-cut sheets each piece lies whole on a label of its own, part-used sheets
// first, and neither caption nor cut line is printed.
func TestOneToALabel(t *testing.T) {
	s := spec(t, full, 16, 13.4, 26)
	film, _ := stock.ByKey("a4-sticker")
	film.Grid = &stock.Grid{Rows: 8, Columns: 3, First: geom.Point{X: 7, Y: 15}, Cell: geom.Size{W: 63, H: 33}, Pitch: geom.Size{W: 66, H: 34}}
	cells := film.Grid.Cells()
	var pieces []nest.Piece
	for range 26 {
		pieces = append(pieces, lay(t, s).Pieces[0].Piece)
	}
	o := Order{Pieces: pieces, Stock: film, Title: "t", Fonts: s.Fonts, Words: s.Words, Next: 5,
		Open: []Open{{Number: 3, Taken: []geom.Path{geom.Rectangle(cells[0]), geom.Rectangle(cells[1])}}}}
	laid, report, err := Sheets(t.Context(), o, nil)
	if err != nil || len(laid) != 2 || report.Used != 1 || report.Fresh != 1 || laid[0].Number != 3 || laid[1].Number != 5 {
		t.Fatalf("%d sheets, %+v, %v", len(laid), report, err)
	}
	if len(laid[0].Pieces) != 22 || len(laid[1].Pieces) != 4 {
		t.Errorf("%d and %d pieces", len(laid[0].Pieces), len(laid[1].Pieces))
	}
	for _, l := range laid {
		if len(l.Sheet.Layers[draw.Guide])+len(l.Sheet.Layers[draw.Cut]) > 0 {
			t.Error("captions or cut lines on labels")
		}
		for i, op := range l.Sheet.Layers[draw.Colour] {
			on := 0
			b := draw.Bounds([]draw.Op{op})
			for _, c := range cells {
				if c.Inset(-1e-6).Contains(b) {
					on++
				}
			}
			if on != 1 {
				t.Errorf("piece %d lies on %d labels: %v", i, on, b)
			}
		}
	}
	film.Grid = &stock.Grid{Rows: 1, Columns: 1, First: geom.Point{X: 7, Y: 15}, Cell: geom.Size{W: 30, H: 20}}
	o.Stock = film
	if _, _, err := Sheets(t.Context(), o, nil); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("a piece of 50 mm on a label of 30 mm: %v", err)
	}
}

// A label's round corners, its sheet's grain and the blank margin all bind.
func TestLabelsThatTakeNotEveryPiece(t *testing.T) {
	film, _ := stock.ByKey("a4-sticker")
	square := func(w, h float64) nest.Piece {
		r := geom.Rectangle(geom.XYWH(0, 0, w, h))
		d := &draw.Sheet{Name: "piece"}
		d.Add(draw.Colour, &draw.Fill{Path: r})
		return nest.Piece{Name: "piece", Outline: r, Box: r.Bounds(), Turns: []int{0, 1, 2, 3}, Drawing: d}
	}
	s := spec(t, full, 16, 13.4, 26)
	lay := func(change func(*stock.Stock), pieces ...nest.Piece) ([]Laid, error) {
		one := film
		one.Grid = &stock.Grid{Rows: 3, Columns: 2, First: geom.Point{X: 2, Y: 2}, Cell: geom.Size{W: 100, H: 40}, Pitch: geom.Size{W: 105, H: 100}}
		change(&one)
		laid, _, err := Sheets(t.Context(), Order{Pieces: pieces, Stock: one, Title: "t", Fonts: s.Fonts, Words: s.Words}, nil)
		return laid, err
	}
	same := func(*stock.Stock) {}
	if laid, err := lay(same, square(100, 40), square(90, 30)); fault.ClassOf(err) != fault.NoFit {
		// The left labels begin 2 mm from the edge, the right ones end 3 mm from it.
		t.Errorf("a piece as large as labels that reach into the margin: %d sheets, %v", len(laid), err)
	}
	inner := func(s *stock.Stock) { s.Margin = 2.5 } // the right labels are clear but for the upper one
	laid, err := lay(inner, square(100, 40), square(90, 30))
	if err != nil || len(laid) != 1 {
		t.Fatalf("%d sheets, %v", len(laid), err)
	}
	first, second := draw.Bounds(laid[0].Sheet.Layers[draw.Colour][:1]), draw.Bounds(laid[0].Sheet.Layers[draw.Colour][1:])
	if first.Min.X != 107 || first.Min.Y != 102 || second.Min.X != 7 || second.Min.Y != 7 {
		t.Errorf("the large piece at %v, the small one at %v", first, second)
	}
	// A corner of radius r cuts a square corner off by (√2 - 1) r: 2.07 mm of 5.
	round := func(s *stock.Stock) { s.Margin, s.Grid.Corner = 0, 5 }
	if _, err := lay(round, square(99, 39)); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("corners that stand over round ones: %v", err)
	}
	if _, err := lay(round, square(96.5, 36.5)); err != nil {
		t.Errorf("corners within round ones: %v", err)
	}
	grain := func(g stock.Grain) func(*stock.Stock) { return func(s *stock.Stock) { s.Margin, s.Grain = 0, g } }
	if _, err := lay(grain(stock.ShortGrain), square(90, 30)); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("a piece of 90 mm upright on labels of 40 mm: %v", err)
	}
	if _, err := lay(grain(stock.ShortGrain), square(30, 90)); err != nil {
		t.Errorf("a piece that lies along the grain: %v", err)
	}
	if _, err := lay(grain(stock.LongGrain), square(30, 90)); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("a piece across the grain: %v", err)
	}
}
