package web

import (
	"net/http"
	"slices"
	"strconv"

	"floatmark/label"
	"floatmark/label/ident"
)

const photoPath = ownPrefix + "photo/" // /-/photo/ID/NUMBER

func photoLink(id string, n int) string { return photoPath + id + "/" + strconv.Itoa(n) }

// photo answers with a photograph: of what is published to anybody, of the rest to
// the maker.
func (s *server) photo(w http.ResponseWriter, r *http.Request) {
	id, err := ident.Parse(r.PathValue("id"))
	n, errNumber := strconv.Atoi(r.PathValue("number"))
	if err != nil || errNumber != nil || !s.misses.left(remote(r)) {
		s.noPage(w, r)
		return
	}
	all, ok, err := s.src.Build(string(id))
	if err != nil {
		s.fail(w, r, err, failure{Title: "The photograph cannot be shown"})
		return
	}
	shown := all.Public()
	if _, maker := s.unlocked(r); maker {
		shown = all.All()
	}
	if !ok || !slices.ContainsFunc(shown.Photos, func(i label.Item[label.Photo]) bool { return i.Value.Photo == n }) {
		s.misses.take(remote(r))
		s.noPage(w, r)
		return
	}
	s.sendPhoto(w, r, n)
}

// sharedPhoto answers the maker with a photograph of a batch or a pattern.
func (s *server) sharedPhoto(w http.ResponseWriter, r *http.Request) {
	of, known := subjectOf(r)
	n, err := strconv.Atoi(r.PathValue("number"))
	if _, maker := s.unlocked(r); !maker || !known || err != nil || s.o.Keeper == nil {
		s.noPage(w, r)
		return
	}
	b, err := s.o.Keeper.BuildOf(of)
	if err != nil || !slices.ContainsFunc(b.Photos, func(i label.Item[label.Photo]) bool { return i.Value.Photo == n }) {
		s.noPage(w, r)
		return
	}
	s.sendPhoto(w, r, n)
}

func (s *server) sendPhoto(w http.ResponseWriter, r *http.Request, n int) {
	jpeg, ok, err := s.src.Photo(n)
	if err != nil || !ok {
		s.noPage(w, r)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Content-Length", strconv.Itoa(len(jpeg)))
	w.Header().Set("Cache-Control", "private, max-age=3600") // an hour: what is kept again is soon gone
	_, _ = w.Write(jpeg)                                     // the reader's connection may be gone
}
