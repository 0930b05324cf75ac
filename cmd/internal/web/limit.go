package web

import (
	"net/http"
	"net/netip"
	"sync"
	"time"
)

// How often an address may miss. Own choice: a reader who copies an id by hand
// misses a few times; ids are drawn from 33 million, so that whoever tries them
// one by one at this rate finds the floats of a workshop in no human time.
const (
	missBurst = 20
	missEvery = 3 * time.Second
	tryBurst  = 5
	tryEvery  = 30 * time.Second
	anyBurst  = 20
	anyEvery  = 3 * time.Second
	// mostAddresses bounds the memory: two generations of so many addresses.
	mostAddresses = 4096
)

// limiter is a bucket of tries per address, refilled one by one. When there are
// too many addresses the half that was quiet longest is forgotten.
type limiter struct {
	burst  float64
	every  time.Duration
	now    func() time.Time
	mu     sync.Mutex
	recent map[netip.Prefix]bucket
	before map[netip.Prefix]bucket
}

type bucket struct {
	tries float64 // left at
	at    time.Time
}

func newLimiter(burst int, every time.Duration, now func() time.Time) *limiter {
	return &limiter{burst: float64(burst), every: every, now: now, recent: map[netip.Prefix]bucket{}, before: map[netip.Prefix]bucket{}}
}

// left reports whether an address has a try left, take uses one up.
func (l *limiter) left(from netip.Prefix) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.filled(from).tries >= 1
}

func (l *limiter) take(from netip.Prefix) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	b := l.filled(from)
	if b.tries < 1 {
		return false
	}
	b.tries--
	if _, ok := l.recent[from]; !ok && len(l.recent) >= mostAddresses {
		l.before, l.recent = l.recent, map[netip.Prefix]bucket{}
	}
	l.recent[from] = b
	return true
}

func (l *limiter) filled(from netip.Prefix) bucket {
	b, ok := l.recent[from]
	if !ok {
		b, ok = l.before[from]
	}
	now := l.now()
	if !ok {
		return bucket{l.burst, now}
	}
	b.tries = min(l.burst, b.tries+float64(max(0, now.Sub(b.at)))/float64(l.every))
	b.at = now
	return b
}

// remote is where a request comes from: an address of IPv4, the network of one of
// IPv6, of which a household has many.
func remote(r *http.Request) netip.Prefix {
	at, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return netip.Prefix{} // all that cannot be told apart share a bucket
	}
	ip := at.Addr().Unmap().WithZone("")
	bits := 32
	if ip.Is6() {
		bits = 64
	}
	p, _ := ip.Prefix(bits) // the bits fit the address
	return p
}

// everyone is the one bucket of all addresses together.
func everyone() netip.Prefix { return netip.PrefixFrom(netip.IPv6Unspecified(), 0) }
