package job

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"floatmark/cmd/internal/batch"
)

// Whatever a phone sends is refused or is a reading whose figures are numbers and
// which is read back as it was.
func FuzzTankEntry(f *testing.F) {
	f.Add(`{"key":"k","number":1,"set":"gb-traditional","shot":[{"size":"AAA","n":1}],"stage":"fitted","above_mm":"0.5","date":"2020-11-21"}`)
	f.Add(`{"key":"k","number":2,"set":"","reading":"0,92","stage":"varnished","above_mm":"−1"}`)
	f.Add(`{"key":"k","number":3,"set":"gb-modern","reading":"3AAA+2No4"}`)
	f.Add(`{"key":"k","number":26,"set":"continental","reading":"NaN","above_mm":"1e309","date":"0000-00-00"}`)
	f.Add(`{"key":"k","number":-1,"shot":[{"size":"","n":-9223372036854775808}]}`)
	file, err := batch.Parse("demo.toml", batch.Demo(), nil, nil)
	if err != nil {
		f.Fatal(err)
	}
	w := &Workshop{}
	sets := w.tankSets(file)
	now := time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, text string) {
		var e TankEntry
		if json.Unmarshal([]byte(text), &e) != nil {
			return
		}
		for i := range file.Batch.Floats {
			r, err := w.readEntry(file, &file.Batch.Floats[i], sets, e, now)
			if err != nil {
				continue
			}
			if m := float64(hungOf(r)); !(m >= 0 && m <= 500) || math.IsNaN(float64(r.AboveMM)) || math.IsInf(float64(r.AboveMM), 0) || r.Noted == "" || r.Stage == "" || r.Date > "2026-11-20" {
				t.Fatalf("%s became %+v", text, r)
			}
			if _, err := json.Marshal(r); err != nil {
				t.Fatal(err)
			}
		}
	})
}
