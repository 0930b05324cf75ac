package job

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/layouts/legible"
	"floatmark/loading/fault"
)

// Asking makes nothing; what was stored last counts, and says where it is from.
func TestCodeLimits(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if l, from, err := w.codeLimits(); l != (legible.Limits{}) || from != "" || err != nil {
		t.Fatal(l, from, err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Fatal("asking made a workshop")
	}
	// By hand: 21²·m/(4·D)·sin 10° + 0.032·21³·m²/D², m of 7 dots of 600 dpi;
	// the widened ones without the second term.
	for _, c := range []struct {
		reads        string
		plain, front float64
	}{{"7=12", 0.653, 0}, {"7=10 7f=8", 0.827, 0.709}, {"none", 0, 0}, {"6f=10", 0, 0.486}} {
		a, err := w.SetCodeSizes(t.Context(), CodesRead{Reads: c.reads})
		if err != nil {
			t.Fatal(c.reads, err)
		}
		l, from, err := w.codeLimits()
		if err != nil || math.Abs(l.Plain-c.plain) > 0.0006 || math.Abs(l.Front-c.front) > 0.0006 {
			t.Errorf("%s: %+v %v, want %v and %v", c.reads, l, err, c.plain, c.front)
		}
		want := "your own phones, " + a.Made[:len("2026-11-25")]
		if c.plain == 0 && c.front == 0 {
			want = ""
		}
		if from != want {
			t.Errorf("%s: from %q, want %q", c.reads, from, want)
		}
	}
}

// Nothing is stored of what cannot be.
func TestCodeSizesRefuses(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []CodesRead{
		{Reads: ""}, {Reads: "7"}, {Reads: "=10"}, {Reads: "7=10 8"}, {Reads: "x 7=10"}, {Reads: "7=10, 07=12"},
		{Reads: "7=10", DPI: -600}, {Reads: "7=10", DPI: math.NaN()}, {Reads: "7=10", DPI: 1e9}, {Reads: "7=1e3"}, {Reads: "7=Inf"},
	} {
		if _, err := w.SetCodeSizes(t.Context(), c); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%+v: %v, want an input error", c, err)
		}
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("a slip made a workshop")
	}
}

// Whatever is typed is refused as a slip or read as sizes of the sheet and
// dowels that can be; what was read reads again the same.
func FuzzParseReads(f *testing.F) {
	for _, s := range []string{"8=12 7=10 6=none 7f=8", "none", "7F = 9,5 mm;6=8", "7=10,6=8", "=", "7=", "7=10 7=12", "99999999999999999999=1"} {
		f.Add(s, 600.0)
		f.Add(s, 300.0)
	}
	f.Fuzz(func(t *testing.T, text string, dpi float64) {
		if !(dpi >= 72 && dpi <= 10000) { // what stock takes for a printer
			return
		}
		read, err := parseReads(text, dpi)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		var again []string
		for _, z := range read {
			if z.Smallest != 0 && !(z.Smallest >= leastDowel && z.Smallest <= mostDowel) || !(z.Module > 0) {
				t.Fatalf("%q: %+v", text, z)
			}
			again = append(again, z.Size+"=10")
		}
		if len(read) == 0 {
			t.Fatalf("%q reads as nothing and is no slip", text)
		}
		if same, err := parseReads(strings.Join(again, ", "), dpi); err == nil && len(same) != len(read) {
			t.Fatalf("%q: %d sizes, then %d", text, len(read), len(same))
		}
	})
}
