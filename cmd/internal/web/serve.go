package web

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"

	"floatmark/loading/fault"
)

// Limits of a connection: a page is small and its reader is a person; whoever
// takes longer is stuck or means harm. Common practice, no source.
const (
	headerTime = 5 * time.Second
	readTime   = 10 * time.Second
	writeTime  = 30 * time.Second
	idleTime   = 60 * time.Second
	stopTime   = 5 * time.Second // what running requests get to end
	maxHeader  = 16 << 10        // bytes
)

// Serve listens at addr ("127.0.0.1:8017"; port 0 takes a free one), tells ready
// the address it got, and answers until ctx ends; then it lets running requests
// end and returns nil. An address that cannot be had is a Machine error.
func Serve(ctx context.Context, addr string, h http.Handler, ready func(addr string)) error {
	return serveWith(ctx, addr, h, ready, limits{headerTime, readTime, writeTime, idleTime})
}

// limits are how long a connection may take over each part.
type limits struct{ header, read, write, idle time.Duration }

func serveWith(ctx context.Context, addr string, h http.Handler, ready func(addr string), most limits) error {
	var lc net.ListenConfig
	ln, err := lc.Listen(ctx, "tcp", addr)
	if err != nil {
		return fault.New(fault.Machine, addr, "cannot listen there: "+reason(err), "name a free address and port, as in --addr 127.0.0.1:8018", err)
	}
	s := newServer(h, most)
	done := make(chan error, 1)
	go func() { done <- s.Serve(ln) }()
	if ready != nil {
		ready(ln.Addr().String())
	}
	select {
	case err := <-done:
		return fault.New(fault.Machine, addr, "the server stopped: "+reason(err), "start it again", err)
	case <-ctx.Done():
	}
	return stopServer(ctx, s)
}

func newServer(h http.Handler, most limits) *http.Server {
	return &http.Server{Handler: h, ReadHeaderTimeout: most.header, ReadTimeout: most.read, WriteTimeout: most.write,
		IdleTimeout: most.idle, MaxHeaderBytes: maxHeader, ErrorLog: slog.NewLogLogger(slog.DiscardHandler, slog.LevelError)}
}

// stopServer lets running requests end, for a while.
func stopServer(ctx context.Context, s *http.Server) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	err := s.Shutdown(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		err = s.Close()
	}
	if err != nil {
		return fault.New(fault.Machine, "", "the server did not stop cleanly: "+reason(err), "nothing acknowledged is lost", err)
	}
	return nil
}

// reason is the system's own word without the address that stands before it anyway.
func reason(err error) string {
	var op *net.OpError
	if errors.As(err, &op) && op.Err != nil {
		return op.Err.Error()
	}
	return err.Error()
}
