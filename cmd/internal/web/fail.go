package web

import (
	"errors"
	"net/http"
	"strconv"

	"floatmark/loading/fault"
)

// failure is what a page says when there is nothing to show.
type failure struct {
	Title, What, Do string
	Typed           string // what was asked for, offered again in the form
	Form            bool   // show the form
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

// fail answers with an error. What stands in an error of ours, and the place in
// any (a path of the maker's disc), is not for strangers.
func fail(w http.ResponseWriter, err error, f failure) {
	class := fault.ClassOf(err)
	f.What, f.Do = "something went wrong in the program", "try again; if it stays, tell the maker"
	var e *fault.Error
	if class != fault.Ours && errors.As(err, &e) {
		f.What, f.Do = e.What, e.Do
	}
	f.Typed = clip(f.Typed)
	send(w, status(class), failPage(f))
}

// clip keeps a pasted page out of the form.
func clip(s string) string {
	const most = 24
	if r := []rune(s); len(r) > most {
		return string(r[:most])
	}
	return s
}

// send writes a whole page; its length is known before the first byte goes out.
func send(w http.ResponseWriter, code int, page []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(page)))
	w.WriteHeader(code)
	// An error here is the reader's connection gone: there is nobody to tell.
	_, _ = w.Write(page)
}
