package bench

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/symbol"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func (s *server) tankPages() []route {
	return []route{
		s.get("b/{batch}/tank", s.tank),
		s.post("b/{batch}/tank", s.addReading),
		s.post("b/{batch}/tank/how", s.setTank),
		s.post("b/{batch}/tank/allowance", s.useAllowance),
	}
}

// tankPage is the page beside the test tank, on the laptop.
type tankPage struct {
	Batch  string
	Rows   []tankRow
	Tested int
	All    bool      // floats are read, and there is a float
	Form   *tankForm // nil where every float is read, by its set-ups in the batch too, and none is asked for
	Choose bool      // every float is read, and one may be chosen to be read again
	How    []field   // how the readings are taken
	Phone  string    // link to the phone's page; "" where phones do not reach this server
	Word   bool      // there is an unlock word, so that phones may add readings
	Stored *tankRow  // that was read just now
	Taken  []finishTaken
}

// tankRow is a float of the board and what was read of it.
type tankRow struct {
	Number                          int
	Load                            string // its rating as the page's main figure
	Pattern, Rating, BuiltIn, Typed string // Typed: the reading that the batch itself has
	Setups, Next                    bool
	Done                            []tankRead
	Doubts                          []finding // of what was read just now: what does not go with its rating
}

// tankRead is what the tank said of a float at one stage.
type tankRead struct {
	Stage, Mean, Ounces, Metal string
	Readings                   []job.TankReading
	Told                       []string
}

// tankForm is the reading that is to be typed.
type tankForm struct {
	Key                   string
	Now                   tankRow
	Numbers, Sets, Stages []option
	Typed                 job.TankEntry
	Findings              []finding
}

// gramStep is how finely masses are written beside the tank, g: finer than any
// scale there.
const gramStep unit.Gram = 0.001

func (s *server) tank(w http.ResponseWriter, r *http.Request) error {
	n, _ := strconv.Atoi(r.URL.Query().Get("number")) // none is the first that was not read
	f, page, err := s.tankFrame(r, n)
	if err != nil {
		return err
	}
	if stored, err := strconv.Atoi(r.URL.Query().Get("stored")); err == nil {
		if i := slices.IndexFunc(page.Rows, func(t tankRow) bool { return t.Number == stored }); i >= 0 {
			page.Stored = &page.Rows[i]
			if page.Stored.Doubts, err = s.doubts(r, stored); err != nil {
				return err
			}
		}
	}
	if q := r.URL.Query(); page.Form != nil && q.Has("set") { // as the last reading was taken
		page.Form.Sets, page.Form.Stages = again(page.Form.Sets, q.Get("set")), again(page.Form.Stages, q.Get("stage"))
	}
	f.Body = page
	return s.show(w, r, "tank", f)
}

// doubts are what the batch with the readings says of one float that cannot be right:
// one of them, the weight built in or the rating is mistyped.
func (s *server) doubts(r *http.Request, number int) (all []finding, err error) {
	d, err := s.draft(r)
	if err != nil || d.Err != nil {
		return nil, err // what is not whole yet is told above
	}
	_, err = s.figures(r.Context(), d)
	if err == nil || !forMaker(err) {
		return nil, err
	}
	_, slips := toldEach(d, err)
	for _, one := range slips {
		if one.Of == ofFloat && one.Name == strconv.Itoa(number) {
			all = append(all, one)
		}
	}
	return all, nil
}

// again is chosen where there is such an option.
func again(all []option, value string) []option {
	if !slices.ContainsFunc(all, func(o option) bool { return o.Key == value }) {
		return all
	}
	return chosen(all, value)
}

func (s *server) tankFrame(r *http.Request, number int) (frame, *tankPage, error) {
	d, err := s.draft(r)
	if err != nil {
		return frame{}, nil, err
	}
	f := s.batchFrame(d, "tank", "At the tank")
	p := &tankPage{Batch: d.Name, How: tankFields(s.measures(r), d)}
	sheet, err := s.shop().TankSheet(d.Name)
	if err != nil && human(err) { // it was not whole yet; what is missing stands above
		f.Next = &link{"Say which floats there are", Path + batchPath(d.Name, "floats")}
		return f, p, nil
	}
	if err != nil {
		return f, nil, err
	}
	report, err := s.shop().Tank(d.Name)
	if err != nil && fault.ClassOf(err) != fault.NotFound {
		return f, nil, err
	}
	lang, m := s.language(r), s.measures(r)
	said, tank := words.PageFor(lang), words.TankPageFor(lang)
	p.Taken = finishesOf(d.Doc, report.Allowances, said)
	typed := map[string]string{} // readings that the batch itself has, by number
	for i := range d.Doc.Len("float") {
		at := fmt.Sprintf("float/%d/", i)
		typed[d.Doc.Text(at+"number")] = d.Doc.Text(at + "reading")
	}
	built := builtStep(sheet.Floats)
	for _, one := range sheet.Floats {
		row := tankRow{Number: one.Number, Pattern: one.Pattern, Rating: said.Gram(one.Nominal, gramStep), Load: m.Load(one.Nominal, gramStep), Setups: one.Setups,
			Typed: typed[strconv.Itoa(one.Number)]}
		if one.BuiltIn > 0 {
			row.BuiltIn = one.BuiltIn.FixedText(built, said.Number)
		}
		for _, t := range report.Floats {
			if t.Number != one.Number {
				continue
			}
			read := tankRead{Stage: tank.Stages[t.Stage], Metal: t.Metal, Readings: t.Readings, Told: t.Told}
			if t.Mass != 0 || t.U != 0 {
				read.Mean = said.Sure(t.Mass, t.U, gramStep)
				if m.Imperial() {
					read.Ounces = t.Mass.Ounces(m.Number)
				}
			}
			row.Done = append(row.Done, read)
		}
		if row.Typed != "" || len(row.Done) > 0 || row.Setups {
			p.Tested++
		}
		p.Rows = append(p.Rows, row)
	}
	if err := p.offer(sheet, number, said, tank); err != nil {
		return f, nil, err
	}
	if p.Word, err = s.shop().HasUnlock(); err != nil {
		return f, nil, err
	}
	if all := s.phoneLinks(r, d.Name); len(all) > 0 {
		p.Phone = all[0]
	}
	if p.Tested == len(p.Rows) {
		p.All = true
		if number == 0 && p.Form != nil { // one more reading of a float is nobody's slip: it is asked for
			p.Rows[slices.IndexFunc(p.Rows, func(t tankRow) bool { return t.Next })].Next = false
			p.Form, p.Choose = nil, true
		}
		f.Next = &link{"Grade them", Path + batchPath(d.Name, "grade")}
	}
	return f, p, nil
}

// builtStep is how finely the built-in weights of a board are written: as pocket
// scales show them, or a digit finer where one was weighed so.
func builtStep(all []job.TankPlace) unit.Gram {
	const step = unit.Gram(0.01)
	for _, one := range all {
		if v := float64(one.BuiltIn); unit.Round(v, float64(step)) != unit.Round(v, float64(gramStep)) {
			return gramStep
		}
	}
	return step
}

// offer fills the form for a float: the one of that number, or the first that was
// not read.
func (p *tankPage) offer(sheet job.TankSheet, number int, said words.Page, tank words.TankPage) error {
	at := slices.IndexFunc(p.Rows, func(t tankRow) bool { return t.Number == number && !t.Setups })
	if at < 0 {
		at = slices.IndexFunc(p.Rows, func(t tankRow) bool { return t.Typed == "" && len(t.Done) == 0 && !t.Setups })
	}
	if at < 0 {
		at = slices.IndexFunc(p.Rows, func(t tankRow) bool { return !t.Setups })
	}
	if at < 0 {
		return nil
	}
	p.Rows[at].Next = true
	key, err := job.Secret()
	if err != nil {
		return err
	}
	f := &tankForm{Key: key, Now: p.Rows[at]}
	for i, one := range p.Rows {
		if !one.Setups {
			f.Numbers = append(f.Numbers, option{Key: strconv.Itoa(one.Number), Name: fmt.Sprintf("%d · %s · %s", one.Number, one.Pattern, one.Rating), Chosen: i == at})
		}
	}
	for i, set := range sheet.Sets {
		metal := said.MetalName(set.Metal.Key, set.Metal.Name)
		name := fmt.Sprintf(tank.Weighed, metal)
		if set.Key != "" {
			name = said.ConventionName(set.Key, set.Name) + ", " + metal
		}
		f.Sets = append(f.Sets, option{Key: set.Key, Name: name, Chosen: i == 0})
	}
	for _, stage := range sheet.Floats[at].Stages {
		f.Stages = append(f.Stages, option{Key: stage, Name: tank.Stages[stage], Chosen: stage == sheet.Floats[at].Stage})
	}
	p.Form = f
	return nil
}

// addReading stores one reading and goes on to the next float.
func (s *server) addReading(w http.ResponseWriter, r *http.Request) error {
	number, _ := strconv.Atoi(r.PostFormValue("number")) // none is refused below
	e := job.TankEntry{Key: r.PostFormValue("key"), Number: number, Set: r.PostFormValue("set"), Reading: strings.TrimSpace(r.PostFormValue("reading")),
		Stage: r.PostFormValue("stage"), Above: aboveTyped(s.measures(r), r.PostFormValue("above"))}
	got, err := s.shop().AddTankReadings(r.Context(), r.PathValue("batch"), []job.TankEntry{e})
	if err != nil {
		return err
	}
	f, page, err := s.tankFrame(r, number)
	if err != nil {
		return err
	}
	if a := got.Readings[0]; a.State == job.TankRefused && page.Form != nil {
		e.Above = strings.TrimSpace(r.PostFormValue("above"))
		page.Form.Typed, page.Form.Findings = e, []finding{{What: a.What, Do: a.Do}}
		page.Form.Sets, page.Form.Stages = chosen(page.Form.Sets, e.Set), chosen(page.Form.Stages, e.Stage)
		f.Body = page
		s.send(w, r, http.StatusUnprocessableEntity, "tank", f)
		return nil
	}
	q := url.Values{"stored": {strconv.Itoa(number)}, "set": {e.Set}, "stage": {e.Stage}}
	if next := page.after(number); next > 0 {
		q.Set("number", strconv.Itoa(next))
	}
	if page.All { // there is nothing to be typed next
		return back(w, r, batchPath(r.PathValue("batch"), "tank?"+q.Encode()))
	}
	return onward(w, r, batchPath(r.PathValue("batch"), "tank?"+q.Encode()))
}

// aboveTyped is how far the tip stood above its mark, mm, of what was typed; what
// is no length stays, to be refused.
func aboveTyped(m words.Measures, text string) string {
	v, err := m.ReadLength(text)
	if err != nil {
		return strings.TrimSpace(text)
	}
	return words.Measures{}.Bare(v)
}

// after is the next float of the board that was not read; 0 for none.
func (p *tankPage) after(number int) int {
	for _, one := range p.Rows {
		if one.Number > number && one.Typed == "" && len(one.Done) == 0 && !one.Setups {
			return one.Number
		}
	}
	return 0
}

// tankFields are how the readings of a batch are taken.
func tankFields(m words.Measures, d job.Draft) []field {
	var metals []option
	for _, m := range water.Metals() {
		metals = append(metals, option{Key: m.Key, Name: m.Name})
	}
	all := []field{
		{Path: "tank/metal", Label: "Metal of the shot that is hung", Options: metals},
		{Path: "tank/water_c", Label: "Water, %s", Of: &aTemperature, Unit: m.DegreesSign(), Mode: "decimal"},
		{Path: "tank/salinity", Label: "Salinity", Of: &aNumber, Mode: "decimal", Hint: "0 is fresh, about 35 the open sea."},
		{Path: "tank/tip", Label: "The tip when it is read", Options: []option{{Key: "", Name: "not known"}, {Key: "dry", Name: "dry"}, {Key: "wet", Name: "wet"}, {Key: "washed", Name: "wet, with a drop of washing-up liquid"}}},
		{Path: "tank/read_to_mm", Label: "How near the tip is set to its mark, %s", Of: &aLength, Unit: m.LengthSign(), Mode: "decimal"},
		{Path: "tank/scale", Label: "Last digit of the scale, g", Mode: "decimal"},
	}
	for i, f := range all {
		all[i].Value = loadShown(m, d.Doc.Text(f.Path))
		if f.Options != nil {
			all[i].Options = offered(f.Options, strings.ReplaceAll(all[i].Value, "unknown", ""))
		}
	}
	fieldsOf(m, d.Doc, all)
	return all
}

func (s *server) setTank(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "change how it is tested", "tank#how", func(d *batch.Doc) error {
		for path, as := range map[string]typedAs{"tank/metal": plainly(word), "tank/water_c": wholly(aTemperature), "tank/salinity": wholly(aNumber),
			"tank/tip": plainly(word), "tank/read_to_mm": wholly(aLength), "tank/scale": loadTyped} {
			if !r.PostForm.Has(path) {
				continue
			}
			if err := d.Set(path, as(s.measures(r), r.PostFormValue(path), valueAt(d, path))); err != nil {
				return err
			}
		}
		return nil
	})
}

// quietEdge is the pale edge that ISO/IEC 18004 asks for, in squares.
const quietEdge = 4

// codePicture draws a code with its pale edge, black on white in light and dark.
func codePicture(m symbol.Matrix) string {
	var path strings.Builder
	for _, ring := range m.Contour() {
		for i, at := range ring {
			to := byte('L')
			if i == 0 {
				to = 'M'
			}
			fmt.Fprintf(&path, "%c%d %d", to, at[0]+quietEdge, at[1]+quietEdge)
		}
		path.WriteByte('Z')
	}
	n := m.N + 2*quietEdge
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="240" height="240"><rect width="%d" height="%d" fill="#fff"/><path d="%s"/></svg>`, n, n, n, n, path.String())
}
