package bench

import (
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http/httptest"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
)

// The page says what the plan says: spread, what to do, and every float's figures;
// a float that comes to another rating is made one of it with one press.
func TestGrade(t *testing.T) {
	a := few(t)
	// Float 2 was made as 8 g and weighs in at 7.5 g.
	_, err := a.shop.EditDraft(context.Background(), "26-11", a.draft().Version, "another rating", job.ByBench, func(d *batch.Doc) error {
		if err := d.Set(fmt.Sprintf("rating/%d", d.Len("rating")), map[string]any{"load": "7.5 g"}); err != nil {
			return err
		}
		if err := d.Set("float/1/bare", nil); err != nil {
			return err
		}
		return d.Set("float/1/reading", "0.28 g")
	})
	if err != nil {
		t.Fatal(err)
	}
	page := a.page("grade")
	p := text(page)
	for _, want := range []string{"What to do 2 Sedge waggler regrade to 7.5 g", "Make it one of 7.5 g", "8 g 2 1 ", "1 Sedge waggler 8.00 g 7.22 g 0.78 g 0.03 g", "2 Sedge waggler 7.50 g regraded 7.20 g 0.30 g 0.03 g"} {
		if !strings.Contains(p, want) {
			t.Errorf("%q is not said: %s", want, p)
		}
	}
	r := httptest.NewRequest("GET", Path+"b/26-11/grade/spread.svg", nil)
	plain := a.send(r).Body.String()
	r.Header.Set("Accept-Encoding", "gzip")
	packed := a.send(r)
	z, err := gzip.NewReader(packed.Body)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := io.ReadAll(z); err != nil || string(got) != plain || !strings.Contains(plain, "<svg") || !strings.Contains(plain, "<title>Measured sums</title>") {
		t.Errorf("%v: %.200s", err, plain)
	}
	r = httptest.NewRequest("GET", Path+"b/26-11/grade/spread.svg?narrow=1", nil)
	if narrow := a.send(r).Body.String(); !strings.Contains(narrow, "<svg") || narrow == plain {
		t.Errorf("narrow: %.200s", narrow)
	}
	a.post(303, "grade/rating", "place", "1", "rating", "7.5 g")
	if d := a.draft(); d.Err != nil || d.File.Batch.Floats[1].Nominal != 7.5 {
		t.Errorf("%v", d.Err)
	}
	if p := text(a.page("grade")); !strings.Contains(p, "Every float that was tested keeps its rating") {
		t.Errorf("%s", p)
	}
}

// A batch that cannot be worked out says why, and where to go.
func TestGradeOfWhatIsNotWhole(t *testing.T) {
	a := begun(t)
	page := a.page("grade")
	if !strings.Contains(text(page), "Say which floats there are") || !strings.Contains(page, `b/26-11/floats">Look at the floats`) {
		t.Errorf("%s", text(page))
	}
}

// The figures of a long board are a press away, not a mile of page.
func TestGradeOfManyFloats(t *testing.T) {
	a := demo(t)
	if strings.Contains(a.page("grade"), `class="folded"`) {
		t.Error("26 floats are folded away")
	}
	a.post(303, "floats/add", "count", "60", "pattern", "rush", "rating", "2.5 g")
	if page := a.page("grade"); !strings.Contains(page, `class="folded"`) || !strings.Contains(page, `id="f86"`) {
		t.Error("the figures of 86 floats stand open, or are gone")
	}
}

// The picture of a batch is that of its first float.
func TestBatchPictureIsOfItsFloats(t *testing.T) {
	a := demo(t)
	look := func() string { return a.send(httptest.NewRequest("GET", Path+"b/26-11/look.svg", nil)).Body.String() }
	was := look()
	a.post(303, "floats/row", "place", "0", "pattern", "rush")
	if now := look(); now == was || !strings.Contains(now, "<svg") {
		t.Error("its first float is of another pattern, and the picture is not")
	}
}
