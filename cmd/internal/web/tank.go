package web

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// TankKeeper is what the page beside the test tank reads and adds to.
type TankKeeper interface {
	TankBatches() ([]job.TankBatch, error)
	TankFiles() ([]string, error)
	TankSheet(batch string) (job.TankSheet, error)
	OpenTankFile(ctx context.Context, name, by string) (batch string, err error)
	OpenTankSource(ctx context.Context, name string, src []byte, beside map[string][]byte, by string) (batch string, err error)
	TankReadings(batch string) ([]job.TankOne, error)
	StrikeReading(ctx context.Context, batch, key string, out bool, by string) error
	AddTankReadings(ctx context.Context, batch string, all []job.TankEntry) (job.TankStored, error)
}

const (
	tankPath     = ownPrefix + "tank"
	tankOpen     = tankPath + "/open"
	tankReadings = tankPath + "/readings"
)

var (
	//go:embed tankpage.html
	tankSource string
	//go:embed tank.css
	tankStyle string
	//go:embed tankqueue.js
	tankQueueScript string
	//go:embed tank.js
	tankBoardScript string

	tankScript = tankQueueScript + tankBoardScript
	tankPages  = template.Must(template.Must(pages.Clone()).Parse(tankSource))
)

// tankRoutes are those of the page beside the tank.
func (s *server) tankRoutes() {
	s.mux.HandleFunc("GET "+tankPath, s.tank)
	s.mux.HandleFunc("POST "+tankOpen, s.openTank)
	s.mux.HandleFunc("POST "+tankReadings, s.addReadings)
	s.mux.HandleFunc("GET "+tankReadings, s.notedReadings)
	s.mux.HandleFunc("POST "+tankStrike, s.strike)
	s.script("tank", tankScript)
}

// tankLink leads to a batch; to the list of them for "".
func tankLink(batch string) string {
	if batch == "" {
		return tankPath
	}
	return tankPath + "?" + url.Values{"batch": {batch}}.Encode()
}

// tankFrame is the page beside the tank: the list of batches, or one of them.
type tankFrame struct {
	frame
	Tank words.TankPage
	// Measures are those of the workshop for the reader; tips are told in them.
	Measures words.Measures
	Token    string
	Key      string // of the reading that the form would add
	Data     string // for the script

	Batches []tankBatch
	Files   []string
	Board   *job.TankSheet
	Sets    []option
	Stages  []option
	Next    int // the float that the form offers
	Rows    []tankRow
	Typed   tankTyped
	Refused []string
}

type tankBatch struct{ Name, Link, Known string }

// tankRow is a float of the list that is read without scripts.
type tankRow struct {
	Number  int
	Name    string
	Chosen  bool
	Setups  bool
	Read    []string
	Remarks []string
}

// tankTyped is what was typed into the form, offered again when it was refused.
type tankTyped struct{ Reading, Stage, Above string }

// tank shows the batches, or one of them float by float.
func (s *server) tank(w http.ResponseWriter, r *http.Request) {
	name := r.URL.Query().Get("batch")
	one, ok := s.sessions.of(r)
	switch {
	case s.o.Keeper == nil || !s.hasWord():
		s.askWord(w, r) // says that nothing can be changed here
		return
	case !ok:
		http.Redirect(w, r, unlockPath+"?"+url.Values{toTank: {name}}.Encode(), http.StatusSeeOther)
		return
	}
	f, err := s.tankFrame(w, r, one, name)
	if err != nil {
		s.fail(w, r, err, failure{Title: first(f.Tank.Title)})
		return
	}
	s.sendTank(w, r, http.StatusOK, f)
}

// tankFrame fills the page for a batch, "" for the list.
func (s *server) tankFrame(w http.ResponseWriter, r *http.Request, one session, name string) (f tankFrame, err error) {
	f.frame = s.frame(w, r)
	f.Tank, f.Token = words.TankPageFor(f.Lang), one.token
	f.Measures = words.MeasuresFor(f.Lang, unit.Metric)
	f.Title = first(f.Tank.Title)
	f.Tongues = tongues(f.Lang, func(tag string) string {
		q := url.Values{langField: {tag}}
		if name != "" {
			q.Set("batch", name)
		}
		return tankPath + "?" + q.Encode()
	})
	if name == "" {
		if f.Batches, err = s.tankBatches(f.Tank); err == nil {
			f.Files, err = s.o.Keeper.TankFiles()
		}
	} else {
		err = s.tankSheet(r, &f, name)
	}
	if err != nil {
		return f, err
	}
	f.Data, err = tankData(f)
	return f, err
}

func (s *server) tankBatches(said words.TankPage) (out []tankBatch, err error) {
	all, err := s.o.Keeper.TankBatches()
	for _, b := range all {
		day, _, _ := strings.Cut(b.At, "T")
		one := tankBatch{Name: b.Name, Link: tankLink(b.Name)}
		switch b.Known {
		case "opened":
			one.Known = fmt.Sprintf(said.Opened, day)
		case "printed":
			one.Known = fmt.Sprintf(said.Printed, day)
		default:
			one.Known, one.Link = said.OnlyRead, ""
		}
		out = append(out, one)
	}
	return out, err
}

func (s *server) tankSheet(r *http.Request, f *tankFrame, name string) (err error) {
	sheet, err := s.o.Keeper.TankSheet(name)
	if err != nil {
		return err
	}
	f.Measures = words.MeasuresFor(f.Lang, sheet.Units)
	f.Board, f.Title = &sheet, first(f.Tank.Title)+", "+sheet.Batch
	if f.Key, err = job.Secret(); err != nil {
		return err
	}
	f.Next, _ = strconv.Atoi(r.URL.Query().Get("number")) // no number is the first float
	for _, set := range sheet.Sets {
		f.Sets = append(f.Sets, option{Key: set.Key, Name: setName(set, f.Said, f.Tank)})
	}
	var stages []string
	tell := words.Told(f.Lang)
	for _, p := range sheet.Floats {
		tellDone(p.Done, tell)
		for _, st := range p.Stages {
			if !slices.Contains(stages, st) {
				stages = append(stages, st)
			}
		}
		row := tankRow{Number: p.Number, Name: join(" · ", fmt.Sprintf(f.Tank.Number, strconv.Itoa(p.Number)), f.Measures.Load(p.Nominal, gramStep), p.Pattern), Chosen: p.Number == f.Next, Setups: p.Setups}
		for _, d := range p.Done {
			row.Read = append(row.Read, fmt.Sprintf(f.Tank.Read, readText(d, f.Said), f.Tank.Stages[d.Stage]))
			row.Remarks = append(row.Remarks, d.Told...)
		}
		f.Rows = append(f.Rows, row)
	}
	for _, st := range stages {
		f.Stages = append(f.Stages, option{Key: st, Name: f.Tank.Stages[st]})
	}
	return nil
}

// tellDone says in the reader's language what readings give rise to.
func tellDone(all []job.TankDone, tell func(string) string) {
	for _, d := range all {
		for i, t := range d.Told {
			d.Told[i] = tell(t)
		}
	}
}

// gramStep is how finely masses are written beside the tank, g: finer than any
// scale there.
const gramStep unit.Gram = 0.001

// readText is what the tank said: the mean with what it is sure to, and what was
// noted last where the readings contradict.
func readText(d job.TankDone, said words.Page) string {
	if d.Mass == 0 && d.U == 0 {
		return d.Last
	}
	return said.Sure(d.Mass, d.U, gramStep)
}

func setName(set job.TankSet, p words.Page, said words.TankPage) string {
	metal := p.MetalName(set.Metal.Key, set.Metal.Name)
	if set.Key == "" {
		return fmt.Sprintf(said.Weighed, metal)
	}
	return p.ConventionName(set.Key, set.Name) + ", " + metal
}

// tankData is what the script works with, as JSON.
func tankData(f tankFrame) (string, error) {
	type size struct {
		Name   string  `json:"name"`
		Mass   float64 `json:"mass"` // g
		Unsure bool    `json:"unsure,omitempty"`
	}
	type set struct {
		Key   string `json:"key"`
		Name  string `json:"name"`
		Sizes []size `json:"sizes"`
	}
	data := struct {
		Batch  string          `json:"batch"`
		Token  string          `json:"token"`
		Post   string          `json:"post"`
		Unlock string          `json:"unlock"`
		Here   string          `json:"here"`
		Comma  bool            `json:"comma"`
		Inch   string          `json:"inch,omitempty"` // what an inch is called, where lengths are told in them
		Say    words.TankPage  `json:"say"`
		Sets   []set           `json:"sets"`
		Floats []job.TankPlace `json:"floats"`
	}{Token: f.Token, Post: tankReadings, Comma: f.Said.Number.Comma, Say: f.Tank, Here: tankPath, Sets: []set{}, Floats: []job.TankPlace{}}
	if f.Board != nil {
		data.Batch, data.Here, data.Floats = f.Board.Batch, tankLink(f.Board.Batch), f.Board.Floats
		for i, one := range f.Board.Sets {
			out := set{Key: one.Key, Name: f.Sets[i].Name, Sizes: []size{}}
			for _, z := range one.Sizes {
				out.Sizes = append(out.Sizes, size{z.Name, float64(z.Mass), !z.Verified})
			}
			data.Sets = append(data.Sets, out)
		}
	}
	if f.Measures.Imperial() {
		data.Inch = f.Measures.LengthSign()
	}
	data.Unlock = unlockPath + "?" + url.Values{toTank: {data.Batch}}.Encode()
	text, err := json.Marshal(data)
	if err != nil {
		return "", fault.New(fault.Ours, "", "the page beside the tank cannot be made: "+err.Error(), "", err)
	}
	return string(text), nil
}

// sendTank sends the page with a policy that lets its one script run and send.
func (s *server) sendTank(w http.ResponseWriter, r *http.Request, code int, f tankFrame) {
	f.Style, f.Script = template.CSS(squeezed(styleSource+tankStyle)), scriptPath("tank", tankScript)
	var page bytes.Buffer
	if err := tankPages.ExecuteTemplate(&page, "tank", f); err != nil {
		s.fail(w, r, err, failure{Title: f.Title})
		return
	}
	harden(w.Header(), styleHash(styleSource+tankStyle))
	allowScripts(w.Header())
	w.Header().Set("Cache-Control", "no-store") // it has a token in it
	sendHTML(w, code, page.Bytes())
}
