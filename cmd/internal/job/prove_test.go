package job

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/record"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
	"floatmark/layouts/proof"
	"floatmark/layouts/stock"
)

// codesBatch writes a batch of n floats of one or more loaded bodies, cylinders of
// the given diameters in turn, with a full mark each.
func codesBatch(t testing.TB, dir string, n int, diameters ...float64) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "format = 1\nname = \"codes\"\ndate = \"2026-11-20\"\n\n[maker]\nname = \"Withy Sluice Floats\"\nhost = \"f.example\"\n\n")
	b.WriteString("[print]\nconvention = \"gb-modern\"\nfilm = \"a4-film-white\"\n\n[tank]\nmetal = \"tin\"\nwater_c = 15.0\nread_to_mm = 0.5\nscale = \"0.01 g\"\n\n[[rating]]\nload = \"8 g\"\nband = \"#18608e\"\n\n")
	for i, d := range diameters {
		fmt.Fprintf(&b, "[[pattern]]\nkey = \"p%d\"\nname = \"Pattern %d\"\nkind = \"loaded\"\nweight = \"inside\"\nstations_mm = [[0, 4], [20, %v], [70, %v], [90, 4], [180, 3]]\n", i, i, d, d)
		b.WriteString("waterline_mm = 160\ntip_from_mm = 165\nbody = \"#26262b\"\ntip = \"#e4572e\"\nmark = \"full\"\nmark_from_mm = 30\nmark_height_mm = 26\n\n")
	}
	for i := range n {
		fmt.Fprintf(&b, "[[float]]\nnumber = %d\npattern = \"p%d\"\nrating = \"8 g\"\nbuilt_in = \"7.2 g\"\nmetal = \"brass\"\nreading = \"0.8 g\"\n\n", i+1, i%len(diameters))
	}
	path := filepath.Join(dir, "codes.toml")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func planCodes(t testing.TB, shop *Workshop, path string) *Plan {
	t.Helper()
	shop.newKey = func() ([]byte, error) { return make([]byte, keyBytes), nil }
	p, err := shop.Plan(context.Background(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func openIn(t testing.TB, dir string) *Workshop {
	t.Helper()
	shop, err := Open(filepath.Join(dir, "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	shop.Preview = true
	return shop
}

// Twenty floats of two designs cost two proofs in each size that was tried, from
// samples of their own codes; each report says what it was.
func TestOneProofADesign(t *testing.T) {
	dir := t.TempDir()
	shop := openIn(t, dir)
	p := planCodes(t, shop, codesBatch(t, dir, 20, 18, 24))
	var designs []string
	for _, one := range p.prover.tried {
		designs = append(designs, fmt.Sprintf("%.0f mm, %s", float64(one.design.Profile.MaxDiameter()), sizeName(one.design)))
	}
	seen := map[string]bool{}
	for _, d := range designs {
		if seen[d] {
			t.Errorf("proved twice: %q of %q", d, designs)
		}
		seen[d] = true
	}
	reports := p.CodeReports()
	if len(reports) != 2 || len(reports[0].Floats) != 10 || len(reports[1].Floats) != 10 {
		t.Fatalf("reports %+v", reports)
	}
	for _, r := range reports {
		if r.On != "float" || r.Reads == "" || r.Version != 1 || r.Model != proof.Model || len(r.Why) < 3 || r.Expected.SymbolGrade != "A" || r.Expected.CellGrade != "A" {
			t.Errorf("%+v", r)
		}
	}
	for i := range p.Floats {
		c := p.Floats[i].Decal.Code
		if c == nil || c.Matrix.Text != p.Floats[i].Mark.Code {
			t.Fatalf("float %d bears %+v", i+1, c)
		}
	}
}

// What was remembered is what pictures say, and a folder that is damaged is as
// good as none.
func TestRememberedVerdicts(t *testing.T) {
	dir := t.TempDir()
	path := codesBatch(t, dir, 2, 16)
	shop := openIn(t, dir)
	shop.Proofs = ""
	fresh := planCodes(t, shop, path).CodeReports()
	shop.Proofs = filepath.Join(dir, "proofs")
	if got := planCodes(t, shop, path).CodeReports(); !reflect.DeepEqual(got, fresh) {
		t.Errorf("with a folder %+v, without %+v", got, fresh)
	}
	files, err := filepath.Glob(filepath.Join(shop.Proofs, "*"))
	if err != nil || len(files) == 0 {
		t.Fatalf("nothing is remembered: %v", err)
	}
	again := planCodes(t, shop, path)
	if got := again.CodeReports(); !reflect.DeepEqual(got, fresh) {
		t.Errorf("remembered %+v, made %+v", got, fresh)
	}
	for _, f := range files {
		if err := os.WriteFile(f, []byte(`{"format":1,"model":"`+proof.Model+`","grade":"casual"`), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got := planCodes(t, shop, path).CodeReports(); !reflect.DeepEqual(got, fresh) {
		t.Errorf("from damaged files %+v, made %+v", got, fresh)
	}
}

// What a maker's own phones read comes before what is simulated, both ways.
func TestOwnPhonesDecide(t *testing.T) {
	dir := t.TempDir()
	path := codesBatch(t, dir, 2, 11)
	shop := openIn(t, dir)
	read := func(how string) []CodeReport {
		t.Helper()
		if _, err := shop.SetCodeSizes(context.Background(), CodesRead{Reads: how, DPI: batch.DefaultDPI}); err != nil {
			t.Fatal(err)
		}
		return planCodes(t, shop, path).CodeReports()
	}
	if r := read("8=16 7=16 6=16 8f=16 7f=16 6f=16"); len(r) != 1 || r[0].On != "card" {
		t.Errorf("phones that read nothing under 16 mm: %+v", r)
	}
	r := read("8=8 7=8 6=8 8f=8 7f=8 6f=8")
	if len(r) != 1 || r[0].On != "float" || r[0].Reads == "" {
		t.Errorf("phones that read on 8 mm: %+v", r)
	}
}

// A print keeps how its codes were chosen and what the pictures said.
func TestPrintKeepsProofs(t *testing.T) {
	dir := t.TempDir()
	shop := openIn(t, dir)
	p := planCodes(t, shop, codesBatch(t, dir, 2, 18))
	if _, err := shop.Print(context.Background(), p, filepath.Join(dir, "out"), nil); err != nil {
		t.Fatal(err)
	}
	s, err := record.OpenReadOnly(filepath.Join(shop.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	all, err := s.AllPrints()
	if err != nil || len(all) != 1 {
		t.Fatal(all, err)
	}
	for _, part := range []string{`"codes":[{"floats":[1,2],"on":"float"`, `"model":"` + proof.Model + `"`, `pictures read`} {
		if !strings.Contains(string(all[0].Data), part) {
			t.Errorf("the print does not keep %s", part)
		}
	}
}

// Who stops a check while codes are proved stops it.
func TestProofsStop(t *testing.T) {
	dir := t.TempDir()
	shop := openIn(t, dir)
	shop.Proofs = ""
	ctx, cancel := context.WithCancel(context.Background())
	_, err := shop.Plan(ctx, codesBatch(t, dir, 2, 18), func(stage string, _, _ int) {
		if stage == "codes" {
			cancel()
		}
	})
	if err == nil || ctx.Err() == nil {
		t.Errorf("it went on: %v", err)
	}
}

// A check of 1,000 floats of 5 designs, codes proved anew.
func BenchmarkCheckThousand(b *testing.B) {
	dir := b.TempDir()
	path := codesBatch(b, dir, 1000, 15, 16.5, 18, 20, 22)
	shop := openIn(b, dir)
	shop.Proofs = ""
	for b.Loop() {
		planCodes(b, shop, path)
	}
}

// What is told of a code's contrast is of its colours: black film ink on white is
// an A, on clear film over a grey paint less by its symbol contrast than by its
// cells. The shares of light are sRGB's (IEC 61966-2-1): grey 180 gives back 0.456.
func TestContrastToExpect(t *testing.T) {
	grey := draw.Ink{R: 180, G: 180, B: 180}
	for name, c := range map[string]struct {
		clear        bool
		paint        draw.Ink
		least, most  float64
		symbol, cell string
	}{
		"white film":          {false, grey, 93, 100, "A", "A"},
		"clear film":          {true, draw.White, 93, 100, "A", "A"},
		"clear film, on grey": {true, grey, 40, 46, "C", "A"},
	} {
		p := &Plan{film: stock.Stock{Colour: draw.White, Clear: c.clear}}
		fp := &FloatPlan{Float: &label.Float{Pattern: &label.Pattern{Ground: label.Colour(c.paint)}}}
		fp.Decal.Code = &decal.Code{Ground: legible.Printed(draw.White, draw.White, c.clear, c.paint)}
		got := p.contrastOf(fp)
		if got.Symbol < c.least || got.Symbol > c.most || got.SymbolGrade != c.symbol || got.CellGrade != c.cell {
			t.Errorf("%s: %+v", name, got)
		}
		if text := got.Text(); !strings.Contains(text, "not measured") || !strings.Contains(text, "grade "+c.symbol+" of ISO/IEC 15415") {
			t.Errorf("%s: %q", name, text)
		}
	}
	if got := (CodeContrast{}).Text(); got != "" {
		t.Errorf("of no code: %q", got)
	}
}
