package stock

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
)

func TestStocks(t *testing.T) {
	// ISO 216 gives A0 as 841 x 1189 and each next size as half the one before,
	// rounded down; ASME Y14.1 size A is 8.5 by 11 in.
	iso := map[geom.Size]bool{}
	for w, h, n := 841, 1189, 0; n <= 6; n++ {
		iso[geom.Size{W: float64(w), H: float64(h)}] = true
		w, h = h/2, w
	}
	seen := map[string]bool{}
	kinds := map[Kind]int{}
	media := map[Medium]bool{}
	for _, s := range Stocks() {
		if seen[s.Key] {
			t.Errorf("%s stands there twice", s.Key)
		}
		seen[s.Key] = true
		if got, ok := ByKey(s.Key); !ok || got != s {
			t.Errorf("ByKey(%s) = %+v, %v", s.Key, got, ok)
		}
		kinds[s.Kind]++
		media[s.Medium] = true
		if s.ForMarks() == s.ForCards() || s.Name == "" {
			t.Errorf("%s is for both marks and cards, for neither, or has no name", s.Key)
		}
		if s.Sheetless() {
			if s.Key != "by-hand" || s.Size != (geom.Size{}) || s.Thickness != 0 || !s.Clear {
				t.Errorf("by hand: %+v", s)
			}
			continue
		}
		if s.Size.W >= s.Size.H {
			t.Errorf("%s is not portrait: %v", s.Key, s.Size)
		}
		switch {
		case strings.Contains(s.Source, "ISO 216"):
			if !iso[s.Size] {
				t.Errorf("%s is no ISO size: %v", s.Key, s.Size)
			}
		case strings.Contains(s.Source, "Y14.1"):
			// Sizes A and B: 8.5 x 11 and 11 x 17 inches.
			letter := math.Abs(s.Size.W-8.5*25.4) < 1e-9 && math.Abs(s.Size.H-11*25.4) < 1e-9
			tabloid := math.Abs(s.Size.W-11*25.4) < 1e-9 && math.Abs(s.Size.H-17*25.4) < 1e-9
			if !letter && !tabloid {
				t.Errorf("%s is neither letter nor tabloid: %v", s.Key, s.Size)
			}
		default:
			t.Errorf("%s: its size has no source: %q", s.Key, s.Source)
		}
		if !strings.Contains(s.Source, "thickness") || s.Thickness <= 0 || s.Thickness > 0.5 || s.Margin < 3 || s.Margin > 10 {
			t.Errorf("%s: thickness %v, margin %v, source %q", s.Key, s.Thickness, s.Margin, s.Source)
		}
		thin := s.Medium == Tissue || s.Medium.Mirrored()
		if s.Clear != (thin || strings.Contains(s.Key, "clear")) || s.ForMarks() != (s.Kind == Film || s.Kind == Sticker) {
			t.Errorf("%s: clear %v, for marks %v", s.Key, s.Clear, s.ForMarks())
		}
		want := s.Kind.String()
		switch {
		case thin:
			want = s.Medium.String()
		case s.Bears == "paper-label":
			want = s.Bears
		}
		if !strings.Contains(s.Key, "-"+want) {
			t.Errorf("%s does not say what it is: %v, %v", s.Key, s.Kind, s.Medium)
		}
		if _, ok := wrap.LimitOf(s.Bears); ok != s.ForMarks() {
			t.Errorf("%s: the strain it bears is %q, which the limits do not hold", s.Key, s.Bears)
		}
	}
	for _, m := range Media() {
		if !media[m] {
			t.Errorf("no stock for %v", m)
		}
	}
	if len(kinds) != 4 {
		t.Errorf("kinds %v, want film, sticker, card and paper", kinds)
	}
	if _, ok := ByKey("nothing"); ok {
		t.Error("an unknown key was found")
	}
}

// Any material can be had in any format, by sizes of ISO 216 and in inches.
func TestSized(t *testing.T) {
	sizes := map[string]geom.Size{"a3": {W: 297, H: 420}, "a4": {W: 210, H: 297}, "a5": {W: 148, H: 210}, "a6": {W: 105, H: 148},
		"b4": {W: 250, H: 353}, "b5": {W: 176, H: 250}, "letter": {W: 215.9, H: 279.4}, "legal": {W: 215.9, H: 355.6}, "tabloid": {W: 279.4, H: 431.8}}
	if len(Formats()) != len(sizes) {
		t.Errorf("formats %v", Formats())
	}
	for _, m := range Materials() {
		for _, f := range Formats() {
			s, ok := Sized(m, f)
			if want := sizes[f]; !ok || math.Abs(s.Size.W-want.W) > 1e-9 || math.Abs(s.Size.H-want.H) > 1e-9 || s.Thickness <= 0 || s.Source == "" {
				t.Errorf("%s in %s: %+v", m, f, s)
			}
			if again, ok := ByKey(f + "-" + m); !ok || again != s || s.Key != f+"-"+m {
				t.Errorf("%s-%s is found as %+v", f, m, again)
			}
		}
	}
	for _, s := range Stocks() {
		if got, ok := ByKey(s.Key); !ok || got != s {
			t.Errorf("%s is listed and found as %+v", s.Key, got)
		}
	}
	for _, bad := range []string{"", "a4", "a4-", "-film-white", "a2-film-white", "film-white-a4", "a4-by-hand"} {
		if s, ok := ByKey(bad); ok {
			t.Errorf("%q is found as %+v", bad, s)
		}
	}
}

// Modules of 4 to 10 dots at 600 dpi, to 0.1 µm (25.4 mm / 600 times n).
func TestSnap(t *testing.T) {
	p := Plain()
	for n, mm := range map[int]float64{4: .1693, 5: .2117, 6: .2540, 7: .2963, 8: .3387, 9: .3810, 10: .4233} {
		if p.Dots(mm) != n || math.Abs(p.Snap(mm)-mm) > 5e-5 || math.Abs(float64(n)*p.Dot()-mm) > 5e-5 {
			t.Errorf("%v mm: %d dots, snapped %v", mm, p.Dots(mm), p.Snap(mm))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		p := Printer{DPI: rapid.SampledFrom([]float64{300, 360, 600, 720, 1200}).Draw(t, "dpi")}
		x := rapid.Float64Range(-500, 500).Draw(t, "x")
		if s := p.Snap(x); math.Abs(s-x) > p.Dot()/2+1e-9 || p.Snap(s) != s {
			t.Fatalf("%v snaps to %v and that to %v", x, s, p.Snap(s))
		}
	})
}

// A rectangle of 180 x 250 mm from a printer with 1.006, 0.994 and 0.3 degrees:
// the sides and diagonals follow from the law of cosines.
func TestFit(t *testing.T) {
	got, err := Plain().Fit(geom.Size{W: 180, H: 250}, geom.Size{W: 181.080, H: 248.500}, 308.242, 306.710)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.ScaleX-1.006) > 1e-5 || math.Abs(got.ScaleY-0.994) > 1e-5 || math.Abs(got.Shear*180/math.Pi-0.3) > 2e-4 {
		t.Errorf("%+v", got)
	}
	// The printed corners of that printer have those diagonals.
	d := got.distortion()
	w, h := d.Apply(geom.Point{X: 180}), d.Apply(geom.Point{Y: 250})
	if math.Abs(w.Add(h).Len()-308.242) > 2e-3 || math.Abs(w.Sub(h).Len()-306.710) > 2e-3 {
		t.Errorf("diagonals %v and %v", w.Add(h).Len(), w.Sub(h).Len())
	}
	for _, bad := range []geom.Size{{W: 0, H: 250}, {W: 180, H: 200}, {W: math.NaN(), H: 250}} {
		if _, err := Plain().Fit(geom.Size{W: 180, H: 250}, bad, 308, 307); fault.ClassOf(err) != fault.Input {
			t.Errorf("sides %v: %v, want an input fault", bad, err)
		}
	}
}

func bar(x, y, w, h float64) *draw.Fill {
	return &draw.Fill{Path: geom.Rectangle(geom.XYWH(x, y, w, h)), Ink: draw.Black}
}

func sheet(ops ...draw.Op) *draw.Sheet {
	s := &draw.Sheet{Name: "film 1", Size: geom.Size{W: 210, H: 297}}
	s.Add(draw.Colour, ops...)
	return s
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

func TestBarIsCorrected(t *testing.T) {
	p := Printer{Name: "office", DPI: 600, ScaleX: 1.006, ScaleY: 0.994}
	in := sheet(bar(20, 30, 100, 1), bar(20, 30, 1, 100))
	before := in.Dump()
	out, err := Calibrate(in, p)
	if err != nil {
		t.Fatal(err)
	}
	b := out.Bounds(draw.Colour)
	if !near(b.W(), 100/1.006) || !near(b.H(), 100/0.994) || !near(b.Min.X, 20/1.006) || !near(b.Min.Y, 30/0.994) {
		t.Errorf("drawn as %v", b)
	}
	if in.Dump() != before {
		t.Error("the sheet that was given is changed")
	}
	if out.Name != in.Name || out.Size != in.Size {
		t.Errorf("sheet %q %v", out.Name, out.Size)
	}
}

// What the printer makes of the calibrated drawing is the drawing.
func TestPrintedTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(n string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, n) }
		p := Printer{DPI: 600, ScaleX: f("kx", .98, 1.02), ScaleY: f("ky", .98, 1.02), Shear: f("shear", -.01, .01)}
		in := sheet(bar(f("x", 0, 100), f("y", 0, 100), 50, 60),
			&draw.Group{At: geom.Rotate(f("turn", 0, 6)).Then(geom.Translate(50, 70)), Ops: []draw.Op{bar(0, 0, 9, 4),
				&draw.Stroke{Path: geom.Circle(geom.Point{X: 3}, 5), Width: .2}}})
		out, err := Calibrate(in, p)
		if err != nil {
			t.Fatal(err)
		}
		var want, got []geom.Path
		take := func(all *[]geom.Path, m geom.Affine) func(draw.Op, geom.Affine, bool) {
			return func(o draw.Op, at geom.Affine, _ bool) {
				switch o := o.(type) {
				case *draw.Fill:
					*all = append(*all, o.Path.Transform(at.Then(m)))
				case *draw.Stroke:
					*all = append(*all, o.Path.Transform(at.Then(m)))
				}
			}
		}
		draw.Walk(in.Layers[draw.Colour], take(&want, geom.Identity))
		draw.Walk(out.Layers[draw.Colour], take(&got, p.distortion()))
		if len(got) != len(want) {
			t.Fatalf("%d ops, want %d", len(got), len(want))
		}
		for i := range want {
			for j := range want[i] {
				for k := range want[i][j].P {
					if want[i][j].Verb != geom.Close && got[i][j].P[k].Sub(want[i][j].P[k]).Len() > 1e-9 && (k == 0 || want[i][j].Verb == geom.Cubic) {
						t.Fatalf("op %d point %v printed at %v", i, want[i][j].P[k], got[i][j].P[k])
					}
				}
			}
		}
	})
}

func TestRigidGroup(t *testing.T) {
	const module = 8 * 25.4 / 600
	for quarter := -1; quarter < 5; quarter++ {
		p := Printer{DPI: 600, ScaleX: 1.006, ScaleY: 0.994, Shear: 0.002}
		code := &draw.Group{Name: "code", Rigid: true, At: geom.Rotate(float64(quarter) * math.Pi / 2).Then(geom.Translate(1.23, 4.56)),
			Ops: []draw.Op{bar(0, 0, 21*module, 21*module)}}
		under, over := bar(0, 0, 5, 5), bar(1, 1, 2, 2)
		in := sheet(&draw.Group{Name: "decal", At: geom.Translate(33.3, 44.4), Ops: []draw.Op{under, code, over}})
		out, err := Calibrate(in, p)
		if err != nil {
			t.Fatal(err)
		}
		var order []draw.Op
		draw.Walk(out.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
			order = append(order, o)
			if rigid != (o == code.Ops[0]) {
				t.Errorf("rigid %v for %v", rigid, o)
			}
			if !rigid {
				return
			}
			if b := o.(*draw.Fill).Path.Transform(at).Bounds(); !near(b.W(), 21*module) || !near(b.H(), 21*module) {
				t.Errorf("the code is %v by %v, want %v", b.W(), b.H(), 21*module)
			}
			for _, v := range []float64{at.E, at.F} {
				if n := v * 600 / 25.4; math.Abs(n-math.Round(n)) > 1e-9 {
					t.Errorf("its origin lies at dot %v", n)
				}
			}
			// It lands where the calibrated surroundings have its place, within half a dot each way.
			want := geom.Point{X: 33.3 + 1.23, Y: 44.4 + 4.56}
			if d := p.distortion().Apply(geom.Point{X: at.E, Y: at.F}).Sub(want); math.Abs(d.X) > p.Dot()/2*1.01 || math.Abs(d.Y) > p.Dot()/2*1.01 {
				t.Errorf("it is printed %v mm from its place", d)
			}
		})
		if len(order) != 3 || order[0] != draw.Op(under) || order[2] != draw.Op(over) {
			t.Errorf("painting order %v", order)
		}
	}
}

func TestRigidGroupOffTheGridIsOurs(t *testing.T) {
	for name, at := range map[string]geom.Affine{
		"turned": geom.Rotate(0.1), "scaled": geom.Scale(1.01, 1.01), "mirrored": geom.Scale(-1, 1), "nothing": {}, "no number": {A: math.NaN(), D: 1},
	} {
		inner := &draw.Group{Name: "code", Rigid: true, At: geom.Identity, Ops: []draw.Op{bar(0, 0, 7, 7)}}
		_, err := Calibrate(sheet(&draw.Group{Name: "decal", At: at, Ops: []draw.Op{inner}}), Plain())
		if err == nil || fault.ClassOf(err) != fault.Ours {
			t.Errorf("%s: %v, want a fault of ours", name, err)
		} else if !strings.Contains(err.Error(), `"code"`) {
			t.Errorf("%s: %q does not name the group", name, err)
		}
	}
}

func TestImpossiblePrinters(t *testing.T) {
	for _, change := range []func(*Printer){
		func(p *Printer) { p.DPI = 0 },
		func(p *Printer) { p.ScaleX = 0 },
		func(p *Printer) { p.ScaleY = 1.1 },
		func(p *Printer) { p.Shear = math.NaN() },
		func(p *Printer) { *p = Printer{} },
	} {
		p := Plain()
		change(&p)
		if _, err := Calibrate(sheet(), p); fault.ClassOf(err) != fault.Input {
			t.Errorf("%+v: %v, want an input fault", p, err)
		}
	}
}

func TestPlainChangesNothingButDots(t *testing.T) {
	in := sheet(bar(10, 10, 100, 1), &draw.Group{Name: "g", At: geom.Translate(1, 2), Ops: []draw.Op{bar(0, 0, 1, 1)}})
	out, err := Calibrate(in, Plain())
	if err != nil {
		t.Fatal(err)
	}
	if in.Dump() != out.Dump() {
		t.Errorf("got\n%swant\n%s", out.Dump(), in.Dump())
	}
}

func TestByAnotherMedium(t *testing.T) {
	film, _ := ByKey("a4-film-clear")
	for _, m := range Media() {
		got, ok := film.By(m)
		if ok != (m != ByHand) {
			t.Errorf("film by %v: %v", m, ok)
		}
		if !ok {
			continue
		}
		limit, known := wrap.LimitOf(got.Bears)
		if got.Medium != m || !known || limit.Limit <= 0 || got.Size != film.Size || got.Clear != film.Clear || got.Kind == Sticker != (m == Vinyl) {
			t.Errorf("film by %v: %+v", m, got)
		}
	}
	label, _ := ByKey("a4-paper-label")
	if got, ok := label.By(Vinyl); !ok || got != label {
		t.Errorf("a label by its own medium: %+v", got)
	}
	for _, key := range []string{"a4-card", "a4-paper", "by-hand"} {
		s, _ := ByKey(key)
		if _, ok := s.By(Vinyl); ok {
			t.Errorf("%s goes on a body", key)
		}
	}
}

func TestMedia(t *testing.T) {
	words := map[string]bool{}
	for _, m := range append(Media(), NoMedium) {
		text, err := m.MarshalText()
		if words[m.String()] || m.String() == "unknown" || string(text) != m.String() || err != nil {
			t.Errorf("medium %d is called %q, in JSON %q", m, m, text)
		}
		words[m.String()] = true
		if m.Mirrored() != (m == RubOn || m == SkinTransfer) {
			t.Errorf("%v is mirrored: %v", m, m.Mirrored())
		}
	}
}
