package web

import (
	"errors"
	"net/http"
	"net/url"
	"strings"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/words"
	"floatmark/loading/fault"
)

// home is the entrance.
func (s *server) home(w http.ResponseWriter, r *http.Request) {
	f := s.frame(w, r)
	f.Title = first(f.Said.Find)
	sendHTML(w, http.StatusOK, mustPage("home", f))
}

// frame begins a page in the reader's language, with links to the others, and
// keeps what was chosen in the request.
func (s *server) frame(w http.ResponseWriter, r *http.Request) frame {
	want, asked := wantedOf(r)
	if asked && r.URL.Query().Has(langField) {
		want.keep(w.Header())
	}
	said := words.PageFor(languageOf(want.Language, r, s.o.Language))
	return frame{Lang: said.Language, Said: said, Tongues: tongues(said.Language, linkIn(r))}
}

// linkIn leads to the same page in another language.
func linkIn(r *http.Request) func(string) string {
	return func(tag string) string {
		q := url.Values{}
		for _, name := range []string{"id", setField, metalField, waterField} {
			if v := r.URL.Query().Get(name); v != "" {
				q.Set(name, clip(v))
			}
		}
		q.Set(langField, tag)
		return (&url.URL{Path: pathOf(r), RawQuery: q.Encode()}).String()
	}
}

// pathOf is the path of a request as a link may bear it: one that a browser could
// read as a link to another host leads home.
func pathOf(r *http.Request) string {
	p := r.URL.Path
	if strings.HasPrefix(p, "//") || strings.ContainsAny(p, "\\") || len(p) > mostPath {
		return "/"
	}
	return p
}

// mostPath is the longest path that is offered again.
const mostPath = 64

// find sends a typed id on to its page.
func (s *server) find(w http.ResponseWriter, r *http.Request) {
	typed := r.URL.Query().Get("id")
	id, err := ident.Parse(typed)
	if err != nil {
		s.fail(w, r, err, s.mistyped(r, typed))
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
		if strings.ContainsAny(typed, "/.\\") || strings.HasPrefix(typed, "-") {
			s.noPage(w, r)
			return
		}
		s.fail(w, r, fault.New(fault.NotFound, "", "no id", "", err), s.mistyped(r, typed))
		return
	}
	if typed != string(id) {
		http.Redirect(w, r, "/"+string(id), http.StatusPermanentRedirect)
		return
	}
	from := remote(r)
	said := s.said(r)
	if !s.misses.left(from) {
		s.tooMany(w, r)
		return
	}
	e, ok, err := s.src.Entry(string(id))
	if err == nil && !ok {
		s.misses.take(from)
		s.fail(w, r, fault.New(fault.NotFound, "", "no float has the id", ""), failure{Title: first(said.NoFloat), Do: said.NoFloatDo, Typed: string(id), Form: true, Ours: true})
		return
	}
	var page []byte
	if err == nil {
		want, asked := wantedOf(r)
		lang := languageOf(want.Language, r, s.o.Language)
		if asked {
			want.keep(w.Header())
		}
		var all label.Builds
		if all, _, err = s.src.Build(string(id)); err == nil {
			b := all.Public()
			page, err = Page(e, View{Language: lang, Choice: want.Choice, Own: s.o.Own, Action: "/" + string(id), Link: linkIn(r), Build: &b,
				Photo: func(n int) string { return photoLink(string(id), n) }, Maker: s.makerLink(r, string(id))})
		}
	}
	if err != nil {
		s.fail(w, r, err, failure{Title: "The record cannot be shown"})
		return
	}
	// No secret stands in a record's page, so that its packed size tells nothing.
	sendHTML(w, http.StatusOK, packed(w, r, page))
}

func (s *server) said(r *http.Request) words.Page {
	want, _ := wantedOf(r)
	return words.PageFor(languageOf(want.Language, r, s.o.Language))
}

func (s *server) noPage(w http.ResponseWriter, r *http.Request) {
	said := s.said(r)
	s.fail(w, r, fault.New(fault.NotFound, "", "no such page", ""), failure{Title: first(said.NoPage), Do: said.SixLongDo, Form: true, Ours: true})
}

func (s *server) tooMany(w http.ResponseWriter, r *http.Request) {
	said := s.said(r)
	w.Header().Set("Retry-After", "60")
	s.send(w, r, http.StatusTooManyRequests, failure{Title: first(said.TooMany), Do: said.TooManyD})
}

// mistyped says what kind of slip it is: six characters that are no id were
// copied wrongly; fewer or more were not copied whole.
func (s *server) mistyped(r *http.Request, typed string) failure {
	said := s.said(r)
	f := failure{Title: first(said.Mistyped), Do: said.MistypedDo, Typed: typed, Form: true, Ours: true}
	if n := len([]rune(strings.NewReplacer(" ", "", "-", "", "/", "").Replace(typed))); n != ident.Length {
		f.Title, f.Do = first(said.SixLong), said.SixLongDo
	}
	return f
}

// fail answers with an error. What stands in an error of ours, and the place in
// any (a path of the maker's disc), is not for strangers.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error, f failure) {
	class := fault.ClassOf(err)
	if !f.Ours {
		f.What, f.Do = "Something went wrong in the program.", "Try again; if it stays, tell the maker."
		var e *fault.Error
		if class != fault.Ours && errors.As(err, &e) {
			tell := words.Told(s.said(r).Language)
			f.What, f.Do = tell(e.What), tell(e.Do)
		}
		f.What, f.Do = stop(first(f.What)), stop(first(f.Do))
	}
	s.send(w, r, status(class), f)
}

// send writes a page that tells what is wrong.
func (s *server) send(w http.ResponseWriter, r *http.Request, code int, f failure) {
	f.Typed = clip(f.Typed)
	page := s.frame(w, r)
	f.Title, f.What, f.Do = page.Say(f.Title), page.Say(f.What), page.Say(f.Do)
	page.Title, page.Failure = f.Title, &f
	sendHTML(w, code, mustPage("failure", page))
}

// first gives a sentence its capital, stop its end.
func first(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

func stop(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}
