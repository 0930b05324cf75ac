package bench

import (
	"net/http"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) sparesPages() []route {
	return []route{
		s.get("spares", s.spares),
		s.post("spares/{id}", s.claimSpare),
		s.post("spares/{id}/back", s.giveBackSpare),
		s.get("spares/{picture}", s.sparePicture),
		s.post("marks", s.countMarks),
	}
}

// sparesPage is what lies ready: spares, and marks printed ahead.
type sparesPage struct {
	Ready   []spareShown // that can be put on a float
	Pending []spareShown // whose print nobody has said to be right
	On      []spareShown // that are on floats
	Marks   []marksShown
	Count   int // of unnumbered marks
}

type spareShown struct {
	job.SpareLine
	Picture string // of its sheet; "" where its place was not noted
	Prints  string // path of its batch's prints
	Fits    []job.SpareFit
	Float   string // path of the record of the float that it is on
}

type marksShown struct {
	Stock, Pattern, Figures string
	Text                    string // the figures as people read them
	Count, Row              int
}

func (s *server) spares(w http.ResponseWriter, r *http.Request) error {
	all, err := s.shop().SpareList()
	if err != nil {
		return err
	}
	marks, err := s.shop().MarksReady()
	if err != nil {
		return err
	}
	fits, err := s.shop().SpareFits(all)
	if err != nil {
		return err
	}
	p := sparesPage{}
	for _, one := range all {
		shown := spareShown{SpareLine: one, Prints: Path + batchPath(one.Batch, "print"), Fits: fits[one.ID]}
		if one.Sheet > 0 {
			shown.Picture = Path + "spares/" + one.ID + ".png"
		}
		switch one.State {
		case "unclaimed":
			p.Ready = append(p.Ready, shown)
		case "pending":
			p.Pending = append(p.Pending, shown)
		case "claimed":
			shown.Float = "/-/record/" + one.OnID
			p.On = append(p.On, shown)
		}
	}
	for i, m := range marks {
		p.Marks = append(p.Marks, marksShown{m.Stock, m.Pattern, m.Figures, job.FiguresText(m.Figures), m.Count, i})
		p.Count += m.Count
	}
	f := frame{Title: "Marks that lie ready", Body: p}
	switch {
	case len(p.Ready) == 0 && len(p.Pending) > 0:
		f.Next = &link{"Say how their print came out", p.Pending[0].Prints}
	case len(all) == 0 && len(marks) == 0:
		f.Next = &link{"Go on with a batch", Path}
	}
	return s.show(w, r, "spares", f)
}

// claimSpare puts a spare on a float.
func (s *server) claimSpare(w http.ResponseWriter, r *http.Request) error {
	at := strings.LastIndex(r.PostFormValue("float"), "/")
	if at < 0 {
		return fault.Inputf("choose one of the list", "the form does not say on which float the spare is")
	}
	batch, text := r.PostFormValue("float")[:at], r.PostFormValue("float")[at+1:]
	number, err := strconv.Atoi(text)
	if err != nil {
		return fault.Inputf("choose one of the list", "%q is no number of a float", text)
	}
	if err := s.shop().ClaimSpare(r.Context(), r.PathValue("id"), batch, number); err != nil {
		return err
	}
	return back(w, r, "spares")
}

func (s *server) giveBackSpare(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop().GiveBackSpare(r.Context(), r.PathValue("id"), job.ByBench); err != nil {
		return err
	}
	return back(w, r, "spares")
}

func (s *server) sparePicture(w http.ResponseWriter, r *http.Request) error {
	id, ok := strings.CutSuffix(r.PathValue("picture"), ".png")
	if !ok {
		return fault.New(fault.NotFound, "", "there is no such picture", "")
	}
	data, err := s.shop().SparePNG(id)
	if err != nil {
		return err
	}
	return sendTagged(w, r, kinds[".png"], data)
}

// countMarks notes how many unnumbered marks of a kind lie there.
func (s *server) countMarks(w http.ResponseWriter, r *http.Request) error {
	text := strings.TrimSpace(r.PostFormValue("count"))
	n, err := strconv.Atoi(text)
	if err != nil {
		return fault.Inputf("give the count that lies there", "%q is no count", text)
	}
	if err := s.shop().CountMarks(r.Context(), r.PostFormValue("stock"), r.PostFormValue("pattern"), r.PostFormValue("figures"), n); err != nil {
		return err
	}
	s.forget() // plans take what lies ready
	return back(w, r, "spares")
}
