package bench

import (
	"net"
	"net/http"
	"sync"
	"time"
)

// pressedAgain is how long after a form was stored the very same one is taken for a
// button that was pressed twice. Own choice: no hand comes back from another page
// sooner.
const pressedAgain = 5 * time.Second

// mostPressed is how many forms are remembered at most.
const mostPressed = 64

// presses remembers forms that were stored just now and where they led. Scripts keep
// a form from being sent twice; without them the second comes on a version that is
// old by now, and is nobody else's change.
type presses struct {
	mu  sync.Mutex
	all map[string]press
}

type press struct {
	to string
	at time.Time
}

// pressKey tells forms apart, also the same from two browsers; "" for one that names no version, or brings files.
func pressKey(r *http.Request) string {
	if r.Method != http.MethodPost || r.PostForm.Get("version") == "" || r.MultipartForm != nil && len(r.MultipartForm.File) > 0 {
		return ""
	}
	host, _, _ := net.SplitHostPort(r.RemoteAddr)
	return host + " " + r.UserAgent() + " " + r.URL.EscapedPath() + "?" + r.PostForm.Encode()
}

// stored notes a form that was stored and where it led.
func (p *presses) stored(r *http.Request, to string) {
	key := pressKey(r)
	if key == "" || to == "" {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := time.Now()
	for k, one := range p.all {
		if now.Sub(one.at) > pressedAgain {
			delete(p.all, k)
		}
	}
	if p.all == nil {
		p.all = map[string]press{}
	}
	if len(p.all) < mostPressed {
		p.all[key] = press{to, now}
	}
}

// led is where the very same form led just now; "" where there was none.
func (p *presses) led(r *http.Request) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	one, ok := p.all[pressKey(r)]
	if !ok || time.Since(one.at) > pressedAgain {
		return ""
	}
	return one.to
}
