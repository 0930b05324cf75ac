package stock

import (
	"math"
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

// A label holds what lies within it; its round corners cut a square's corner off
// by (√2 - 1) of their radius.
func TestGridHolds(t *testing.T) {
	g := Grid{Rows: 1, Columns: 1, Cell: geom.Size{W: 40, H: 20}, Corner: 4}
	label := geom.XYWH(10, 10, 40, 20)
	cut := 4 * (1 - math.Sqrt2/2) // in from each side, where the corner's middle stands
	for _, c := range []struct {
		inset float64
		want  bool
	}{{0, false}, {cut - 0.01, false}, {cut + 0.01, true}, {4, true}} {
		if got := g.Holds(label, geom.Rectangle(label.Inset(c.inset))); got != c.want {
			t.Errorf("a rectangle %v mm within: %v", c.inset, got)
		}
	}
	g.Corner = 0
	if !g.Holds(label, geom.Rectangle(label)) || g.Holds(label, geom.Rectangle(label.Move(geom.Point{X: 0.1}))) {
		t.Error("square labels")
	}
	g.Corner = 4
	if !g.Holds(label, g.withCell(label).Outlines()[0]) {
		t.Error("a label does not hold its own outline")
	}
}

func (g Grid) withCell(c geom.Rect) Grid {
	g.First = c.Min
	return g
}

func TestGrain(t *testing.T) {
	for _, g := range Grains() {
		for turn := -2; turn < 6; turn++ {
			along := turn == -2 || turn == 0 || turn == 2 || turn == 4 // the axis stays upright
			want := g == FreeGrain || along == (g == LongGrain)
			if g.Allows(turn) != want {
				t.Errorf("%v allows %d quarter turns: %v", g, turn, !want)
			}
		}
		if text, err := g.MarshalText(); err != nil || string(text) != g.String() || g.String() == "unknown" {
			t.Errorf("%d is %q", g, text)
		}
	}
}
