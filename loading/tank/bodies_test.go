package tank

import (
	"fmt"
	"math"
	"testing"

	"floatmark/loading/body"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// ofDensity returns water of a round density in g/cm3, by its salt: vectors
// worked out for 1.000 and 1.025 are to be met to their last digit.
func ofDensity(t *testing.T, want float64) water.Water {
	lo, hi := 1e-9, 42.0
	w := water.Water{TempC: 4}
	for range 60 {
		w.Salinity = (lo + hi) / 2
		if w.Density() < want {
			lo = w.Salinity
		} else {
			hi = w.Salinity
		}
	}
	near(t, "density of the water", w.Density(), want, 1e-9)
	return w
}

func profile(t *testing.T, st ...body.Station) body.Profile {
	t.Helper()
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Four whole floats from their shapes: the volume under water through package
// body, the reserve rho V - m, and the lead on the line that uses it up, which a
// tank reading turns back into the same pull; in water of 1.000 g/cm3 and in sea
// water of 1.025. The figures are worked examples computed by a separate
// program; closed forms stand beside them.
func TestBodiesAndTheirLead(t *testing.T) {
	fresh, sea := ofDensity(t, 1), ofDensity(t, 1.025)
	mm := func(v float64) unit.Millimetre { return unit.Millimetre(v) }
	straight := func(z, d float64) body.Station { return body.Station{Z: mm(z), D: mm(d), Corner: true} }
	round := func(z, d float64) body.Station { return body.Station{Z: mm(z), D: mm(d), Kind: body.Round} }
	// A round run of the radius squared is exact for ellipsoids and spheres, whose
	// r² is a parabola, with few stations.
	olive := func() body.Profile {
		var st []body.Station
		for i := 0; i <= 8; i++ {
			z := 30 * float64(i) / 8
			st = append(st, round(z, 14*math.Sqrt(max(0, 1-(z-15)*(z-15)/225))))
		}
		return profile(t, st...)
	}()
	hemisphere := func() body.Profile {
		st := []body.Station{straight(0, 4), {Z: 20, D: 12, Kind: body.Round, Corner: true}}
		for i := 1; i <= 6; i++ {
			z := float64(i)
			st = append(st, round(20+z, 2*math.Sqrt(36-z*z)))
		}
		return profile(t, st...)
	}()
	stick := profile(t, straight(0, 4), straight(180, 4))
	corner := profile(t, straight(0, 0), straight(20, 10), straight(50, 10), straight(65, 0))
	tip, stem := math.Pi/4*2.5*2.5, math.Pi/4 // mm2
	for _, c := range []struct {
		name                  string
		volume, mass          float64 // mm3 under water, g
		wantV, wantM, b, lead float64
		seaB, seaLead         float64
		tolerance             float64 // of the volume, mm3
		closed                float64 // the volume's closed form, mm3
	}{
		{"stick", stick.Volume(0, 170), stick.Volume(0, 180) * 0.16e-3,
			2136.283004, 0.361911, 1.774372, 1.945974, 1.827779, 2.009405, 1e-6, math.Pi * 4 * 170},
		{"olive with tip and stem", olive.Volume(0, 30) + tip*15 + stem*60, olive.Volume(0, 30)*0.15e-3 + tip*25*1.05e-3 + stem*60*1.6e-3,
			3199.515768, 0.666067, 2.533449, 2.778463, 2.613437, 2.873134, 1e-6, 4.0/3*math.Pi*15*49 + tip*15 + stem*60},
		{"cone, parallel, cone", corner.Volume(0, 65), corner.Volume(0, 65) * 0.12e-3,
			3272.492347, 0.392699, 2.879793, 3.158303, 2.961606, 3.255900, 1e-6, math.Pi * 25 * (20.0/3 + 30 + 5)},
		{"frustum and hemisphere", hemisphere.Volume(0, 26), hemisphere.Volume(0, 26) * 0.2e-3,
			1541.474795, 0.308295, 1.233180, 1.352443, 1.271717, 1.398087, 1e-6, math.Pi*20/3*(4+12+36) + 2.0/3*math.Pi*216},
	} {
		near(t, c.name+" closed form", c.closed, c.wantV, 1e-6)
		near(t, c.name+" volume", c.volume, c.wantV, c.tolerance)
		scale := c.tolerance * 1e-3 // what the volume leaves open, in grams
		near(t, c.name+" mass", c.mass, c.wantM, 1e-6+scale)
		for _, w := range []struct {
			name    string
			water   water.Water
			b, lead float64
		}{{"fresh", fresh, c.b, c.lead}, {"sea", sea, c.seaB, c.seaLead}} {
			what := fmt.Sprint(c.name, ", ", w.name)
			reserve := w.water.Density()*c.volume/cubicMillimetres - c.mass
			near(t, what+", reserve", reserve, w.b, 2e-6+2*scale)
			m := water.Mass(unit.Gram(reserve), lead(t), w.water)
			near(t, what+", lead", float64(m), w.lead, 2e-6+2*scale)
			l, err := Reading{Hung: m, Metal: lead(t), Water: w.water, TipDiameter: 3}.Load()
			if err != nil {
				t.Fatal(err)
			}
			near(t, what+", pull", float64(l.Pull), reserve, 1e-12)
		}
	}
}
