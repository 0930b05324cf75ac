package stock

import (
	"testing"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// A grid by rows, columns and pitch: labels lie on the sheet, apart, row by row.
func TestGridCells(t *testing.T) {
	a4 := geom.Size{W: 210, H: 297}
	g := Grid{Rows: 8, Columns: 3, First: geom.Point{X: 7, Y: 15}, Cell: geom.Size{W: 63, H: 33}, Pitch: geom.Size{W: 66, H: 34}}
	if err := g.Sound(a4); err != nil {
		t.Fatal(err)
	}
	cells := g.Cells()
	if len(cells) != 24 || cells[0].Min != (geom.Point{X: 7, Y: 15}) || cells[23].Max != (geom.Point{X: 7 + 2*66 + 63, Y: 15 + 7*34 + 33}) || cells[3].Min.Y != 49 {
		t.Errorf("%v", cells)
	}
	sheet := geom.XYWH(0, 0, a4.W, a4.H)
	for i, a := range cells {
		if !sheet.Contains(a) {
			t.Errorf("label %d leaves the sheet", i+1)
		}
		for _, b := range cells[:i] {
			if a.Inset(1e-9).Overlaps(b.Inset(1e-9)) {
				t.Errorf("labels %v and %v lie on each other", a, b)
			}
		}
	}
}

func TestBadGrids(t *testing.T) {
	good := Grid{Rows: 8, Columns: 3, First: geom.Point{X: 7, Y: 15}, Cell: geom.Size{W: 63, H: 33}, Pitch: geom.Size{W: 66, H: 34}}
	for name, spoil := range map[string]func(*Grid){
		"no rows": func(g *Grid) { g.Rows = 0 }, "millions": func(g *Grid) { g.Rows, g.Columns = 1000, 1000 },
		"no size": func(g *Grid) { g.Cell.W = 0 }, "pitch under the label": func(g *Grid) { g.Pitch.H = 30 },
		"off the sheet": func(g *Grid) { g.Columns = 4 }, "before it": func(g *Grid) { g.First.X = -1 }, "corners": func(g *Grid) { g.Corner = 20 },
	} {
		g := good
		spoil(&g)
		if err := g.Sound(geom.Size{W: 210, H: 297}); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
