package bench

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"

	"embed"

	"floatmark/label/words"
	"floatmark/loading/unit"
)

//go:embed *.html *.css *.js
var files embed.FS

// pages are the templates: layout.html frames each of the others, which has the
// name of its file.
var pages = mustPages()

func mustPages() map[string]*template.Template {
	layout := template.Must(template.New("layout.html").Funcs(template.FuncMap{
		"anyBare": anyBare, "anyMore": anyMore,
		"t": func(s string) string { return s }, "asset": assetPath, "bench": func() string { return Path },
		"part": url.PathEscape, "add": func(a, b int) int { return a + b }, "dict": dict, "tongues": tongues,
	}).Funcs(inWords("", words.MeasuresFor("", unit.Metric))).ParseFS(files, "layout.html"))
	all := map[string]*template.Template{}
	names, err := fs.Glob(files, "*.html")
	if err != nil {
		panic(err) // the pattern is the program's own
	}
	for _, n := range names {
		if n == "layout.html" {
			continue
		}
		all[strings.TrimSuffix(n, ".html")] = template.Must(template.Must(layout.Clone()).ParseFS(files, n))
	}
	return all
}

// dict gives a template several values, each behind its name.
func dict(pairs ...any) (map[string]any, error) {
	out := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		name, ok := pairs[i].(string)
		if !ok {
			return nil, fmt.Errorf("%v is no name", pairs[i])
		}
		out[name] = pairs[i+1]
	}
	return out, nil
}

// frame is what every page needs, and what the one page shows.
type frame struct {
	Title, Lang string
	Name        string // what somebody calls the thing shown: its heading, which no language changes
	Batch       string // the batch whose page it is; "" for none
	Steps       []step // its way through the day
	Version     int64  // of the batch file that the page shows
	Undoes      string // what an undo takes back
	UndoOn      string // of the workshop's settings: the page that shows it
	Next        *link  // what to do next
	Missing     []link // what is to be said before the batch is whole
	Findings    []finding
	Refused     bool // the heading takes the focus: what was sent is not taken
	Changed     bool // somebody else changed it meanwhile
	Notices     []string
	Body        any
}

type link struct{ Text, To string }

// step is a page of the day.
type step struct {
	Key, Name, To string
	Here, Done    bool
	Note          string // "26 floats"
}

// focused are the pages that put the focus where one types next.
var focused = map[string]bool{"tank": true, "tick": true}

// send renders a page in the reader's language.
func (s *server) send(w http.ResponseWriter, r *http.Request, status int, page string, f frame) {
	again := refusedOf(r)
	if again != nil && status < http.StatusBadRequest {
		status, f.Findings = http.StatusUnprocessableEntity, append(again.findings, f.Findings...)
	}
	f.Findings = unfiled(r.PathValue("batch"), f.Findings)
	f.Lang = s.language(r)
	f.Refused = status >= http.StatusBadRequest && !focused[page]
	f.Missing = slices.DeleteFunc(f.Missing, func(l link) bool { return l.To == r.URL.EscapedPath() }) // no link to where one is
	say := words.Bench(f.Lang)
	t, err := pages[page].Clone()
	var buf bytes.Buffer
	if err == nil {
		err = t.Funcs(template.FuncMap{"t": say}).Funcs(inWords(f.Lang, s.measures(r))).ExecuteTemplate(&buf, "layout.html", f)
	}
	if err != nil {
		http.Error(w, "this page cannot be shown: "+err.Error(), http.StatusInternalServerError)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	body := buf.Bytes()
	if again != nil {
		body = []byte(refill(buf.String(), again.action, again.typed))
	}
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		var packed bytes.Buffer // tables of many floats shrink to a tenth
		if z, err := gzip.NewWriterLevel(&packed, gzip.BestSpeed); err == nil {
			_, err = z.Write(body)
			if errors.Join(err, z.Close()) == nil {
				body = packed.Bytes()
				h.Set("Content-Encoding", "gzip")
			}
		}
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	h.Set("Cache-Control", "no-store")
	h.Set("Vary", "Accept-Language, Cookie, Accept-Encoding")
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; img-src 'self' data:; script-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	w.WriteHeader(status)
	_, _ = w.Write(body) // the reader's connection may be gone
}

// show is send of a page that can be shown.
func (s *server) show(w http.ResponseWriter, r *http.Request, page string, f frame) error {
	s.send(w, r, http.StatusOK, page, f)
	return nil
}

// assetPath is where a style sheet or a script lives; its name changes with what
// it holds, so that it may be kept for ever.
func assetPath(name string) (string, error) {
	data, err := files.ReadFile(name)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(data)
	ext := path.Ext(name)
	return Path + "a/" + strings.TrimSuffix(name, ext) + "-" + hex.EncodeToString(sum[:6]) + ext, nil
}

func (s *server) assets() {
	for _, pattern := range []string{"*.css", "*.js"} {
		names, err := fs.Glob(files, pattern)
		if err != nil {
			panic(err) // the pattern is the program's own
		}
		for _, n := range names {
			data, err := files.ReadFile(n)
			at, err2 := assetPath(n)
			if err != nil || err2 != nil {
				panic("an embedded file is not there") // it was listed
			}
			kind := "text/css; charset=utf-8"
			if path.Ext(n) == ".js" {
				kind = "text/javascript; charset=utf-8"
			}
			s.mux.HandleFunc("GET "+at, func(w http.ResponseWriter, _ *http.Request) {
				w.Header().Set("Content-Type", kind)
				w.Header().Set("Content-Length", strconv.Itoa(len(data)))
				w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
				_, _ = w.Write(data)
			})
		}
	}
}
