package bench

import (
	"cmp"
	"context"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"floatmark/cmd/internal/job"
)

func (s *server) recordsPages() []route {
	return []route{
		s.get("records", s.records),
		s.get("records/index/state", func(w http.ResponseWriter, r *http.Request) error { return s.sendState(w, r, s.works.of(indexKey)) }),
		s.post("records/index", s.indexAgain),
		s.post("records/index/stop", s.stopIndex),
		s.get("records/publish", s.publishing),
		s.post("records/publish", s.publish),
		s.get("records/publish/state", func(w http.ResponseWriter, r *http.Request) error { return s.sendState(w, r, s.works.of(publishKey)) }),
		s.post("records/publish/stop", s.stopPublishing),
		s.get("records/links/state", func(w http.ResponseWriter, r *http.Request) error { return s.sendState(w, r, s.works.of(linksKey)) }),
		s.post("records/links", s.checkLinks),
		s.post("records/links/stop", s.stopPublishing),
		s.get("records/site.zip", s.siteZip),
		s.get("records/floats.csv", s.floatsCSV),
		s.get("records/export.zip", s.exportZip),
		s.get("records/backup.db", s.backup),
	}
}

// mostFound is how many are listed: more are not read by anybody.
const mostFound = 100

// recordsPage is what is kept of floats, searched or batch by batch.
type recordsPage struct {
	Query, Batch, Status string
	Statuses             []option
	Searched             bool
	Floats               []foundShown
	Others               []foundShown // batches and patterns
	More                 bool
	Batches              []namedLink
	Work                 *workState // the search is made ready
	Empty                bool       // nothing is recorded yet
}

type foundShown struct {
	job.Found
	Maker, Public, To string // paths of the maker's page, the public one, and of a list
}

type namedLink struct{ Name, To string }

// statuses are the choices of a float's status, by the words that are stored.
var statuses = []option{{"", "any", false}, {"in work", "in work", false}, {"finished", "finished", false}, {"sold", "sold", false}, {"returned", "returned", false}, {"retired", "retired", false}}

func (s *server) records(w http.ResponseWriter, r *http.Request) error {
	q := r.URL.Query()
	p := recordsPage{Query: strings.TrimSpace(q.Get("q")), Batch: q.Get("batch"), Status: q.Get("status")}
	p.Statuses = chosen(statuses, p.Status)
	names, err := s.shop().RecordedBatches()
	if err != nil {
		return err
	}
	for _, n := range names {
		p.Batches = append(p.Batches, namedLink{n, Path + "records?batch=" + url.QueryEscape(n)})
	}
	p.Empty, p.Searched = len(names) == 0, p.Query != "" || p.Batch != "" || p.Status != ""
	var all []job.Found
	switch {
	case p.Query == "" && p.Batch != "":
		all, p.More, err = s.shop().FloatsOf(p.Batch, mostFound)
	case p.Searched:
		var found job.SearchFound
		found, err = s.search(r, &p)
		all, p.More = found.Found, found.More
	}
	if err != nil {
		return err
	}
	for _, one := range all {
		if p.Status != "" && string(one.Status) != p.Status {
			continue
		}
		p.add(one)
	}
	p.inOrder()
	if !p.Empty && !p.Searched {
		if behind, err := s.shop().SearchBehind(1); err == nil && behind > 0 { // a search tells what failed here
			s.index()
		}
	}
	f := frame{Title: "Records", Body: p}
	if p.Empty {
		f.Next = &link{"Begin with a batch", Path}
	}
	return s.show(w, r, "records", f)
}

const indexKey = "index"

// fewBehind is how many records a search is renewed for while its page waits: some
// hundredths of a second.
const fewBehind = 100

// search looks for what the page asks for. Where the search has to be renewed for
// many records first, the page shows how far that is.
func (s *server) search(r *http.Request, p *recordsPage) (job.SearchFound, error) {
	text := strings.Join([]string{p.Query, p.Batch, p.Status}, " ")
	behind, err := s.shop().SearchBehind(fewBehind + 1)
	if err != nil {
		return job.SearchFound{}, err
	}
	if behind <= fewBehind {
		return s.shop().Search(r.Context(), text, mostFound)
	}
	at := Path + "records/index"
	one := s.works.of(indexKey)
	if one == nil || !one.stopped() {
		if one = s.index(); !s.waited(r, one) {
			state := s.stateOf(r, one)
			state.Now, state.Stop, state.Here = at+"/state", at+"/stop?"+r.URL.RawQuery, r.URL.RequestURI()
			p.Work = &state
			return job.SearchFound{}, nil
		}
	}
	if one.stopped() {
		p.Work = &workState{Again: at + "?" + r.URL.RawQuery}
	}
	return s.shop().SearchAsIs(text, mostFound) // what failed to be renewed is searched as it is
}

// index makes what is searched ready while the page is looked at: after many
// records were taken over the first search would wait for it.
func (s *server) index() *work {
	shop := s.shop()
	s.works.begin(indexKey, 0, func(ctx context.Context, tell job.Progress) (any, error) {
		return nil, shop.RenewSearch(ctx, tell)
	})
	return s.works.of(indexKey)
}

// indexAgain begins it once more after it was stopped.
func (s *server) indexAgain(w http.ResponseWriter, r *http.Request) error {
	s.index()
	return back(w, r, "records?"+r.URL.RawQuery)
}

func (s *server) stopIndex(w http.ResponseWriter, r *http.Request) error {
	if one := s.works.of(indexKey); one != nil {
		one.stop()
		one.soon(time.Second) // it stops at its next step
	}
	return back(w, r, "records?"+r.URL.RawQuery)
}

// inOrder puts the floats of a batch one behind the other by their numbers; the
// batches stay in the order in which they were found.
func (p *recordsPage) inOrder() {
	first := map[string]int{}
	for i, one := range p.Floats {
		if _, there := first[one.Batch]; !there {
			first[one.Batch] = i
		}
	}
	slices.SortStableFunc(p.Floats, func(a, b foundShown) int {
		return cmp.Or(cmp.Compare(first[a.Batch], first[b.Batch]), cmp.Compare(a.Number, b.Number))
	})
}

// add sorts one that was found to its kind.
func (p *recordsPage) add(one job.Found) {
	shown := foundShown{Found: one}
	switch one.Kind {
	case "float":
		shown.Maker, shown.Public = "/-/record/"+url.PathEscape(one.Key), "/"+url.PathEscape(one.Key)
		p.Floats = append(p.Floats, shown)
		return
	case "batch":
		shown.To = Path + "records?batch=" + url.QueryEscape(one.Key)
	default:
		shown.To = Path + "records?q=" + url.QueryEscape(one.Key)
	}
	p.Others = append(p.Others, shown)
}
