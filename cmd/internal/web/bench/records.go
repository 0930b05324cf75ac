package bench

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"floatmark/cmd/internal/job"
)

func (s *server) recordsPages() []route {
	return []route{
		s.get("records", s.records),
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
	Empty                bool // nothing is recorded yet
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
		found, err = s.shop().Search(r.Context(), strings.Join([]string{p.Query, p.Batch, p.Status}, " "), mostFound)
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
	if !p.Empty && !p.Searched {
		s.index()
	}
	f := frame{Title: "Records", Body: p}
	if p.Empty {
		f.Next = &link{"Begin with a batch", Path}
	}
	return s.show(w, r, "records", f)
}

const indexKey = "index"

// index makes what is searched ready while the page is looked at: after many
// records were taken over the first search would wait for it.
func (s *server) index() {
	shop := s.shop()
	s.works.begin(indexKey, 0, func(ctx context.Context, _ job.Progress) (any, error) {
		return nil, shop.IndexSearch(ctx) // a search makes good for what failed here
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
