package web

import (
	"net/http"

	benchpages "floatmark/cmd/internal/web/bench"
)

// benchRoutes let the maker to his own pages: on this computer as he is, from
// another with the unlock word.
func (s *server) benchRoutes() {
	if s.o.Bench == nil {
		return
	}
	s.mux.HandleFunc(benchpages.Path, func(w http.ResponseWriter, r *http.Request) {
		if _, ok := s.sessions.of(r); !ok && !benchpages.AtHome(r) {
			http.Redirect(w, r, unlockPath, http.StatusSeeOther)
			return
		}
		s.o.Bench.ServeHTTP(w, r)
	})
}
