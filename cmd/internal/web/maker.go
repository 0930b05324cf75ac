package web

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Keeper is what the maker's own pages change and look up; job.Workshop is one.
type Keeper interface {
	TankKeeper
	Change(ctx context.Context, changes []job.BuildChange, by, key string) (job.BuildChanged, error)
	AddPhoto(ctx context.Context, of label.Subject, r io.Reader, caption, date, by, key string) (job.BuildChanged, error)
	BuildHistory(of label.Subject) ([]job.BuildPast, error)
	FloatPrints(id string) ([]job.FloatPrint, error)
}

const (
	makerPath = ownPrefix + "record/" // /-/record/ID, for the maker
	photoPath = ownPrefix + "photo/"  // /-/photo/ID/NUMBER
)

func photoLink(id string, n int) string { return photoPath + id + "/" + strconv.Itoa(n) }

// makerLink leads the maker from a float's page to his own; a stranger nowhere.
func (s *server) makerLink(r *http.Request, id string) string {
	if _, ok := s.sessions.of(r); !ok || s.o.Keeper == nil {
		return ""
	}
	return makerPath + id
}

// column is one thing to type of an item.
type column struct {
	Name, Label string
	Long        bool   // more than one line
	Mode        string // of the keyboard of a phone
	Value       string
}

// listed is one list of the build record: its items and a form for the next.
type listed struct {
	List, Title string
	Items       []listedItem
	Next        []column
}

type listedItem struct {
	Path string
	From string // "batch" or "pattern" where it is noted there; "" on the float
	Cols []column
	Pic  *photo
}

// making is the maker's page of one float.
type making struct {
	Entry    label.Entry
	Build    label.Build // all of it
	Seen     int64
	Token    string
	Key      string
	Statuses []option
	Facts    []column
	Lists    []listed
	Publish  []publishing
	Prints   []job.FloatPrint
	Again    string // the command that prints it again
	Past     []past
	Notices  []string
	More     int // changes that are not shown
}

type publishing struct {
	Group string
	On    bool
}

type past struct{ At, By, Path, Before, After string }

// mostPast is how many changes a page shows; all of them are in the export.
const mostPast = 100

// makerRecord shows everything of one float.
func (s *server) makerRecord(w http.ResponseWriter, r *http.Request) {
	one, ok := s.sessions.of(r)
	id, err := ident.Parse(r.PathValue("id"))
	switch {
	case err != nil:
		s.noPage(w, r)
		return
	case !ok || s.o.Keeper == nil:
		http.Redirect(w, r, unlockPath+"?id="+string(id), http.StatusSeeOther)
		return
	}
	e, found, err := s.src.Entry(string(id))
	if err == nil && !found {
		s.fail(w, r, fault.New(fault.NotFound, "", "this workshop has no float with the id "+string(id), "compare it with the float"), failure{Title: "No such float"})
		return
	}
	var m making
	if err == nil {
		m, err = s.making(e, one.token)
	}
	if err != nil {
		s.fail(w, r, err, failure{Title: "The record cannot be shown"})
		return
	}
	f := frame{Lang: "en", Said: words.PageFor("en"), Title: "Edit " + string(id), Making: &m}
	w.Header().Set("Cache-Control", "no-store")
	sendHTML(w, http.StatusOK, mustPage("making", f))
}

func (s *server) making(e label.Entry, token string) (m making, err error) {
	all, _, err := s.src.Build(e.ID)
	if err != nil {
		return m, err
	}
	of := label.Subject{Kind: label.KindFloat, Key: e.ID}
	m = making{Entry: e, Build: all.All(), Seen: all.Float.Version, Token: token, Notices: e.Notices}
	if m.Key, err = job.Secret(); err != nil {
		return m, err
	}
	if m.Prints, err = s.o.Keeper.FloatPrints(e.ID); err != nil {
		return m, err
	}
	history, err := s.o.Keeper.BuildHistory(of)
	if err != nil {
		return m, err
	}
	slices.Reverse(history)
	m.More = max(0, len(history)-mostPast)
	for _, h := range history[:len(history)-m.More] {
		m.Past = append(m.Past, past{strings.TrimSuffix(strings.Replace(h.At, "T", " ", 1), "Z"), h.By, h.Path, plainValue(h.Before), plainValue(h.After)})
	}
	for _, st := range label.Statuses() {
		m.Statuses = append(m.Statuses, option{Key: string(st), Name: string(st), Chosen: st == all.Float.Status})
	}
	b := all.Float
	m.Facts = []column{{Name: label.PathMade, Label: "made on", Value: b.Made}, {Name: label.PathPrice, Label: "price", Value: b.Price},
		{Name: label.PathBuyer, Label: "buyer", Value: b.Buyer}, {Name: label.PathCare, Label: "words of care", Long: true, Value: b.Care}}
	m.Lists = listsOf(m.Build, e.ID)
	for _, c := range label.Choices() {
		m.Publish = append(m.Publish, publishing{c.Group, m.Build.Publish[c.Group]})
	}
	m.Again = fmt.Sprintf("floatmark print BATCH.toml --only %d --again", e.Number)
	return m, nil
}

// plainValue writes a stored value for reading.
func plainValue(v json.RawMessage) string {
	var text string
	var of map[string]any
	switch {
	case len(v) == 0 || string(v) == "null":
		return "nothing"
	case json.Unmarshal(v, &text) == nil:
		return text
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

// listsOf writes the lists of a build record with what can be typed of each.
func listsOf(b label.Build, id string) []listed {
	materials := listed{List: label.ListMaterials, Title: "Materials", Next: materialColumns(label.Material{})}
	for _, i := range b.Materials {
		materials.Items = append(materials.Items, itemOf(i, materialColumns(i.Value)))
	}
	coats := listed{List: label.ListCoats, Title: "Coats", Next: coatColumns(label.Coat{})}
	for _, i := range b.Coats {
		coats.Items = append(coats.Items, itemOf(i, coatColumns(i.Value)))
	}
	notes := listed{List: label.ListNotes, Title: "Notes", Next: noteColumns(label.Note{})}
	for _, i := range b.Notes {
		notes.Items = append(notes.Items, itemOf(i, noteColumns(i.Value)))
	}
	fields := listed{List: label.ListFields, Title: "Free fields", Next: fieldColumns(label.Field{})}
	for _, i := range b.Fields {
		fields.Items = append(fields.Items, itemOf(i, fieldColumns(i.Value)))
	}
	photos := listed{List: label.ListPhotos, Title: "Photographs"}
	for _, i := range b.Photos {
		one := itemOf(i, photoColumns(i.Value))
		one.Pic = &photo{photoLink(id, i.Value.Photo), i.Value.Caption, i.Value.Width, i.Value.Height}
		photos.Items = append(photos.Items, one)
	}
	return []listed{photos, notes, coats, materials, fields}
}

func itemOf[T any](i label.Item[T], cols []column) listedItem {
	one := listedItem{Path: i.Path, Cols: cols}
	if i.From != label.KindFloat {
		one.From = i.From
	}
	return one
}

const decimalKeys = "decimal"

func materialColumns(m label.Material) []column {
	mass := ""
	if m.Mass > 0 {
		mass = m.Mass.Text(0.001, unit.Style{})
	}
	return []column{{Name: "part", Label: "part", Value: m.Part}, {Name: "what", Label: "material", Value: m.What},
		{Name: "mass", Label: "mass, g", Mode: decimalKeys, Value: mass}, {Name: "note", Label: "note", Value: m.Note}}
}

func coatColumns(c label.Coat) []column {
	return []column{{Name: "product", Label: "product", Value: c.Product}, {Name: "date", Label: "date", Value: c.Date}, {Name: "note", Label: "note", Value: c.Note}}
}

func noteColumns(n label.Note) []column {
	return []column{{Name: "text", Label: "note", Long: true, Value: n.Text}, {Name: "date", Label: "date", Value: n.Date}}
}

func fieldColumns(f label.Field) []column {
	return []column{{Name: "name", Label: "name", Value: f.Name}, {Name: "text", Label: "text", Long: true, Value: f.Text}}
}

func photoColumns(p label.Photo) []column {
	return []column{{Name: "caption", Label: "caption", Value: p.Caption}, {Name: "date", Label: "date", Value: p.Date}}
}

// photo answers with a photograph: of what is published to anybody, of the rest to
// the maker.
func (s *server) photo(w http.ResponseWriter, r *http.Request) {
	id, err := ident.Parse(r.PathValue("id"))
	n, errNumber := strconv.Atoi(r.PathValue("number"))
	if err != nil || errNumber != nil || !s.misses.left(remote(r)) {
		s.noPage(w, r)
		return
	}
	all, ok, err := s.src.Build(string(id))
	if err != nil {
		s.fail(w, r, err, failure{Title: "The photograph cannot be shown"})
		return
	}
	shown := all.Public()
	if _, maker := s.sessions.of(r); maker {
		shown = all.All()
	}
	if !ok || !slices.ContainsFunc(shown.Photos, func(i label.Item[label.Photo]) bool { return i.Value.Photo == n }) {
		s.misses.take(remote(r))
		s.noPage(w, r)
		return
	}
	jpeg, ok, err := s.src.Photo(n)
	if err != nil || !ok {
		s.noPage(w, r)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Content-Length", strconv.Itoa(len(jpeg)))
	w.Header().Set("Cache-Control", "private, max-age=3600") // an hour: what is kept again is soon gone
	_, _ = w.Write(jpeg)                                     // the reader's connection may be gone
}
