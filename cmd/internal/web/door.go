package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"sync"

	benchpages "floatmark/cmd/internal/web/bench"
	"floatmark/loading/fault"
)

// DoorPort is where phones come in: one of its own, so that links and codes that
// they keep stay good. Own choice among those that nobody is known to use.
const DoorPort = 8019

// Door is a second entrance to a server, in the network that this computer is in.
// It opens only while an unlock word is set, and shuts itself when the word has
// been taken away. What comes in by it is never at home.
type Door struct {
	addrs func() ([]netip.Addr, error) // the likeliest first
	port  uint16
	word  func() (string, error)
	h     http.Handler

	turning sync.Mutex // one opens or shuts at a time
	mu      sync.Mutex
	open    []entrance
}

type entrance struct {
	s  *http.Server
	at netip.AddrPort
}

// NewDoor returns a door that is shut: at those addresses, the likeliest first, and
// that port, 0 for a free one. word marks the unlock word in force, "" for none.
func NewDoor(addrs func() ([]netip.Addr, error), port uint16, word func() (string, error)) *Door {
	return &Door{addrs: addrs, port: port, word: word}
}

// Leads says what the door leads to, before it is opened.
func (d *Door) Leads(h http.Handler) { d.h = h }

// Open opens it at every address of this computer in its networks, anew where it is
// open. Where the likeliest address cannot be had it stays shut, a Machine error.
func (d *Door) Open() error {
	d.turning.Lock()
	defer d.turning.Unlock()
	if err := d.shut(); err != nil {
		return err
	}
	mark, err := d.word()
	if err != nil {
		return err
	}
	if mark == "" {
		return fault.New(fault.Input, "", benchpages.ErrNoWord.Error(), "set one first", benchpages.ErrNoWord)
	}
	addrs, err := d.addrs()
	if err != nil {
		return err
	}
	if len(addrs) == 0 {
		return fault.New(fault.Machine, "", benchpages.ErrNoNetwork.Error(), "join the one the phone is in", benchpages.ErrNoNetwork)
	}
	for i, ip := range addrs {
		at := netip.AddrPortFrom(ip, d.port)
		ln, err := net.Listen("tcp", at.String())
		if err != nil && i == 0 {
			return fault.New(fault.Machine, at.String(), "cannot listen there: "+reason(err), "end what has that port, perhaps another workshop's bench", errors.Join(benchpages.ErrTaken, err))
		}
		if err != nil {
			continue // an address that phones hardly use
		}
		d.begin(ln)
	}
	return nil
}

func (d *Door) begin(ln net.Listener) {
	s := newServer(http.HandlerFunc(d.serve), limits{headerTime, readTime, writeTime, idleTime})
	at, _ := netip.ParseAddrPort(ln.Addr().String()) // it was asked for by one
	d.mu.Lock()
	d.open = append(d.open, entrance{s, at})
	d.mu.Unlock()
	go func() {
		_ = s.Serve(ln) // however it ends, nobody comes in there any more
		d.mu.Lock()
		defer d.mu.Unlock()
		d.open = slices.DeleteFunc(d.open, func(e entrance) bool { return e.s == s })
	}()
}

func (d *Door) serve(w http.ResponseWriter, r *http.Request) {
	if mark, err := d.word(); err == nil && mark == "" {
		w.Header().Set("Connection", "close")
		http.Error(w, "The door is shut.", http.StatusForbidden)
		go func() { _ = d.Shut() }() // it waits until this answer is out
		return
	}
	d.h.ServeHTTP(w, r.WithContext(benchpages.ThroughDoor(r.Context())))
}

// Shut lets running requests end and shuts the door; one that is shut stays so.
func (d *Door) Shut() error {
	d.turning.Lock()
	defer d.turning.Unlock()
	return d.shut()
}

func (d *Door) shut() error {
	d.mu.Lock()
	all := d.open
	d.open = nil
	d.mu.Unlock()
	failed := make([]error, len(all))
	var wait sync.WaitGroup
	for i, one := range all {
		wait.Go(func() { failed[i] = stopServer(context.Background(), one.s) })
	}
	wait.Wait()
	return errors.Join(failed...)
}

// State is how the door stands.
func (d *Door) State() (st benchpages.DoorState) {
	d.mu.Lock()
	var at []netip.Addr
	for _, one := range d.open {
		st.At, at = append(st.At, one.at.String()), append(at, one.at.Addr())
	}
	d.mu.Unlock()
	if len(at) > 0 {
		now, err := d.addrs()
		st.Moved = err == nil && (len(now) == 0 || !slices.Contains(at, now[0]))
	}
	return st
}
