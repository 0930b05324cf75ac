package chart

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/png"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/unit"

	"pgregory.net/rapid"
)

func spec(t testing.TB) Spec {
	t.Helper()
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	return Spec{Width: 186, Fonts: set,
		Facts: func(s loading.Spread) []string {
			return []string{fmt.Sprintf("%d floats, mean %s", s.N, s.Mean.Text(0.01, unit.Style{})), "deviation " + s.Deviation.Text(0.01, unit.Style{})}
		},
		Captions: Captions{Title: "Measured sums", Off: "off the rating",
			Key: []string{"shaded: within 0.05 g", "bar: uncertainty", "triangle: mean, on one standard deviation to either side"}}}
}

func report(t testing.TB, tolerance unit.Gram, floats ...loading.Graded) loading.Report {
	t.Helper()
	r, err := loading.Grade(floats, []unit.Gram{2.5, 4.5, 6, 8, 10}, tolerance)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// day is an invented batch: two ratings close, one with a float made as
// another, one tested singly.
func day(t testing.TB) loading.Report {
	sums := map[unit.Gram][]unit.Gram{4.5: {4.51, 4.49, 4.53, 4.42, 4.5, 4.58}, 6: {6.01, 5.98, 4.52, 6.04, 6.02}, 8: {8.02}, 10: {}}
	var floats []loading.Graded
	n := 0
	for _, r := range []unit.Gram{4.5, 6, 8, 10} {
		for i, s := range sums[r] {
			n++
			floats = append(floats, loading.Graded{Number: n, Nominal: r, Sum: s, U: 0.012 + unit.Gram(i%3)*0.01})
		}
		n++
		floats = append(floats, loading.Graded{Number: n, Nominal: r, About: true})
	}
	return report(t, 0.05, floats...)
}

func TestGolden(t *testing.T) {
	s, err := Grading(day(t), spec(t))
	if err != nil {
		t.Fatal(err)
	}
	picture(t, s)
	golden.Check(t, "day.txt", s.Dump(), os.ReadFile, os.WriteFile)
}

// picture renders into the test's own folder, or into the one that LOOK names.
func picture(t *testing.T, s *draw.Sheet) {
	t.Helper()
	dir := os.Getenv("LOOK")
	if dir == "" {
		dir = t.TempDir()
	}
	var b bytes.Buffer
	if err := png.Write(&b, s, 200); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "plot.png"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// things returns the boxes of the ticks, of the words and of all else.
func things(s *draw.Sheet) (ticks, words []geom.Rect, texts []string) {
	for _, l := range draw.Layers() {
		draw.Walk(s.Layers[l], func(op draw.Op, at geom.Affine, _ bool) {
			b := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{op}}})
			switch op := op.(type) {
			case *draw.Glyphs:
				words, texts = append(words, b), append(texts, op.Text)
			case *draw.Fill:
				if math.Abs(b.H()-tickHigh) < 1e-9 && math.Abs(b.W()-tickWide) < 1e-9 {
					ticks = append(ticks, b)
				}
			}
		})
	}
	return ticks, words, texts
}

// A tick stands where its sum says: measured back against the axis's own labels.
func TestTicksStandOnTheScale(t *testing.T) {
	s, err := Grading(report(t, 0.05, loading.Graded{Number: 1, Nominal: 8, Sum: 8.04, U: 0.01}, loading.Graded{Number: 2, Nominal: 8, Sum: 7.97, U: 0.01}), spec(t))
	if err != nil {
		t.Fatal(err)
	}
	ticks, words, texts := things(s)
	centre := func(r geom.Rect) float64 { return (r.Min.X + r.Max.X) / 2 }
	where := map[string]float64{}
	for i, w := range texts {
		where[w] = centre(words[i])
	}
	perGram := (where["+0.06 g"] - where["−0.06 g"]) / 0.12
	if len(ticks) != 2 || !(perGram > 0) {
		t.Fatalf("%d ticks, axis %v", len(ticks), texts)
	}
	zero := (where["+0.06 g"] + where["−0.06 g"]) / 2
	for i, want := range []float64{0.04, -0.03} {
		// The middle of a label's ink is not quite the middle of its line.
		if got := (centre(ticks[i]) - zero) / perGram; math.Abs(got-want) > 0.0005 {
			t.Errorf("tick %d stands at %.4f g, want %.2f", i+1, got, want)
		}
	}
}

// Any batch: everything on the sheet, every tested float shown once, the numbers
// of all that do not keep their rating and of no other, no word on another or on
// a tick.
func TestAnyBatch(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ratings := []unit.Gram{2.5, 4.5, 6, 8, 10}
		n := rapid.IntRange(1, 40).Draw(r, "floats")
		floats := make([]loading.Graded, n)
		tested := 0
		for i := range floats {
			nominal := rapid.SampledFrom(ratings).Draw(r, "rating")
			d := unit.Gram(rapid.Float64Range(-0.12, 0.12).Draw(r, "off"))
			if rapid.IntRange(0, 9).Draw(r, "far") == 0 {
				d *= 10
			}
			floats[i] = loading.Graded{Number: 900 + i, Nominal: nominal, Sum: nominal + d, U: unit.Gram(rapid.Float64Range(0, 0.1).Draw(r, "u")),
				About: rapid.IntRange(0, 5).Draw(r, "about") == 0}
			if !floats[i].About {
				tested++
			}
		}
		rep := report(t, unit.Gram(rapid.SampledFrom([]float64{0.01, 0.02, 0.05, 0.1}).Draw(r, "tolerance")), floats...)
		sp := spec(t)
		if sp.Narrow = rapid.Bool().Draw(r, "narrow"); sp.Narrow {
			sp.Width = narrowest
		}
		s, err := Grading(rep, sp)
		if tested == 0 {
			if fault.ClassOf(err) != fault.NotFound {
				r.Fatal(err)
			}
			return
		}
		if err != nil {
			r.Fatal(err)
		}
		if page, b := geom.XYWH(0, 0, s.Size.W, s.Size.H), s.Bounds(draw.Layers()...); !page.Contains(b) {
			r.Fatalf("%v is not on %v", b, page)
		}
		ticks, words, texts := things(s)
		all := " " + strings.Join(texts, " ") + " "
		shown := len(ticks)
		for _, g := range rep.Floats {
			numbered := strings.Contains(all, fmt.Sprintf(" %d ", g.Number))
			if want := g.Verdict != loading.Keeps && g.Verdict != loading.Untested; numbered != want {
				r.Fatalf("float %d %s: its number is shown: %v", g.Number, g.Verdict, numbered)
			}
			if strings.Contains(all, fmt.Sprintf(" %d  ", g.Number)) {
				shown++ // an arrow at the edge
			}
		}
		if shown != tested {
			r.Fatalf("%d ticks and arrows, %d tested", shown, tested)
		}
		for i, a := range words {
			for j, b := range words[:i] {
				if a.Inset(0.01).Overlaps(b) {
					r.Fatalf("%q meets %q", texts[i], texts[j])
				}
			}
			for _, b := range ticks {
				if a.Inset(0.01).Overlaps(b) {
					r.Fatalf("%q stands on a tick", texts[i])
				}
			}
		}
	})
}

// A key too long for the plotted width stands on lines from the edge, all of it.
func TestLongKey(t *testing.T) {
	s := spec(t)
	s.Width = leastWidth
	short, err := Grading(day(t), s)
	if err != nil {
		t.Fatal(err)
	}
	s.Captions.Key = []string{"shaded: within a tolerance of 0.02 g on either side", "bar: expanded uncertainty of the float's own sum, k = 2", "triangle: mean, on one standard deviation"}
	sheet, err := Grading(day(t), s)
	if err != nil {
		t.Fatal(err)
	}
	_, words, texts := things(sheet)
	all := strings.Join(texts, "|")
	for _, k := range s.Captions.Key {
		if !strings.Contains(all, k) {
			t.Errorf("no %q", k)
		}
	}
	for i, b := range words {
		if !geom.XYWH(0, 0, sheet.Size.W, sheet.Size.H).Contains(b) {
			t.Errorf("%q at %v leaves the sheet", texts[i], b)
		}
	}
	if sheet.Size.H <= short.Size.H {
		t.Errorf("%v mm high with three lines, %v with one", sheet.Size.H, short.Size.H)
	}
}

// A mean off the axis is not drawn, and not explained either.
func TestMeanOffTheAxis(t *testing.T) {
	for off, want := range map[unit.Gram]bool{0.01: true, 3: false} {
		rep := report(t, 0.02, loading.Graded{Number: 1, Nominal: 8, Sum: 8 + off, U: 0.01}, loading.Graded{Number: 2, Nominal: 8, Sum: 8, U: 0.01})
		s, err := Grading(rep, spec(t))
		if err != nil {
			t.Fatal(err)
		}
		_, _, texts := things(s)
		if got := strings.Contains(strings.Join(texts, " "), "triangle"); got != want {
			t.Errorf("off by %v: explained: %v", off, got)
		}
	}
}

func TestRefused(t *testing.T) {
	s := spec(t)
	s.Width = 60
	if _, err := Grading(day(t), s); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("narrow: %v", err)
	}
	if _, err := Grading(report(t, 0.05), spec(t)); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("empty: %v", err)
	}
}
