package web

import (
	"net"
	"net/http"
	"net/netip"

	benchpages "floatmark/cmd/internal/web/bench"
)

// benchRoutes let the maker to his own pages: on this computer as he is, from
// another with the unlock word.
func (s *server) benchRoutes() {
	if s.o.Bench == nil {
		return
	}
	s.mux.HandleFunc(benchpages.Path, func(w http.ResponseWriter, r *http.Request) {
		if _, ok := s.sessions.of(r); !ok && !atHome(r) {
			http.Redirect(w, r, unlockPath, http.StatusSeeOther)
			return
		}
		s.o.Bench.ServeHTTP(w, r)
	})
}

// atHome reports whether a request comes from this very computer and names it so:
// a page elsewhere that has its own name point here does neither.
func atHome(r *http.Request) bool {
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil || !from.Addr().Unmap().IsLoopback() {
		return false
	}
	name := hostName(r.Host)
	ip := net.ParseIP(name)
	return name == "localhost" || ip != nil && ip.IsLoopback()
}
