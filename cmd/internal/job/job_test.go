package job

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// preview makes a workshop nest coarsely: most tests look at something else.
func preview(w *Workshop, path string, err error) (*Workshop, string, error) {
	if w != nil {
		w.Preview = true
	}
	return w, path, err
}

// printDemo prints the demo into a folder of its own.
func printDemo(t testing.TB, dir string) (*Workshop, *Plan, []Output) {
	t.Helper()
	shop, path, err := preview(Demo(dir))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := shop.Plan(context.Background(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	outs, err := shop.Print(context.Background(), plan, dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	return shop, plan, outs
}

func TestPrintIsRepeatable(t *testing.T) {
	dir, other := t.TempDir(), t.TempDir()
	_, first, a := printDemo(t, dir)
	_, second, b := printDemo(t, dir)
	_, _, c := printDemo(t, other)
	if !first.Provisional || second.Provisional {
		t.Errorf("provisional %v, then %v: the first print stores the key", first.Provisional, second.Provisional)
	}
	for i := range a {
		if a[i].SHA256 != b[i].SHA256 || a[i].SHA256 != c[i].SHA256 {
			t.Errorf("%s differs between prints", a[i].Name)
		}
		got, err := os.ReadFile(filepath.Join(dir, a[i].Name))
		if err != nil || !bytes.Equal(got, a[i].data) {
			t.Errorf("%s on the disc is not what was rendered: %v", a[i].Name, err)
		}
	}
	left, err := filepath.Glob(filepath.Join(dir, ".*.part"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
}

func TestDemoIsTheWholeJob(t *testing.T) {
	shop, plan, _ := printDemo(t, t.TempDir())
	b := plan.File.Batch
	if len(b.Floats) < 24 || len(b.Ratings) < 5 || len(b.Patterns) < 3 {
		t.Errorf("%d floats, %d ratings, %d patterns", len(b.Floats), len(b.Ratings), len(b.Patterns))
	}
	lead, brass, about, adds := 0, 0, 0, map[unit.Gram]bool{}
	for _, f := range plan.Floats {
		r := f.Rating
		if got := r.BuiltIn + r.Add; math.Abs(float64(got-r.Printed)) > 1e-9 {
			t.Errorf("float %d: %v + %v is not %v as printed", f.Float.Number, r.BuiltIn, r.Add, r.Printed)
		}
		if !r.About && math.Abs(float64(r.Add-r.Measured)) > float64(max(r.U, r.Step/2))+1e-9 {
			t.Errorf("float %d prints an add of %v, measured %v with an uncertainty of %v", f.Float.Number, r.Add, r.Measured, r.U)
		}
		if w := f.Float.Weight; w != nil {
			if w.Metal.Lead {
				lead++
			} else {
				brass++
			}
		}
		if r.About {
			about++
		}
		adds[r.Measured] = true
		e, ok, err := shop.Entry(string(f.Float.ID))
		if err != nil || !ok || e.Number != f.Float.Number || e.RatingG != r.Printed {
			t.Errorf("the record of float %d: %+v %v %v", f.Float.Number, e, ok, err)
		}
	}
	if lead != 1 || brass < 5 || about < 1 || len(adds) < 15 {
		t.Errorf("%d lead, %d brass, %d about, %d different adds", lead, brass, about, len(adds))
	}
	if all, err := shop.Entries(); err != nil || len(all) != len(plan.Floats) {
		t.Errorf("%d entries, %v", len(all), err)
	}
}

// A print that fails leaves no file and no change, wherever it fails.
func TestFailedPrintLeavesNothing(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(t *testing.T, shop *Workshop, out string) context.Context
	}{
		{"stopped", func(*testing.T, *Workshop, string) context.Context {
			ctx, stop := context.WithCancel(context.Background())
			stop()
			return ctx
		}},
		{"records are a folder", func(t *testing.T, shop *Workshop, _ string) context.Context {
			if err := os.MkdirAll(filepath.Join(shop.Dir, recordsFile), 0o755); err != nil {
				t.Fatal(err)
			}
			return context.Background()
		}},
		{"output is a file", func(t *testing.T, _ *Workshop, out string) context.Context {
			if err := os.WriteFile(out, nil, 0o644); err != nil {
				t.Fatal(err)
			}
			return context.Background()
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			shop, path, err := preview(Demo(filepath.Join(dir, "demo")))
			if err != nil {
				t.Fatal(err)
			}
			plan, err := shop.Plan(context.Background(), path, nil)
			if err != nil {
				t.Fatal(err)
			}
			out := filepath.Join(dir, "new", "out")
			if c.name == "output is a file" {
				out = filepath.Join(dir, "out")
			}
			ctx := c.spoil(t, shop, out)
			_, err = shop.Print(ctx, plan, out, nil)
			if err == nil {
				t.Fatal("it printed")
			}
			if c.name != "stopped" && fault.ClassOf(err) != fault.Machine && fault.ClassOf(err) != fault.Input {
				t.Errorf("class %v of %v", fault.ClassOf(err), err)
			}
			if info, err := os.Stat(out); err == nil && info.IsDir() {
				t.Errorf("the folder %s was left", out)
			}
			if _, err := os.Stat(filepath.Join(dir, "new")); !errors.Is(err, os.ErrNotExist) {
				t.Error("a new folder was left behind")
			}
		})
	}
}

// What was printed is stored whole: also the shot set that the marks speak in.
func TestPrintIsStoredWhole(t *testing.T) {
	shop, plan, outs := printDemo(t, t.TempDir())
	s, err := record.OpenReadOnly(filepath.Join(shop.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	prints, err := s.Prints(plan.File.Batch.Name)
	if err != nil || len(prints) != 1 || prints[0].State != record.Pending || len(prints[0].Regions) != len(plan.Decals) {
		t.Fatalf("%d prints, %v", len(prints), err)
	}
	var p printed
	if err := json.Unmarshal(prints[0].Data, &p); err != nil {
		t.Fatal(err)
	}
	if p.Convention != "gb-modern" || p.Revision < 1 || p.Metal != "tin" || len(p.Sizes) != len(plan.File.Batch.Convention.Sizes) ||
		p.Sizes[1].Mass <= 0 || len(p.Floats) != len(plan.Floats) || len(p.Files) != len(outs) || p.Source != string(batch.Demo()) ||
		len(p.Layouts) != len(plan.Decals) {
		t.Errorf("stored: %+v", p)
	}
}

// Floats that the file no longer has keep their records and are told.
func TestMissingFloatIsKept(t *testing.T) {
	dir := t.TempDir()
	shop, first, _ := printDemo(t, dir)
	src := string(batch.Demo())
	cut := strings.LastIndex(src, "[[float]]")
	plan, err := shop.PlanSource(context.Background(), "demo.toml", []byte(src[:cut]), nil)
	if err != nil {
		t.Fatal(err)
	}
	gone := first.Floats[len(first.Floats)-1].Float.Number
	told := false
	for _, n := range plan.Notices {
		told = told || n.Code == "kept" && n.Float == gone
	}
	if !told || len(plan.Floats) != len(first.Floats)-1 {
		t.Errorf("%d floats, notices %v", len(plan.Floats), plan.Notices)
	}
	for i := range plan.Floats {
		if plan.Floats[i].Float.ID != first.Floats[i].Float.ID {
			t.Errorf("float %d changed its id", plan.Floats[i].Float.Number)
		}
	}
}

func TestConvertBothWays(t *testing.T) {
	c, err := Convert(Question{Load: "3AAA+2No4", Convention: "gb-modern", TempC: 15})
	if err != nil || math.Abs(float64(c.Gram)-2.8) > 1e-9 || c.Metal != "tin" {
		t.Fatalf("%+v %v", c, err)
	}
	for _, row := range c.Rows {
		if row.Key == "gb-modern" && (len(row.Equivalents) == 0 || math.Abs(float64(row.Equivalents[0].Rest)) > 0.02) {
			t.Errorf("it does not come back: %+v", row)
		}
		// 2.8 g of tin (7.28) pulls as much as 2.649 g of lead (11.34) in fresh
		// water of 15 °C: k 0.8628 and 0.9119.
		if row.Key == "gb-traditional" && math.Abs(float64(row.Gram)-2.8*0.8628/0.9119) > 0.002 {
			t.Errorf("in lead it is %v", row.Gram)
		}
	}
	if _, err := Convert(Question{Load: "3XYZ", Convention: "gb-modern", TempC: 15}); fault.ClassOf(err) != fault.Input {
		t.Errorf("%v", err)
	}
}

// BenchmarkPrint is the main job, from the batch file to files and records.
func BenchmarkPrint(b *testing.B) {
	dir := b.TempDir()
	shop, path, err := Demo(dir)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		plan, err := shop.Plan(context.Background(), path, nil)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := shop.Print(context.Background(), plan, dir, nil); err != nil {
			b.Fatal(err)
		}
	}
}
