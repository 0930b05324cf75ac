package fonts

import (
	"math"
	"testing"
)

// Metrics measured on the outlines of the two condensed faces: cap height 1456
// of 2048 units, x-height 1082 of 2048 (the face's own design figures).
func TestMetrics(t *testing.T) {
	set, err := Default()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []*Face{set.Bold, set.Regular} {
		if math.Abs(f.CapHeight()-1456.0/2048) > 1e-9 || math.Abs(f.XHeight()-1082.0/2048) > 1e-9 {
			t.Errorf("%s: cap %v, x %v", f.Name(), f.CapHeight(), f.XHeight())
		}
	}
	// The wide face's tables give a negative cap height; its outline does not.
	if c := set.Fallback.CapHeight(); math.Abs(c-0.7290) > 1e-3 {
		t.Errorf("fallback cap height %v, want 0.729", c)
	}
}

func TestKerningComesFromTheFace(t *testing.T) {
	set, err := Default()
	if err != nil {
		t.Fatal(err)
	}
	a, _ := set.Bold.Glyph('A')
	v, _ := set.Bold.Glyph('V')
	if k := set.Bold.Kern(a, v); k >= 0 {
		t.Errorf("AV is kerned by %v em, want less than 0", k)
	}
}

func TestEveryMarkHasAFace(t *testing.T) {
	set, err := Default()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range "0123456789 gABCXYZ+×½¼¾±°№€£,.·→∅łőřßéñΩλЖукЁ" {
		if !set.Has(r) {
			t.Errorf("no face has %q", r)
		}
	}
	if set.Has('水') {
		t.Error("the set claims a glyph it does not have")
	}
}

func TestOutlineStandsOnTheBaseline(t *testing.T) {
	set, err := Default()
	if err != nil {
		t.Fatal(err)
	}
	id, _ := set.Bold.Glyph('H')
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range set.Bold.Outline(id) {
		lo, hi = math.Min(lo, s.P[0][1]), math.Max(hi, s.P[0][1])
	}
	if lo != 0 || math.Abs(hi-set.Bold.CapHeight()) > 1e-9 {
		t.Errorf("H spans %v to %v, want 0 to the cap height", lo, hi)
	}
	if _, err := Parse("x", []byte("no font")); err == nil {
		t.Error("rubbish was taken for a face")
	}
}
