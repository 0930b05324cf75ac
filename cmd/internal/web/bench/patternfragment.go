package bench

import (
	"bytes"
	"html/template"
	"net/http"
	"strconv"

	"floatmark/label/words"
)

// fragment sends one part of a page, for a script that puts it in its place.
func (s *server) fragment(w http.ResponseWriter, r *http.Request, page, part string, data any) error {
	t, err := pages[page].Clone()
	if err != nil {
		return err
	}
	var buf bytes.Buffer
	if err := t.Funcs(template.FuncMap{"t": words.Bench(s.language(r))}).Funcs(inWords(s.language(r), s.measures(r))).ExecuteTemplate(&buf, part, data); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Content-Length", strconv.Itoa(buf.Len()))
	h.Set("Cache-Control", "no-store")
	h.Set("Vary", "Accept-Language, Cookie")
	_, _ = w.Write(buf.Bytes()) // the reader's connection may be gone
	return nil
}
