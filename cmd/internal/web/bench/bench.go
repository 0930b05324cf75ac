// Package bench is the maker's own pages: the whole way from an empty workshop to
// printed sheets and cards, in the browser.
//
// Every page works without scripts; scripts add dragging, turning and pictures
// that follow. Pages change nothing by GET; every change of a batch names the
// version it was made on and can be undone. What is worked out is worked out by
// package job, as for the command. Who may come here is the caller's affair.
package bench

import (
	"errors"
	"net/http"
	"net/url"
	"strings"
	"sync/atomic"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
)

// Path is where all of it lives.
const Path = "/-/bench/"

// Options say how the pages are shown.
type Options struct {
	Language string // for requests that accept none there are words for
	// Ahead works a batch out as soon as it is changed, before a page asks for it.
	Ahead bool
	// Patience is how long a page waits for what it shows before it shows that this is
	// being worked out; 0 is hardly at all.
	Patience time.Duration
	// Site makes the public pages, whose own language "" is that of each float's mark;
	// nil where they cannot be published.
	Site func(language string) (job.Site, error)
	// Alone runs do while nothing else of this server has the records open; nil where
	// nothing has between requests. It waits for the requests under way.
	Alone func(do func() error) error
	Door  Door // lets phones in; nil where there is none to open
}

type server struct {
	at        atomic.Pointer[job.Workshop]
	o         Options
	mux       *http.ServeMux
	marksSeen markViews
	plans     plans
	works     works
	laidPics  laidPictures
	presses   presses
}

// New returns the handler of everything under Path.
func New(shop *job.Workshop, o Options) http.Handler {
	s := &server{o: o, mux: http.NewServeMux()}
	s.at.Store(shop)
	s.assets()
	s.routes()
	return s
}

// shop is the workshop with the settings that hold now.
func (s *server) shop() *job.Workshop { return s.at.Load() }

// reopen reads the settings anew and forgets what was worked out.
func (s *server) reopen() {
	if shop, err := job.Open(s.shop().Dir); err == nil { // else the old ones hold until the next try
		s.at.Store(shop)
	}
	s.forget()
}

// routes are all pages there are, those of each file by its own list.
func (s *server) routes() {
	for _, list := range [][]route{s.homePages(), s.settingsPages(), s.tonguePages(), s.batchPages(), s.planPages(), s.patternPages(), s.markPages(),
		s.floatsPages(), s.tankPages(), s.gradePages(), s.tickPages(), s.cardsPages(),
		s.printPages(),
		s.sheetsPages(), s.togetherPages(), s.sparesPages(), s.convertPages(), s.trimPages(), s.onePages(), s.stocksPages(),
		s.recordsPages(), s.restorePages(),
		s.phonePages(), s.struckPages(),
		s.printerPages()} {
		for _, one := range list {
			s.mux.Handle(one.pattern(), one)
		}
	}
	s.mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		s.fail(w, r, fault.New(fault.NotFound, "", "there is no such page", "go on from the workshop's first page"))
	})
}

// route is a page or a change: method, path under Path, and what answers.
type route struct {
	method, path string
	do           func(w http.ResponseWriter, r *http.Request) error
	s            *server
}

func (r route) pattern() string { return r.method + " " + Path + r.path }

// get and post make routes; {name} in a path is a value of the request.
func (s *server) get(path string, do func(http.ResponseWriter, *http.Request) error) route {
	return route{http.MethodGet, path, do, s}
}

func (s *server) post(path string, do func(http.ResponseWriter, *http.Request) error) route {
	return route{http.MethodPost, path, do, s}
}

// ServeHTTP implements http.Handler.
func (r route) ServeHTTP(w http.ResponseWriter, q *http.Request) {
	err := r.do(w, q)
	switch {
	case err == nil:
		r.s.presses.stored(q, w.Header().Get("Location"))
	case job.IsChanged(err) && r.s.presses.led(q) != "":
		http.Redirect(w, q, r.s.presses.led(q), http.StatusSeeOther)
	default:
		r.s.fail(w, q, err)
	}
}

// MostBody is the most bytes of a form with files: a batch file, its CSV and an
// outline.
const MostBody = 8 << 20

// ServeHTTP implements http.Handler.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method == http.MethodPost {
		r.Body = http.MaxBytesReader(w, r.Body, MostBodyOf(r.URL.Path))
	}
	s.mux.ServeHTTP(w, r)
}

// back sends the browser on after a change, to the page's heading where path names
// no other place of it: who works by keyboard goes on from there.
func back(w http.ResponseWriter, r *http.Request, path string) error {
	if !strings.Contains(path, "#") {
		path += "#title"
	}
	return onward(w, r, path)
}

// onward is back to a page that puts the focus where one types next.
func onward(w http.ResponseWriter, r *http.Request, path string) error {
	http.Redirect(w, r, Path+path, http.StatusSeeOther)
	return nil
}

// fail shows what went wrong, sorted by who must act: where the form can be shown
// again it is, as it was typed.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if s.showAgain(w, r, err) {
		return
	}
	status := http.StatusInternalServerError
	switch {
	case job.IsChanged(err):
		status = http.StatusConflict
	default:
		switch fault.ClassOf(err) {
		case fault.Input, fault.NoFit:
			status = http.StatusUnprocessableEntity
		case fault.NotFound:
			status = http.StatusNotFound
		case fault.Machine:
			status = http.StatusServiceUnavailable
		}
	}
	f := frame{Title: "That did not work", Findings: findings(err), Changed: job.IsChanged(err)}
	if f.Changed {
		f.Batch, f.Findings, f.Body = r.PathValue("batch"), nil, s.changed(r) // what stood in the file before and after tells a maker nothing
	}
	s.send(w, r, status, "failure", f)
}

// cameFrom is the page of the bench that a form was sent from; "" where that is not
// known.
func cameFrom(r *http.Request) string {
	u, err := url.Parse(r.Referer())
	if err != nil || u.Host != r.Host || !strings.HasPrefix(u.Path, Path) {
		return ""
	}
	return u.EscapedPath()
}

// finding is one thing that is wrong: where, what, and what to do.
type finding struct {
	Where, What, Do string
	Of, Name        string // in place of Where: "float %s" and which
	at              int    // of a float: its place in the batch file, from 0
}

func findings(err error) []finding {
	var all []finding
	for _, e := range fault.List(err) {
		all = append(all, finding{Where: e.Where, What: e.What, Do: e.Do})
	}
	if len(all) == 0 && err != nil {
		var e *fault.Error
		if errors.As(err, &e) {
			return []finding{{Where: e.Where, What: e.What, Do: e.Do}}
		}
		return []finding{{What: err.Error()}}
	}
	return all
}

// language of a request's reader.
func (s *server) language(r *http.Request) string {
	if c, err := r.Cookie(tongueCookie); err == nil {
		if w, err := words.For(c.Value); err == nil {
			return w.Language
		}
	}
	for _, part := range strings.Split(r.Header.Get("Accept-Language"), ",") {
		tag, _, _ := strings.Cut(strings.TrimSpace(part), ";")
		if w, err := words.For(tag); err == nil && tag != "" && tag != "*" {
			return w.Language
		}
	}
	if s.o.Language != "" {
		return s.o.Language
	}
	return "en"
}
