// Package web is the local server: it answers the link of a scanned code, or an
// id typed by hand, with the record page of the float.
//
// At the root lives /ID and nothing else but the entrance; everything of the
// server's own lives under /-/. It only reads: every request is a GET or a HEAD.
// A page is one file without scripts and without a request to anywhere. The
// package works out no figures; it shows those of a label.Entry.
package web

import (
	"errors"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/loading/fault"
)

// Source gives what is stored of a float by its id in the one written form;
// false when there is no such float.
type Source interface {
	Entry(id string) (label.Entry, bool, error)
}

// findPath takes an id typed into the form, as the query id=.
const findPath = "/-/find"

type server struct {
	src   Source
	hosts map[string]bool // lower case, without port
}

// New returns the handler of the server. Requests may name, beside loopback and
// the address they came in at, one of allowedHosts ("f.example", or
// "192.0.2.7:8017", whose port does not count). Any other Host is refused, for a
// page elsewhere can make its own name point here and read what is served.
func New(src Source, allowedHosts []string) http.Handler {
	s := &server{src: src, hosts: map[string]bool{"localhost": true}}
	for _, h := range allowedHosts {
		if name := hostName(h); name != "" {
			s.hosts[name] = true
		}
	}
	return s
}

// ServeHTTP implements http.Handler.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	harden(w.Header())
	switch {
	case !s.hostAllowed(r):
		send(w, http.StatusMisdirectedRequest, failPage(failure{Title: "This server does not answer to that name",
			What: "The request named another host than this server's.",
			Do:   "Open it by its own address, or start it with the name allowed: floatmark serve --host NAME"}))
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		w.Header().Set("Allow", "GET, HEAD")
		send(w, http.StatusMethodNotAllowed, failPage(failure{Title: "Pages here are only read",
			What: "The request asked for something else than a page.", Do: "Open the page in a browser."}))
	case r.URL.Path == "/":
		send(w, http.StatusOK, homePage)
	case r.URL.Path == findPath:
		s.find(w, r)
	default:
		s.record(w, r)
	}
}

// find sends a typed id on to its page.
func (s *server) find(w http.ResponseWriter, r *http.Request) {
	typed := r.URL.Query().Get("id")
	id, err := ident.Parse(typed)
	if err != nil {
		fail(w, err, failure{Title: mistypedTitle(typed), Typed: typed, Form: true})
		return
	}
	http.Redirect(w, r, "/"+string(id), http.StatusSeeOther)
}

// record answers /ID. Any other way to write the id leads to the one way.
func (s *server) record(w http.ResponseWriter, r *http.Request) {
	typed := strings.TrimPrefix(r.URL.Path, "/")
	id, err := ident.Parse(strings.TrimSuffix(typed, "/"))
	if err != nil {
		// The place asked for does not exist, whatever is wrong with its name.
		f := failure{Title: mistypedTitle(typed), Typed: typed, Form: true}
		if strings.ContainsAny(typed, "/.") || strings.HasPrefix(typed, "-") {
			f = failure{Title: "There is no such page", Form: true}
			err = fault.New(fault.NotFound, "", "only the ids of floats lead to a page here", "type the id that stands on the float or its card", err)
		}
		var e *fault.Error
		if errors.As(err, &e) {
			err = fault.New(fault.NotFound, "", e.What, e.Do, err)
		}
		fail(w, err, f)
		return
	}
	if typed != string(id) {
		http.Redirect(w, r, "/"+string(id), http.StatusPermanentRedirect)
		return
	}
	e, ok, err := s.src.Entry(string(id))
	if err == nil && !ok {
		err = fault.New(fault.NotFound, "", "the id "+string(id)+" is well formed, but this workshop has no float with it",
			"compare it with the float once more; if it is right, ask the maker whose name stands on the card")
		fail(w, err, failure{Title: "No float has this id here", Typed: string(id), Form: true})
		return
	}
	var page []byte
	if err == nil {
		page, err = Page(e)
	}
	if err != nil {
		fail(w, err, failure{Title: "The record cannot be shown"})
		return
	}
	send(w, http.StatusOK, page)
}

// mistypedTitle says what kind of slip it is: six characters that are no id
// were copied wrongly; fewer or more were not copied whole.
func mistypedTitle(typed string) string {
	if n := len([]rune(strings.NewReplacer(" ", "", "-", "", "/", "").Replace(typed))); n != ident.Length {
		return "An id has six characters"
	}
	return "One character looks wrong"
}

// hostAllowed looks at the Host header: an address is fine when the request
// came in at it, a name when it is on the list.
func (s *server) hostAllowed(r *http.Request) bool {
	name := hostName(r.Host)
	if s.hosts[name] {
		return true
	}
	ip, err := netip.ParseAddr(name)
	if err != nil {
		return false
	}
	if ip.IsLoopback() {
		return true
	}
	local, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok {
		return false
	}
	at, err := netip.ParseAddrPort(local.String())
	return err == nil && at.Addr().Unmap().WithZone("") == ip.Unmap()
}

// hostName drops port and brackets and lowers the letters.
func hostName(hostport string) string {
	name := hostport
	if h, _, err := net.SplitHostPort(hostport); err == nil {
		name = h
	}
	return strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
}

// harden sets what holds for every answer: nothing is loaded from anywhere,
// nothing is framed, guessed or told to other sites.
func harden(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-cache") // a float may be tested again and its page change
}
