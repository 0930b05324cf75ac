package testsheet

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

type pageOf struct {
	name string
	lay  func(Spec) ([]*draw.Sheet, error)
}

func printerPages() []pageOf {
	return []pageOf{{"ruler", Ruler}, {"gain", Gain}, {"duplex", Duplex}, {"codes", CodeSize}}
}

// office is a calibrated printer.
func office(s Spec) Spec {
	s.Printer = stock.Printer{Name: "office", DPI: 600, ScaleX: 1.006, ScaleY: 0.994, Shear: 0.005, Margin: 5,
		Gain: 0.75 * s.Printer.Dot(), Duplex: stock.Offset{X: 0.5, Y: -0.25, Turn: 0.002}}
	s.Profile = 2
	return s
}

func TestPrinterGoldens(t *testing.T) {
	for _, p := range printerPages() {
		for _, known := range []bool{false, true} {
			s, name := spec(t, "a4-paper"), p.name+"-a4-paper.txt"
			if known {
				s, name = office(s), p.name+"-a4-paper-office.txt"
			}
			sheets, err := p.lay(s)
			if err != nil {
				t.Fatal(name, err)
			}
			var got strings.Builder
			for _, one := range sheets {
				got.WriteString(one.Dump())
			}
			golden.Check(t, name, got.String(), os.ReadFile, os.WriteFile)
		}
	}
}

// said are the words of a sheet, in order.
func said(sheets []*draw.Sheet) string {
	var all []string
	for _, s := range sheets {
		for _, l := range draw.Layers() {
			draw.Walk(s.Layers[l], func(o draw.Op, _ geom.Affine, _ bool) {
				if g, ok := o.(*draw.Glyphs); ok {
					all = append(all, g.Text)
				}
			})
		}
	}
	return strings.Join(all, " ")
}

// Every page says the very command that takes what is read on it.
func TestPagesSayTheirCommand(t *testing.T) {
	for name, want := range map[string][2]string{
		"ruler":  {"calibrate --printer NAME --dpi 600 --measured x=____,y=____,d1=____,d2=____,margin=__", "calibrate --printer office --dpi 600 --corrected-by 2 --measured x=____,y=____,d1=____,d2=____"},
		"gain":   {"calibrate --printer NAME --dpi 600 --measured gain=__", "calibrate --printer office --dpi 600 --measured gain=__"},
		"duplex": {"calibrate --printer NAME --dpi 600 --measured top=0.5right/0.25up,bottom=0.25left/0down", "calibrate --printer office --dpi 600 --corrected-by 2 --measured top="},
		"codes":  {`floatmark testsheet codes --reads "8=__ 7=__ 6=__ 8f=__ 7f=__ 6f=__"`, `floatmark testsheet codes --printer office --reads "8=__`},
	} {
		for _, p := range printerPages() {
			if p.name != name {
				continue
			}
			for i, s := range []Spec{spec(t, "a4-paper"), office(spec(t, "a4-paper"))} {
				sheets, err := p.lay(s)
				if err != nil {
					t.Fatal(err)
				}
				if all := said(sheets); !strings.Contains(all, want[i]) || !strings.Contains(all, "actual size (100 %)") {
					t.Errorf("%s does not say %q: %q", name, want[i], all)
				}
			}
		}
	}
	sheets, err := Ruler(spec(t, "letter-paper"))
	if err != nil || !strings.Contains(said(sheets), "--dpi 600 --paper letter-paper --measured") {
		t.Errorf("%v: another paper is not named: %q", err, said(sheets))
	}
}

// On every stock with a sheet of A4 and more the pages fit, and all but the
// margin's own lines lies where a printer prints; no words meet others or ink.
func TestPagesFitAndDoNotMeet(t *testing.T) {
	for _, key := range []string{"a4-paper", "letter-paper", "a3-card", "a4-film-clear", "a5-paper"} {
		for _, p := range printerPages() {
			for _, s := range []Spec{spec(t, key), office(spec(t, key))} {
				sheets, err := p.lay(s)
				if err != nil {
					t.Fatal(key, p.name, err)
				}
				for _, one := range sheets {
					least := s.Stock.Margin - 0.5 // a corrected back is moved a little
					if p.name == "ruler" {
						least = 0.9
					}
					inside := geom.XYWH(0, 0, one.Size.W, one.Size.H).Inset(least)
					if b := one.Bounds(draw.Layers()...); !inside.Contains(b) {
						t.Errorf("%s on %s: ink in %v leaves %v", one.Name, key, b, inside)
					}
					var words []geom.Rect
					draw.Walk(one.Layers[draw.Guide], func(o draw.Op, at geom.Affine, _ bool) {
						b := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{o}}})
						for _, w := range words {
							if b.Inset(0.1).Overlaps(w) {
								t.Errorf("%s on %s: words in %v and %v meet", one.Name, key, b, w)
							}
						}
						words = append(words, b)
					})
					if len(words) == 0 {
						t.Errorf("%s on %s says nothing", one.Name, key)
					}
				}
			}
		}
	}
}

// The rectangle is 180 x 250 mm on A4 and smaller on smaller paper, and its
// lines have their middles on its corners.
func TestRulerSize(t *testing.T) {
	for key, want := range map[string]geom.Size{"a4-paper": {W: 180, H: 250}, "letter-paper": {W: 180, H: 230}, "a5-paper": {W: 110, H: 160}, "a3-card": {W: 260, H: 370}} {
		s, _ := stock.ByKey(key)
		if got := RulerSize(s); got != want {
			t.Errorf("%s: %v, want %v", key, got, want)
		}
	}
	s := spec(t, "a4-paper")
	b := s.bars()
	box := geom.XYWH(15, 23.5, 180, 250)
	if err := s.sides(&draw.Sheet{}, b, box); err != nil {
		t.Fatal(err)
	}
	first, second := b.path[:5].Bounds(), b.path[5:10].Bounds() // top and bottom
	if math.Abs((second.Min.Y+second.Max.Y-first.Min.Y-first.Max.Y)/2-250) > 1e-9 {
		t.Errorf("from %v to %v it is not 250 mm", first, second)
	}
	if n := len(b.path) / 5; n != 4+179+249 {
		t.Errorf("%d lines, want 4 sides and 179 and 249 ticks", n)
	}
	for _, size := range []geom.Size{{W: 40, H: 297}, {W: 210, H: 90}, {}} {
		s.Stock.Size = size
		for _, p := range printerPages() {
			if p.name == "codes" && size.H > 0 && size.W > 100 {
				continue // strips go on several sheets
			}
			if _, err := p.lay(s); fault.ClassOf(err) != fault.NoFit || err == nil {
				t.Errorf("%s on %v: %v, want that it does not fit", p.name, size, err)
			}
		}
	}
}

// A slot of n dots is n dots wide where it is printed, on the printer's grid,
// and n and what comes off where it is made up for.
func TestSlotsAreWholeDots(t *testing.T) {
	s := office(spec(t, "a4-paper"))
	dot := s.Printer.Dot()
	sheets, err := Gain(s)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	draw.Walk(sheets[0].Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
		path := o.(*draw.Fill).Path.Transform(at)
		for i := 5; i < len(path); i += 5 {
			b := path[i : i+5].Bounds()
			narrow, edge := b.W(), b.Min.X
			if b.H() < narrow {
				narrow, edge = b.H(), b.Min.Y
			}
			n, on := narrow/dot, edge/dot
			if !rigid || math.Abs(n-math.Round(n)) > 1e-6 || math.Abs(on-math.Round(on)) > 1e-6 {
				t.Errorf("a slot of %v dots at dot %v, rigid %v", n, on, rigid)
			}
			got = append(got, fmt.Sprint(math.Round(n)))
		}
		if area := math.Abs(path.Area(dot)); area > path.Bounds().W()*path.Bounds().H()-1 {
			t.Errorf("the slots are not holes: %v mm² of black", area)
		}
	})
	if want := "1 2 3 4 5 6 1 2 3 4 5 6 2 3 4 5 6 7 2 3 4 5 6 7"; strings.Join(got, " ") != want {
		t.Errorf("slots of %s dots, want %s", strings.Join(got, " "), want)
	}
}

// The back's crosses lie behind the front's scales on a printer that is true, and
// are drawn to come out there on one that is not.
func TestCrossesMeet(t *testing.T) {
	for i, s := range []Spec{spec(t, "a4-paper"), office(spec(t, "a4-paper"))} {
		sheets, err := Duplex(s)
		if err != nil || len(sheets) != 2 {
			t.Fatal(len(sheets), err)
		}
		kx, ky, sin, cos := 1.0, 1.0, 0.0, 1.0
		if i == 1 {
			kx, ky = s.Printer.ScaleX, s.Printer.ScaleY
			sin, cos = math.Sincos(s.Printer.Shear)
		}
		by := geom.Affine{A: kx, C: ky * sin, D: ky * cos}
		middle := func(one *draw.Sheet) (out []geom.Point) {
			draw.Walk(one.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
				bar := o.(*draw.Fill).Path[:5].Transform(at.Then(by)) // the first is the one across
				var sum geom.Point
				for _, c := range bar[:4] {
					sum = sum.Add(c.P[0].Scale(0.25))
				}
				out = append(out, sum)
			})
			return out
		}
		front, back := middle(sheets[0]), middle(sheets[1])
		if len(front) != 2 || len(back) != 2 || math.Abs(front[1].Sub(front[0]).Len()-CrossesApart(s.Stock)) > 1e-9 {
			t.Fatalf("front %v, back %v", front, back)
		}
		d := stock.Offset{}
		if i == 1 {
			d = s.Printer.Duplex
		}
		for j := range front {
			seen := geom.Point{X: s.Stock.Size.W - back[j].X, Y: back[j].Y}
			m := geom.Translate(-105, -148.5).Then(geom.Rotate(d.Turn)).Then(geom.Translate(105+d.X, 148.5+d.Y))
			if off := m.Apply(seen).Sub(front[j]).Len(); off > 1e-6 {
				t.Errorf("cross %d of the back comes out %v mm off", j, off)
			}
		}
	}
}

func TestPagesRefuse(t *testing.T) {
	for _, p := range printerPages() {
		if _, err := p.lay(spec(t, "by-hand")); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%s by hand: %v", p.name, err)
		}
		for _, dpi := range []float64{0, -600, 30, math.NaN(), math.Inf(1), 1e9} {
			s := spec(t, "a4-paper")
			s.Printer.DPI = dpi
			if _, err := p.lay(s); fault.ClassOf(err) != fault.Input || err == nil {
				t.Errorf("%s at %v dpi: %v, want an input error", p.name, dpi, err)
			}
		}
	}
}
