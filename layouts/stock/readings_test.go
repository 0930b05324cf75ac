package stock

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// a4Ruler is the rectangle on A4.
var a4Ruler = geom.Size{W: 180, H: 250}

// good are the readings of a printer of 1.006, 0.994 and 0.3 degrees: its sides
// and diagonals follow from the law of cosines.
func good() Readings {
	return Readings{Nominal: a4Ruler, Sides: geom.Size{W: 181.080, H: 248.500}, Falling: 308.242, Rising: 306.710}
}

func TestMeasured(t *testing.T) {
	p, err := Plain().Measured(good())
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(p.ScaleX-1.006) > 5e-6 || math.Abs(p.ScaleY-0.994) > 5e-6 || math.Abs(p.Shear*180/math.Pi-0.3) > 2e-4 { // diagonals to 0.001 mm tell 0.00014 degrees
		t.Errorf("%+v", p)
	}
	if gap := Closing(good().Sides, 308.242, 306.710); math.Abs(gap) > 0.001 {
		t.Errorf("sides and diagonals differ by %v mm", gap)
	}
}

// What is left on 60 mm round a body, expanded, by how near the lengths of a
// rectangle of 180 x 250 mm are read: scale from u/180, shear from two diagonals.
func TestLeftByTheReading(t *testing.T) {
	for _, c := range []struct{ readTo, u, scale, degrees, shear float64 }{
		{0.5, .00160, .19, .080, .17},
		{0.25, .00080, .10, .040, .08},
		{0.1, .00032, .04, .016, .03},
	} {
		r := good()
		r.ReadTo = c.readTo
		p, err := Plain().Measured(r)
		if err != nil {
			t.Fatal(err)
		}
		l := p.Left(60)
		if math.Abs(p.U.ScaleX-c.u) > 5e-6 || math.Abs(l.X-c.scale) > .005 || math.Abs(p.U.Shear*180/math.Pi-c.degrees) > .0005 || math.Abs(l.Shear-c.shear) > .005 {
			t.Errorf("read to %v mm: %+v, left %+v", c.readTo, p.U, l)
		}
		if !near(p.U.ScaleY*250, p.U.ScaleX*180) {
			t.Errorf("the longer side is not known better: %+v", p.U)
		}
	}
}

// The uncertainty against its definition: readings that stray evenly within
// what they are read to, many times (drawn on a fixed grid, so no chance).
func TestUncertaintyAgainstStraying(t *testing.T) {
	const readTo, steps = 0.25, 6
	var n, sx, sg float64
	at := func(i int) float64 { return readTo * (2*(float64(i)+0.5)/steps - 1) }
	for i := range steps {
		for j := range steps {
			for k := range steps {
				r := good()
				r.Sides.W += at(i)
				r.Falling += at(j)
				r.Rising += at(k)
				p, err := Plain().Measured(r)
				if err != nil {
					t.Fatal(err)
				}
				n++
				sx += (p.ScaleX - 1.006) * (p.ScaleX - 1.006)
				sg += (p.Shear - 0.3*math.Pi/180) * (p.Shear - 0.3*math.Pi/180)
			}
		}
	}
	p, _ := Plain().Measured(good())
	if x, g := math.Sqrt(sx/n), math.Sqrt(sg/n); math.Abs(x/p.U.ScaleX-1) > .03 || math.Abs(g/p.U.Shear-1) > .03 {
		t.Errorf("they stray by %v and %v, said are %v and %v", x, g, p.U.ScaleX, p.U.Shear)
	}
}

// ruler is the test sheet's rectangle as a drawing: its four corners.
func ruler() *draw.Sheet {
	return sheet(&draw.Group{Name: "ruler", At: geom.Translate(15, 23.5), Ops: []draw.Op{
		&draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, a4Ruler.W, a4Ruler.H))}}})
}

// read prints a sheet on a printer that distorts and lays a rule of that many
// steps a mm on it.
func read(s *draw.Sheet, by geom.Affine, steps float64) Readings {
	var c []geom.Point
	draw.Walk(s.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
		for _, seg := range o.(*draw.Fill).Path[:4] {
			c = append(c, by.Apply(at.Apply(seg.P[0])))
		}
	})
	mm := func(a, b int) float64 { return math.Round(c[a].Sub(c[b]).Len()*steps) / steps }
	return Readings{Nominal: a4Ruler, Sides: geom.Size{W: mm(0, 1), H: mm(0, 3)}, Falling: mm(0, 2), Rising: mm(3, 1)}
}

// The round trip: print, read, correct, print, read. The printer is an affine
// map made of a shear and two scales, written out here.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(n string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, n) }
		kx, ky, deg := f("kx", .98, 1.02), f("ky", .98, 1.02), f("shear", -.5, .5)
		lean := deg * math.Pi / 180
		by := geom.Affine{A: kx, C: ky * math.Sin(lean), D: ky * math.Cos(lean)}
		const steps = 100 // a rule read to 0.01 mm shows the sums, not the eye
		p := Plain()
		raw, err := Calibrate(ruler(), p)
		if err != nil {
			t.Fatal(err)
		}
		if p, err = p.Measured(read(raw, by, steps)); err != nil {
			t.Fatal(err)
		}
		right, err := Calibrate(ruler(), p)
		if err != nil {
			t.Fatal(err)
		}
		got := read(right, by, 1e6)
		diagonal := math.Hypot(a4Ruler.W, a4Ruler.H)
		for name, off := range map[string]float64{"x": got.Sides.W - a4Ruler.W, "y": got.Sides.H - a4Ruler.H, "d1": got.Falling - diagonal, "d2": got.Rising - diagonal} {
			if math.Abs(off) > 0.05 {
				t.Errorf("%s is %v mm off after calibrating for %v %v %v deg", name, off, kx, ky, deg)
			}
		}
		// Measured again on the corrected sheet, the profile stays what it is.
		got.Corrected = true
		again, err := p.Measured(got)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(again.ScaleX-kx) > 1e-7 || math.Abs(again.ScaleY-ky) > 1e-7 || math.Abs(again.Shear-lean) > 1e-7 {
			t.Errorf("measured again: %v %v %v, want %v %v %v", again.ScaleX, again.ScaleY, again.Shear, kx, ky, lean)
		}
	})
}

// Readings that cannot be are refused, and the slip behind them is named.
func TestReadingsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		change    func(*Readings)
		where, do string
	}{
		"negative":         {func(r *Readings) { r.Sides.W = -181.08 }, "x", "minus"},
		"centimetres":      {func(r *Readings) { r.Sides.W = 18.108 }, "x", "centimetres"},
		"ten times":        {func(r *Readings) { r.Falling = 3082.42 }, "d1", "decimal point"},
		"inches":           {func(r *Readings) { r.Sides.H = 9.78 }, "y", "inches"},
		"changed":          {func(r *Readings) { r.Sides = geom.Size{W: 248.5, H: 181.08} }, "x", "nearly y"},
		"missing diagonal": {func(r *Readings) { r.Rising = 0 }, "d2", "all four"},
		"only a diagonal":  {func(r *Readings) { r.Sides = geom.Size{} }, "x, y", "all four"},
		"fitted to page":   {func(r *Readings) { r.Sides.W = 171 }, "x", "actual size"},
		"no number":        {func(r *Readings) { r.Sides.W = math.NaN() }, "x", "actual size"},
		"infinite":         {func(r *Readings) { r.Rising = math.Inf(1) }, "d2", "actual size"},
		"off by 3 mm":      {func(r *Readings) { r.Falling += 3 }, "x, y, d1, d2", "all four again"},
		"read to nothing":  {func(r *Readings) { r.ReadTo = -1 }, "", "how near"},
		"slot 7":           {func(r *Readings) { r.OpenSlot = 7 }, "gain", "narrowest slot"},
		"slot -1":          {func(r *Readings) { r.OpenSlot = -1 }, "gain", "narrowest slot"},
		"margin":           {func(r *Readings) { r.Margin = -3 }, "printer", "leaves blank"},
		"cross in cm":      {func(r *Readings) { r.Crosses = Crosses{230, geom.Point{X: 60}, geom.Point{}} }, "top", "millimetres"},
		"crosses apart":    {func(r *Readings) { r.Crosses = Crosses{230, geom.Point{Y: 2}, geom.Point{Y: -2}} }, "top, bottom", "up or down"},
	} {
		r := good()
		c.change(&r)
		_, err := Plain().Measured(r)
		var e *fault.Error
		if len(fault.List(err)) == 1 {
			e = fault.List(err)[0]
		}
		if e == nil || e.Class != fault.Input || !strings.HasPrefix(e.Where, c.where) || !strings.Contains(e.Do, c.do) {
			t.Errorf("%s: %v %+v", name, err, e)
		}
	}
}

// Each test leaves alone what it does not tell of.
func TestEachTestChangesItsOwn(t *testing.T) {
	p := Plain()
	p.ScaleX, p.U.ScaleX, p.Gain = 1.01, .001, .02
	dot := p.Dot()
	got, err := p.Measured(Readings{OpenSlot: 3})
	want := p
	want.Gain, want.U.Gain = 1.25*dot, dot/4/math.Sqrt(3) // twice the gain is 2 to 3 dots
	if err != nil || !near(got.Gain, want.Gain) || !near(got.U.Gain, want.U.Gain) || got.ScaleX != p.ScaleX || got.U.ScaleX != p.U.ScaleX {
		t.Errorf("gain: %+v %v, want %+v", got, err, want)
	}
	if got.Reduction() != 2 || math.Abs(got.Left(60).Gain-dot/2) > 1e-9 {
		t.Errorf("%d dots come off and %v mm an edge may be left", got.Reduction(), got.Left(60).Gain)
	}
	if got, err = p.Measured(Readings{Margin: 4}); err != nil || got.Margin != 4 || got.Gain != p.Gain || got.Duplex != p.Duplex {
		t.Errorf("margin: %+v %v", got, err)
	}
	if got, err = p.Measured(Readings{}); err != nil || got != p {
		t.Errorf("nothing read: %+v %v", got, err)
	}
	sharp, err := Plain().Measured(Readings{OpenSlot: 1})
	if err != nil || sharp.Reduction() != 0 {
		t.Errorf("a slot of one dot is open, and %d dots come off (%v)", sharp.Reduction(), err)
	}
}

// The offset of the back is the one that a printer of known offset shows at its
// crosses. Errors at a distance R of the middle are |t| + turn·R.
func TestDuplexFromCrosses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(n string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, n) }
		want := Offset{f("x", -3, 3), f("y", -3, 3), f("turn", -.01, .01)}
		m := geom.Rotate(want.Turn).Then(geom.Translate(want.X, want.Y)) // about the middle of the sheet
		const half = 115.0
		top, bottom := geom.Point{Y: -half}, geom.Point{Y: half}
		got, err := Plain().Measured(Readings{Crosses: Crosses{2 * half, m.Apply(top).Sub(top), m.Apply(bottom).Sub(bottom)}})
		if err != nil {
			t.Fatal(err)
		}
		if d := got.Duplex; !near(d.X, want.X) || !near(d.Y, want.Y) || !near(d.Turn, want.Turn) {
			t.Fatalf("%+v, want %+v", d, want)
		}
		// On a sheet whose back was already drawn for another offset, what is
		// read comes after that.
		p := Plain()
		p.Duplex = Offset{f("old x", -1, 1), f("old y", -1, 1), f("old turn", -.005, .005)}
		old := geom.Rotate(p.Duplex.Turn).Then(geom.Translate(p.Duplex.X, p.Duplex.Y))
		back, _ := old.Inverse()
		m = back.Then(m)
		got, err = p.Measured(Readings{Corrected: true, Crosses: Crosses{2 * half, m.Apply(top).Sub(top), m.Apply(bottom).Sub(bottom)}})
		if err != nil {
			t.Fatal(err)
		}
		if d := got.Duplex; !near(d.X, want.X) || !near(d.Y, want.Y) || !near(d.Turn, want.Turn) {
			t.Fatalf("after a correction: %+v, want %+v", d, want)
		}
	})
	p, err := Plain().Measured(Readings{Crosses: Crosses{Apart: 230}})
	u := 0.25 / math.Sqrt(3)
	if err != nil || !near(p.Left(0).Back, 2*u/math.Sqrt2) || !near(p.Left(115).Back, 2*u) {
		t.Errorf("at the crosses themselves one reading counts: %+v %v", p.Left(115), err)
	}
}
