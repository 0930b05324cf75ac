package web

import (
	"crypto/subtle"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"path"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

const (
	// mostBatch is the most bytes of a batch file with the files it names and its
	// form; job keeps 2 MiB of it.
	mostBatch = 3 << 20
	// mostFiles is how many files may come with a batch file. Estimate.
	mostFiles = 40
)

// sentReadings is what the page's script sends.
type sentReadings struct {
	Token    string          `json:"token"`
	Batch    string          `json:"batch"`
	Readings []job.TankEntry `json:"readings"`
}

// sentRefused answers it when none of the readings was looked at.
type sentRefused struct {
	What string `json:"what"`
	Do   string `json:"do"`
}

// addReadings stores readings, sent by the script as JSON or by the form.
func (s *server) addReadings(w http.ResponseWriter, r *http.Request) {
	if kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); kind != "application/json" {
		s.addReading(w, r)
		return
	}
	one, ok := s.sessions.of(r)
	if !ok || s.o.Keeper == nil {
		sendJSON(w, http.StatusUnauthorized, sentRefused{"the records are locked", "unlock them and send again"})
		return
	}
	var sent sentReadings
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	err := d.Decode(&sent)
	if err == nil && d.Decode(&struct{}{}) != io.EOF {
		err = errors.New("more than one value")
	}
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		sendJSON(w, http.StatusRequestEntityTooLarge, sentRefused{"too much came at once", "send fewer readings at once"})
		return
	case err != nil:
		sendJSON(w, http.StatusBadRequest, sentRefused{"what came are no readings: " + err.Error(), "open the page anew"})
		return
	case subtle.ConstantTimeCompare([]byte(sent.Token), []byte(one.token)) != 1:
		sendJSON(w, http.StatusForbidden, sentRefused{"the page is of another session", "open the page anew"})
		return
	}
	out, err := s.o.Keeper.AddTankReadings(r.Context(), sent.Batch, sent.Readings)
	if err != nil {
		sendJSON(w, status(fault.ClassOf(err)), refusedOf(err))
		return
	}
	tell := words.Told(s.said(r).Language)
	for i := range out.Readings {
		a := &out.Readings[i]
		a.What, a.Do = tell(a.What), tell(a.Do)
	}
	for _, f := range out.Floats {
		tellDone(f.Done, tell)
	}
	sendJSON(w, http.StatusOK, out)
}

// refusedOf tells an error without what is not for strangers, as fail does.
func refusedOf(err error) sentRefused {
	var e *fault.Error
	if fault.ClassOf(err) != fault.Ours && errors.As(err, &e) {
		return sentRefused{e.What, e.Do}
	}
	return sentRefused{"something went wrong in the program", "try again; if it stays, tell the maker"}
}

func sendJSON(w http.ResponseWriter, code int, v any) {
	text, err := json.MarshalIndent(v, "", "  ")
	if err != nil { // only numbers that are none, which no reading has
		code, text = http.StatusInternalServerError, []byte("{}")
	}
	text = append(text, '\n')
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(text)))
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(code)
	_, _ = w.Write(text) // the reader's connection may be gone
}

// addReading stores the one reading of the form, for browsers without scripts.
func (s *server) addReading(w http.ResponseWriter, r *http.Request) {
	if s.o.Keeper == nil {
		s.noPage(w, r)
		return
	}
	if !s.maker(w, r) {
		return
	}
	one, _ := s.sessions.of(r)
	f := r.PostForm
	name := f.Get("batch")
	number, err := strconv.Atoi(strings.TrimSpace(f.Get("number")))
	if err != nil {
		number = 0 // which no float has
	}
	e := job.TankEntry{Key: f.Get("key"), Number: number, Set: f.Get("set"), Reading: f.Get("reading"), Stage: f.Get("stage"), Above: aboveTyped(f.Get("above"), f.Get("units"))}
	out, err := s.o.Keeper.AddTankReadings(r.Context(), name, []job.TankEntry{e})
	if err != nil {
		s.fail(w, r, err, failure{Title: "Not stored"})
		return
	}
	a := out.Readings[0]
	if a.State != job.TankRefused {
		http.Redirect(w, r, s.nextFloat(name, number), http.StatusSeeOther)
		return
	}
	page, err := s.tankFrame(w, r, one, name)
	if err != nil {
		s.fail(w, r, err, failure{Title: "Not stored"})
		return
	}
	page.choose(number)
	page.Typed = tankTyped{e.Reading, e.Stage, f.Get("above")}
	for i := range page.Sets {
		page.Sets[i].Chosen = page.Sets[i].Key == e.Set
	}
	tell := words.Told(page.Lang)
	page.Refused = []string{stop(first(tell(a.What))), stop(first(tell(a.Do)))}
	s.sendTank(w, r, http.StatusBadRequest, page)
}

// choose marks what the form offers.
func (f *tankFrame) choose(number int) {
	f.Next = number
	for i := range f.Rows {
		f.Rows[i].Chosen = f.Rows[i].Number == number
	}
}

// nextFloat leads to the float after one, in the order of the drying board.
func (s *server) nextFloat(name string, number int) string {
	link := tankLink(name)
	sheet, err := s.o.Keeper.TankSheet(name)
	if err != nil {
		return link
	}
	for _, p := range sheet.Floats {
		if p.Number > number && !p.Setups {
			return link + "&number=" + strconv.Itoa(p.Number)
		}
	}
	return link + "&number=" + strconv.Itoa(number)
}

// openTank opens a batch file, of the workshop folder or sent with the form.
func (s *server) openTank(w http.ResponseWriter, r *http.Request) {
	if _, ok := s.sessions.of(r); ok && strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		// All of it fits in memory: nothing is written before the token has been seen.
		if err := r.ParseMultipartForm(mostBatch); err != nil {
			s.send(w, r, http.StatusRequestEntityTooLarge, failure{Title: "That was too much", What: "The form cannot be read or is too long.", Do: "Send the batch file and what it names alone."})
			return
		}
	}
	if s.o.Keeper == nil {
		s.noPage(w, r)
		return
	}
	if !s.maker(w, r) {
		return
	}
	var name string
	var err error
	if in := r.PostForm.Get("in"); in != "" {
		name, err = s.o.Keeper.OpenTankFile(r.Context(), in, by(r))
	} else {
		name, err = s.openSent(r)
	}
	if c := fault.ClassOf(err); err != nil && c != fault.Input && c != fault.NotFound {
		s.fail(w, r, err, failure{Title: "Not opened"})
		return
	}
	if err != nil {
		said, tell := []string{}, words.Told(s.said(r).Language)
		for _, e := range fault.List(err) {
			// The place is one in the maker's own file: line and column.
			what := tell(e.What)
			if e.Where != "" {
				what = e.Where + ": " + what
			}
			said = append(said, join(" ", what+":", tell(e.Do)))
		}
		s.send(w, r, status(fault.ClassOf(err)), failure{Title: "Not opened", What: stop(first(strings.Join(said[:min(len(said), mostFindings)], "; "))), Do: "Change the file and open it once more."})
		return
	}
	http.Redirect(w, r, tankLink(name), http.StatusSeeOther)
}

// mostFindings is how many findings in a batch file are told on a phone.
const mostFindings = 5

func (s *server) openSent(r *http.Request) (string, error) {
	const do = "choose the batch file and, with it, the files it names"
	var files []*multipart.FileHeader
	if r.MultipartForm != nil {
		files = r.MultipartForm.File["file"]
	}
	if len(files) > mostFiles {
		return "", fault.Inputf(do, "more than %d files came", mostFiles)
	}
	beside := map[string][]byte{}
	var name string
	for _, h := range files {
		data, err := content(h)
		if err != nil {
			return "", fault.Inputf(do, "%s cannot be read", path.Base(h.Filename))
		}
		one := h.Filename[strings.LastIndexAny(h.Filename, `/\`)+1:]
		beside[one] = data
		if strings.EqualFold(path.Ext(one), ".toml") {
			if name != "" {
				return "", fault.Inputf(do, "there are two batch files, %s and %s", name, one)
			}
			name = one
		}
	}
	if name == "" {
		return "", fault.Inputf(do, "none of the files is a batch file: its name ends in .toml")
	}
	return s.o.Keeper.OpenTankSource(r.Context(), name, beside[name], beside, by(r))
}

func content(h *multipart.FileHeader) ([]byte, error) {
	f, err := h.Open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

// toTank is the field of the unlock form that leads back to the tank: the name of
// a batch there, which may be "".
const toTank = "tank"

// tankOf is the batch that a browser goes back to at the tank; false where it did
// not come from there.
func tankOf(r *http.Request) (batch string, ok bool) {
	batch = r.FormValue(toTank)
	return batch, r.Form.Has(toTank)
}

// aboveTyped is how far the tip stood above its mark, mm, of what was typed where
// the page showed such units; what is no length stays, to be refused.
func aboveTyped(text, units string) string {
	of, _ := unit.SystemByName(units) // the page's own field; without it metric
	v, err := words.Measures{Units: of}.ReadLength(text)
	if err != nil {
		return strings.TrimSpace(text)
	}
	return words.Measures{}.Bare(v)
}
