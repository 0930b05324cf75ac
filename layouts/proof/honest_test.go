package proof

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"floatmark/label/symbol"
)

// verdictSeed is that of the designs below; it stands apart from those of the
// random pictures.
const verdictSeed = 8

// borderline returns designs near the smallest body that carries them: versions
// 1 to 3, squares of 6 to 8 dots of 600 an inch, every level, plain and widened
// in turn. Half lie about the limit for care (0.060 to 0.090 of N²·m), half
// about that for anybody (0.100 to 0.160), the rules of thumb of the model the
// closed forms were fitted on; a quarter stand on cones to 15 degrees.
func borderline(t *testing.T, n int) []Design {
	t.Helper()
	r := rand.New(rand.NewPCG(2026, verdictSeed))
	var out []Design
	for i := range n {
		version, level := 1+r.IntN(3), symbol.Level(r.IntN(4))
		d := onCone(t, 1, 0.3, 20, 0)
		module := float64(6+r.IntN(3)) * d.Printer.Dot()
		squares := float64(17 + 4*version)
		share := 0.060 + 0.030*r.Float64()
		if i%4 >= 2 {
			share = 0.100 + 0.060*r.Float64()
		}
		cone := 0.0
		if r.IntN(4) == 0 {
			cone = 30*r.Float64() - 15
		}
		d = onCone(t, 1, 0.3, share*squares*squares*module, cone)
		d.Module = module
		d.Codes = nil
		for range MaxCodes {
			d.Codes = append(d.Codes, codesOf(t, level, randomText(r, version, level))...)
		}
		if i%2 == 1 {
			d = widened(d)
		}
		if d.check() == nil {
			out = append(out, d)
		}
	}
	return out
}

// A verdict has pictures behind it: whoever makes them anew, from the same
// poses, reads as many. The whole set's pictures are for other readers.
func TestVerdicts(t *testing.T) {
	n := 5
	if *pictures != "" {
		n = 96
	}
	all := borderline(t, n)
	parts := make([]lines, len(all))
	grades := make([]Grade, len(all))
	eachOn(t, len(all), func(i int) error {
		d := all[i]
		v, err := Prove(t.Context(), d, Casual, nil)
		if err != nil {
			return err
		}
		grades[i] = v.Grade
		if v.Grade == None {
			return nil
		}
		st, err := newStudio(d)
		if err != nil {
			return err
		}
		shape := "plain"
		if d.Columns != nil {
			shape = "widened"
		}
		m := d.Codes[0]
		kind := fmt.Sprintf("%02d V%d-%v of %.0f dots, %s, on %.1f mm", i, m.Version, m.Level, d.Module/d.Printer.Dot(), shape, d.Flat.Hoop(d.S)/math.Pi)
		read := 0
		for k, p := range Poses(v.Grade) {
			img := st.picture(p, st.code(k))
			reads, err := readsAs(img, st.matrix(k).Text)
			if err != nil {
				return err
			}
			if reads {
				read++
			}
			name := fmt.Sprintf("%02d-%s-%02d.pgm", i, v.Grade, k)
			parts[i].add(name, kind, string(v.Grade), reads, st.matrix(k).Text)
			if err := keep(name, img); err != nil {
				return err
			}
		}
		if s, ok := v.Score(v.Grade); !ok || s.Read != read || read < v.Grade.Needed() {
			return fmt.Errorf("%s: the verdict has %+v, and %d were read", kind, s, read)
		}
		return nil
	})
	var index lines
	counts := map[Grade]int{}
	for i := range all {
		index.WriteString(parts[i].String())
		counts[grades[i]]++
	}
	t.Logf("of %d designs %v", len(all), counts)
	if counts[Aim] == 0 || counts[Casual] == 0 || counts[None] == 0 {
		t.Errorf("of %d designs %v: they do not lie about the limits", len(all), counts)
	}
	index.write(t)
}
