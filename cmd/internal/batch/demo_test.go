package batch

import (
	"fmt"
	"math"
	"testing"

	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func readDemo(t testing.TB) *File {
	t.Helper()
	f, err := Parse("demo.toml", Demo(), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	return f
}

func TestDemoReads(t *testing.T) {
	f := readDemo(t)
	b := f.Batch
	if b.Name != "26-11" || b.Date != "2026-11-20" || b.Maker.Name != "Withy Sluice Floats" || b.Maker.Host != "f.example" {
		t.Errorf("%q %q %+v", b.Name, b.Date, b.Maker)
	}
	if b.Convention.Key != "gb-modern" || len(b.Cards) != 3 || b.Water.TempC != 15 || b.Step != 0 || b.Ring != 0.5 {
		t.Errorf("%s %d %+v %v %v", b.Convention.Key, len(b.Cards), b.Water, b.Step, b.Ring)
	}
	if f.Film != "a4-film-white" || f.Card != "a4-card" || f.CardSize != [2]float64{99, 210} || f.DPI != 600 || f.Overlap != 1 {
		t.Errorf("%s %s %v %v %v", f.Film, f.Card, f.CardSize, f.DPI, f.Overlap)
	}
	got := map[string]int{}
	for i, fl := range b.Floats {
		if fl.Number != i+1 {
			t.Errorf("float %d stands at %d", fl.Number, i+1)
		}
		got[fl.Nominal.Text(0.1, unit.Style{})]++
		switch loaded := fl.Pattern.Kind == loading.Loaded; {
		case loaded != (fl.Weight != nil), fl.Bare != nil && !loaded:
			t.Errorf("float %d: weight %v, bare %v", fl.Number, fl.Weight, fl.Bare)
		case fl.Reading != nil && fl.Reading.TipDiameter != fl.Pattern.TipDiameter():
			t.Errorf("float %d was tested with a tip of %v", fl.Number, fl.Reading.TipDiameter)
		}
	}
	if fmt.Sprint(got) != "map[10 g:4 2.5 g:5 4.5 g:5 6 g:5 8 g:7]" {
		t.Errorf("ratings %v", got)
	}
	if p := b.Floats[0].Pattern; p.Zones[0].Style != "full" || p.Zones[0].Turn != label.Auto || p.Profile.Length() != 174 || p.Body != (label.Colour{R: 0x26, G: 0x26, B: 0x2b}) {
		t.Errorf("%+v", p)
	}
	if fl := b.Floats[6]; !fl.Weight.Metal.Lead || fl.Weight.Mass != 7.2 || fl.Reading.Hung != 0.75 || fl.Reading.Metal.Key != "lead" {
		t.Errorf("%+v %+v", fl.Weight, fl.Reading)
	}
}

// The hull must carry what the float is rated for: the water it displaces up to
// its waterline, less the mass of light wood and cane, is the pull of the add
// and all of the weight inside. Densities: balsa 0.1 to 0.2 g/cm3 and peacock
// quill about as much, paint and tip in it (from memory, common practice).
func TestDemoFloatsCouldFloat(t *testing.T) {
	const lightest, heaviest = 0.10, 0.20 // g/cm3 of the float without its weight
	for _, f := range readDemo(t).Batch.Floats {
		p := f.Pattern
		whole := p.Profile.Volume(0, p.Profile.Top()) / 1000 // cm3
		under := p.Profile.Volume(0, p.Waterline) / 1000 * water.Usual().Density()
		inside := 0.0
		if f.Weight != nil {
			inside = float64(f.Weight.Mass)
		}
		var pull unit.Gram
		if f.Reading != nil {
			pull = water.Pull(f.Reading.Hung, f.Reading.Metal, f.Reading.Water)
		} else {
			continue
		}
		own := (under - inside - float64(pull)) / whole
		if own < lightest || own > heaviest {
			t.Errorf("float %d (%s): it would have to be of %.3f g/cm3", f.Number, p.Key, own)
		}
		if f.Bare != nil {
			// Bare capacity less what the weight uses is the add.
			left := water.Pull(f.Bare.Hung, f.Bare.Metal, f.Bare.Water) - f.Weight.Mass
			if math.Abs(float64(left-pull)) > 0.02 {
				t.Errorf("float %d: bare less weight leaves a pull of %v, measured %v", f.Number, left, pull)
			}
		}
	}
}
