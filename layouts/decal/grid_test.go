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
