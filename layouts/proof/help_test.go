package proof

import (
	"math"
	"testing"

	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
	"floatmark/layouts/stock"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// texts fill a version at a level with capitals; the host is invented.
var texts = map[int][]string{
	1: {"HTTPS://F.TO/7K3QX4A", "HTTPS://F.TO/2M8RT5C", "HTTPS://F.TO/9B4WZ7K", "HTTPS://F.TO/5HJ6P3V"},
	2: {"HTTPS://F.EXAMPLE/WITHY/7K3QX4A", "HTTPS://F.EXAMPLE/WITHY/2M8RT5C", "HTTPS://F.EXAMPLE/WITHY/9B4WZ7K", "HTTPS://F.EXAMPLE/WITHY/5HJ6P3V"},
	3: {"HTTPS://F.EXAMPLE/WITHY-SLUICE-FLOATS/A-LIST/7K3QX4A", "HTTPS://F.EXAMPLE/WITHY-SLUICE-FLOATS/A-LIST/2M8RT5C", "HTTPS://F.EXAMPLE/WITHY-SLUICE-FLOATS/A-LIST/9B4WZ7K", "HTTPS://F.EXAMPLE/WITHY-SLUICE-FLOATS/A-LIST/5HJ6P3V"},
}

func codes(t testing.TB, version int, level symbol.Level) []symbol.Matrix {
	t.Helper()
	out := codesOf(t, level, texts[version]...)
	for _, m := range out {
		if m.Version != version {
			t.Fatalf("%q makes version %d, want %d", m.Text, m.Version, version)
		}
	}
	return out
}

func codesOf(t testing.TB, level symbol.Level, texts ...string) []symbol.Matrix {
	t.Helper()
	var out []symbol.Matrix
	for _, s := range texts {
		m, err := symbol.AtLevel(s, level)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, m)
	}
	return out
}

// onCone is a code in the middle of a cone of diameter d there that opens
// towards the tip by the half-angle in degrees: the reference case, white film
// on a dark body, 600 dots an inch, 15 µm of gain.
func onCone(t testing.TB, version int, module, d, degrees float64) Design {
	t.Helper()
	des := Design{Codes: codes(t, version, symbol.M), Module: module, Quiet: 4,
		Film: draw.White, Paint: draw.Black, Printer: stock.Plain()}
	const high = 30
	k := math.Tan(degrees * math.Pi / 180)
	// A wide cone is cut off at its point.
	low := math.Max(0, high/2-(d/2-0.2)/math.Max(k, 1e-9))
	des.onto(t, []body.Station{
		{Z: unit.Millimetre(low), D: unit.Millimetre(d - 2*k*(high/2-low))},
		{Z: high, D: unit.Millimetre(d + k*high)}}, high/2)
	return des
}

// onto sets the code in the middle of a body of these stations at height z.
func (d *Design) onto(t testing.TB, s []body.Station, z unit.Millimetre) {
	t.Helper()
	p, err := body.New(s)
	if err != nil {
		t.Fatal(err)
	}
	f, err := wrap.Develop(p, p.Base(), p.Top(), wrap.Film{}, wrap.Seam{})
	if err != nil {
		t.Fatal(err)
	}
	d.Profile, d.Flat, d.S = p, f, f.SlantAt(z)
}

// widened is the design with a code that looks square from the front. On too thin
// a body there is none, and check refuses what is left.
func widened(d Design) Design {
	diameter := d.Flat.Hoop(d.S) / math.Pi
	if d.Columns = legible.FrontColumns(d.Codes[0].N, d.Module, diameter, d.Printer.Dot()); d.Columns == nil {
		d.Columns = []float64{}
	}
	return d
}

// read makes all pictures of a set, skipping none.
func read(t testing.TB, d Design, g Grade) Score {
	t.Helper()
	st, err := newStudio(d)
	if err != nil {
		t.Fatal(err)
	}
	st.all = true
	s, _, err := st.set(t.Context(), g, func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	return s
}
