package job

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
)

// thousand is a batch of 1,000 floats of one pattern, every one with a reading
// of its own and a weight of its own.
func thousand(t testing.TB) *batch.File {
	t.Helper()
	s := Single{Load: "0.85 g", Diameter: "16", ToDiameter: "13.4", BuiltIn: "7.2 g", Tip: "washed", Scale: "0.001 g", Date: "2026-11-20", Rating: "8 g"}
	shop := &Workshop{Dir: t.TempDir()}
	src, err := shop.singleSource(s)
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(src), "[[float]]")
	head = strings.Replace(head, `convention = "gb-modern"`, "convention = \"gb-modern\"\ncards = [\"gb-modern\", \"gb-traditional\", \"continental\"]", 1)
	var b strings.Builder
	b.WriteString(head)
	for i := range 1000 {
		fmt.Fprintf(&b, "[[float]]\nnumber = %d\npattern = \"one\"\nrating = \"8 g\"\nbuilt_in = \"7.%03d g\"\nmetal = \"brass\"\nreading = \"0.%03d g\"\n",
			i+1, 150+i%100, 700+i*7%300)
	}
	file, err := batch.Parse("thousand", []byte(b.String()), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// The aim is under 0.5 s on one core: 1,000 floats rated, and the add of each
// converted for the mark and for a card of three conventions.
func BenchmarkThousandFloats(b *testing.B) {
	file := thousand(b)
	for b.Loop() {
		rated, _, err := rate(file.Batch)
		if err != nil {
			b.Fatal(err)
		}
		made := 0
		for i := range rated {
			f := &file.Batch.Floats[i]
			for _, cs := range [][]shot.Convention{{file.Batch.Convention}, file.Batch.Cards} {
				for _, e := range shotFor(rated[i].Rating, f, file.Batch, cs) {
					if e != nil {
						made++
					}
				}
			}
		}
		if made < len(rated) {
			b.Fatalf("only %d equivalents", made)
		}
	}
}

// BenchmarkThousandLaidOut lays the marks of 1,000 floats of the full mark out,
// figures, shot, words and codes, on all processors.
func BenchmarkThousandLaidOut(b *testing.B) {
	file := thousand(b)
	for _, p := range file.Batch.Patterns {
		for i := range p.Zones {
			p.Zones[i].Style, p.Zones[i].Show = "full", label.FullShow()
		}
	}
	rated, _, err := rate(file.Batch)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		p := &Plan{File: file}
		if err := p.materials(); err != nil {
			b.Fatal(err)
		}
		p.bears = bearsOf(p.film, 0, 0)
		p.Floats = make([]FloatPlan, len(file.Batch.Floats))
		for i := range p.Floats {
			f := &file.Batch.Floats[i]
			f.ID = ident.Make([]byte("key"), "26-11", f.Number, 0)
			p.Floats[i] = FloatPlan{Float: f, Rating: rated[i].Rating, Setups: rated[i].setups}
			p.figure(&p.Floats[i])
		}
		if err := p.marks(context.Background(), nil); err != nil {
			b.Fatal(err)
		}
	}
}

// A single float's figures are those of a batch that says the same.
func TestOneIsAsABatch(t *testing.T) {
	s := Single{Load: "0.85 g", Diameter: "16", ToDiameter: "13.4", BuiltIn: "7.2 g", Tip: "wet", TempC: 15, Date: "2026-11-20"}
	shop := &Workshop{Dir: t.TempDir(), newKey: randomKey}
	one, err := shop.PlanOne(context.Background(), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	s.Record, s.Name = true, "single"
	batched, err := shop.PlanOne(context.Background(), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	a, b := one.Float, batched.Float
	if a.Rating.Printed != b.Rating.Printed || a.Rating.Add != b.Rating.Add || a.Rating.U != b.Rating.U || a.Shot.Text() != b.Shot.Text() {
		t.Errorf("alone %+v, in a batch %+v", a.Rating, b.Rating)
	}
	if a.Rating.Printed != 8.05 || a.Rating.BuiltIn != 7.2 || a.Rating.Add != 0.85 {
		t.Errorf("8.05 g is 7.2 g and 0.85 g: %+v", a.Rating)
	}
	if len(one.Plan.Notices) > 0 {
		t.Errorf("a nominal that nobody gave is told of: %v", one.Plan.Notices)
	}
	if a.Mark.Code != "" || a.Float.ID != "" || b.Float.ID == "" || b.Mark.Find(label.RoleID) != string(b.Float.ID) {
		t.Errorf("id %q and code %q alone, id %q in a batch", a.Float.ID, a.Mark.Code, b.Float.ID)
	}
	if got := a.Float.Pattern.Profile.Diameter(a.Float.Pattern.Main().From); got != 16 {
		t.Errorf("the mark begins on %v mm, want 16", got)
	}
}

// Words in the arguments stay words: nothing gets out of its line of the file.
func TestOneQuotesItsWords(t *testing.T) {
	shop := &Workshop{Dir: t.TempDir(), newKey: randomKey}
	s := Single{Load: "2.4 g", Diameter: "20", TempC: 15, Date: "2026-11-20", Maker: `a "b" \n c`, Line: `x\`}
	m, err := shop.PlanOne(context.Background(), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Plan.File.Batch.Maker.Name; got != s.Maker {
		t.Errorf("the maker is %q, want %q", got, s.Maker)
	}
	for _, bad := range []string{"a\nb", "a\x00", "\xff"} {
		s.Maker = bad
		if _, err := shop.PlanOne(context.Background(), s, nil); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %v", bad, err)
		}
	}
}
