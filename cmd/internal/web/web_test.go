package web

import (
	"encoding/xml"
	"errors"
	"flag"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/body"
	"floatmark/loading/fault"
)

var update = flag.Bool("update", false, "write the goldens anew")

const sampleID = "9KYA3C"

// sample is a record as a workshop stores it.
func sample() label.Entry {
	return label.Entry{Format: 1, ID: sampleID, Batch: "26-11", Number: 7, Date: "2026-11-20",
		Maker: "Withy Sluice Floats", Address: "1 Weir Lane, Exampleton EX1 1EX", Contact: "bench@withysluice.example",
		Pattern: "Sedge waggler", Kind: "loaded", Line: "bottom end", KindKey: "loaded", MetalKey: "tin", Language: "en",
		BuiltInMetal: "brass", BuiltInDensity: 8.5, BuiltInOutside: true,
		Rating: "8 g", BuiltIn: "7.2 g", Add: "0.8 g", Metal: "tin", Water: "fresh water", WaterTempC: 15,
		RatingG: 8, BuiltInG: 7.2, WeighedG: 7.21, AddG: 0.8, MeasuredG: 0.832, UG: 0.021, StepG: 0.05, AddPullG: 0.69,
		Weight: "built-in weight: brass, no lead", Convention: "gb-modern", Revision: 1,
		Shot: []label.Row{{Convention: "British, tin", Shot: "1 AAA", Gram: "0.8 g"},
			{Convention: "British, lead", Shot: "1 BB + 1 B", Gram: "0.76 g", Tip: "tip 1.5 mm high"},
			{Convention: "Continental, lead", Shot: "1 no. 3/0", Gram: "0.76 g", Note: "unverified: weigh before use"}},
		Rings: "thick ring 5 g, thin ring 1 g", RingG: 1, Length: 174, Waterline: 158, TipFrom: 161,
		Stations: []body.Station{{Z: 0, D: 3.4}, {Z: 10, D: 4}, {Z: 14, D: 7, Kind: body.Curved}, {Z: 32, D: 16, Kind: body.Straight},
			{Z: 58, D: 13, Kind: body.Curved}, {Z: 72, D: 4.5, Corner: true}, {Z: 145, D: 4.5}, {Z: 146, D: 2.2, Corner: true}, {Z: 174, D: 2.2}},
		BodyInk: "#26262b", TipInk: "#e4572e", BandInk: "#c8402f", MarkFrom: 34, MarkTo: 56, Code: "HTTPS://F.EXAMPLE/9KYA3C",
		Cautions: []string{"built-in weight: brass, no lead", "not a toy · small parts, sharp points", "keep away from children under 3"}}
}

// shelf is a Source with what lies on it.
type shelf struct {
	entries map[string]label.Entry
	err     error
}

func (s shelf) Entry(id string) (label.Entry, bool, error) {
	e, ok := s.entries[id]
	return e, ok, s.err
}

func (s shelf) Build(id string) (label.Builds, bool, error) {
	_, ok := s.entries[id]
	return label.Builds{Float: label.Build{Subject: label.Subject{Kind: label.KindFloat, Key: id}}}, ok, s.err
}

func (s shelf) Photo(int) ([]byte, bool, error) { return nil, false, s.err }

func serve(t *testing.T, src Source, hosts ...string) *httptest.Server {
	t.Helper()
	s := httptest.NewServer(New(src, Options{Hosts: hosts}))
	t.Cleanup(s.Close)
	return s
}

// ask sends one request and follows no redirect.
func ask(t *testing.T, s *httptest.Server, method, path, host string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest(method, s.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Host = host
	c := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := c.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res, string(text)
}

func one() shelf { return shelf{entries: map[string]label.Entry{sampleID: sample()}} }

func TestAnswers(t *testing.T) {
	s := serve(t, one(), "F.Example:8017")
	for _, c := range []struct {
		method, path, host string
		code               int
		want               string // in the page, or the place led to
	}{
		{"GET", "/9KYA3C", "", 200, "Sedge waggler"},
		{"GET", "/9KYA3C", "f.example", 200, "0.8 g"},
		{"GET", "/9KYA3C", "F.EXAMPLE.:80", 200, "0.8 g"},
		{"GET", "/9KYA3C", "localhost:1", 200, "0.8 g"},
		{"GET", "/9KYA3C", "[::1]:8017", 200, "0.8 g"},
		{"HEAD", "/9KYA3C", "", 200, ""},
		{"GET", "/9kya3c", "", 308, "/9KYA3C"},
		{"GET", "/9kya-3c", "", 308, "/9KYA3C"},
		{"GET", "/9KYA3C/", "", 308, "/9KYA3C"},
		{"GET", "/-/find?id=9kya%203c", "", 303, "/9KYA3C"},
		{"GET", "/-/find?id=9KYA3D", "", 400, "One character looks wrong"},
		{"GET", "/-/find?id=9KYA", "", 400, "An id has six characters"},
		{"GET", "/-/find", "", 400, "An id has six characters"},
		{"GET", "/", "", 200, "keeps the record"},
		{"GET", "/CKWB6V", "", 404, "No float has this id here"},
		{"GET", "/9KYA3D", "", 404, "One character looks wrong"},
		{"GET", "/9KYA", "", 404, "An id has six characters"},
		{"GET", "/favicon.ico", "", 404, "There is no such page"},
		{"GET", "/-/nothing", "", 404, "There is no such page"},
		{"GET", "//evil.example/9KYA3C", "", 404, "There is no such page"},
		{"GET", "/../9KYA3C", "", 404, "There is no such page"},
		{"POST", "/9KYA3C", "", 405, "only read"},
		{"PUT", "/", "", 405, "only read"},
		{"OPTIONS", "/", "", 405, "only read"},
		{"GET", "/9KYA3C", "evil.example", 421, "another host"},
		{"GET", "/9KYA3C", "f.example.evil.example", 421, "another host"},
		{"GET", "/9KYA3C", "192.0.2.1:80", 421, "another host"},
		{"POST", "/", "evil.example", 421, "another host"},
	} {
		res, text := ask(t, s, c.method, c.path, c.host)
		got := text
		if c.code/100 == 3 {
			got = res.Header.Get("Location")
		}
		if res.StatusCode != c.code || c.code/100 == 3 && got != c.want || !strings.Contains(got, c.want) {
			t.Errorf("%s %s for %q: %d, want %d with %q:\n%.600s", c.method, c.path, c.host, res.StatusCode, c.code, c.want, got)
		}
		h := res.Header
		if !strings.HasPrefix(h.Get("Content-Security-Policy"), "default-src 'none';") || h.Get("X-Content-Type-Options") != "nosniff" ||
			h.Get("Referrer-Policy") != "same-origin" {
			t.Errorf("%s %s: headers %v", c.method, c.path, h)
		}
		if c.code == 405 && h.Get("Allow") != "GET, HEAD" {
			t.Errorf("%s %s: Allow is %q", c.method, c.path, h.Get("Allow"))
		}
		if strings.Contains(text, sample().Maker) && c.code != 200 {
			t.Errorf("%s %s for %q: a refused request got the record", c.method, c.path, c.host)
		}
		if c.code/100 != 3 && c.method != "HEAD" {
			wellFormed(t, c.method+" "+c.path, text)
		}
	}
}

// An address is answered to where the request came in at it.
func TestOwnAddress(t *testing.T) {
	h := New(one(), Options{}).(*server)
	for host, want := range map[string]bool{"192.0.2.7:8017": true, "192.0.2.8:8017": false, "192.0.2.7.evil.example": false, "": false} {
		r := httptest.NewRequest("GET", "/", nil).WithContext(withLocal(t, "192.0.2.7:8017"))
		r.Host = host
		if got := h.hostAllowed(r); got != want {
			t.Errorf("host %q: %v, want %v", host, got, want)
		}
	}
}

func TestErrorsByClass(t *testing.T) {
	const secret = "secret-folder"
	for class, want := range map[fault.Class]int{fault.Input: 400, fault.NotFound: 404, fault.NoFit: 422, fault.Machine: 503, fault.Ours: 500} {
		s := serve(t, shelf{err: fault.New(class, secret+"/workshop.db", "finding", "remedy")})
		res, text := ask(t, s, "GET", "/9KYA3C", "")
		if res.StatusCode != want || strings.Contains(text, secret) || strings.Contains(text, "Finding.") != (class != fault.Ours) {
			t.Errorf("class %v: %d, want %d:\n%s", class, res.StatusCode, want, text)
		}
	}
	s := serve(t, shelf{err: errors.New("plain " + secret)})
	if res, text := ask(t, s, "GET", "/9KYA3C", ""); res.StatusCode != 500 || strings.Contains(text, secret) {
		t.Errorf("an unsorted error: %d\n%s", res.StatusCode, text)
	}
}

// maxPage is the most a page may weigh, in bytes: it opens at once on the
// slowest telephone line beside a lake.
const maxPage = 30_000

// The page of the sample in every language, as the server makes it, and once as
// a plain file: small, well formed, nothing run or fetched.
func TestRecordPage(t *testing.T) {
	link := func(tag string) string { return "/" + sampleID + "?lang=" + tag }
	for _, p := range words.Pages() {
		for _, kind := range []string{"", "plain"} {
			v := View{Language: p.Language, Link: link, Action: "/" + sampleID}
			if kind == "plain" {
				v.Script, _ = PlainScript()
			}
			page, err := Page(sample(), v)
			if err != nil {
				t.Fatal(err)
			}
			name, text := join("-", "record", p.Language, kind), string(page)
			wellFormed(t, name, text)
			if len(page) > maxPage {
				t.Errorf("%s weighs %d bytes, at most %d", name, len(page), maxPage)
			}
			if bad := regexp.MustCompile(`(?i)<img|<iframe|@import|url\(|https?://| on[a-z]+=| style=|javascript:`).FindString(text); bad != "" {
				t.Errorf("%s has %q", name, bad)
			}
			if n := strings.Count(text, "<script"); n != strings.Count(text, `<script src="page-`) || n > 1 || (n == 1) != (kind == "plain") {
				t.Errorf("%s has %d scripts", name, n)
			}
			switch name {
			case "record-en", "record-de-plain":
				golden(t, name+".html", page)
			default: // what is read; the rest is the same
				golden(t, name+".txt", []byte(strings.ReplaceAll(plainText(text), ". ", ".\n")+"\n"))
			}
		}
	}
}

func golden(t *testing.T, name string, page []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, page, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(page) != string(want) {
		t.Errorf("the page is not %s; if it should be, run with -update", path)
	}
}

// plainText is what a reader reads of a page.
func plainText(page string) string {
	_, page, _ = strings.Cut(page, "<body>")
	text := html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " "))
	return strings.Join(strings.Fields(strings.ReplaceAll(text, "\u00a0", " ")), " ")
}

func TestRecordSays(t *testing.T) {
	page, err := Page(sample(), View{})
	if err != nil {
		t.Fatal(err)
	}
	text := plainText(string(page))
	for _, want := range []string{"rating 8 g", "built in 7.2 g", "add 0.8 g", "1 BB + 1 B", "tip 1.5 mm high", "unverified: weigh before use", "to add in tin, fresh water",
		"to add 0.83 g ± 0.02 g of tin", "fresh water, 15 °C", "brass, no lead", "9KYA3C", "number 7 on the drying board", "at the bottom end", "on each side of the float"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q:\n%s", want, text)
		}
	}
	for _, want := range []string{`<html lang="en">`, `name="viewport"`, `fill="#c8402f"`, "mailto:bench@withysluice.example"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the page has no %q", want)
		}
	}
}

// What differs between kinds of float.
func TestKindsOfFloat(t *testing.T) {
	for _, c := range []struct {
		name      string
		change    func(*label.Entry)
		want, not string
	}{
		{"unloaded: the rating stands once", func(e *label.Entry) {
			e.BuiltIn, e.BuiltInG, e.WeighedG, e.Rating, e.Add, e.RatingG, e.AddG = "", 0, 0, "4.5 g", "4.5 g", 4.5, 4.5
		}, "all of it", "<dd>4.5 g</dd></div>\n<div class=\"add\"><dt>add</dt><dd>4.5 g"},
		{"self-cocking", func(e *label.Entry) { e.Add, e.AddG, e.Shot = "nothing to add", 0, nil }, "nothing to add", "<table>"},
		{"fellows", func(e *label.Entry) { e.About, e.Rating, e.Add = true, "about 8 g", "about 0.8 g" }, "<small>about</small>8 g", "weight fitted"},
		{"no body", func(e *label.Entry) { e.Stations = nil }, "first bare", "<svg role"},
		{"no band", func(e *label.Entry) { e.BandInk = noBand }, "<body>\n<main>", "class=\"band\""},
		{"contact that is no address", func(e *label.Entry) { e.Contact = "ask at the lock" }, "ask at the lock", "mailto"},
		{"sea", func(e *label.Entry) { e.SalinityPSU, e.Water = 35, "sea water" }, "sea water, 15\u00a0°C, salinity 35", "for fresh water"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := sample()
			c.change(&e)
			page, err := Page(e, View{})
			if err != nil {
				t.Fatal(err)
			}
			text := string(page)
			wellFormed(t, c.name, text)
			if !strings.Contains(text, c.want) || strings.Contains(text, c.not) {
				t.Errorf("want %q and not %q:\n%s", c.want, c.not, text[strings.Index(text, "<body"):])
			}
		})
	}
}

// Text from a record or a request is text, whatever it looks like.
func TestHostileText(t *testing.T) {
	const bad = `"><script>alert(1)</script>{{.}}</style>'`
	e := sample()
	for _, p := range []*string{&e.Maker, &e.Address, &e.Contact, &e.Pattern, &e.Kind, &e.Line, &e.Rating, &e.BuiltIn, &e.Add, &e.Metal, &e.Water,
		&e.Weight, &e.Convention, &e.Rings, &e.BodyInk, &e.TipInk, &e.BandInk, &e.Note, &e.Batch, &e.Date, &e.Code, &e.ID} {
		*p = bad
	}
	e.Shot, e.Cautions, e.Notices = []label.Row{{Convention: bad, Shot: bad, Gram: bad, Tip: bad, Note: bad}}, []string{bad}, []string{bad}
	b := label.Builds{}.Public()
	for group := range b.Publish {
		b.Publish[group] = true
	}
	b.Made, b.Care, b.Price, b.Status = bad, bad, bad, label.Status(bad)
	b.Materials = []label.Item[label.Material]{{Value: label.Material{Part: bad, What: bad, Note: bad}}}
	b.Coats = []label.Item[label.Coat]{{Value: label.Coat{Date: bad, Product: bad, Note: bad}}}
	b.Notes = []label.Item[label.Note]{{Value: label.Note{Text: bad, Date: bad}}}
	b.Fields = []label.Item[label.Field]{{Value: label.Field{Name: bad, Text: bad}}}
	b.Photos = []label.Item[label.Photo]{{Value: label.Photo{Photo: 1, Caption: bad, Date: bad, Width: 1, Height: 1}}}
	page, err := Page(e, View{Build: &b, Photo: func(int) string { return "javascript:alert(1)" }, Link: func(string) string { return "/" + bad }, Action: bad, Maker: "javascript:x"})
	if err != nil {
		t.Fatal(err)
	}
	makers := mustPage("making", frame{Lang: "en", Title: bad, Making: &making{Of: label.Subject{Kind: label.KindFloat, Key: bad}, Post: bad, Bench: bad, Status: bad, Shared: []way{{bad, bad}}, Lock: true, Entry: &e, Token: bad, Key: bad, Facts: []column{{Name: "made", Label: "made", Value: bad}, {Name: "care", Long: true, Value: bad}},
		Lists: listsOf(b, strings.Clone, func(int) string { return "/" + bad }), Past: []past{{bad, bad, bad, bad, bad, 1, true}}, Prints: []job.FloatPrint{{State: bad, Lines: []string{bad}, Film: bad}}, Notices: []string{bad}, Again: bad}})
	s := serve(t, one())
	_, found := ask(t, s, "GET", "/-/find?id=%22%3E%3Cscript%3Ealert(1)%3C/script%3E", "")
	_, path := ask(t, s, "GET", "/%22%3E%3Cscript%3Ealert(1)%3Cscript%3E", "")
	for name, text := range map[string]string{"record": string(page), "maker": string(makers), "find": found, "path": path} {
		wellFormed(t, name, text)
		if strings.Contains(text, "<script") || strings.Count(text, "</style>") != 1 || strings.Contains(text, `"javascript:`) {
			t.Errorf("%s: hostile text got through:\n%s", name, text)
		}
	}
}

// The pages are written so that an XML reader takes them: a tag left open or an
// attribute without quotes fails here.
func wellFormed(t *testing.T, name, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	d.Entity = xml.HTMLEntity
	ids := map[string]bool{}
	h1 := 0
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Errorf("%s is not well formed: %v", name, err)
			return
		}
		el, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if el.Name.Local == "h1" {
			h1++
		}
		for _, a := range el.Attr {
			if a.Name.Local == "id" && ids[a.Value] {
				t.Errorf("%s has two elements %q", name, a.Value)
			} else if a.Name.Local == "id" {
				ids[a.Value] = true
			}
		}
	}
	if h1 != 1 {
		t.Errorf("%s has %d main headings, want 1", name, h1)
	}
}
