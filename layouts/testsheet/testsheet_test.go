package testsheet

import (
	"math"
	"os"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func spec(t testing.TB, key string) Spec {
	t.Helper()
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	s, ok := stock.ByKey(key)
	if !ok {
		t.Fatalf("no stock %q", key)
	}
	return Spec{Stock: s, Printer: stock.Plain(), Fonts: set, Words: w}
}

func sheet(t testing.TB, s Spec) *draw.Sheet {
	t.Helper()
	all, err := Stretch(s)
	if err != nil || len(all) != 1 {
		t.Fatalf("%d sheets, %v", len(all), err)
	}
	return all[0]
}

func TestGolden(t *testing.T) {
	for _, key := range []string{"a4-film-white", "a5-sticker", "letter-rub-on"} {
		got := sheet(t, spec(t, key)).Dump()
		golden.Check(t, "stretch-"+key+".txt", got, os.ReadFile, os.WriteFile)
	}
}

// The bands strain as the closed form of a ball says. The exact balance of a
// band of height h on a ball of radius R is tan²(h/4R), of which BallStrain is
// the first term: hoops run from R to R·cos(h/2R) and the piece is in the middle.
func TestBandsStrainAsABallDoes(t *testing.T) {
	for _, h := range Bands() {
		f, err := Band(h, wrap.Film{})
		if err != nil {
			t.Fatal(err)
		}
		const r = wrap.BallDiameter / 2
		q := math.Tan(float64(h) / 4 / r)
		if math.Abs(f.Strain/(q*q)-1) > 0.006 { // the ball is drawn through stations
			t.Errorf("%v mm strains by %v, want %v", h, f.Strain, q*q)
		}
		if law := wrap.BallStrain(wrap.BallDiameter, float64(h)); math.Abs(f.Strain/law-1) > 0.05 {
			t.Errorf("%v mm strains by %v; the law it is labelled with says %v", h, f.Strain, law)
		}
		if math.Abs(f.Slant-float64(h)) > 0.01 {
			t.Errorf("%v mm is %v high", h, f.Slant)
		}
		// In the middle of the largest hoop and the least, and the overlap.
		want := math.Pi*r*(1+math.Cos(float64(h)/2/r)) + wrap.OverlapCalibrated
		if w := f.Bounds().W(); math.Abs(w-want) > 0.05 {
			t.Errorf("%v mm is %v long, want %v", h, w, want)
		}
	}
}

func TestBandRefuses(t *testing.T) {
	for _, h := range []unit.Millimetre{0, -1, 63, unit.Millimetre(math.NaN()), unit.Millimetre(math.Inf(1))} {
		if _, err := Band(h, wrap.Film{}); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%v mm: %v", h, err)
		}
	}
}

// On every film and sticker the bands lie apart, within what the printer can
// print, and no words or check lines touch them or one another.
func TestEveryStockHoldsTheBands(t *testing.T) {
	for _, st := range stock.Stocks() {
		s := spec(t, st.Key)
		if !st.ForMarks() || st.Sheetless() {
			if _, err := Stretch(s); fault.ClassOf(err) != fault.Input || err == nil {
				t.Errorf("%s: %v, want an input error", st.Key, err)
			}
			continue
		}
		if st.Size.W < 130 { // a band is 126 mm long
			if _, err := Stretch(s); fault.ClassOf(err) != fault.NoFit || err == nil {
				t.Errorf("%s: %v, want that the bands do not fit", st.Key, err)
			}
			continue
		}
		one := sheet(t, s)
		inside := geom.XYWH(0, 0, st.Size.W, st.Size.H).Inset(st.Margin)
		if b := one.Bounds(draw.Layers()...); !inside.Contains(b) {
			t.Errorf("%s: ink in %v leaves %v", st.Key, b, inside)
		}
		var boxes []geom.Rect
		for _, o := range one.Layers[draw.Cut] {
			boxes = append(boxes, draw.Bounds([]draw.Op{o}))
		}
		if len(boxes) != len(Bands()) {
			t.Fatalf("%s has %d bands", st.Key, len(boxes))
		}
		cuts := len(boxes)
		for _, o := range one.Layers[draw.Guide] {
			boxes = append(boxes, draw.Bounds([]draw.Op{o}))
		}
		for i, b := range boxes {
			for j := 0; j < min(i, cuts); j++ {
				if b.Overlaps(boxes[j]) {
					t.Errorf("%s: %v meets band %d", st.Key, b, j)
				}
			}
			for j := cuts; j < i; j++ {
				if tick := 0.5; i < len(boxes)-6 && b.Inset(tick/2).Overlaps(boxes[j]) { // the parts of check lines meet
					t.Errorf("%s: words in %v and %v meet", st.Key, b, boxes[j])
				}
			}
		}
	}
}

// What is printed on a band stays on it and clear of its name.
func TestPatternStaysOnTheBand(t *testing.T) {
	s := spec(t, "a4-film-clear")
	for _, h := range Bands() {
		f, err := Band(h, wrap.Film{Thickness: s.Stock.Thickness})
		if err != nil {
			t.Fatal(err)
		}
		one, err := s.band(f, h)
		if err != nil {
			t.Fatal(err)
		}
		var name geom.Rect
		var lines []geom.Rect
		draw.Walk(one.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
			switch o := o.(type) {
			case *draw.Glyphs:
				name = name.Union(draw.Bounds([]draw.Op{o}))
			case *draw.Fill:
				lines = append(lines, o.Path.Transform(at).Bounds())
			}
		})
		box := f.Bounds()
		for _, l := range lines {
			if !box.Contains(l) {
				t.Errorf("%v mm: a line in %v leaves %v", h, l, box)
			}
			if l.Overlaps(name) {
				t.Errorf("%v mm: a line in %v meets the name in %v", h, l, name)
			}
		}
		if len(lines) < 30 || !box.Contains(name) {
			t.Errorf("%v mm: %d lines, its name in %v", h, len(lines), name)
		}
	}
}

func TestASmallStockIsNoFit(t *testing.T) {
	for _, size := range []geom.Size{{W: 100, H: 148}, {W: 148, H: 150}, {W: 138, H: 500}, {W: 20, H: 20}} {
		s := spec(t, "a5-film-white")
		s.Stock.Size = size
		_, err := Stretch(s)
		if fault.ClassOf(err) != fault.NoFit || err == nil {
			t.Errorf("%v: %v, want that it does not fit", size, err)
		}
	}
}

func TestASenselessPrinterIsRefused(t *testing.T) {
	s := spec(t, "a4-film-white")
	s.Printer.DPI = math.NaN()
	if _, err := Stretch(s); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("%v, want an input error", err)
	}
}

// The sheet says the command that stores what is seen on it.
func TestTheCommandNamesTheStock(t *testing.T) {
	var said []string
	draw.Walk(sheet(t, spec(t, "a3-film-clear")).Layers[draw.Guide], func(o draw.Op, _ geom.Affine, _ bool) {
		if g, ok := o.(*draw.Glyphs); ok {
			said = append(said, g.Text)
		}
	})
	all := strings.Join(said, " ")
	for _, want := range []string{"floatmark testsheet stretch --film a3-film-clear --lies-flat 10mm", "10 mm · 1.56 %", "this line is 100 mm"} {
		if !strings.Contains(all, want) {
			t.Errorf("the sheet does not say %q: %q", want, all)
		}
	}
}

// Stock that goes on face down has the same bands, mirrored, and says so.
func TestFaceDownIsMirrored(t *testing.T) {
	name := func(key string) (run draw.Glyphs, at geom.Affine) {
		draw.Walk(sheet(t, spec(t, key)).Layers[draw.Colour], func(o draw.Op, m geom.Affine, _ bool) {
			if g, ok := o.(*draw.Glyphs); ok {
				run, at = *g, m
			}
		})
		return run, at
	}
	for key, want := range map[string]float64{"a4-film-clear": 1, "a4-tissue": 1, "a4-rub-on": -1, "a4-skin-transfer": -1} {
		run, at := name(key)
		if run.Text != "20 mm · 6.25 %" || at.Det() != want {
			t.Errorf("%s: %q is set by %v, want a factor of %v", key, run.Text, at, want)
		}
	}
}
