package web

import (
	"bytes"
	"encoding/json"
	"html"
	"mime/multipart"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

// tankBench is a bench with the demonstration batch open at the tank.
func tankBench(t *testing.T) *bench {
	t.Helper()
	b := newBench(t)
	if name, err := b.shop.OpenTankSource(t.Context(), "demo.toml", job.DemoSource(), nil, job.ByPhone); err != nil || name != "26-11" {
		t.Fatalf("%q %v", name, err)
	}
	return b
}

const demoTank = tankPath + "?batch=26-11"

// token is that of the session, as the page has it.
func (b *bench) token() string {
	b.Helper()
	return attribute(b.T, b.page(demoTank), `name="token" value`)
}

// sendJSON sends readings as the script does.
func (b *bench) sendJSON(body string, header ...string) *http.Response {
	b.Helper()
	h := map[string]string{"Content-Type": "application/json", "Cookie": b.cookie, "Origin": b.server.URL}
	for i := 0; i < len(header); i += 2 {
		h[header[i]] = header[i+1]
	}
	return request(b.T, "POST", b.server.URL+tankReadings, body, h)
}

func (b *bench) readings() int {
	b.Helper()
	r, err := b.shop.Tank("26-11")
	if err != nil {
		return 0 // there are none
	}
	n := 0
	for _, f := range r.Floats {
		n += len(f.Readings)
	}
	return n
}

// What the script sends and is answered: each reading is stored once, one that is
// wrong is refused by itself.
func TestTankReadings(t *testing.T) {
	b := tankBench(t)
	body, err := json.Marshal(map[string]any{"token": b.token(), "batch": "26-11", "readings": []map[string]any{
		{"key": "one", "number": 1, "set": "gb-traditional", "shot": []map[string]any{{"size": "AAA", "n": 1}, {"size": "No.10", "n": 2}}, "stage": "fitted", "above_mm": "0.5", "date": "2020-11-21"},
		{"key": "two", "number": 2, "set": "", "reading": "0.92", "stage": "varnished", "above_mm": "0", "date": "2020-11-21"},
		{"key": "three", "number": 3, "set": "gb-traditional", "reading": "900", "stage": "fitted", "above_mm": "0", "date": "2020-11-21"},
	}})
	if err != nil {
		t.Fatal(err)
	}
	for _, again := range []bool{false, true} {
		res := b.sendJSON(string(body))
		text := read(t, res)
		if res.StatusCode != 200 || res.Header.Get("Content-Type") != "application/json; charset=utf-8" || res.Header.Get("Cache-Control") != "no-store" {
			t.Fatalf("%d %v %s", res.StatusCode, res.Header, text)
		}
		if again {
			text = strings.ReplaceAll(text, `"state": "known"`, `"state": "stored"`)
		}
		golden(t, "tank-readings.json", []byte(text))
		if n := b.readings(); n != 2 {
			t.Errorf("%d readings, want 2", n)
		}
	}
}

// Nothing is stored that is not the maker's own, from this page, and of a size.
func TestTankReadingsAreGuarded(t *testing.T) {
	b := tankBench(t)
	token := b.token()
	good := func(token, batch string) string {
		return `{"token":"` + token + `","batch":"` + batch + `","readings":[{"key":"k","number":1,"set":"gb-traditional","shot":[{"size":"AAA","n":1}]}]}`
	}
	for name, c := range map[string]struct {
		body   string
		header []string
		code   int
	}{
		"locked":                {good(token, "26-11"), []string{"Cookie", ""}, 401},
		"a session that is not": {good(token, "26-11"), []string{"Cookie", "session=AAAA"}, 401},
		"another session's":     {good("AAAA", "26-11"), nil, 403},
		"no token":              {good("", "26-11"), nil, 403},
		"another origin":        {good(token, "26-11"), []string{"Origin", "http://evil.example"}, 403},
		"another site":          {good(token, "26-11"), []string{"Sec-Fetch-Site", "cross-site"}, 403},
		"no JSON":               {`{"token":`, nil, 400},
		"JSON with more":        {good(token, "26-11") + "{}", nil, 400},
		"a field not known":     {strings.Replace(good(token, "26-11"), `"number"`, `"numbr"`, 1), nil, 400},
		"too many":              {`{"token":"` + token + `","batch":"26-11","readings":[` + strings.Repeat(`{},`, job.MostTankEntries) + `{}]}`, nil, 400},
		"too much":              {good(token, strings.Repeat("x", mostForm)), nil, 413},
		"an unknown batch":      {good(token, "99"), nil, 404},
	} {
		if res := b.sendJSON(c.body, c.header...); res.StatusCode != c.code {
			t.Errorf("%s: %d, want %d: %s", name, res.StatusCode, c.code, read(t, res))
		}
	}
	if n := b.readings(); n != 0 {
		t.Errorf("%d readings were stored", n)
	}
	// As JSON under the type of a form, which other pages may send.
	if res := b.sendJSON(good(token, "26-11"), "Content-Type", "text/plain"); res.StatusCode != 403 {
		t.Errorf("JSON as plain text: %d", res.StatusCode)
	}
	if res := b.sendJSON(good(token, "26-11")); res.StatusCode != 200 || b.readings() != 1 {
		t.Errorf("a good one: %d, %d readings", res.StatusCode, b.readings())
	}
}

// Without scripts a form does the same, and offers again what was refused.
func TestTankWithoutScripts(t *testing.T) {
	b := tankBench(t)
	page := b.page(demoTank + "&number=2")
	wellFormed(t, "tank", page)
	f := url.Values{"batch": {"26-11"}, "number": {"2"}, "set": {"gb-traditional"}, "reading": {"1AAA"}, "stage": {""}, "above": {"-1,5"}}
	for _, name := range []string{"token", "key"} {
		f.Set(name, attribute(t, page, `name="`+name+`" value`))
	}
	if !strings.Contains(page, `<option value="2" selected="selected">`) {
		t.Error("the form does not offer the float that was asked for")
	}
	for range 2 { // sent twice, as by a phone that got no answer
		if res := b.post(tankReadings, f); res.StatusCode != 303 || res.Header.Get("Location") != demoTank+"&number=3" {
			t.Fatalf("%d %v %s", res.StatusCode, res.Header, read(t, res))
		}
	}
	if b.readings() != 1 {
		t.Errorf("%d readings", b.readings())
	}
	if text := plainText(b.page(demoTank)); !strings.Contains(text, "no. 2 · 8 g · Sedge waggler read: 0.") {
		t.Errorf("the list does not show it: %s", text)
	}
	f.Set("key", "another")
	f.Set("reading", `<script>alert(1)</script>`)
	res := b.post(tankReadings, f)
	text := read(t, res)
	wellFormed(t, "refused", text)
	if res.StatusCode != 400 || strings.Contains(text, "<script>alert") || !strings.Contains(text, `value="&lt;script&gt;alert(1)&lt;/script&gt;"`) || !strings.Contains(text, `role="alert"`) {
		t.Errorf("%d: %s", res.StatusCode, text)
	}
	delete(f, "token")
	if res := b.post(tankReadings, f); res.StatusCode != 403 {
		t.Errorf("without its token: %d", res.StatusCode)
	}
}

// A workshop that measures in inches has them on the phone too, also when that was
// set while the server is open; the records have millimetres.
func TestTankInInches(t *testing.T) {
	b := tankBench(t)
	set, err := b.shop.Settings()
	if err != nil {
		t.Fatal(err)
	}
	other, err := job.Open(b.shop.Dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := other.EditSettings(t.Context(), set.Version, "units", job.ByBench, func(d *batch.Doc) error { return d.Set("maker/units", "imperial") }); err != nil {
		t.Fatal(err)
	}
	page := b.page(demoTank + "&lang=de")
	if text := plainText(page); !strings.Contains(text, "Spitze über ihrer Marke, Zoll") || !strings.Contains(text, "8 g (0,282 oz)") {
		t.Errorf("%s", text)
	}
	var data struct{ Inch string }
	if err := json.Unmarshal([]byte(html.UnescapeString(attribute(t, page, "data-tank"))), &data); err != nil || data.Inch != "Zoll" {
		t.Errorf("%v %v", data, err)
	}
	for typed, want := range map[string]string{"1/32": "0.79375", "-0,05": "-1.27", "1 mm": "1", "": "", "a hair": "a hair"} { // 25.4 mm to the inch
		if got := aboveTyped(typed, attribute(t, page, `name="units" value`)); got != want {
			t.Errorf("%q is stored as %q, want %q", typed, got, want)
		}
	}
}

// The page is of the maker alone; its policy lets one script of the server's own
// run, and nothing else.
func TestTankPage(t *testing.T) {
	b := tankBench(t)
	for path, want := range map[string]string{tankPath: unlockPath + "?tank=", demoTank: unlockPath + "?tank=26-11"} {
		if res := request(t, "GET", b.server.URL+path, "", nil); res.StatusCode != 303 || res.Header.Get("Location") != want {
			t.Errorf("%s, locked: %d %v", path, res.StatusCode, res.Header)
		}
	}
	form := read(t, request(t, "GET", b.server.URL+unlockPath+"?tank=26-11", "", nil))
	if !strings.Contains(form, `name="tank" value="26-11"`) {
		t.Errorf("the form forgets the tank: %s", form)
	}
	if res := b.post(unlockPath, url.Values{"word": {benchWord}, "tank": {"26-11"}}); res.StatusCode != 303 || res.Header.Get("Location") != demoTank {
		t.Errorf("unlocking: %d %v", res.StatusCode, res.Header)
	}
	if text := read(t, b.post(unlockPath, url.Values{"word": {"wrong"}, "tank": {"26-11"}})); !strings.Contains(text, `name="tank" value="26-11"`) {
		t.Error("a wrong word forgets the tank")
	}
	for _, p := range words.Pages() {
		for _, path := range []string{tankPath + "?lang=" + p.Language, demoTank + "&lang=" + p.Language} {
			res := request(t, "GET", b.server.URL+path, "", map[string]string{"Cookie": b.cookie})
			text := read(t, res)
			wellFormed(t, path, text)
			policy := res.Header.Get("Content-Security-Policy")
			if res.StatusCode != 200 || !strings.Contains(policy, "script-src 'self'; connect-src 'self'") || strings.Contains(policy, "unsafe") || !strings.Contains(policy, styleHash(styleSource+tankStyle)) {
				t.Errorf("%s: %d %s", path, res.StatusCode, policy)
			}
			if bad := regexp.MustCompile(`(?i)https?://| on[a-z]+=| style=|javascript:`).FindString(text); bad != "" {
				t.Errorf("%s has %q", path, bad)
			}
			if !strings.Contains(text, `lang="`+p.Language+`"`) || !strings.Contains(plainText(text), words.TankPageFor(p.Language).Title[1:]) {
				t.Errorf("%s is not in its language", path)
			}
			script := attribute(t, text, "<script src")
			res = request(t, "GET", b.server.URL+script, "", nil)
			if got := read(t, res); res.StatusCode != 200 || got != tankScript || !strings.Contains(res.Header.Get("Cache-Control"), "immutable") || !strings.HasPrefix(res.Header.Get("Content-Type"), "text/javascript") {
				t.Errorf("%s: %d %v", script, res.StatusCode, res.Header)
			}
		}
	}
	var data struct {
		Batch, Token, Post string
		Say                words.TankPage
		Sets               []struct {
			Key   string
			Sizes []struct{ Mass float64 }
		}
		Floats []job.TankPlace
	}
	if err := json.Unmarshal([]byte(html.UnescapeString(attribute(t, b.page(demoTank+"&lang=en"), "data-tank"))), &data); err != nil {
		t.Fatal(err)
	}
	if data.Batch != "26-11" || data.Token == "" || data.Post != tankReadings || data.Say.Save != "save, next float" || len(data.Floats) != 26 || len(data.Sets) < 5 ||
		data.Sets[0].Key != "gb-traditional" || data.Sets[0].Sizes[0].Mass <= 0 {
		t.Errorf("%+v", data)
	}
	if res := request(t, "GET", b.server.URL+tankPath+"?batch=99", "", map[string]string{"Cookie": b.cookie}); res.StatusCode != 404 {
		t.Errorf("an unknown batch: %d", res.StatusCode)
	}
}

// A batch file comes with the files it names, and is refused with what is wrong
// in it.
func TestTankOpens(t *testing.T) {
	b := newBench(t)
	token := attribute(t, b.page(tankPath), `name="token" value`)
	open := func(token string, files map[string]string) (int, string) {
		t.Helper()
		var body bytes.Buffer
		m := multipart.NewWriter(&body)
		if err := m.WriteField("token", token); err != nil {
			t.Fatal(err)
		}
		for name, text := range files {
			w, err := m.CreateFormFile("file", name)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := w.Write([]byte(text)); err != nil {
				t.Fatal(err)
			}
		}
		if err := m.Close(); err != nil {
			t.Fatal(err)
		}
		res := request(t, "POST", b.server.URL+tankOpen, body.String(), map[string]string{"Content-Type": m.FormDataContentType(), "Cookie": b.cookie, "Origin": b.server.URL})
		if res.StatusCode == 303 {
			return 303, res.Header.Get("Location")
		}
		return res.StatusCode, plainText(read(t, res))
	}
	demo := strings.Replace(string(job.DemoSource()), `name = "26-11"`, `name = "27 & 1"`, 1)
	for name, c := range map[string]struct {
		token string
		files map[string]string
		code  int
		want  string
	}{
		"no file":         {token, nil, 400, "None of the files is a batch file"},
		"no batch file":   {token, map[string]string{"a.csv": "x"}, 400, "None of the files is a batch file"},
		"two batch files": {token, map[string]string{"a.toml": demo, "b.TOML": demo}, 400, "There are two batch files"},
		"a slip in it":    {token, map[string]string{"a.toml": strings.Replace(demo, "water_c = 15.0", "watr_c = 15.0", 1)}, 400, "A.toml:"},
		"no token":        {"", map[string]string{"a.toml": demo}, 403, "out of date"},
		"too large":       {token, map[string]string{"a.toml": demo + strings.Repeat("#", mostBatch)}, 413, "too much"},
		"a good one":      {token, map[string]string{"a.toml": demo, "list.csv": "number"}, 303, tankPath + "?batch=27+%26+1"},
	} {
		if code, text := open(c.token, c.files); code != c.code || !strings.Contains(text, c.want) {
			t.Errorf("%s: %d, want %d with %q: %s", name, code, c.code, c.want, text)
		}
	}
	if text := plainText(b.page(tankPath)); !strings.Contains(text, "27 & 1 opened 20") || !strings.Contains(text, "26-11 printed 2026-11-20") {
		t.Errorf("the list: %s", text)
	}
	for name, in := range map[string]string{"a path": "../workshop.db", "no such file": "b.toml"} {
		if res := b.post(tankOpen, url.Values{"token": {token}, "in": {in}}); res.StatusCode != 404 {
			t.Errorf("%s: %d", name, res.StatusCode)
		}
	}
}

// A reading that was a slip is struck out on the phone, and counts again.
func TestTankStrike(t *testing.T) {
	b := tankBench(t)
	f := url.Values{"token": {b.token()}, "batch": {"26-11"}, "key": {"k"}, "number": {"6"}, "reading": {"0.8"}}
	if res := b.post(tankReadings, f); res.StatusCode != 303 {
		t.Fatalf("%d", res.StatusCode)
	}
	const list = tankReadings + "?batch=26-11"
	if page := b.page(demoTank); !strings.Contains(page, `href="`+list+`"`) {
		t.Error("no way to the readings")
	}
	page := b.page(list)
	wellFormed(t, list, page)
	do := url.Values{"token": {attribute(t, page, `name="token" value`)}, "batch": {"26-11"}, "key": {attribute(t, page, `name="key" value`)}, "out": {"1"}}
	if res := b.post(tankStrike, do); res.StatusCode != 303 || res.Header.Get("Location") != list {
		t.Fatalf("%d %s", res.StatusCode, plainText(read(t, res)))
	}
	if page := b.page(list); b.readings() != 0 || !strings.Contains(page, "<s>0.8 g</s>") {
		t.Errorf("%d readings count: %s", b.readings(), plainText(page))
	}
	do.Del("out")
	if res := b.post(tankStrike, do); res.StatusCode != 303 || b.readings() != 1 {
		t.Errorf("%d, %d readings count", res.StatusCode, b.readings())
	}
	do.Set("key", "nothing")
	if res := b.post(tankStrike, do); res.StatusCode != 404 {
		t.Errorf("no such reading: %d", res.StatusCode)
	}
	do.Set("token", "")
	if res := b.post(tankStrike, do); res.StatusCode != 403 {
		t.Errorf("no token: %d", res.StatusCode)
	}
	b.cookie = ""
	if res := request(t, "GET", b.server.URL+list, "", nil); res.StatusCode != 303 {
		t.Errorf("without the word: %d", res.StatusCode)
	}
}

// Why a reading is refused is told in the language of the phone.
func TestTankRefusedInLanguage(t *testing.T) {
	b := tankBench(t)
	body, err := json.Marshal(map[string]any{"token": b.token(), "batch": "26-11", "readings": []map[string]any{
		{"key": "one", "number": 1, "set": "none", "reading": "0.8", "stage": "fitted", "above_mm": "0", "date": "2020-11-21"}}})
	if err != nil {
		t.Fatal(err)
	}
	english, german := read(t, b.sendJSON(string(body))), read(t, b.sendJSON(string(body), "Accept-Language", "de"))
	if !strings.Contains(english, "there is no set of shot") || strings.Contains(german, "there is no set of shot") || !strings.Contains(german, `"state": "refused"`) {
		t.Errorf("%s\n%s", english, german)
	}
}
