package legible

import (
	"math"
	"testing"

	"floatmark/layouts/draw"

	"pgregory.net/rapid"
)

// The grades of ISO/IEC 15415:2011 (symbol contrast 70, 55, 40 and 20 %) and of
// ISO/IEC 29158 (cell contrast 30, 25, 20 and 15 %), as a verifier's manual
// restates them.
func TestPrintGrades(t *testing.T) {
	for _, c := range []struct {
		percent      float64
		symbol, cell string
	}{
		{100, "A", "A"}, {70, "A", "A"}, {69.99, "B", "A"}, {55, "B", "A"}, {54.99, "C", "A"}, {40, "C", "A"}, {39.99, "D", "A"},
		{30, "D", "A"}, {29.99, "D", "B"}, {25, "D", "B"}, {24.99, "D", "C"}, {20, "D", "C"}, {19.99, "F", "D"}, {15, "F", "D"},
		{14.99, "F", "F"}, {0, "F", "F"}, {-10, "F", "F"}, {math.NaN(), "F", "F"},
	} {
		if got := GradeOfSymbolContrast(c.percent).String(); got != c.symbol {
			t.Errorf("symbol contrast %v: %s, want %s", c.percent, got, c.symbol)
		}
		if got := GradeOfCellContrast(c.percent).String(); got != c.cell {
			t.Errorf("cell contrast %v: %s, want %s", c.percent, got, c.cell)
		}
	}
	if got := PrintGrade(5).String() + PrintGrade(-1).String(); got != "??" {
		t.Errorf("grades that are none: %s", got)
	}
}

// What is told of a ground goes by the grades of symbol contrast: B and better
// is good, C is told, D and F are not printed.
func TestWhatIsToldIsTheGrade(t *testing.T) {
	told := map[PrintGrade]Grading{4: Good, 3: Good, 2: Doubtful, 1: Unreadable, 0: Unreadable}
	seen := map[PrintGrade]int{}
	for v := range 256 {
		paint := draw.Ink{R: uint8(v), G: uint8(v), B: uint8(v)}
		got := JudgeGround(nil, true, draw.White, true, paint)
		g := GradeOfSymbolContrast(got.CodeContrast)
		seen[g]++
		if got.Code != told[g] {
			t.Errorf("%v: contrast %.2f is of grade %v and told as %v", paint, got.CodeContrast, g, got.Code)
		}
	}
	if len(seen) != len(told) {
		t.Errorf("grades %v", seen)
	}
	// The grounds by which a size is chosen: pale is a B, and the darkest that
	// takes black ink at all a D, though an A by its cells.
	const rounding = 1e-9
	for light, want := range map[float64]string{paleGround: "B", darkGround: "D"} {
		if got := GradeOfSymbolContrast(100*(light-blackest) + rounding).String(); got != want {
			t.Errorf("a ground of %v: %s, want %s", light, got, want)
		}
	}
}

// Black on a body that gives back a quarter: 80 %, grade A by cells, where the
// symbol contrast of 20 % is a D; phones settle on what light there is.
func TestCellContrast(t *testing.T) {
	quarter := draw.Ink{R: 137, G: 137, B: 137}
	if y := Reflectance(quarter); math.Abs(y-0.25) > 0.002 {
		t.Fatalf("it gives back %v", y)
	}
	if got := CellContrast(draw.Black, quarter); math.Abs(got-80) > 0.5 || GradeOfCellContrast(got).String() != "A" {
		t.Errorf("%v", got)
	}
	if got := SymbolContrast(draw.Black, quarter); GradeOfSymbolContrast(got).String() != "D" || math.Abs(got-20) > 0.2 {
		t.Errorf("symbol contrast %v", got)
	}
	if got := CellContrast(draw.White, draw.Black); got != 0 {
		t.Errorf("the wrong way round %v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		ink := func(name string) draw.Ink {
			b := rapid.SliceOfN(rapid.Byte(), 3, 3).Draw(t, name)
			return draw.Ink{R: b[0], G: b[1], B: b[2]}
		}
		dark, light := ink("dark"), ink("light")
		cell, whole := CellContrast(dark, light), SymbolContrast(dark, light)
		if cell < 0 || cell > 95 || cell < whole-1e-9 {
			t.Fatalf("%v on %v: cells %v, symbol %v", dark, light, cell, whole)
		}
	})
}
