package bench

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/netip"
	"strings"
)

// Door lets phones in: a second entrance to the same server, in the network that
// this computer is in. web.Door is one.
type Door interface {
	// Open opens it, anew where it is open. The cause of its error is ErrNoWord,
	// ErrNoNetwork or ErrTaken, or something else that the machine says.
	Open() error
	// Shut lets running requests end and shuts it.
	Shut() error
	State() DoorState
}

// DoorState is how a door stands.
type DoorState struct {
	At    []string // where phones reach it, "192.0.2.7:8019", the likeliest first; none while it is shut
	Moved bool     // this computer has another address in the network since it was opened
}

// Why a door stays shut.
var (
	ErrNoWord    = errors.New("no unlock word is set")
	ErrNoNetwork = errors.New("this computer is in no network that phones are in")
	ErrTaken     = errors.New("the port is taken")
)

type throughDoor struct{}

// ThroughDoor marks a request that came in by a door: it is never at home, whatever
// address it comes from.
func ThroughDoor(ctx context.Context) context.Context {
	return context.WithValue(ctx, throughDoor{}, true)
}

// AtHome reports whether a request comes from this very computer and names it so:
// a page elsewhere that has its own name point here does neither.
func AtHome(r *http.Request) bool {
	if r.Context().Value(throughDoor{}) != nil {
		return false
	}
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil || !from.Addr().Unmap().IsLoopback() {
		return false
	}
	name := r.Host
	if h, _, err := net.SplitHostPort(name); err == nil {
		name = h
	}
	name = strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
	ip := net.ParseIP(name)
	return name == "localhost" || ip != nil && ip.IsLoopback()
}
