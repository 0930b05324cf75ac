package bench

import (
	"net/http"
	"sync"
)

// Gate is what all requests of a server go through, so that one piece of work can
// have the records to itself: it waits for those under way, and further ones wait
// for it.
type Gate struct{ mu sync.RWMutex }

// Through returns the handler behind the gate.
func (g *Gate) Through(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		g.mu.RLock()
		defer g.mu.RUnlock()
		h.ServeHTTP(w, r)
	})
}

// Alone runs do while no request is under way. It must not be called from within
// one.
func (g *Gate) Alone(do func() error) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	return do()
}
