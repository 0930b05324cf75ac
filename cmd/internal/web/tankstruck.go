package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

const tankStrike = tankPath + "/strike"

// noted are the stored readings of a batch, one by one.
type noted struct {
	Batch, Token string
	Tank         string // link back
	Floats       []notedFloat
}

type notedFloat struct {
	Name string
	All  []notedOne
}

type notedOne struct {
	job.TankOne
	StageName string
}

// notedReadings lists the readings of a batch, to strike one out that was a slip.
func (s *server) notedReadings(w http.ResponseWriter, r *http.Request) {
	name := r.URL.Query().Get("batch")
	one, ok := s.unlocked(r)
	if s.o.Keeper == nil || !ok {
		http.Redirect(w, r, unlockPath+"?"+url.Values{toTank: {name}}.Encode(), http.StatusSeeOther)
		return
	}
	f := s.frame(w, r)
	said := words.TankPageFor(f.Lang)
	f.Title = f.Say("Readings, one by one")
	f.Tongues = tongues(f.Lang, func(tag string) string {
		return tankReadings + "?" + url.Values{"batch": {name}, langField: {tag}}.Encode()
	})
	all, err := s.o.Keeper.TankReadings(name)
	if err != nil {
		s.fail(w, r, err, failure{Title: "The readings cannot be shown"})
		return
	}
	n := noted{Batch: name, Token: one.token, Tank: tankLink(name)}
	last := 0
	for _, a := range all {
		if len(n.Floats) == 0 || a.Number != last {
			last = a.Number
			n.Floats = append(n.Floats, notedFloat{Name: fmt.Sprintf(said.Number, strconv.Itoa(a.Number))})
		}
		to := &n.Floats[len(n.Floats)-1]
		to.All = append(to.All, notedOne{a, said.Stages[a.Stage]})
	}
	f.Noted = &n
	w.Header().Set("Cache-Control", "no-store") // it has a token in it
	sendHTML(w, http.StatusOK, mustPage("noted", f))
}

// strike strikes a reading out, or lets it count again.
func (s *server) strike(w http.ResponseWriter, r *http.Request) {
	if s.o.Keeper == nil {
		s.noPage(w, r)
		return
	}
	if !s.maker(w, r) {
		return
	}
	f := r.PostForm
	if err := s.o.Keeper.StrikeReading(r.Context(), f.Get("batch"), f.Get("key"), f.Get("out") != "", by(r)); err != nil {
		s.fail(w, r, err, failure{Title: "Not changed"})
		return
	}
	http.Redirect(w, r, tankReadings+"?"+url.Values{"batch": {f.Get("batch")}}.Encode(), http.StatusSeeOther)
}
