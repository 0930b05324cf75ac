package web

import (
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/unit"
)

func plainSite(t testing.TB) *Plain {
	t.Helper()
	p, err := NewPlain(nil, "")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// whole is a build record with something in every field, all of it published.
func whole() label.Build {
	b := label.Build{Publish: map[string]bool{}, Status: label.Retired, Made: "2026-11", Care: "Keep it dry.", Price: "12 pounds", Buyer: "nobody",
		Materials: []label.Item[label.Material]{{Value: label.Material{Part: "body", What: "balsa + cane", Mass: 1.25, Note: "light"}}},
		Coats:     []label.Item[label.Coat]{{Value: label.Coat{Product: "sealer", Date: "2026-11-01"}}},
		Notes:     []label.Item[label.Note]{{Value: label.Note{Text: "a <good> one"}}},
		Fields:    []label.Item[label.Field]{{Value: label.Field{Name: "whipping", Text: "green & red"}}},
		Photos:    []label.Item[label.Photo]{{Value: label.Photo{Photo: 3, Caption: "the tip", Width: 800, Height: 600, Bytes: 1000}}}}
	for _, c := range label.Choices() {
		b.Publish[c.Group] = true
	}
	return b
}

// A page that takes what it has in common from another float's is the page that
// is laid out by itself.
func TestPlainIsThePage(t *testing.T) {
	site := plainSite(t)
	var in []*Plain // one for each language, for to lay a page out takes a while
	for i := range site.said {
		one := plainSite(t)
		one.said, one.answers = site.said[i:i+1], site.answers
		in = append(in, one)
	}
	photo := func(n int) string { return fmt.Sprintf("files/photo-%d.jpg", n) }
	said := words.Pages()
	texts := rapid.SampledFrom([]string{"", "a + b", `<b>"it's"`, "long & short", idStandIn, madeStandIn})
	gram := rapid.SampledFrom([]unit.Gram{0.62, 0.8, 0.832})
	rapid.Check(t, func(r *rapid.T) {
		e, b := sample(), whole()
		e.ID = rapid.SampledFrom([]string{sampleID, "CKWB6V"}).Draw(r, "id")
		e.Number, e.MeasuredG, e.WeighedG = rapid.IntRange(1, 400).Draw(r, "number"), gram.Draw(r, "measured"), gram.Draw(r, "weighed")+6.4
		e.UG = gram.Draw(r, "uncertainty") / 40
		e.AddG = gram.Draw(r, "add")
		e.About, e.BuiltInOutside = rapid.Bool().Draw(r, "about"), rapid.Bool().Draw(r, "outside")
		for _, s := range []*string{&e.Batch, &e.Date, &e.Note, &e.Code, &e.Pattern, &b.Made, &b.Price, &b.Care, &b.Notes[0].Value.Text, &b.Coats[0].Value.Product,
			&b.Fields[0].Value.Name, &b.Materials[0].Value.Note, &b.Photos[0].Value.Caption} {
			*s = texts.Draw(r, "text")
		}
		group := rapid.SampledFrom(label.Choices()).Draw(r, "kept").Group
		b.Publish[group] = false
		b.Version = int64(rapid.IntRange(0, 9).Draw(r, "version"))
		if rapid.Bool().Draw(r, "in work") {
			b.Status = label.InWork
		}
		i := rapid.IntRange(0, len(said)-1).Draw(r, "language")
		p := in[i]
		pages, with, err := p.Float(e, b, photo)
		if err != nil {
			r.Fatal(err)
		}
		v := p.view(e.ID, said[i].Language, "en", &b, photo)
		v.Adds = strings.TrimSuffix(v.Script, p.script.Name) + with[0].Name
		// That the adds are those of the float itself takes longer, and is seen now and then.
		if rapid.IntRange(0, 9).Draw(r, "adds anew") > 0 {
			if v.answers, err = p.answersOf(e); err != nil {
				r.Fatal(err)
			}
		}
		want, err := Page(e, v)
		if err != nil {
			r.Fatal(err)
		}
		if string(pages[0].Data) != string(want) {
			r.Fatalf("the page is\n%s\nand not\n%s", pages[0].Data, want)
		}
	})
}

// A published page is small, well formed, asks for nothing elsewhere, and leads to
// its other languages wherever it is put.
func TestPlainPages(t *testing.T) {
	p := plainSite(t)
	pages, with, err := p.Float(sample(), whole(), func(int) string { return "files/photo-3.jpg" })
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) != len(words.Pages()) || pages[0].Name != "index.html" {
		t.Fatalf("%d pages, first %s", len(pages), pages[0].Name)
	}
	for _, page := range pages {
		text := string(page.Data)
		wellFormed(t, page.Name, text)
		weight := len(page.Data) + len(p.style.Data) + len(p.script.Data) + len(with[0].Data)
		t.Logf("%s: %d bytes, %d with all but photographs", page.Name, len(page.Data), weight)
		if weight > maxPage {
			t.Errorf("%s weighs %d bytes with what it needs, at most %d", page.Name, weight, maxPage)
		}
		up := "../"
		if page.Name != "index.html" {
			up = "../../"
		}
		for _, want := range []string{`hreflang="pl" href="` + up + sampleID + `/pl/"`, `<meta name="generator" content="floatmark"/>`, `src="` + up + "files/photo-3.jpg", `"` + up + "files/adds-", `href="` + up + "files/style-"} {
			if strings.Contains(want, "pl") && page.Name == "pl/index.html" {
				continue
			}
			if !strings.Contains(text, want) {
				t.Errorf("%s has no %s", page.Name, want)
			}
		}
		if bad := regexp.MustCompile(`(?i)https?://| style=| on[a-z]+=|<style|="/`).FindString(text); bad != "" {
			t.Errorf("%s has %q", page.Name, bad)
		}
		if len(page.Data) > 900 && !strings.Contains(text[:900], "floatmark") {
			t.Errorf("%s says too late by whom it is", page.Name)
		}
	}
	if !strings.Contains(string(pages[0].Data), words.PageFor("en").IsRetired) {
		t.Error("a retired float does not say so")
	}
	if e := sample(); string(pages[0].Data) == "" || e.Language != "en" {
		t.Error("the page at the id is not in the language of the mark")
	}
	german, err := NewPlain(nil, "de")
	if err != nil {
		t.Fatal(err)
	}
	if pages, _, err = german.Float(sample(), whole(), func(int) string { return "" }); err != nil || pages[0].Name != "en/index.html" || !strings.Contains(string(pages[1].Data), `lang="de"`) {
		t.Errorf("%s %v", pages[0].Name, err)
	}
}

// The file of the adds is what the page would hold itself.
func TestPlainAdds(t *testing.T) {
	p := plainSite(t)
	_, with, err := p.Float(sample(), whole(), func(int) string { return "" })
	if err != nil {
		t.Fatal(err)
	}
	var short [2]string
	data := strings.TrimSuffix(strings.TrimPrefix(string(with[0].Data), "window.floatAdds="), ";\n")
	if err := json.Unmarshal([]byte(data), &short); err != nil {
		t.Fatal(err)
	}
	values := strings.Split(short[0], "|")
	table := ""
	for _, line := range strings.Split(short[1], "\n") {
		fields := strings.Split(line, "|")
		for i, f := range fields {
			if n, err := strconv.ParseInt(f, 36, 64); i != shotField && err == nil {
				fields[i] = values[n]
			}
		}
		table += strings.Join(fields, "|") + "\n"
	}
	script, _ := PlainScript()
	page, err := Page(sample(), View{Script: script})
	if err != nil {
		t.Fatal(err)
	}
	if want := attribute(t, string(page), "data-adds"); table != want || table == "" {
		t.Errorf("the adds are\n%s\nand not\n%s", table, want)
	}
	if job.SharedName("files/adds", "js", with[0].Data) != with[0].Name {
		t.Error("the name does not tell what is in it")
	}
}

// The entrance and the page for what is missing are whole in every language.
func TestSitePages(t *testing.T) {
	p, err := NewPlain(nil, "fr")
	if err != nil {
		t.Fatal(err)
	}
	files, err := p.Common()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, f := range files {
		seen[f.Name] = true
		if !strings.HasSuffix(f.Name, ".html") {
			continue
		}
		text := string(f.Data)
		wellFormed(t, f.Name, text)
		if !strings.Contains(text, `<html lang="fr">`) || strings.Count(text, "<form") != len(words.Pages()) || strings.Index(text, `data-part="fr"`) > strings.Index(text, `data-part="en"`) {
			t.Errorf("%s:\n%s", f.Name, text)
		}
		if strings.Contains(text, "data-missing") != (f.Name == "404.html") || strings.Contains(text, `="/files/`) != (f.Name == "404.html") {
			t.Errorf("%s:\n%s", f.Name, text)
		}
	}
	if !seen["index.html"] || !seen["404.html"] || len(seen) != 5 {
		t.Errorf("%v", seen)
	}
}

func BenchmarkPlainFloat(b *testing.B) {
	p := plainSite(b)
	e, build := sample(), whole()
	n := 0
	for b.Loop() {
		n++
		e.Number, e.MeasuredG = n, unit.Gram(n%100)/100
		if _, _, err := p.Float(e, build, func(int) string { return "" }); err != nil {
			b.Fatal(err)
		}
	}
}

// The running server answers every code that was printed, and says where it does
// not.
func TestServerAnswersEveryCode(t *testing.T) {
	shop := manyFloats(t, 20, 2)
	shelf := shop.Shelf()
	defer shelf.Close()
	s := httptest.NewServer(New(shelf, Options{}))
	defer s.Close()
	if all, err := shop.CheckServer(t.Context(), s.URL); err != nil || all.Err() != nil || all.Found != 20 {
		t.Errorf("%+v %v", all, err)
	}
	other := httptest.NewServer(New(one(), Options{}))
	defer other.Close()
	if all, err := shop.CheckServer(t.Context(), other.URL+"/elsewhere"); err != nil || len(all.Bad) != 20 {
		t.Errorf("%+v %v", all, err)
	}
}
