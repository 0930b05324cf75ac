package readback

import (
	"bytes"
	"flag"
	"html"
	"image"
	"io"
	"maps"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/cmd/internal/web/bench"
	"floatmark/label/symbol/scan"
)

var downloads = flag.String("downloads", "", "folder of decals, backers and job sheet as a browser saved them, with the ids they must hold in ids.txt")

// visitor goes through the bench as a browser without scripts does: it reads a
// page, fills in a form that is on it, and follows where that leads.
type visitor struct {
	*testing.T
	at, page string
}

func (v *visitor) open(at string) {
	v.Helper()
	r, err := http.Get(at)
	if err != nil {
		v.Fatal(err)
	}
	v.read(r)
}

func (v *visitor) read(r *http.Response) {
	v.Helper()
	defer r.Body.Close()
	data, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		v.Fatalf("%s: %s, %v\n%s", r.Request.URL, r.Status, err, data)
	}
	v.at, v.page = r.Request.URL.String(), string(data)
}

// The parts of a page that a form is made of.
var (
	formTag   = regexp.MustCompile(`(?s)<form([^>]*)>(.*?)</form>`)
	fieldTag  = regexp.MustCompile(`(?s)<(input|select|textarea)([^>]*)>`)
	optionTag = regexp.MustCompile(`<option value="([^"]*)"( selected="selected")?`)
	idOnPage  = regexp.MustCompile(`<span class="id">([0-9A-Z]+)</span>`)
)

func attr(tag, name string) string {
	m := regexp.MustCompile(`(?:^|\s)` + regexp.QuoteMeta(name) + `="([^"]*)"`).FindStringSubmatch(tag)
	if m == nil {
		return ""
	}
	return html.UnescapeString(m[1])
}

// submit fills in the form that goes to an address ending so, and sends it: what
// the page has in its fields, and over it what is typed.
func (v *visitor) submit(to string, typed map[string]string) {
	v.Helper()
	for _, f := range formTag.FindAllStringSubmatch(v.page, -1) {
		if action := attr(f[1], "action"); strings.HasSuffix(action, to) && attr(f[1], "method") == "post" {
			v.send(action, attr(f[1], "enctype"), filled(f[2], typed))
			return
		}
	}
	v.Fatalf("%s: no form goes to %s\n%s", v.at, to, v.page)
}

func filled(form string, typed map[string]string) url.Values {
	q := url.Values{}
	for _, m := range fieldTag.FindAllStringSubmatchIndex(form, -1) {
		kind, tag, rest := form[m[2]:m[3]], form[m[4]:m[5]], form[m[1]:]
		name, value := attr(tag, "name"), attr(tag, "value")
		if name == "" || strings.Contains(tag, `type="file"`) || (strings.Contains(tag, `type="checkbox"`) || strings.Contains(tag, `type="radio"`)) && !strings.Contains(tag, "checked=") {
			continue
		}
		switch kind {
		case "select":
			rest, _, _ = strings.Cut(rest, "</select>")
			for i, o := range optionTag.FindAllStringSubmatch(rest, -1) {
				if i == 0 || o[2] != "" {
					value = html.UnescapeString(o[1])
				}
			}
		case "textarea":
			rest, _, _ = strings.Cut(rest, "</textarea>")
			value = html.UnescapeString(rest)
		}
		q.Add(name, value)
	}
	for name, value := range typed {
		q.Set(name, value)
	}
	return q
}

func (v *visitor) send(action, enctype string, q url.Values) {
	v.Helper()
	at, err := url.Parse(v.at)
	if err != nil {
		v.Fatal(err)
	}
	to, err := at.Parse(action)
	if err != nil {
		v.Fatal(err)
	}
	kind, body := "application/x-www-form-urlencoded", bytes.NewBufferString(q.Encode())
	if enctype == "multipart/form-data" {
		body.Reset()
		w := multipart.NewWriter(body)
		for _, name := range slices.Sorted(maps.Keys(q)) {
			for _, value := range q[name] {
				if err := w.WriteField(name, value); err != nil {
					v.Fatal(err)
				}
			}
		}
		if err := w.Close(); err != nil {
			v.Fatal(err)
		}
		kind = w.FormDataContentType()
	}
	r, err := http.Post(to.String(), kind, body)
	if err != nil {
		v.Fatal(err)
	}
	v.read(r)
}

// TestBenchToPaper goes through the maker's pages from an empty workshop to the
// printed files, and reads those: every id, every code.
func TestBenchToPaper(t *testing.T) {
	shop, err := job.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(bench.New(shop, bench.Options{Patience: time.Minute}))
	defer server.Close()
	root := server.URL + bench.Path
	v := &visitor{T: t}
	v.open(root + "workshop")
	v.submit("workshop", map[string]string{"maker/name": "Withy Sluice Floats", "maker/address": "1 Weir Lane\r\nExampleton EX1 1EX",
		"maker/contact": "bench@withysluice.example", "maker/currency": "GBP", "maker/host": "f.example"})
	v.open(root)
	v.submit("begin", map[string]string{"name": "26-11"})
	v.submit("patterns/new", map[string]string{"name": "Sedge", "kind": "loaded"})
	v.submit("patterns/0", map[string]string{"waterline_mm": "159"})
	v.open(root + "b/26-11/floats")
	v.submit("floats/ratings", map[string]string{"rating.0.load": "8 g", "rating.0.price": "6.50"})
	v.submit("floats/add", map[string]string{"count": "2", "built_in": "7.2", "metal": "brass"})
	v.submit("floats/paste", map[string]string{"text": "number\tpattern\trating g\tbuilt in g\tmetal\treading\r\n3\tsedge\t8\t7.18\tbrass\t0.77 g\r\n"})
	v.submit("floats/paste", nil) // take what was understood
	v.open(root + "b/26-11/tank")
	v.submit("tank", map[string]string{"reading": "0.76"})
	v.open(root + "b/26-11/marks/0")
	v.submit("marks/0", map[string]string{"zone.0.style": "full", "zone.0.at_mm": "28", "zone.0.height_mm": "25"})
	v.open(root + "b/26-11/print")
	v.submit("print", map[string]string{"coarse": "1"})
	for end := time.Now().Add(time.Minute); strings.Contains(v.page, "<progress") && time.Now().Before(end); v.open(root + "b/26-11/print") {
		time.Sleep(20 * time.Millisecond)
	}
	files := map[string][]byte{}
	for _, m := range regexp.MustCompile(`<a href="([^"]*)" download="([a-z]+)-26-11-print-1.pdf">`).FindAllStringSubmatch(v.page, -1) {
		r, err := http.Get(server.URL + m[1])
		if err != nil {
			t.Fatal(err)
		}
		files[m[2]], err = io.ReadAll(r.Body)
		r.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
	}
	v.submit("print/1", map[string]string{"how": "right"})
	v.open(root + "b/26-11/tick")
	var ids []string
	for _, m := range idOnPage.FindAllStringSubmatch(v.page, -1) {
		if !slices.Contains(ids, m[1]) {
			ids = append(ids, m[1])
		}
	}
	if len(ids) != 3 {
		t.Fatalf("ids to tick off: %v", ids)
	}
	v.submit("tick/varnished", map[string]string{"id": ids[0]})
	if !strings.Contains(v.page, "It is ticked off.") {
		t.Error("a float is not ticked off")
	}
	readPrinted(t, files, ids, nil)
}

// TestDownloads reads what a browser has saved from the maker's pages.
func TestDownloads(t *testing.T) {
	if *downloads == "" {
		t.Skip("no -downloads")
	}
	read := func(pattern string) []byte {
		names, err := filepath.Glob(filepath.Join(*downloads, pattern))
		if err != nil || len(names) != 1 {
			t.Fatalf("%s: %v, %v", pattern, names, err)
		}
		data, err := os.ReadFile(names[0])
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	files := map[string][]byte{}
	for _, kind := range []string{"decals", "backers", "jobsheet"} {
		files[kind] = read(kind + "-*.pdf")
	}
	readPrinted(t, files, strings.Fields(string(read("ids.txt"))), strings.Fields(string(read("spares.txt"))))
}

// readPrinted opens the three files: A4 pages, every id as text in each, and the
// code of every float on the film and on its card, on the film that of every spare,
// and no other.
func readPrinted(t *testing.T, files map[string][]byte, ids, spares []string) {
	t.Helper()
	if len(ids) == 0 {
		t.Fatal("no ids")
	}
	for _, kind := range []string{"decals", "backers", "jobsheet"} {
		pdf := openPDF(t, files[kind])
		text := ""
		codes := map[string]int{}
		for i := range pdf.pages() {
			if s := pdf.size(i); !near(s.W, 210) || !near(s.H, 297) { // ISO 216, A4
				t.Errorf("%s: page %d is %v, want A4", kind, i, s)
			}
			text += pdf.text(i)
			if kind != "jobsheet" {
				codesOn(pdf, i, codes)
			}
		}
		here := ids
		if kind == "decals" {
			here = slices.Concat(ids, spares)
		}
		for _, id := range here {
			if !strings.Contains(text, id) {
				t.Errorf("%s: no id %s", kind, id)
			}
			if kind != "jobsheet" && codes["HTTPS://F.EXAMPLE/"+id] != 1 {
				t.Errorf("%s: the code of %s is read %d times", kind, id, codes["HTTPS://F.EXAMPLE/"+id])
			}
		}
		if kind != "jobsheet" && len(codes) != len(here) {
			t.Errorf("%s: codes %v of %v", kind, codes, here)
		}
	}
}

// codesOn decodes what may be a code on a page: squares from 5 mm, the least code
// that is printed, up to 20 mm.
func codesOn(pdf *pdfFile, page int, found map[string]int) {
	const least, most, offSquare, quiet, dpi = 5.0, 20.0, 0.05, 1.5, 400 // mm, and dots per inch: five to a module
	var pic picture
	for _, box := range pdf.paths(page) {
		if box.W() < least || box.W() > most || box.W()-box.H() > offSquare || box.H()-box.W() > offSquare {
			continue
		}
		if pic.RGBA == nil {
			pic = pdf.render(page, dpi)
		}
		if text, ok := readTurned(crop(pic, box.Inset(-quiet))); ok {
			found[text]++
		}
	}
}

// readTurned reads a code as somebody does who turns the sheet until the phone
// reads it: of clean pictures on their side the reader's search for the corner
// squares misses a few in a hundred.
func readTurned(img image.Image) (string, bool) {
	for range 4 {
		if text, err := scan.QR(img); err == nil {
			return text, true
		}
		side, ok := img.(*image.RGBA)
		if !ok {
			break
		}
		img = quarterTurned(picture{RGBA: side})
	}
	return "", false
}
