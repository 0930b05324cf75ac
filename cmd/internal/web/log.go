package web

import (
	"log/slog"
	"net/http"
	"time"
)

// logged writes one line for every request: when, from where, what was asked, what
// was answered and how long it took. Queries, cookies and forms are not in it.
func logged(h http.Handler, log *slog.Logger, now func() time.Time) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		began := now()
		c := &counted{ResponseWriter: w}
		path := r.URL.Path
		if len(path) > mostPath {
			path = path[:mostPath]
		}
		defer func() {
			level := slog.LevelInfo
			if c.code >= http.StatusInternalServerError {
				level = slog.LevelError
			}
			log.LogAttrs(r.Context(), level, "request", slog.String("from", remote(r).Addr().String()), slog.String("method", r.Method),
				slog.String("path", path), slog.Int("status", c.code), slog.Int64("bytes", c.bytes), slog.Duration("took", now().Sub(began)))
		}()
		h.ServeHTTP(c, r)
	})
}

// counted counts what is sent.
type counted struct {
	http.ResponseWriter
	code  int
	bytes int64
}

// WriteHeader implements http.ResponseWriter and notes the status.
func (c *counted) WriteHeader(code int) {
	c.code = code
	c.ResponseWriter.WriteHeader(code)
}

// Write implements io.Writer and counts the bytes.
func (c *counted) Write(p []byte) (int, error) {
	if c.code == 0 {
		c.code = http.StatusOK
	}
	n, err := c.ResponseWriter.Write(p)
	c.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController reach the connection.
func (c *counted) Unwrap() http.ResponseWriter { return c.ResponseWriter }
