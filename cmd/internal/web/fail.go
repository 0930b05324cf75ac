package web

import (
	"bytes"
	"compress/gzip"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"floatmark/loading/fault"
)

// failure is what a page says when there is nothing to show.
type failure struct {
	Title, What, Do string
	Typed           string // what was asked for, offered again in the form
	Form            bool   // show the form
	Back            string // where to go from here; "" for nowhere
	Ours            bool   // What and Do are set; the error says no more
}

// status turns the class of an error into the status of the answer; the one
// place that does.
func status(c fault.Class) int {
	switch c {
	case fault.Input:
		return http.StatusBadRequest
	case fault.NotFound:
		return http.StatusNotFound
	case fault.NoFit:
		return http.StatusUnprocessableEntity
	case fault.Machine:
		return http.StatusServiceUnavailable
	default:
		return http.StatusInternalServerError
	}
}

// clip keeps a pasted page out of the form.
func clip(s string) string {
	const most = 24
	if r := []rune(s); len(r) > most {
		return string(r[:most])
	}
	return s
}

// packers are used again and again: a new one takes a megabyte, which at two
// hundred pages a second is what pages would wait for.
var packers = sync.Pool{New: func() any { return gzip.NewWriter(nil) }}

// packed packs a page for a reader who takes gzip (RFC 9110, section 12.5.3): a
// third of the bytes on a bad line.
func packed(w http.ResponseWriter, r *http.Request, page []byte) []byte {
	takes := false
	for _, one := range strings.Split(r.Header.Get("Accept-Encoding"), ",") {
		name, weight, _ := strings.Cut(strings.ReplaceAll(one, " ", ""), ";")
		takes = takes || name == "gzip" && strings.Trim(strings.TrimPrefix(weight, "q="), "0.") != "" || name == "gzip" && weight == ""
	}
	if !takes {
		return page
	}
	var buf bytes.Buffer
	z := packers.Get().(*gzip.Writer)
	defer packers.Put(z)
	z.Reset(&buf)
	// Writing to memory does not fail.
	_, _ = z.Write(page)
	_ = z.Close()
	w.Header().Set("Content-Encoding", "gzip")
	return buf.Bytes()
}

// sendHTML writes a whole page; its length is known before the first byte goes out.
func sendHTML(w http.ResponseWriter, code int, page []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(page)))
	w.WriteHeader(code)
	// An error here is the reader's connection gone: there is nobody to tell.
	_, _ = w.Write(page)
}
