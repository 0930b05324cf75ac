package bench

import (
	"fmt"
	"net/http"
	"strconv"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

func (s *server) struckPages() []route {
	return []route{
		s.get("b/{batch}/tank/readings", s.readings),
		s.post("b/{batch}/tank/readings", s.strike),
	}
}

// readingsPage are the stored readings of a batch, one by one.
type readingsPage struct {
	Batch  string
	Floats []floatReadings
}

type floatReadings struct {
	Number int
	All    []readingOne
}

type readingOne struct {
	Key, Noted, Stage, Date string
	Struck                  bool
	Says                    string // which it is, for who does not see the row
}

func (s *server) readings(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	f := s.batchFrame(d, "tank", "Readings, one by one")
	all, err := s.shop().TankReadings(d.Name)
	if err != nil {
		return err
	}
	p := readingsPage{Batch: d.Name}
	stages := words.TankPageFor(s.language(r)).Stages
	for _, one := range all {
		if n := len(p.Floats); n == 0 || p.Floats[n-1].Number != one.Number {
			p.Floats = append(p.Floats, floatReadings{Number: one.Number})
		}
		last := &p.Floats[len(p.Floats)-1]
		last.All = append(last.All, readingOne{one.Key, one.Noted, stages[one.Stage], one.Date, one.Struck,
			fmt.Sprintf(s.says(r, "%s, float %s"), one.Noted, strconv.Itoa(one.Number))})
	}
	f.Next = &link{"Back to the tank", Path + batchPath(d.Name, "tank")}
	f.Body = p
	return s.show(w, r, "tankstruck", f)
}

// strike strikes a reading out, or lets it count again.
func (s *server) strike(w http.ResponseWriter, r *http.Request) error {
	number, _ := strconv.Atoi(r.PostFormValue("number")) // only where the page goes on
	if err := s.shop().StrikeReading(r.Context(), r.PathValue("batch"), r.PostFormValue("key"), r.PostFormValue("out") != "", job.ByBench); err != nil {
		return err
	}
	return back(w, r, batchPath(r.PathValue("batch"), "tank/readings#float-"+strconv.Itoa(number)))
}
