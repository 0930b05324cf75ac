package loading

import (
	"math"
	"testing"

	"floatmark/loading/fault"
)

func TestParseStretches(t *testing.T) {
	got, err := ParseStretches("Cane to 40 mm; 0,15 to 62mm ;plastic tip")
	if err != nil || len(got) != 3 {
		t.Fatal(got, err)
	}
	for i, want := range []struct {
		to, density, within float64
	}{{40, 0.65, 0.15}, {62, 0.15, 0.03}, {0, 1.05, 0.05}} {
		if g := got[i]; float64(g.To) != want.to || g.Material.Density != want.density || math.Abs(g.Material.Within-want.within) > 1e-12 {
			t.Errorf("stretch %d: %+v", i+1, g)
		}
	}
	for _, word := range []string{"bis", "jusqu’à", "jusqu'à", "à", "fino a", "a", "do"} {
		if g, err := ParseStretches("balsa " + word + " 70 mm; peacock"); err != nil || len(g) != 2 || g[0].To != 70 || g[0].Material.Name != "balsa" {
			t.Errorf("%s: %+v, %v", word, g, err)
		}
	}
	parts, err := PartsOf(parallel(t, 4, 100), got)
	if err != nil || len(parts) != 3 || parts[1].From != 40 || parts[1].To != 62 || parts[2].To != 100 {
		t.Errorf("%+v, %v", parts, err)
	}
	if _, err := PartsOf(parallel(t, 4, 50), got); fault.ClassOf(err) != fault.Input {
		t.Errorf("a stretch beyond the top: %v", err)
	}
	for _, s := range []string{"", "cheese", "0", "-1", "NaN", "100", "balsa; cane", "balsa to 40 mm", "balsa to 40; cane", "balsa to 40 mm; cane to 30 mm; balsa", "balsa to 9000 mm; cane", ";"} {
		if got, err := ParseStretches(s); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %+v, %v", s, got, err)
		}
	}
}

// Whatever is read has densities and rising ends; nothing panics.
func FuzzParseStretches(f *testing.F) {
	for _, s := range []string{"balsa", "cane to 40 mm; balsa", "0.15", "0,65 to 1/2 in; 0.2 to 3 cm; reed", ";;", "to to to"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		list, err := ParseStretches(s)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatal(err)
			}
			return
		}
		for i, st := range list {
			if !(st.Material.Density > 0) || !(st.Material.Within > 0) || (st.To == 0) != (i == len(list)-1) || i > 0 && st.To != 0 && st.To <= list[i-1].To {
				t.Fatalf("%q: %+v", s, list)
			}
		}
	})
}
