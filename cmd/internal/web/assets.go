package web

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strconv"
)

// scriptPath is where a script of the server's own lives. Its name changes with
// what it holds, so that it may be kept for ever.
func scriptPath(name, source string) string {
	sum := sha256.Sum256([]byte(source))
	const enough = 6 // bytes: scripts that ever were are few
	return ownPrefix + name + "-" + hex.EncodeToString(sum[:enough]) + ".js"
}

// script serves a script of the server's own.
func (s *server) script(name, source string) {
	s.mux.HandleFunc("GET "+scriptPath(name, source), func(w http.ResponseWriter, _ *http.Request) {
		h := w.Header()
		h.Set("Content-Type", "text/javascript; charset=utf-8")
		h.Set("Content-Length", strconv.Itoa(len(source)))
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
		h.Del("Vary")
		_, _ = w.Write([]byte(source)) // the reader's connection may be gone
	})
}

// allowScripts adds to the policy of a page that scripts of the server's own may
// run and may ask the server itself.
func allowScripts(h http.Header) {
	const policy = "Content-Security-Policy"
	h.Set(policy, h.Get(policy)+"; script-src 'self'; connect-src 'self'")
}
