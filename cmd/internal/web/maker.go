package web

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"floatmark/cmd/internal/job"
	benchpages "floatmark/cmd/internal/web/bench"
	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/words"
	"floatmark/loading/fault"
)

// Keeper is what the maker's own pages change and look up; job.Workshop is one.
type Keeper interface {
	TankKeeper
	Change(ctx context.Context, changes []job.BuildChange, by, key string) (job.BuildChanged, error)
	AddPhoto(ctx context.Context, of label.Subject, r io.Reader, caption, date, by, key string) (job.BuildChanged, error)
	BuildOf(of label.Subject) (label.Build, error)
	BuildHistory(of label.Subject) ([]job.BuildPast, error)
	FloatPrints(id string) ([]job.FloatPrint, error)
}

const (
	makerPath = ownPrefix + "record/" // /-/record/ID, for the maker
	buildPath = ownPrefix + "build/"  // /-/build/batch/NAME and /-/build/pattern/KEY: what holds for all their floats
)

// subjectOf is what a path of the maker's pages names; false for nothing that
// records are kept of.
func subjectOf(r *http.Request) (label.Subject, bool) {
	if kind := r.PathValue("kind"); kind != "" {
		return label.Subject{Kind: kind, Key: r.PathValue("key")}, kind == label.KindBatch || kind == label.KindPattern
	}
	id, err := ident.Parse(r.PathValue("id"))
	return label.Subject{Kind: label.KindFloat, Key: string(id)}, err == nil
}

// makerOf is the maker's page of a subject.
func makerOf(of label.Subject) string {
	if of.Kind == label.KindFloat {
		return makerPath + of.Key
	}
	return buildPath + of.Kind + "/" + url.PathEscape(of.Key)
}

// makerLink leads the maker from a float's page to his own; a stranger nowhere.
func (s *server) makerLink(r *http.Request, id string) string {
	if _, ok := s.unlocked(r); !ok || s.o.Keeper == nil {
		return ""
	}
	return makerPath + id
}

// builds are what bears on a subject, and its own record among them.
func (s *server) builds(of label.Subject) (all label.Builds, own label.Build, err error) {
	if of.Kind == label.KindFloat {
		all, _, err = s.src.Build(of.Key)
		return all, all.Float, err
	}
	if own, err = s.o.Keeper.BuildOf(of); err != nil {
		return all, own, err
	}
	if all.Workshop, err = s.o.Keeper.BuildOf(label.Subject{Kind: label.KindWorkshop}); err != nil {
		return all, own, err
	}
	if of.Kind == label.KindBatch {
		all.Batch = own
	} else {
		all.Pattern = own
	}
	return all, own, nil
}

// making is the maker's page of one float, or of what holds for all of a batch or
// a pattern.
type making struct {
	Of       label.Subject
	Post     string       // where its forms go
	Entry    *label.Entry // of a float; nil of others
	Status   string
	Shared   []way // to the records of its batch and its pattern
	Seen     int64
	Token    string
	Key      string
	Statuses []option
	Facts    []column
	Lists    []listed
	Publish  []publishing
	Prints   []job.FloatPrint
	Home     string // the workshop's first page; "" where the bench is not there
	Bench    string // where it is printed again; "" where the bench is not there
	Again    string // the command that prints it again
	Past     []past
	Notices  []string
	More     int  // changes that are not shown
	Lock     bool // there is a session to end
}

type way struct{ Name, Link string }

type publishing struct {
	Group, Name string
	On          bool
}

type past struct {
	At, By, Path, Before, After string
	Version                     int64
	Last                        bool // of its field: it can be taken back
}

// mostPast is how many changes a page shows; all of them are in the export.
const mostPast = 100

// makerPage shows everything of one float, or what holds for all of a batch or a
// pattern.
func (s *server) makerPage(w http.ResponseWriter, r *http.Request) {
	one, ok := s.unlocked(r)
	of, known := subjectOf(r)
	switch {
	case !known:
		s.noPage(w, r)
		return
	case !ok || s.o.Keeper == nil:
		q := url.Values{}
		if of.Kind == label.KindFloat {
			q.Set("id", of.Key)
		}
		http.Redirect(w, r, unlockPath+"?"+q.Encode(), http.StatusSeeOther)
		return
	}
	f := s.frame(w, r)
	var e *label.Entry
	var err error
	f.Title = of.Key
	if of.Kind == label.KindFloat {
		f.Title = f.Of("Edit %s", of.Key)
		stored, found, failed := s.src.Entry(of.Key)
		if err = failed; err == nil && !found {
			s.fail(w, r, fault.New(fault.NotFound, "", "this workshop has no float with the id "+of.Key, "compare it with the float"), failure{Title: "No such float"})
			return
		}
		e = &stored
	}
	var m making
	if err == nil {
		m, err = s.making(of, e, one.token, f)
	}
	if err != nil {
		s.fail(w, r, err, failure{Title: "The record cannot be shown"})
		return
	}
	m.Lock = one.token != s.atHome.token
	f.Making = &m
	w.Header().Set("Cache-Control", "no-store")
	sendHTML(w, http.StatusOK, mustPage("making", f))
}

func (s *server) making(of label.Subject, e *label.Entry, token string, f frame) (m making, err error) {
	all, own, err := s.builds(of)
	if err != nil {
		return m, err
	}
	m = making{Of: of, Post: makerOf(of), Entry: e, Seen: own.Version, Token: token}
	if m.Key, err = job.Secret(); err != nil {
		return m, err
	}
	if s.o.Bench != nil {
		m.Home = benchpages.Path
	}
	shown := own
	link := func(n int) string { return fmt.Sprintf("%s/photo/%d", makerOf(of), n) }
	if e != nil {
		shown = all.All()
		link = func(n int) string { return photoLink(of.Key, n) }
		if err := s.ofFloat(&m, *e, all, f); err != nil {
			return m, err
		}
	}
	if m.Past, m.More, err = s.past(of, f); err != nil {
		return m, err
	}
	m.Facts = []column{{Name: label.PathMade, Label: f.Say("made on"), Value: own.Made}, {Name: label.PathPrice, Label: f.Say("price"), Value: own.Price}}
	if e != nil {
		m.Facts = append(m.Facts, column{Name: label.PathBuyer, Label: f.Say("buyer"), Value: own.Buyer})
	}
	m.Facts = append(m.Facts, column{Name: label.PathCare, Label: f.Say("words of care"), Long: true, Value: own.Care})
	m.Lists = listsOf(shown, f.Say, link)
	for _, c := range label.Choices() {
		m.Publish = append(m.Publish, publishing{c.Group, f.Say(groupNames[c.Group]), all.Published(c.Group)})
	}
	return m, nil
}

// groupNames say the groups that are published or kept.
var groupNames = map[string]string{label.GroupFigures: "figures", label.GroupPattern: "pattern, shape and length", label.GroupBatch: "batch and number", label.GroupDates: "dates",
	label.GroupMaterials: "materials", label.GroupCare: "words of care", label.GroupTank: "readings of the tank", label.GroupCoats: "coats", label.GroupPhotos: "photographs",
	label.GroupStatus: "status", label.GroupFields: "free fields", label.GroupNotes: "notes", label.GroupPrice: "price", label.GroupBuyer: "buyer"}

// ofFloat adds what only a float has: its status, prints, and the way to print it
// again.
func (s *server) ofFloat(m *making, e label.Entry, all label.Builds, f frame) (err error) {
	tell := words.Told(f.Lang)
	for _, n := range e.Notices {
		m.Notices = append(m.Notices, tell(n))
	}
	if m.Prints, err = s.o.Keeper.FloatPrints(e.ID); err != nil {
		return err
	}
	named := words.Named(f.Lang)
	for i := range m.Prints {
		m.Prints[i].FilmName, m.Prints[i].ConventionName = named(m.Prints[i].FilmName), named(m.Prints[i].ConventionName)
		m.Prints[i].State, m.Prints[i].Made = f.Say(m.Prints[i].State), timeText(m.Prints[i].Made)
	}
	m.Status = f.Said.Statuses[string(all.Float.Status)]
	for _, st := range label.Statuses() {
		m.Statuses = append(m.Statuses, option{Key: string(st), Name: f.Said.Statuses[string(st)], Chosen: st == all.Float.Status})
	}
	if of := all.Batch.Subject; of.Key != "" {
		m.Shared = append(m.Shared, way{f.Of("Batch %s", of.Key), makerOf(of)})
	}
	if of := all.Pattern.Subject; of.Key != "" {
		m.Shared = append(m.Shared, way{f.Of("Pattern %s", e.Pattern), makerOf(of)})
	}
	m.Again = fmt.Sprintf("floatmark print BATCH.toml --only %d --again", e.Number)
	if s.o.Bench == nil {
		return nil
	}
	batches, err := s.o.Keeper.TankBatches()
	if slices.ContainsFunc(batches, func(b job.TankBatch) bool { return b.Name == e.Batch && b.Known != "read" }) {
		m.Bench = benchpages.Path + "b/" + url.PathEscape(e.Batch) + "/print"
	}
	return err
}

// pathNames say paths whose own word is not what the page calls them.
var pathNames = map[string]string{label.ListFields: "free fields", label.ListPhotos: "photographs", label.PathMade: "made on", label.PathCare: "words of care"}

// past are the changes of a subject, the latest first, and how many more there are.
func (s *server) past(of label.Subject, f frame) (all []past, more int, err error) {
	history, err := s.o.Keeper.BuildHistory(of)
	if err != nil {
		return nil, 0, err
	}
	slices.Reverse(history)
	say, later := f.Say, map[string]bool{}
	more = max(0, len(history)-mostPast)
	for _, h := range history[:len(history)-more] {
		list, number, _ := strings.Cut(h.Path, "/")
		if name, ok := pathNames[list]; ok {
			list = name
		}
		at := strings.TrimSpace(say(list) + " " + number)
		if group, ok := groupNames[number]; ok && h.Path == label.Publishing(number) {
			at = fmt.Sprintf(say("published: %s"), say(group))
		}
		before, after := plainValue(h.Before, say), plainValue(h.After, say)
		if h.Path == label.PathStatus {
			before, after = cmp.Or(f.Said.Statuses[before], before), cmp.Or(f.Said.Statuses[after], after)
		}
		all = append(all, past{timeText(h.At), say(h.By), at, before, after, h.Version, !later[h.Path]})
		later[h.Path] = true
	}
	return all, more, nil
}

// timeText writes a time of RFC 3339 for reading.
func timeText(at string) string { return strings.TrimSuffix(strings.Replace(at, "T", " ", 1), "Z") }

// plainValue writes a stored value for reading.
func plainValue(v json.RawMessage, say func(string) string) string {
	var text string
	var yes bool
	var of map[string]any
	switch {
	case len(v) == 0 || string(v) == "null":
		return say("empty")
	case json.Unmarshal(v, &text) == nil:
		return text
	case json.Unmarshal(v, &yes) == nil:
		if yes {
			return say("yes")
		}
		return say("no")
	case json.Unmarshal(v, &of) != nil:
		return string(v)
	}
	var parts []string
	for _, name := range []string{"part", "what", "mass_g", "date", "product", "name", "text", "caption", "note"} {
		if said := fmt.Sprint(of[name]); of[name] != nil && said != "" && said != "0" {
			if name == "mass_g" {
				said += " g"
			}
			parts = append(parts, said)
		}
	}
	return strings.Join(parts, ", ")
}
