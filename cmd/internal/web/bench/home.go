package bench

import (
	"net/http"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) homePages() []route {
	return []route{
		s.get("{$}", s.home),
		s.post("begin", s.begin),
		s.post("open", s.open),
		s.post("demo", s.demo),
	}
}

// home lists the batches and begins others. An empty workshop shows how to begin.
type home struct {
	Batches []job.TankBatch
	Maker   string   // "" where nobody said who makes the floats
	Removed string   // the batch that was removed just now
	Like    []option // batches that another can be begun like
}

func (s *server) home(w http.ResponseWriter, r *http.Request) error {
	all, err := s.shop().TankBatches()
	if err != nil {
		return err
	}
	set, err := s.shop().Settings()
	if err != nil {
		return err
	}
	f := frame{Title: "Workshop", Body: home{all, set.Doc.Text("maker/name"), r.URL.Query().Get("removed"), takable(all, "")}}
	if set.Doc.Text("maker/name") == "" {
		f.Next = &link{"Say who makes the floats", Path + "workshop"}
	}
	return s.show(w, r, "home", f)
}

// begin begins a batch of a name.
func (s *server) begin(w http.ResponseWriter, r *http.Request) error {
	name := strings.TrimSpace(r.PostFormValue("name"))
	if name == "" {
		return fault.Inputf("give it a name, such as the year and the month", "a batch needs a name")
	}
	like, page := r.PostFormValue("like"), "patterns"
	var d job.Draft
	var err error
	if like != "" {
		page = "floats"
		d, err = s.shop().NewDraftLike(r.Context(), name, like, job.ByBench)
	} else {
		d, err = s.shop().NewDraft(r.Context(), name, job.ByBench)
	}
	if err != nil {
		if was, e := s.shop().Draft(name); e != nil || !justBegun(was, like) {
			return err
		}
		return back(w, r, batchPath(name, page)) // the button was pressed twice
	}
	if like != "" {
		s.ahead(d)
	}
	return back(w, r, batchPath(d.Name, page))
}

// justBegun reports whether a batch was begun, like another or not, and nothing more.
func justBegun(d job.Draft, like string) bool {
	return d.Undoes == "" && d.Doc.Len("float") == 0 && d.Doc.Text("floats") == "" && (like != "") == (d.Doc.Len("pattern") > 0)
}

// open takes a batch file over, with the files it names.
func (s *server) open(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseMultipartForm(MostBody); err != nil {
		return fault.Inputf("send the batch file and what it names, 8 MB at most together", "the files cannot be read: %v", err)
	}
	main, beside, err := uploaded(r)
	if err != nil {
		return err
	}
	name, err := s.shop().OpenTankSource(r.Context(), main.name, main.data, beside, job.ByBench)
	if err != nil {
		return err
	}
	return back(w, r, batchPath(name, ""))
}

// demo puts the demonstration batch into the workshop.
func (s *server) demo(w http.ResponseWriter, r *http.Request) error {
	name, err := s.shop().OpenTankSource(r.Context(), "demo.toml", job.DemoSource(), nil, job.ByBench)
	if err != nil {
		return err
	}
	return back(w, r, batchPath(name, ""))
}
