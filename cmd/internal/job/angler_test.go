package job

import (
	"math"
	"testing"

	"floatmark/label"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// cork is a plain rod float of 12 mm with a thin tip, its shoulder a hundredth of
// a millimetre high: volumes by hand.
func cork() label.Entry {
	tin, _ := water.MetalByKey("tin")
	return label.Entry{ID: "9KYA3C", Metal: "tin", WaterTempC: 15, AddG: 4, AddPullG: water.Pull(4, tin, water.Usual()), StepG: 0.05,
		Convention: "gb-modern", Line: "bottom end", Waterline: 110,
		Stations: []body.Station{{Z: 0, D: 12}, {Z: 100, D: 12, Corner: true}, {Z: 100.01, D: 3, Corner: true}, {Z: 130, D: 3}}}
}

// The published worked example: a float of 10.0 cm3 under water and 3.0 g of its
// own mass takes 7.666 g of lead in fresh water of 15 degrees and 7.982 g in sea
// water of salinity 35 (worked out from UNESCO 44 and Tanaka 2001).
func TestAnglerInTheSea(t *testing.T) {
	lead, _ := water.MetalByKey("lead")
	e := cork()
	radius := math.Sqrt(10000 / math.Pi / 100) // of 100 mm: 10 cm3
	e.Stations = []body.Station{{Z: 0, D: unit.Millimetre(2 * radius)}, {Z: 120, D: unit.Millimetre(2 * radius)}}
	e.Waterline, e.Metal, e.Convention = 100, "lead", "continental"
	e.AddPullG = unit.Gram(10*water.Usual().Density() - 3)
	e.AddG = water.Mass(e.AddPullG, lead, water.Usual())
	if math.Abs(float64(e.AddG)-7.666) > 0.0005 {
		t.Fatalf("fresh: %.4f g of lead, want 7.666", e.AddG)
	}
	a, err := ForAngler(e, Choice{Water: SeaWater}, nil)
	if err != nil || math.Abs(float64(a.Add)-7.982) > 0.0005 || !a.OtherWater {
		t.Errorf("sea: %.4f g of lead, %v; want 7.982", a.Add, err)
	}
	// And back: a float made for the sea.
	back := e
	back.SalinityPSU, back.AddG = 35, a.Add
	back.AddPullG = water.Pull(a.Add, lead, a.Water)
	b, err := ForAngler(back, Choice{Water: FreshWater}, nil)
	if err != nil || math.Abs(float64(b.Add-e.AddG)) > 1e-9 {
		t.Errorf("back in fresh water: %.6f g, %v; want %.6f", b.Add, err, e.AddG)
	}
}

// With the shot of its mark the float swims where it displaces what it weighs:
// worked out here with plain sums over the cylinders.
func TestAnglerKeepsItsShot(t *testing.T) {
	e := cork()
	a, err := ForAngler(e, Choice{Water: SeaWater}, nil)
	if err != nil {
		t.Fatal(err)
	}
	rho1, rho2 := water.Usual().Density(), water.Water{TempC: 15, Salinity: 35}.Density()
	area := func(d float64) float64 { return math.Pi / 4 * d * d }
	v1 := (100*area(12) + 10*area(3)) / 1000
	tin := 7.28
	own := rho1*v1 - 4*(1-rho1/tin)            // what the bare float weighs
	v2 := (own + 4*(1-rho2/tin)) / rho2        // what it displaces in the sea
	z := 100 - (100*area(12)-v2*1000)/area(12) // within the body
	if v2*1000 > 100*area(12) || v2*1000 < 50*area(12) {
		t.Fatal("the example should swim on its body")
	}
	if got := float64(e.Waterline - a.Keep); math.Abs(got-z) > 0.01 || a.KeepSinks {
		t.Errorf("swims at %.4f mm, want %.4f", got, z)
	}
	e.SalinityPSU = 35 // made for the sea, in a lake: it sinks deeper than its tip is
	if a, err = ForAngler(e, Choice{Water: FreshWater}, nil); err != nil || !a.KeepSinks {
		t.Errorf("in fresh water: %+v, %v; want it to sink", a.Keep, err)
	}
	e.AddG, e.AddPullG = 0, 0 // self-cocking in the sea: too heavy for a lake
	if a, err = ForAngler(e, Choice{Water: FreshWater}, nil); err != nil || a.Add >= 0 || a.Shot != nil {
		t.Errorf("self-cocking in fresh water: add %v, %v", a.Add, err)
	}
}

func TestAnglersChoice(t *testing.T) {
	e := cork()
	a, err := ForAngler(e, Choice{}, nil)
	if err != nil || a.Add != 4 || a.Shot == nil || a.Choice != (Choice{"gb-modern", "", FreshWater}) || a.Parts == nil || len(a.Parts.Locking) == 0 || a.OtherWater {
		t.Fatalf("as printed: %+v, %v", a, err)
	}
	if off := math.Abs(float64(a.Shot.Total + a.Shot.Rest - 4)); off > 1e-9 {
		t.Errorf("shot and rest miss the add by %v", off)
	}
	// Tin shot of the same sizes in lead: less is needed, by the pull (1.057).
	a, err = ForAngler(e, Choice{Metal: "lead"}, nil)
	if err != nil || math.Abs(float64(4/a.Add)-1.057) > 0.0005 || a.Own != "tin" {
		t.Errorf("in lead: %.4f, %v", a.Add, err)
	}
	if a, err = ForAngler(e, Choice{Convention: "grams", Metal: "tin"}, nil); err != nil || a.Add != 4 || a.Shot != nil {
		t.Errorf("in grams of tin: %+v, %v", a.Add, err)
	}
	e.Market = "GB"
	if a, err = ForAngler(e, Choice{Convention: "gb-traditional"}, nil); err != nil || !a.LeadOut {
		t.Errorf("lead in Great Britain: %+v, %v", a.LeadOut, err)
	}
	own := []shot.Convention{{Key: "mine", Name: "Mine", Metal: a.Convention.Metal, Sizes: []shot.Size{{Name: "A", Mass: 1, Verified: true}}}}
	if a, err = ForAngler(e, Choice{Convention: "mine"}, own); err != nil || a.Convention.Name != "Mine" {
		t.Errorf("an own set: %+v, %v", a, err)
	}
	for _, bad := range []Choice{{Convention: "x"}, {Metal: "cheese"}, {Water: "beer"}} {
		if _, err := ForAngler(e, bad, nil); fault.ClassOf(err) != fault.Input {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	e.Stations = nil
	if _, err := ForAngler(e, Choice{Water: SeaWater}, nil); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("no shape: %v", err)
	}
	if _, err := ForAngler(e, Choice{}, nil); err != nil {
		t.Errorf("no shape, own water: %v", err)
	}
}

func TestFixingOf(t *testing.T) {
	for said, want := range map[string]shot.Fixing{"bottom end": shot.BottomEnd, "through an eye at the base": shot.BottomEnd, "rubbers at both ends": shot.TopAndBottom,
		"Top-and-bottom": shot.TopAndBottom, "sliding": shot.Sliding, "slider, eye at the base": shot.Sliding} {
		if got, ok := FixingOf(said); !ok || got != want {
			t.Errorf("%q is %v, %v", said, got, ok)
		}
	}
	if f, ok := FixingOf("as you like"); ok {
		t.Errorf("a guess: %v", f)
	}
}

func BenchmarkForAngler(b *testing.B) {
	e := cork()
	for b.Loop() {
		if _, err := ForAngler(e, Choice{Water: SeaWater}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
