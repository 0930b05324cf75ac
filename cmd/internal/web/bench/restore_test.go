package bench

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// sent sends a file in a form's field.
func sent(t *testing.T, h http.Handler, path, field string, data []byte) (int, string) {
	t.Helper()
	var buf bytes.Buffer
	form := multipart.NewWriter(&buf)
	part, err := form.CreateFormFile(field, "copy.db")
	if err == nil {
		_, err = part.Write(data)
	}
	if err == nil {
		err = form.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest("POST", Path+path, &buf)
	r.Header.Set("Content-Type", form.FormDataContentType())
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

// value finds what a hidden field of a page holds.
func value(t *testing.T, page, name string) string {
	t.Helper()
	m := regexp.MustCompile(`name="` + name + `" value="([^"]*)"`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no field %q: %s", name, text(page))
	}
	return m[1]
}

// A backup that was kept brings everything back: what is in it and what is lost is
// shown first, a second press replaces the record, and what was there is kept. All
// of it in a server that has the record open for its pages.
func TestRestorePage(t *testing.T) {
	var gate Gate
	var shelf *job.Shelf
	s, do := recordedBench(t, Options{Alone: func(do func() error) error { return gate.Alone(func() error { return shelf.Apart(do) }) }})
	shelf = s.shop().Shelf()
	defer shelf.Close()
	h := gate.Through(s)
	floats, _, err := s.shop().FloatsOf("26-11", 10)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok, err := shelf.Entry(floats[0].Key); !ok || err != nil { // from now on it is open
		t.Fatal(ok, err)
	}
	_, _, backup := do("GET", "records/backup.db", nil)
	_, _, export := do("GET", "records/export.zip", nil)
	another(t, s, "26-12", "")
	if code, _, page := do("GET", "records/restore", nil); code != 200 || !strings.Contains(page, "Choose the copy you kept") {
		t.Errorf("%d %s", code, text(page))
	}
	for want, data := range map[string]string{"neither a backup nor an export": "a letter", "is empty": "", "damaged": backup[:len(backup)/2]} {
		if code, page := sent(t, h, "records/restore", "file", []byte(data)); code != http.StatusUnprocessableEntity || want != "damaged" && !strings.Contains(page, want) || strings.Contains(page, "incoming") {
			t.Errorf("%s: %d %s", want, code, text(page))
		}
	}
	if code, page := sent(t, h, "records/restore", "other", []byte(backup)); code != http.StatusUnprocessableEntity || !strings.Contains(page, "choose the file first") {
		t.Errorf("%d %s", code, text(page))
	}
	if code, page := sent(t, h, "records/restore", "file", []byte(backup)); code != http.StatusSeeOther {
		t.Fatal(code, text(page))
	}
	_, _, page := do("GET", "records/restore", nil)
	for _, want := range []string{"What is in this backup", "26-12 floats: 0", "The record here has what the copy lacks", "Put this backup in the place"} {
		if !strings.Contains(text(page), want) {
			t.Errorf("it lacks %q: %s", want, text(page))
		}
	}
	form := url.Values{"how": {"backup"}, "sum": {value(t, page, "sum")}, "rows": {value(t, page, "rows")}}
	for _, bad := range []url.Values{{}, {"how": {"x"}, "rows": {"1"}}} {
		if code, _, _ := do("POST", "records/restore/do", bad); code != http.StatusUnprocessableEntity {
			t.Errorf("%v: %d", bad, code)
		}
	}
	if code, _, _ := do("POST", "records/restore/do", form); code != http.StatusSeeOther {
		t.Fatal(code)
	}
	ended(t, s, restoreKey)
	_, _, page = do("GET", "records/restore", nil)
	if !strings.Contains(page, "The backup is in place") || !strings.Contains(page, ".before-restore-") || strings.Contains(page, "What is in this backup") {
		t.Fatalf("%s", text(page))
	}
	// The button pressed twice, and the page loaded again, say the same.
	if code, _, _ := do("POST", "records/restore/do", form); code != http.StatusSeeOther {
		t.Errorf("pressed twice: %d", code)
	}
	if code, _, page := do("GET", "records/restore", nil); code != http.StatusOK || !strings.Contains(page, "The backup is in place") {
		t.Errorf("%d %s", code, text(page))
	}
	if _, err := s.shop().Draft("26-12"); err == nil {
		t.Error("what came after the backup is still there")
	}
	if kept, err := filepath.Glob(filepath.Join(s.shop().Dir, "*.before-restore-*")); err != nil || len(kept) != 1 {
		t.Errorf("%v %v", kept, err)
	}
	if _, ok, err := shelf.Entry(floats[0].Key); !ok || err != nil {
		t.Error(ok, err)
	}
	// The export of the same workshop adds nothing.
	if code, page := sent(t, h, "records/restore", "file", []byte(export)); code != http.StatusSeeOther {
		t.Fatal(code, text(page))
	}
	_, _, page = do("GET", "records/restore", nil)
	if !strings.Contains(page, "What is in this export") {
		t.Fatal(text(page))
	}
	do("POST", "records/restore/do", url.Values{"how": {"export"}, "sum": {value(t, page, "sum")}, "rows": {value(t, page, "rows")}})
	ended(t, s, restoreKey)
	if _, _, page = do("GET", "records/restore", nil); !strings.Contains(page, "0 entries are new") {
		t.Errorf("%s", text(page))
	}
}

// Another process that has the record open is told of, and the copy can be put
// away.
func TestRestoreInUse(t *testing.T) {
	s, do := recordedBench(t, Options{})
	_, _, backup := do("GET", "records/backup.db", nil)
	other := s.shop().Shelf() // stands for another process
	defer other.Close()
	floats, _, err := s.shop().FloatsOf("26-11", 1)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok, err := other.Entry(floats[0].Key); !ok || err != nil {
		t.Fatal(ok, err)
	}
	sent(t, s, "records/restore", "file", []byte(backup))
	_, _, page := do("GET", "records/restore", nil)
	do("POST", "records/restore/do", url.Values{"how": {"backup"}, "sum": {value(t, page, "sum")}, "rows": {value(t, page, "rows")}})
	if code, _ := sent(t, s, "records/restore", "file", []byte(backup)); code != http.StatusUnprocessableEntity {
		t.Errorf("another copy while one is being restored: %d", code)
	}
	ended(t, s, restoreKey)
	code, _, page := do("GET", "records/restore", nil)
	if code != http.StatusUnprocessableEntity || !strings.Contains(page, "close every other floatmark") || !strings.Contains(page, "What is in this backup") {
		t.Errorf("%d %s", code, text(page))
	}
	if code, _, _ := do("POST", "records/restore/away", nil); code != http.StatusSeeOther {
		t.Error(code)
	}
	if _, err := os.Stat(filepath.Join(s.shop().Dir, "incoming")); err == nil {
		t.Error("it is still there")
	}
}

// A copy larger than is taken is refused with its limit.
func TestRestoreTooLarge(t *testing.T) {
	s, _ := printingBench(t, Options{})
	var buf bytes.Buffer
	form := multipart.NewWriter(&buf)
	if _, err := form.CreateFormFile("file", "copy.db"); err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest("POST", Path+"records/restore", io.MultiReader(&buf, strings.NewReader(strings.Repeat("x", 4096))))
	r.Header.Set("Content-Type", form.FormDataContentType())
	w := httptest.NewRecorder()
	r.Body = http.MaxBytesReader(w, r.Body, 1024) // as the server does, with more
	s.mux.ServeHTTP(w, r)
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "larger than 2 kB") {
		t.Errorf("%d %s", w.Code, text(w.Body.String()))
	}
	if MostBodyOf(Path+"records/restore") <= job.MostReceived || MostBodyOf(Path+"open") != MostBody {
		t.Error("limits")
	}
}
