package web

import (
	"net/http"
	"strconv"

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

// sendHTML writes a whole page; its length is known before the first byte goes out.
func sendHTML(w http.ResponseWriter, code int, page []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(page)))
	w.WriteHeader(code)
	// An error here is the reader's connection gone: there is nobody to tell.
	_, _ = w.Write(page)
}
