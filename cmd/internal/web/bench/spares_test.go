package bench

import (
	"bytes"
	"context"
	"image/png"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/record"
)

// Spares are asked for on the page of sheets; printed right they are shown with
// their place, go on a float that bears the same, and come back from a mistake.
func TestSpares(t *testing.T) {
	s, do := printingBench(t, Options{})
	if code, _, page := do("GET", "spares", nil); code != 200 || !strings.Contains(page, "Nothing lies ready") {
		t.Fatalf("%d\n%s", code, text(page))
	}
	d, err := s.shop().Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	if d, err = s.shop().EditDraft(context.Background(), "26-11", d.Version, "spares", job.ByBench, func(d *batch.Doc) error { return d.Set("print/spares", int64(1)) }); err != nil || d.Err != nil {
		t.Fatal(err, d.Err)
	}
	if _, err := s.shop().PrintDraft(context.Background(), d, job.PrintOrder{Coarse: true}, nil); err != nil {
		t.Fatal(err)
	}
	all, err := s.shop().SpareList()
	if err != nil || len(all) == 0 || all[0].Sheet != 1 || all[0].Field == "" {
		t.Fatalf("%+v %v", all, err)
	}
	id := all[0].ID
	if _, _, page := do("GET", "spares", nil); !strings.Contains(page, "Not known to have come out right") || !strings.Contains(page, id) {
		t.Error(text(page))
	}
	if err := s.shop().ConfirmPrint(context.Background(), 1); err != nil {
		t.Fatal(err)
	}
	_, _, page := do("GET", "spares", nil)
	if want := "On sheet 1, field " + all[0].Field; !strings.Contains(page, want) || !strings.Contains(page, `value="26-11/1"`) {
		t.Errorf("it lacks %q: %s", want, text(page))
	}
	code, _, data := do("GET", "spares/"+id+".png", nil)
	img, err := png.Decode(bytes.NewReader([]byte(data)))
	if code != 200 || err != nil {
		t.Fatal(code, err)
	}
	const perMM, air = 48 / 25.4, 12.0
	ringed := func(x, y float64) bool {
		for dx := -1; dx <= 1; dx++ {
			r, g, b, _ := img.At(int((x+air)*perMM)+dx, int((y+air)*perMM)).RGBA()
			if r>>8 > 0xa0 && g>>8 < 0x40 && b>>8 < 0x80 {
				return true
			}
		}
		return false
	}
	if at := all[0].At; !ringed(at[0]-14, at[1]) && !ringed(at[0]+14, at[1]) {
		t.Errorf("no ring round %v", at)
	}
	for path, form := range map[string]url.Values{"spares/" + id: {"float": {"26-11/x"}}, "spares/" + id + "/": nil, "spares/ZZ": {"float": {"26-11/1"}}, "spares/" + id + "/back": {}} {
		if code, _, _ := do("POST", path, form); code < 400 || code >= 500 {
			t.Errorf("%s %v: %d", path, form, code)
		}
	}
	if code, _, page := do("POST", "spares/"+id, url.Values{"float": {"26-11/1"}}); code != http.StatusSeeOther {
		t.Fatal(code, text(page))
	}
	if _, _, page := do("GET", "spares", nil); !strings.Contains(page, "Spares that are on floats") {
		t.Error(text(page))
	}
	if code, _, _ := do("POST", "spares/"+id+"/back", nil); code != http.StatusSeeOther {
		t.Error(code)
	}
	if all, err := s.shop().SpareList(); err != nil || all[0].State != "unclaimed" {
		t.Errorf("%+v %v", all, err)
	}
}

// Unnumbered marks are shown and counted anew by hand.
func TestMarksReady(t *testing.T) {
	s, do := printingBench(t, Options{})
	ctx := context.Background()
	if err := s.shop().MoveMarks(ctx, record.Marks{Stock: "a4-film-white", Pattern: "sedge", Figures: "8 g", Count: 5}, ""); err != nil {
		t.Fatal(err)
	}
	marks, err := s.shop().MarksReady()
	if err != nil || len(marks) == 0 || marks[0].Count != 5 {
		t.Fatalf("%+v %v", marks, err)
	}
	form := func(count string) url.Values {
		return url.Values{"stock": {marks[0].Stock}, "pattern": {marks[0].Pattern}, "figures": {marks[0].Figures}, "count": {count}}
	}
	for count, want := range map[string]int{"x": 422, "-1": 422, "3": 303} {
		if code, _, page := do("POST", "marks", form(count)); code != want {
			t.Errorf("%q: %d, want %d: %s", count, code, want, text(page))
		}
	}
	if marks, err = s.shop().MarksReady(); err != nil || marks[0].Count != 3 {
		t.Errorf("%+v %v", marks, err)
	}
	if _, _, page := do("GET", "spares", nil); !strings.Contains(text(page), "Unnumbered marks printed ahead") {
		t.Error(text(page))
	}
}
