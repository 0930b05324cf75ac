package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	store "floatmark/label/record"
)

// bench is a workshop with the sample's record, a server before it, and a browser
// that is unlocked.
type bench struct {
	*testing.T
	shop   *job.Workshop
	server *httptest.Server
	cookie string
}

const benchWord = "sluice gate"

func newBench(t *testing.T) *bench {
	t.Helper()
	dir := t.TempDir()
	s, err := store.Open(filepath.Join(dir, "workshop.db"))
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(sample())
	if err != nil {
		t.Fatal(err)
	}
	f := store.Float{ID: sampleID, Batch: "26-11", Number: 7, Pattern: "sedge", Data: data, Created: "2026-11-20T10:00:00Z"}
	err = s.SavePrint(store.Print{Key: "k", Batch: "26-11", Made: "2026-11-20T10:00:00Z", Data: json.RawMessage(`{"format":1,"batch":"26-11","floats":[]}`),
		Regions: []store.Region{{Number: 1, Stock: "film", Feed: "top", Data: json.RawMessage(`{}`)}}}, []store.Float{f})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	shop, err := job.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	shelf := shop.Shelf()
	t.Cleanup(func() { shelf.Close() })
	b := &bench{T: t, shop: shop, server: httptest.NewServer(New(shelf, Options{Keeper: shop, Unlock: func(w string) (bool, error) { return w == benchWord, nil }}))}
	t.Cleanup(b.server.Close)
	res := b.post(unlockPath, url.Values{"word": {benchWord}, "id": {sampleID}})
	if res.StatusCode != 303 || res.Header.Get("Location") != makerPath+sampleID {
		t.Fatalf("unlocking: %d %v", res.StatusCode, res.Header)
	}
	b.cookie = sessionCookie + "=" + res.Cookies()[0].Value
	return b
}

func (b *bench) post(path string, f url.Values) *http.Response {
	b.Helper()
	res := request(b.T, "POST", b.server.URL+path, f.Encode(), map[string]string{"Content-Type": "application/x-www-form-urlencoded", "Cookie": b.cookie,
		"Origin": b.server.URL, "Sec-Fetch-Site": "same-origin"})
	b.Cleanup(func() { res.Body.Close() })
	return res
}

func (b *bench) page(path string) string {
	b.Helper()
	res := request(b.T, "GET", b.server.URL+path, "", map[string]string{"Cookie": b.cookie})
	if res.StatusCode != 200 {
		b.Fatalf("%s: %d", path, res.StatusCode)
	}
	return read(b.T, res)
}

// form is what the forms of the page hold by themselves.
func (b *bench) form(more ...string) url.Values {
	b.Helper()
	page := b.page(makerPath + sampleID)
	f := url.Values{}
	for _, name := range []string{"token", "key", "seen"} {
		f.Set(name, attribute(b.T, page, `name="`+name+`" value`))
	}
	for i := 0; i < len(more); i += 2 {
		f.Set(more[i], more[i+1])
	}
	return f
}

// A maker changes every kind of field from his phone; what was there before is
// kept, what is published is on the page, what is not is not.
func TestMakerChanges(t *testing.T) {
	b := newBench(t)
	for _, typed := range [][]string{
		{"do", "facts", "status", "sold", "made", "2026-11", "buyer", "somebody", "care", "Keep it dry.\r\nReally."},
		{"do", "put", "path", "coats/+", "product", "Weir varnish", "date", "2026-11-18"},
		{"do", "put", "path", "materials/+", "part", "body", "what", "balsa", "mass", "0,42"},
		{"do", "put", "path", "notes/+", "text", "a <b>bold</b> note"},
		{"do", "put", "path", "fields/+", "name", "cane", "text", "tonkin"},
		{"do", "put", "path", "coats/1", "product", "Weir varnish, thinned", "date", "2026-11-18"},
		{"do", "take", "path", "notes/1"},
	} {
		f := b.form(typed...)
		if res := b.post(makerPath+sampleID, f); res.StatusCode != 303 {
			t.Fatalf("%v: %d\n%s", f, res.StatusCode, plainText(read(t, res)))
		}
	}
	mine := plainText(b.page(makerPath + sampleID))
	for _, want := range []string{"Weir varnish, thinned", "0.42 g", "tonkin", "empty → a <b>bold</b> note", "a <b>bold</b> note → empty", "coats 1", "somebody", "empty → sold"} {
		if !strings.Contains(mine, want) && !strings.Contains(b.page(makerPath+sampleID), want) {
			t.Errorf("the maker's page does not say %q:\n%s", want, mine)
		}
	}
	wellFormed(t, "maker", b.page(makerPath+sampleID))
	public := plainText(read(t, request(t, "GET", b.server.URL+"/"+sampleID, "", nil)))
	for want, on := range map[string]bool{"Keep it dry.": true, "balsa, 0.42 g": true, "2026-11": true, "Weir varnish": false, "somebody": false, "tonkin": false, "sold": false, "Edit this record": false} {
		if strings.Contains(public, want) != on {
			t.Errorf("the public page says %q: %v, want %v\n%s", want, !on, on, public)
		}
	}
	if page := b.page("/" + sampleID); !strings.Contains(page, "Edit this record") {
		t.Error("no way from the page to the maker's")
	}
	// Publishing some, keeping some.
	f := b.form("do", "publish", "publish-coats", "on", "publish-figures", "on", "publish-care", "on")
	if res := b.post(makerPath+sampleID, f); res.StatusCode != 303 {
		t.Fatalf("publishing: %d", res.StatusCode)
	}
	public = plainText(read(t, request(t, "GET", b.server.URL+"/"+sampleID, "", nil)))
	for want, on := range map[string]bool{"Weir varnish, thinned": true, "balsa": false, "drying board": false, "Sedge waggler": false, "rating 8 g": true, "174 mm": false} {
		if strings.Contains(public, want) != on {
			t.Errorf("chosen anew, the public page says %q: %v, want %v\n%s", want, !on, on, public)
		}
	}
	b.post(makerPath+sampleID, b.form("do", "facts", "status", "retired"))
	if public = plainText(read(t, request(t, "GET", b.server.URL+"/"+sampleID, "", nil))); !strings.Contains(public, "This float is retired") {
		t.Error("a retired float does not say so")
	}
}

// The same form twice is one change; a form from before somebody else's change is
// refused and says why.
func TestMakerTwice(t *testing.T) {
	b := newBench(t)
	f := b.form("do", "put", "path", "notes/+", "text", "once")
	old := b.form("do", "facts", "price", "7")
	for range 2 {
		if res := b.post(makerPath+sampleID, f); res.StatusCode != 303 {
			t.Fatalf("%d", res.StatusCode)
		}
	}
	if all, _, err := b.shop.Build(sampleID); err != nil || len(all.Float.Notes) != 1 {
		t.Errorf("%d notes, %v", len(all.Float.Notes), err)
	}
	f.Set("text", "another")
	b.post(makerPath+sampleID, f)
	if all, _, _ := b.shop.Build(sampleID); len(all.Float.Notes) != 2 {
		t.Errorf("another note under the same form was lost: %d", len(all.Float.Notes))
	}
	if res := b.post(makerPath+sampleID, b.form("do", "facts", "price", "6.50")); res.StatusCode != 303 {
		t.Fatalf("%d", res.StatusCode)
	}
	res := b.post(makerPath+sampleID, old)
	if text := plainText(read(t, res)); res.StatusCode != 400 || !strings.Contains(text, "Back to the record") {
		t.Errorf("an old form: %d\n%s", res.StatusCode, text)
	}
	if all, _, _ := b.shop.Build(sampleID); all.Float.Price != "6.50" {
		t.Errorf("the price is %q", all.Float.Price)
	}
}

// What is wrong is refused and changes nothing.
func TestMakerRefuses(t *testing.T) {
	b := newBench(t)
	good := b.form("do", "put", "path", "notes/+", "text", "x")
	bad := func(more ...string) url.Values {
		f := url.Values{}
		for k, v := range good {
			f[k] = v
		}
		for i := 0; i < len(more); i += 2 {
			f.Set(more[i], more[i+1])
		}
		return f
	}
	for name, c := range map[string]struct {
		path string
		form url.Values
		code int
	}{
		"no token":          {makerPath + sampleID, bad("token", ""), 403},
		"another token":     {makerPath + sampleID, bad("token", "AAAA"), 403},
		"nothing to do":     {makerPath + sampleID, bad("do", ""), 400},
		"no version":        {makerPath + sampleID, bad("seen", "x"), 400},
		"an unknown list":   {makerPath + sampleID, bad("path", "secrets/+"), 400},
		"a path up":         {makerPath + sampleID, bad("path", "../../etc/passwd"), 400},
		"no text":           {makerPath + sampleID, bad("text", ""), 400},
		"a control":         {makerPath + sampleID, bad("text", "a\x1bb"), 400},
		"not UTF-8":         {makerPath + sampleID, bad("text", "\xff"), 400},
		"too long":          {makerPath + sampleID, bad("text", strings.Repeat("x", 5000)), 400},
		"too long by far":   {makerPath + sampleID, bad("text", strings.Repeat("x", 2*mostForm)), 413},
		"a mass of nothing": {makerPath + sampleID, bad("path", "materials/+", "part", "body", "mass", "heavy"), 400},
		"no such status":    {makerPath + sampleID, bad("do", "facts", "status", "eaten"), 400},
		"another float":     {makerPath + "CKWB6V", good, 404},
		"no id":             {makerPath + "..%2f..", good, 404},
	} {
		if res := b.post(c.path, c.form); res.StatusCode != c.code {
			t.Errorf("%s: %d, want %d\n%s", name, res.StatusCode, c.code, plainText(read(t, res)))
		}
	}
	if all, _, err := b.shop.Build(sampleID); err != nil || len(all.Float.Notes)+len(all.Float.Materials) != 0 || all.Float.Status != label.InWork {
		t.Errorf("something was changed: %+v, %v", all.Float, err)
	}
	b.cookie = ""
	if res := b.post(makerPath+sampleID, good); res.StatusCode != 401 {
		t.Errorf("without a session: %d", res.StatusCode)
	}
	if res := request(t, "GET", b.server.URL+makerPath+sampleID, "", nil); res.StatusCode != 303 || !strings.HasPrefix(res.Header.Get("Location"), unlockPath) {
		t.Errorf("the maker's page without a session: %d", res.StatusCode)
	}
}

// A photograph comes as a file, is shown to the maker, and to others when it is
// published.
func TestMakerPhoto(t *testing.T) {
	b := newBench(t)
	img := image.NewRGBA(image.Rect(0, 0, 80, 120))
	for i := range img.Pix {
		img.Pix[i] = uint8(i * 7)
	}
	img.Set(3, 3, color.White)
	var pic bytes.Buffer
	if err := png.Encode(&pic, img); err != nil {
		t.Fatal(err)
	}
	send := func(f url.Values, file []byte) *http.Response {
		var body bytes.Buffer
		m := multipart.NewWriter(&body)
		for k := range f {
			_ = m.WriteField(k, f.Get(k))
		}
		w, err := m.CreateFormFile("photo", "../../x.png")
		if err != nil {
			t.Fatal(err)
		}
		_, _ = w.Write(file)
		m.Close()
		return request(t, "POST", b.server.URL+makerPath+sampleID+"/photo", body.String(), map[string]string{"Content-Type": m.FormDataContentType(), "Cookie": b.cookie})
	}
	f := b.form("caption", `side "view"`, "date", "2026-11-20")
	for range 2 { // sent twice is taken once
		if res := send(f, pic.Bytes()); res.StatusCode != 303 {
			t.Fatalf("%d: %s", res.StatusCode, plainText(read(t, res)))
		}
	}
	all, _, err := b.shop.Build(sampleID)
	if err != nil || len(all.Float.Photos) != 1 {
		t.Fatalf("%d photographs, %v", len(all.Float.Photos), err)
	}
	link := photoLink(sampleID, all.Float.Photos[0].Value.Photo)
	if got := b.page(link); !strings.HasPrefix(got, "\xff\xd8") {
		t.Error("the maker does not get a JPEG")
	}
	if page := b.page(makerPath + sampleID); !strings.Contains(page, `src="`+link+`"`) || !strings.Contains(page, `alt="side &#34;view&#34;"`) {
		t.Error("the maker's page does not show it")
	}
	stranger := func() int { return request(t, "GET", b.server.URL+link, "", nil).StatusCode }
	if code := stranger(); code != 404 {
		t.Errorf("a photograph that is not published: %d", code)
	}
	pub := b.form("do", "publish", "publish-photos", "on")
	if res := b.post(makerPath+sampleID, pub); res.StatusCode != 303 {
		t.Fatal(res.StatusCode)
	}
	if code := stranger(); code != 200 {
		t.Errorf("a published photograph: %d", code)
	}
	if page := read(t, request(t, "GET", b.server.URL+"/"+sampleID, "", nil)); !strings.Contains(page, `src="`+link+`"`) {
		t.Error("the page does not show it")
	}
	change := b.form("do", "put", "path", all.Float.Photos[0].Path, "caption", "from the side", "date", "")
	if res := b.post(makerPath+sampleID, change); res.StatusCode != 303 {
		t.Errorf("a new caption: %d", res.StatusCode)
	}
	for name, c := range map[string]struct {
		form url.Values
		file []byte
		code int
	}{
		"no picture":   {b.form(), []byte("<svg onload=alert(1)>"), 400},
		"a cut one":    {b.form(), pic.Bytes()[:200], 400},
		"no token":     {url.Values{}, pic.Bytes(), 403},
		"a long field": {b.form("caption", strings.Repeat("x", mostPart+1)), pic.Bytes(), 413},
	} {
		if res := send(c.form, c.file); res.StatusCode != c.code {
			t.Errorf("%s: %d, want %d\n%s", name, res.StatusCode, c.code, plainText(read(t, res)))
		}
	}
	for _, path := range []string{photoPath + "CKWB6V/1", photoPath + sampleID + "/2", photoPath + sampleID + "/x", photoPath + "../../etc/passwd"} {
		if res := request(t, "GET", b.server.URL+path, "", nil); res.StatusCode != 404 && res.StatusCode/100 != 3 {
			t.Errorf("%s: %d", path, res.StatusCode)
		}
	}
}

// Whatever a form holds, it is answered and never breaks the server.
func FuzzForm(f *testing.F) {
	f.Add("do=put&path=notes/%2B&text=x&seen=0")
	f.Add("do=facts&status=sold&seen=-1")
	f.Add("do=take&path=coats/99999999999999999999&seen=1")
	f.Add("%zz&do=publish&seen=0;")
	src := one()
	s := New(src, Options{Keeper: nothing{}}).(*server)
	f.Fuzz(func(t *testing.T, body string) {
		form, _ := url.ParseQuery(body)
		changes, _, err := s.changesOf(label.Subject{Kind: label.KindFloat, Key: sampleID}, form)
		if err == nil && len(changes) > 40 {
			t.Fatalf("%q makes %d changes", body, len(changes))
		}
		for _, c := range changes {
			if c.Subject.Key != sampleID || !json.Valid(c.Value) {
				t.Fatalf("%q changes %v", body, c)
			}
		}
		_ = fmt.Sprint(onceKey(form))
	})
}

type nothing struct{ Keeper }

// What is noted of a batch and of a pattern is on their pages, and holds for their
// floats.
func TestMakerOfAll(t *testing.T) {
	b := newBench(t)
	page := b.page(makerPath + sampleID)
	for of, note := range map[string]string{buildPath + "batch/26-11": "sanded twice", buildPath + "pattern/sedge": "one eye"} {
		if !strings.Contains(page, `href="`+of+`"`) {
			t.Errorf("no way to %s", of)
		}
		shared := b.page(of)
		wellFormed(t, of, shared)
		if strings.Contains(shared, `name="status"`) {
			t.Errorf("%s has a status", of)
		}
		f := url.Values{"do": {"put"}, "path": {"notes/+"}, "text": {note}}
		for _, name := range []string{"token", "key", "seen"} {
			f.Set(name, attribute(t, shared, `name="`+name+`" value`))
		}
		if res := b.post(of, f); res.StatusCode != 303 || res.Header.Get("Location") != of+"#notes" {
			t.Fatalf("%s: %d\n%s", of, res.StatusCode, plainText(read(t, res)))
		}
		if text := plainText(b.page(of)); !strings.Contains(text, note) || !strings.Contains(text, "Take out") {
			t.Errorf("%s: %s", of, text)
		}
	}
	if text := plainText(b.page(makerPath + sampleID)); !strings.Contains(text, "sanded twice noted on the batch") || !strings.Contains(text, "one eye noted on the pattern") {
		t.Errorf("the float: %s", text)
	}
	for _, path := range []string{buildPath + "batch/no-such", buildPath + "workshop/x", buildPath + "float/" + sampleID} {
		if res := request(t, "GET", b.server.URL+path, "", map[string]string{"Cookie": b.cookie}); res.StatusCode != 404 {
			t.Errorf("%s: %d", path, res.StatusCode)
		}
	}
	if res := request(t, "GET", b.server.URL+buildPath+"batch/26-11", "", nil); res.StatusCode != 303 {
		t.Errorf("a batch without a session: %d", res.StatusCode)
	}
}

// The page, the form of the word and what goes wrong are in the maker's language.
func TestMakerLanguages(t *testing.T) {
	b := newBench(t)
	for language, want := range map[string][3]string{"de": {"Was Angler sehen", "Das Kennwort der Werkstatt", "Das ist nicht das Kennwort."},
		"fr": {"Ce que voient les pêcheurs", "Le mot de passe de l’atelier", "Ce n’est pas le mot de passe."},
		"it": {"Che cosa vedono i pescatori", "La parola d’ordine del laboratorio", "Non è la parola d’ordine."},
		"pl": {"Co widzą wędkarze", "Hasło warsztatu", "To nie jest hasło."}} {
		said := map[string]string{"Cookie": b.cookie, "Accept-Language": language}
		page := read(t, request(t, "GET", b.server.URL+makerPath+sampleID, "", said))
		if !strings.Contains(page, want[0]) || !strings.Contains(page, `<html lang="`+language+`">`) || strings.Contains(page, "%!") {
			t.Errorf("%s: %s", language, plainText(page))
		}
		if page := read(t, request(t, "GET", b.server.URL+unlockPath, "", said)); !strings.Contains(page, want[1]) {
			t.Errorf("%s: %s", language, plainText(page))
		}
		said["Content-Type"] = "application/x-www-form-urlencoded"
		if page := read(t, request(t, "POST", b.server.URL+unlockPath, "word=another", said)); !strings.Contains(page, want[2]) {
			t.Errorf("%s: %s", language, plainText(page))
		}
	}
	f := b.form("do", "put", "path", "notes/+", "text", "")
	res := request(t, "POST", b.server.URL+makerPath+sampleID, f.Encode(), map[string]string{"Content-Type": "application/x-www-form-urlencoded", "Cookie": b.cookie, "Accept-Language": "de"})
	if text := plainText(read(t, res)); !strings.Contains(text, "Nicht geändert") || !strings.Contains(text, "Zurück zur Aufzeichnung") {
		t.Errorf("%s", text)
	}
}

// Who is at home needs no word, where that is said; who names another host does.
func TestMakerAtHome(t *testing.T) {
	b := newBench(t)
	shelf := b.shop.Shelf()
	defer shelf.Close()
	home := httptest.NewServer(New(shelf, Options{Keeper: b.shop, AtHome: true, Hosts: []string{"f.example"}}))
	defer home.Close()
	b.server, b.cookie = home, ""
	f := b.form("do", "put", "path", "notes/+", "text", "at home")
	if strings.Contains(b.page(makerPath+sampleID), "Lock the records") {
		t.Error("there is a session to end")
	}
	if res := request(t, "GET", home.URL+unlockPath+"?id="+sampleID, "", nil); res.StatusCode != 303 || res.Header.Get("Location") != makerPath+sampleID {
		t.Errorf("at home a word is asked for: %d, %q", res.StatusCode, res.Header.Get("Location"))
	}
	if res := b.post(makerPath+sampleID, f); res.StatusCode != 303 {
		t.Errorf("at home: %d", res.StatusCode)
	}
	if res := b.post(makerPath+sampleID, url.Values{"do": {"facts"}, "token": {""}}); res.StatusCode != 403 {
		t.Errorf("without the token: %d", res.StatusCode)
	}
	q, err := http.NewRequest("GET", home.URL+makerPath+sampleID, nil)
	if err != nil {
		t.Fatal(err)
	}
	q.Host = "f.example"
	res, err := http.DefaultTransport.RoundTrip(q)
	if err != nil || res.StatusCode != 303 {
		t.Errorf("by another name: %v, %v", res, err)
	}
	res.Body.Close()
}

// A change is taken back from the history: one of a field, an item that was taken
// out, one that was added; of each field only the last, and none that is not there.
func TestMakerTakesBack(t *testing.T) {
	b := newBench(t)
	for _, typed := range [][]string{
		{"do", "facts", "status", "sold"},
		{"do", "put", "path", "notes/+", "text", "first note"},
		{"do", "take", "path", "notes/1"},
		{"do", "facts", "buyer", "somebody"},
		{"do", "facts", "buyer", "somebody else"},
	} {
		if res := b.post(makerPath+sampleID, b.form(typed...)); res.StatusCode != 303 {
			t.Fatalf("%v: %d", typed, res.StatusCode)
		}
	}
	offered := func() []string {
		var all []string
		for _, m := range regexp.MustCompile(`name="change" value="(\d+)"`).FindAllStringSubmatch(b.page(makerPath+sampleID), -1) {
			all = append(all, m[1])
		}
		return all
	}
	before := offered()
	if len(before) != 3 { // status, note, buyer: the latest of each
		t.Fatalf("%v are offered", before)
	}
	buyer := before[0]
	for _, version := range before {
		if res := b.post(makerPath+sampleID, b.form("do", "back", "change", version)); res.StatusCode != 303 {
			t.Fatalf("change %s: %d %s", version, res.StatusCode, plainText(read(t, res)))
		}
	}
	page := b.page(makerPath + sampleID)
	if !strings.Contains(page, "first note") || !strings.Contains(page, `value="somebody"`) || strings.Contains(page, `value="sold" selected`) {
		t.Errorf("not as it was before:\n%s", plainText(page))
	}
	if res := b.post(makerPath+sampleID, b.form("do", "facts", "buyer", "a third")); res.StatusCode != 303 {
		t.Fatal(res.StatusCode)
	}
	for version, want := range map[string]int{buyer: http.StatusBadRequest, "99999": http.StatusNotFound, "x": http.StatusNotFound} {
		if res := b.post(makerPath+sampleID, b.form("do", "back", "change", version, "key", "another "+version)); res.StatusCode != want {
			t.Errorf("change %s: %d, want %d", version, res.StatusCode, want)
		}
	}
}
