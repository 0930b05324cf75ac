package bench

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/symbol"
	"floatmark/loading/unit"
)

var keyField = regexp.MustCompile(`name="key" value="([^"]*)"`)

// untested is few without readings.
func untested(t *testing.T) *at {
	t.Helper()
	a := few(t)
	_, err := a.shop.EditDraft(context.Background(), "26-11", a.draft().Version, "readings out", job.ByBench, func(d *batch.Doc) error {
		for i := range d.Len("float") {
			for _, key := range []string{"reading", "bare"} {
				if err := d.Set(fmt.Sprintf("float/%d/%s", i, key), nil); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// One float after another is read; a reading sent twice is one; what is wrong is
// refused with what was typed.
func TestTankOnTheLaptop(t *testing.T) {
	a := untested(t)
	page := a.page("tank")
	if p := text(page); !strings.Contains(p, "0 of 2 floats are read") || !strings.Contains(page, `href="`+Path+`phone?batch=26-11"`) {
		t.Fatalf("%s", p)
	}
	key := keyField.FindStringSubmatch(page)[1]
	said := []string{"key", key, "number", "1", "set", "", "reading", "0,85", "stage", "fitted", "above", "0"}
	to := a.post(303, "tank", said...).Header().Get("Location")
	a.post(303, "tank", said...)
	page = a.page(strings.TrimPrefix(to, Path+"b/26-11/"))
	p := text(page)
	if !strings.Contains(p, "1 of 2 floats are read") || !strings.Contains(p, "It is stored.") || !strings.Contains(p, "0.850 g ± 0.025 g") {
		t.Errorf("%s", p)
	}
	if !strings.Contains(page, `<option value="2" selected="selected">`) {
		t.Error("the next float is not offered")
	}
	key = keyField.FindStringSubmatch(page)[1]
	refused := a.post(422, "tank", "key", key, "number", "2", "set", "", "reading", "a lot", "stage", "fitted", "above", "0").Body.String()
	if !strings.Contains(refused, `value="a lot"`) || !strings.Contains(refused, "role=\"alert\"") {
		t.Errorf("%s", text(refused))
	}
	if n, err := a.shop.TankCount("26-11"); err != nil || n != 1 {
		t.Errorf("%d readings, %v", n, err)
	}
	a.post(303, "tank", "key", key, "number", "2", "set", "", "reading", "0.8", "stage", "fitted", "above", "0.5")
	// Once all are read none is offered, so that no reading goes onto a float unseen.
	if page := a.page("tank"); strings.Contains(page, `name="reading"`) || strings.Contains(page, `<tr class="on"`) || !strings.Contains(text(page), "Every float is read. To read one again") {
		t.Error("a float is offered though all are read")
	}
	if page := a.page("tank?number=2"); !strings.Contains(page, `name="reading"`) || !strings.Contains(text(page), "This float is read already.") {
		t.Error("a float cannot be read again, or nothing says that it is")
	}
	if page := a.page("tank"); !strings.Contains(page, `b/26-11/grade">Grade them`) {
		t.Error("floats that are all read do not lead on")
	}
}

// A plan follows what the tank says.
func TestTankReadingPlannedAnew(t *testing.T) {
	a := untested(t)
	s := &server{}
	s.at.Store(a.shop)
	before, err := s.plan(context.Background(), a.draft())
	if err == nil {
		t.Fatalf("floats that nobody read have the figures %v", before.Floats[0].Rating)
	}
	if _, err := a.shop.AddTankReadings(context.Background(), "26-11", []job.TankEntry{{Key: "a", Number: 1, Reading: "0.85", Stage: "fitted"}}); err != nil {
		t.Fatal(err)
	}
	now, err := s.plan(context.Background(), a.draft())
	if err != nil || now.Floats[0].Rating.About {
		t.Errorf("%v", err)
	}
}

func TestTankHow(t *testing.T) {
	a := few(t)
	a.post(303, "tank/how", "tank/metal", "tin", "tank/water_c", "18,5", "tank/tip", "dry", "tank/scale", "0.1")
	if how := a.draft().File.Tank; how.Metal.Key != "tin" || how.Water.TempC != 18.5 || how.Tip.String() != "dry" || how.ScaleStep != 0.1 {
		t.Errorf("%+v", how)
	}
}

// In the LAN the page leads phones to theirs.
func TestTankPhone(t *testing.T) {
	a := few(t)
	r := httptest.NewRequest("GET", Path+"b/26-11/tank", nil)
	lan := context.WithValue(r.Context(), http.LocalAddrContextKey, &net.TCPAddr{IP: net.IPv4(192, 0, 2, 7), Port: 8017}) // RFC 5737
	page := a.send(r.WithContext(lan)).Body.String()
	const want = "http://192.0.2.7:8017/-/tank?batch=26-11"
	if !strings.Contains(page, `href="`+want+`"`) || strings.Contains(page, "Let your phone in") {
		t.Errorf("%s", text(page))
	}
	code := httptest.NewRequest("GET", Path+"phone/code.svg?batch=26-11", nil)
	got := a.send(code.WithContext(lan)).Body.String()
	m, err := symbol.QR(want)
	if err != nil || got != codePicture(m) || !strings.HasPrefix(got, "<svg") {
		t.Errorf("%v %s", err, got)
	}
	if w := a.send(code); w.Code != http.StatusNotFound {
		t.Errorf("a code that leads nowhere: %d", w.Code)
	}
}

// A reading that was a slip is struck out, and counts again.
func TestTankStrike(t *testing.T) {
	a := untested(t)
	if p := text(a.page("tank/readings")); !strings.Contains(p, "Nothing was read at the tank yet.") {
		t.Errorf("%s", p)
	}
	if _, err := a.shop.AddTankReadings(context.Background(), "26-11", []job.TankEntry{{Key: "a", Number: 1, Reading: "0.85", Stage: "fitted"}}); err != nil {
		t.Fatal(err)
	}
	key := keyField.FindStringSubmatch(a.page("tank/readings"))[1]
	if to := a.post(303, "tank/readings", "key", key, "number", "1", "out", "1").Header().Get("Location"); to != Path+"b/26-11/tank/readings#float-1" {
		t.Errorf("it goes on at %s", to)
	}
	if page := a.page("tank/readings"); !strings.Contains(page, "<s>0.85 g</s>") || !strings.Contains(text(a.page("tank")), "0 of 2 floats are read") {
		t.Errorf("%s", text(page))
	}
	a.post(303, "tank/readings", "key", key, "number", "1")
	if p := text(a.page("tank")); !strings.Contains(p, "1 of 2 floats are read") {
		t.Errorf("%s", p)
	}
	a.post(404, "tank/readings", "key", "nothing", "number", "1", "out", "1")
}

// Built-in weights that stand below each other have the same decimals.
func TestBuiltInDecimals(t *testing.T) {
	for want, all := range map[unit.Gram][]job.TankPlace{
		0.01:  {{BuiltIn: 7.2}, {BuiltIn: 7.21}, {}},
		0.001: {{BuiltIn: 7.2}, {BuiltIn: 7.215}},
	} {
		if got := builtStep(all); got != want {
			t.Errorf("%+v: %v, want %v", all, got, want)
		}
	}
}

// A reading that cannot go with the rating is stored, and doubted at once: who reads
// still has the float in hand.
func TestTankDoubtsASlip(t *testing.T) {
	a := untested(t)
	for _, one := range []struct {
		reading string
		doubted bool
	}{{"74", true}, {"0,8", false}} {
		key := keyField.FindStringSubmatch(a.page("tank"))[1]
		number := map[bool]string{true: "1", false: "2"}[one.doubted]
		to := a.post(303, "tank", "key", key, "number", number, "set", "", "reading", one.reading, "stage", "fitted", "above", "0").Header().Get("Location")
		to, at, _ := strings.Cut(to, "#")
		if (at == "title") != (number == "2") { // the last one leads to the heading
			t.Errorf("float %s leads to #%s", number, at)
		}
		page := a.page(strings.TrimPrefix(to, Path+"b/26-11/"))
		_, stored, _ := strings.Cut(page, `<div class="stored`)
		stored, _, _ = strings.Cut(stored, `class="downs"`)
		if doubted := strings.Contains(stored, "one of them is mistyped") && strings.Contains(stored, "tank/readings"); doubted != one.doubted || !strings.Contains(stored, "It is stored.") {
			t.Errorf("%s: doubted %v, want %v: %s", one.reading, doubted, one.doubted, text(stored))
		}
	}
	if page := a.page("grade"); !strings.Contains(page, `b/26-11/tank/readings">`) {
		t.Error("grading leads no way to the reading that is wrong")
	}
}
