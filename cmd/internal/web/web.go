// Package web is the local server: it answers the link of a scanned code, or an
// id typed by hand, with the record page of the float, and lets the maker who
// knows the unlock word change a record.
//
// At the root lives /ID and nothing else but the entrance; everything of the
// server's own lives under /-/. A record page is one file without scripts and
// without a request to anywhere; it only reads. State changes by POST alone, from
// the same origin, with a session and its token. The package works out no
// figures; it shows those of a label.Entry and of package job.
package web

import (
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"floatmark/cmd/internal/job"
	benchpages "floatmark/cmd/internal/web/bench"
	"floatmark/label"
	"floatmark/loading/shot"
)

// Source gives what is stored of a float by its id in the one written form, and
// photographs by their number; false when there is none. job.Shelf is one.
type Source interface {
	Entry(id string) (label.Entry, bool, error)
	Build(id string) (label.Builds, bool, error)
	Photo(number int) ([]byte, bool, error)
}

// Options say how a server answers. The zero value serves record pages only.
type Options struct {
	// Hosts that requests may name, beside loopback and the address they came in
	// at: "f.example", or "192.0.2.7:8017", whose port does not count.
	Hosts    []string
	Own      []shot.Convention // the maker's own sets, offered beside the built-in
	Language string            // for requests that accept none there are words for
	Bench    http.Handler      // the maker's own pages; nil for none
	Log      *slog.Logger      // one line per request; nil for none
	Now      func() time.Time  // nil for the clock
	// Unlock tells whether a word is the workshop's unlock word; nil when none is
	// set: then nothing can be changed.
	Unlock func(word string) (bool, error)
	// Word tells the unlock word that is in force from any other, "" where there is
	// none: sessions end with the word they were opened with. nil where it never
	// changes.
	Word func() (mark string, err error)
	// Keeper is what the unlocked pages change; nil when nothing can be changed.
	Keeper Keeper
	// AtHome lets who is at home (bench.AtHome) change records without the word, as
	// he may on the bench's own pages.
	AtHome bool
}

// What lives under /-/.
const (
	ownPrefix  = "/-/"
	findPath   = ownPrefix + "find" // takes an id typed into the form, as the query id=
	unlockPath = ownPrefix + "unlock"
	lockPath   = ownPrefix + "lock"
)

type server struct {
	src      Source
	o        Options
	hosts    map[string]bool // lower case, without port
	mux      *http.ServeMux  // of everything under /-/
	origin   *http.CrossOriginProtection
	misses   *limiter // tries at ids that no float has
	tries    *limiter // tries at the unlock word
	anybody  *limiter // the same, all addresses together: checking a word is work
	sessions *sessions
	atHome   session // of who is at home, where Options.AtHome lets him be
	styles   string  // hashes of the style sheets
}

// New returns the handler of the server. A request that names any host but those
// allowed is refused, for a page elsewhere can make its own name point here and
// read what is served.
func New(src Source, o Options) http.Handler {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Word == nil {
		o.Word = func() (string, error) { return "set", nil }
	}
	s := &server{src: src, o: o, hosts: map[string]bool{"localhost": true}, mux: http.NewServeMux(), origin: http.NewCrossOriginProtection(),
		misses: newLimiter(missBurst, missEvery, o.Now), tries: newLimiter(tryBurst, tryEvery, o.Now),
		anybody: newLimiter(anyBurst, anyEvery, o.Now), sessions: newSessions(o.Now, o.Word), styles: styleHash(styleSource) + " " + styleHash(styleSource+makerStyle)}
	if o.AtHome {
		s.atHome.token, _ = job.Secret() // "" where there are no random numbers: then nobody is let in so
	}
	for _, h := range o.Hosts {
		if name := hostName(h); name != "" {
			s.hosts[name] = true
		}
	}
	s.routes()
	if o.Log == nil {
		return s
	}
	return logged(s, o.Log, o.Now)
}

// routes are all there is under /-/; what is not here is no page.
func (s *server) routes() {
	s.mux.HandleFunc("GET "+findPath, s.find)
	s.mux.HandleFunc("GET "+unlockPath, s.askWord)
	s.mux.HandleFunc("POST "+unlockPath, s.unlock)
	s.mux.HandleFunc("POST "+lockPath, s.lock)
	for _, path := range []string{makerPath + "{id}", buildPath + "{kind}/{key}"} {
		s.mux.HandleFunc("GET "+path, s.makerPage)
		s.mux.HandleFunc("POST "+path, s.change)
		s.mux.HandleFunc("POST "+path+"/photo", s.addPhoto)
	}
	s.mux.HandleFunc("GET "+photoPath+"{id}/{number}", s.photo)
	s.mux.HandleFunc("GET "+buildPath+"{kind}/{key}/photo/{number}", s.sharedPhoto)
	s.tankRoutes()
	s.benchRoutes()
	s.mux.HandleFunc("/", s.noPage)
}

// ServeHTTP implements http.Handler.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	harden(w.Header(), s.styles)
	own := strings.HasPrefix(r.URL.Path, ownPrefix)
	switch {
	case !s.hostAllowed(r):
		s.send(w, r, http.StatusMisdirectedRequest, failure{Title: "This server does not answer to that name",
			What: "The request named another host than this server's.",
			Do:   "Open it by its own address, or start it with the name allowed: floatmark serve --host NAME"})
	case r.Method != http.MethodGet && r.Method != http.MethodHead && (r.Method != http.MethodPost || !own):
		w.Header().Set("Allow", "GET, HEAD")
		s.send(w, r, http.StatusMethodNotAllowed, failure{Title: "Pages here are only read",
			What: "The request asked for something else than a page.", Do: "Open the page in a browser."})
	case r.Method == http.MethodPost && s.origin.Check(r) != nil:
		s.send(w, r, http.StatusForbidden, failure{Title: "That came from another page",
			What: "Only this server's own pages can change something here.", Do: "Open the record itself and try from there."})
	case own:
		if r.Method == http.MethodPost {
			r.Body = http.MaxBytesReader(w, r.Body, bodyMost(r.URL.Path))
		}
		s.mux.ServeHTTP(w, r)
	case r.URL.Path == "/":
		s.home(w, r)
	default:
		s.record(w, r)
	}
}

// mostForm is the most bytes of a form: every field of a record many times over.
const mostForm = 64 << 10

func bodyMost(path string) int64 {
	if (strings.HasPrefix(path, makerPath) || strings.HasPrefix(path, buildPath)) && strings.HasSuffix(path, "/photo") {
		return mostPhoto
	}
	if strings.HasPrefix(path, benchpages.Path) {
		return benchpages.MostBodyOf(path)
	}
	if path == tankOpen {
		return mostBatch
	}
	return mostForm
}

// hostAllowed looks at the Host header: an address is fine when the request
// came in at it, a name when it is on the list.
func (s *server) hostAllowed(r *http.Request) bool {
	name := hostName(r.Host)
	if s.hosts[name] {
		return true
	}
	ip, err := netip.ParseAddr(name)
	if err != nil {
		return false
	}
	if ip.IsLoopback() {
		return true
	}
	local, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok {
		return false
	}
	at, err := netip.ParseAddrPort(local.String())
	return err == nil && at.Addr().Unmap().WithZone("") == ip.Unmap()
}

// hostName drops port and brackets and lowers the letters.
func hostName(hostport string) string {
	name := hostport
	if h, _, err := net.SplitHostPort(hostport); err == nil {
		name = h
	}
	return strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
}

// harden sets what holds for every answer: nothing is loaded from elsewhere,
// nothing runs, nothing is framed, guessed or told to other sites. The one style
// sheet stands in the page and is known by its hash.
func harden(h http.Header, pagePolicy string) {
	h.Set("Content-Security-Policy", "default-src 'none'; style-src "+pagePolicy+"; img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	// Other sites are told nothing. Told nothing of itself either ("no-referrer"), a
	// browser posts forms with the origin null, and over plain http in the LAN, where
	// it sends no Sec-Fetch-Site, that cannot be told from another page's form.
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
	h.Set("Cache-Control", "no-cache") // a float may be tested again and its page change
	h.Set("Vary", "Accept-Language, Accept-Encoding, Cookie")
}
