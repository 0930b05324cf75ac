package bench

import (
	"context"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// Keys of long work on the records.
const (
	publishKey = "publish"
	linksKey   = "links"
)

// siteFolder of the workshop is where the public pages are published to.
const siteFolder = "site"

// publishPage is what publishing is, what it did last, and whether codes lead to
// their floats.
type publishPage struct {
	Dir       string
	There     bool // something was published there
	Can       bool // pages can be made here
	Languages []option
	Compare   bool
	URL       string // a host to look at
	Host      string // that codes name, of the settings
	Work      *workState
	Stopped   bool
	Done      *job.Published
	Links     *job.LinkCheck
	MoreBad   int // bad links beside those that are listed
}

// siteLanguages are the languages of the page at the id itself.
var siteLanguages = []option{{"", "that of each float's mark", false}, {"en", "English", false}, {"de", "Deutsch", false}, {"fr", "français", false}, {"it", "italiano", false}, {"pl", "polski", false}}

// mostBad is how many codes that lead astray are listed.
const mostBad = 50

func (s *server) siteDir() string { return filepath.Join(s.shop().Dir, siteFolder) }

func (s *server) publishing(w http.ResponseWriter, r *http.Request) error {
	p := publishPage{Dir: s.siteDir(), Can: s.o.Site != nil, Languages: chosen(siteLanguages, s.shop().Language())}
	if list, err := os.ReadDir(p.Dir); err == nil {
		p.There = len(list) > 0
	}
	var err error
	if p.Host, err = s.host(); err != nil {
		return err
	}
	f := frame{Title: "Publish"}
	status := http.StatusOK
	for _, key := range []string{publishKey, linksKey} {
		one := s.works.of(key)
		if one == nil {
			continue
		}
		to := Path + "records/" + key
		if state := s.stateOf(r, one); state.Running {
			state.Now, state.Stop, state.Here = to+"/state", to+"/stop", Path+"records/publish"
			p.Work = &state
			continue
		}
		result, stopped, err := one.outcome()
		p.Stopped = p.Stopped || stopped
		if err != nil {
			f.Findings = append(f.Findings, findings(err)...)
			status = http.StatusUnprocessableEntity
		}
		switch done := result.(type) {
		case job.Published:
			p.Done = &done
		case job.LinkCheck:
			if len(done.Bad) > mostBad {
				p.MoreBad, done.Bad = len(done.Bad)-mostBad, done.Bad[:mostBad]
			}
			p.Links = &done
		}
	}
	if p.Work == nil && p.Host == "" {
		f.Next = &link{"Say which host your codes name", Path + "workshop"}
	}
	f.Body = p
	s.send(w, r, status, "publish", f)
	return nil
}

// host is what codes name: the workshop's host, else that of the batch that was
// printed last; "" for none.
func (s *server) host() (string, error) {
	set, err := s.shop().Settings()
	if err != nil {
		return "", err
	}
	if h := set.Doc.Text("maker/host"); h != "" {
		return h, nil
	}
	names, err := s.shop().RecordedBatches()
	if err != nil || len(names) == 0 {
		return "", err
	}
	d, err := s.shop().Draft(names[0])
	if err != nil || d.Doc == nil {
		return "", nil // it is only told
	}
	return d.Doc.Text("maker/host"), nil
}

// publish begins to write the public pages into the workshop's folder.
func (s *server) publish(w http.ResponseWriter, r *http.Request) error {
	if s.o.Site == nil {
		return fault.New(fault.Ours, "", "no pages can be made here", "publish with the command: floatmark publish DIR")
	}
	site, err := s.o.Site(r.PostFormValue("language"))
	if err != nil {
		return err
	}
	shop, dir, compare := s.shop(), s.siteDir(), r.PostFormValue("compare") != ""
	if s.works.begin(publishKey, 0, func(ctx context.Context, tell job.Progress) (any, error) {
		done, err := shop.Publish(ctx, dir, site, job.Publishing{Compare: compare, Progress: func(n int) { tell("pages", n, 0) }})
		return done, err
	}) {
		s.works.drop(linksKey) // it was about other pages
	}
	return back(w, r, "records/publish")
}

// checkLinks begins to follow every code that was ever printed.
func (s *server) checkLinks(w http.ResponseWriter, r *http.Request) error {
	shop, dir, at := s.shop(), s.siteDir(), strings.TrimSpace(r.PostFormValue("url"))
	if r.PostFormValue("where") != "host" {
		at = ""
	} else if at == "" {
		return fault.Inputf("type its address, such as https://f.example", "which host is to be looked at?")
	} else if !strings.Contains(at, "://") {
		at = "https://" + at
	}
	s.works.begin(linksKey, 0, func(ctx context.Context, tell job.Progress) (any, error) {
		tell("links", 0, 0)
		if at != "" {
			return shop.CheckServer(ctx, at)
		}
		return shop.CheckFolder(ctx, dir)
	})
	return back(w, r, "records/publish")
}

// stopPublishing stops whatever goes on about the pages.
func (s *server) stopPublishing(w http.ResponseWriter, r *http.Request) error {
	for _, key := range []string{publishKey, linksKey} {
		if one := s.works.of(key); one != nil {
			one.stop()
		}
	}
	return back(w, r, "records/publish")
}
