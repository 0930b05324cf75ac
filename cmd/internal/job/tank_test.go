package job

import (
	"context"
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/water"
)

// What is stored of a reading gives the same load for ever.
func TestReadingsReadBack(t *testing.T) {
	c, _ := shot.ByKey("gb-modern")
	counts, err := shot.ParseCounts("3AAA+2No4", c)
	if err != nil {
		t.Fatal(err)
	}
	putty, err := water.ParseMetal("putty:9")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []tank.Reading{
		{Hung: 0.85, Metal: putty, Water: water.Usual(), Stage: tank.Fitted, Tip: tank.TipWashed, TipDiameter: 3},
		{Counted: counts, Metal: c.Metal, Water: water.Water{TempC: 12, Salinity: 35}, Stage: tank.Varnished, Tip: tank.TipDry,
			TipDiameter: 4.2, Above: -0.8, ReadTo: 0.25, ScaleStep: 0.1, With: []tank.Fitting{{Name: "swivel", Mass: 0.3, Metal: putty}}},
	} {
		data, err := json.Marshal(stored(want, c))
		if err != nil {
			t.Fatal(err)
		}
		r, got, err := readingOf(record.Reading{Batch: "b", Made: "2026-11-20T09:00:00Z", Data: data})
		if err != nil || r.Date != "2026-11-20" {
			t.Fatalf("%+v %v", r, err)
		}
		a, err1 := want.Load()
		b, err2 := got.Load()
		a.Metal.Source, b.Metal.Source = "", ""
		if err1 != nil || err2 != nil || a != b || !reflect.DeepEqual(stored(got, c), stored(want, c)) {
			t.Errorf("%+v (%v) became %+v (%v)", a, err1, b, err2)
		}
	}
	if _, _, err := readingOf(record.Reading{Data: json.RawMessage(`{"format":2,"stage":"fitted"}`)}); fault.ClassOf(err) != fault.Input {
		t.Errorf("a reading of tomorrow: %v", err)
	}
}

// A float without a reading in its file is rated by the stored ones, the
// finished float before the fitted one, less the allowance; it is no longer
// "about", and its own reading in the file wins.
func TestPlanUsesStoredReadings(t *testing.T) {
	shop, path, err := preview(Demo(t.TempDir()))
	if err != nil {
		t.Fatal(err)
	}
	plan := func(src string) *Plan {
		t.Helper()
		p, err := shop.PlanSource(context.Background(), "demo.toml", []byte(src), nil)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	src := string(batch.Demo())
	const number = 6 // the demo's float without a reading
	of := func(p *Plan) FloatPlan { return p.Floats[number-1] }
	told := func(p *Plan, code string) (all []string) {
		for _, n := range p.Notices {
			if n.Float == number && n.Code == code {
				all = append(all, n.Text)
			}
		}
		return all
	}
	if p := plan(src); !of(p).Rating.About || len(told(p, "stored-reading")) != 0 {
		t.Fatalf("before: %+v", of(p).Rating)
	}
	add := func(stage, text string) {
		t.Helper()
		if _, err := shop.AddReading(path, Noted{Number: "6", Reading: text, Stage: stage, Date: "2026-11-20"}, ""); err != nil {
			t.Fatal(err)
		}
	}
	lead, _ := water.MetalByKey("lead")
	measured := func(p *Plan) float64 { // in the lead that was hung
		r := of(p).Rating
		return float64(water.Equal(r.Measured, r.Metal, lead, r.Water))
	}
	add("fitted", "0.75 g")
	add("fitted", "0.77 g")
	p := plan(src)
	if of(p).Rating.About || math.Abs(measured(p)-0.76) > 1e-9 || len(told(p, "stored-reading")) != 1 {
		t.Errorf("two readings: %v, %v", measured(p), told(p, "stored-reading"))
	}
	coats := strings.Replace(src, "line = \"bottom end\"", "allowance = \"0.01 g\"\nline = \"bottom end\"", 1)
	p = plan(coats)
	pull := float64(water.Pull(0.76, lead, water.Usual()))
	if got := float64(water.Pull(of(p).Rating.Measured, of(p).Rating.Metal, of(p).Rating.Water)); math.Abs(got-(pull-0.01)) > 1e-9 || len(told(p, "allowance")) != 1 {
		t.Errorf("with an allowance it pulls %v, without %v; told %v", got, pull, told(p, "allowance"))
	}
	add("varnished", "0.74 g")
	p = plan(coats)
	if math.Abs(measured(p)-0.74) > 1e-9 || len(told(p, "allowance")) != 0 {
		t.Errorf("finished: %v, told %v", measured(p), told(p, "allowance"))
	}
	own := strings.Replace(src, "number = 6\n", "number = 6\nreading = \"0.78 g\"\n", 1)
	if p := plan(own); math.Abs(measured(p)-0.78) > 1e-9 || len(told(p, "stored-reading")) != 0 {
		t.Errorf("its own reading: %v", measured(p))
	}
	r, err := shop.Tank("26-11")
	if err != nil || len(r.Floats) != 2 || len(r.Allowances) != 1 || r.Allowances[0].Pattern != "sedge" ||
		math.Abs(float64(r.Allowances[0].Pull)-float64(water.Pull(0.02, lead, water.Usual()))) > 1e-9 {
		t.Errorf("%+v %v", r, err)
	}
}
