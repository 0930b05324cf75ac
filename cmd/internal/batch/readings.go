package batch

import (
	"errors"
	"slices"
	"strings"
	"time"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Tank is how readings are taken when a reading itself does not say.
type Tank struct {
	Metal     water.Metal // of what is hung; its Key is "" when that is not known
	Water     water.Water
	Stage     tank.Stage
	Tip       tank.Tip
	ReadTo    unit.Millimetre // 0 for package tank's own
	ScaleStep unit.Gram       // likewise
	With      []tank.Fitting
	Shot      shot.Convention // of readings counted in shot

	TipDiameter unit.Millimetre // 0 when not known
	ToCome      *tank.Allowance // what coats after the test will take; nil when not said

	toCome map[string]*tank.Allowance // by key of the pattern
}

func (how tested) exported() Tank {
	return Tank{Metal: how.metal, Water: how.water, Tip: how.tip, ReadTo: how.to, ScaleStep: how.scale, With: how.with, Shot: how.shot}
}

// Noted is a reading as it was written down. Every field is text as written,
// "" where nothing was; Where is its place in a file, for messages.
type Noted struct {
	Where               string
	Number, ID          string // the float: its place in the batch, or the id it bears
	Reading, Stage      string // "0.85 g" or "3AAA+2No4"; bare, beneath, fitted, varnished
	Metal, Water        string // "tin" or "putty:9.0"; degrees Celsius
	Salinity, Tip       string // practical salinity; dry, wet, washed
	TipDiameter, Above  string // mm; how far the tip stood above its mark
	ReadTo, Scale, With string // mm; "0.01 g"; "swivel 0.3 g brass"
	Date, By, Note      string // "2026-11-20"; who knows; anything
}

// fields names the fields of a Noted as the columns of a CSV file do.
func (n *Noted) fields() map[string]*string {
	return map[string]*string{"number": &n.Number, "id": &n.ID, "reading": &n.Reading, "stage": &n.Stage, "metal": &n.Metal,
		"water_c": &n.Water, "salinity": &n.Salinity, "tip": &n.Tip, "tip_mm": &n.TipDiameter, "above_mm": &n.Above,
		"read_to_mm": &n.ReadTo, "scale": &n.Scale, "with": &n.With, "date": &n.Date, "by": &n.By, "note": &n.Note}
}

// readingKeys are the columns of a CSV file of readings.
var readingKeys = []string{"number", "id", "reading", "stage", "metal", "water_c", "salinity", "tip", "tip_mm", "above_mm",
	"read_to_mm", "scale", "with", "date", "by", "note"}

// ParseReadings reads a CSV file of readings as strictly as the floats of a
// batch. Each line names its float by number or by id. The error joins one Input
// fault for each finding.
func ParseReadings(path string, src []byte) ([]Noted, error) {
	r, err := newReader(path)
	if err != nil {
		return nil, err
	}
	r.csvPath, r.csvNeeds = path, []string{"reading"}
	var all []Noted
	r.csvTable(src, readingKeys, func(columns []column, fields []string, line int) {
		at := csvPlace(line)
		n := Noted{Where: r.where(at)}
		cells := map[string]*cell{}
		for _, k := range readingKeys {
			cells[k] = &cell{}
		}
		r.csvCells(columns, fields, at, cells)
		for k, to := range n.fields() { // order does not matter: each cell has its own field
			*to = cells[k].text
		}
		if (n.Number == "") == (n.ID == "") {
			r.add(at, "fill in the one or the other", "a reading needs the number or the id of its float, and not both")
		}
		if cells["number"].ok() {
			r.floatNumber(*cells["number"])
		}
		if cells["id"].ok() {
			if _, err := ident.Parse(n.ID); err != nil {
				r.addErr(at, "id", err)
			}
		}
		all = append(all, n)
	})
	if len(all) == 0 && len(r.findings) == 0 {
		r.add(csvPlace(1), "add a line for each reading", "the file has no readings")
	}
	if len(all) > maxReadings {
		r.add(csvPlace(1), "split the file", "the file has more than %d readings", maxReadings)
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	return all, nil
}

// maxReadings keeps a file to five readings of each float of the largest batch.
const maxReadings = 5 * maxFloats

// Read understands a reading; what it does not say is taken from how. The error
// joins one Input fault for each finding, at its place.
func (n Noted) Read(how Tank) (tank.Reading, error) {
	var errs []error
	tell := func(key string, err error) {
		for _, e := range fault.List(err) {
			errs = append(errs, fault.At(n.Where, fault.New(fault.Input, "", key+": "+e.Error(), e.Do)))
		}
	}
	d := tank.Reading{Metal: how.Metal, Water: how.Water, Stage: how.Stage, Tip: how.Tip, TipDiameter: how.TipDiameter,
		ReadTo: how.ReadTo, ScaleStep: how.ScaleStep, With: how.With, ToCome: how.ToCome}
	number := func(key, text string, to *float64) {
		if text == "" {
			return
		}
		v, ok := unit.Decimal(text)
		if !ok {
			tell(key, fault.Inputf("write a plain number, as in 15 or 0,5", "%q is not a number", text))
			return
		}
		*to = v
	}
	for _, one := range []struct {
		key, text string
		read      func(string) error
	}{
		{"stage", n.Stage, func(s string) (err error) { d.Stage, err = tank.ParseStage(s); return err }},
		{"tip", n.Tip, func(s string) (err error) { d.Tip, err = tank.ParseTip(s); return err }},
		{"metal", n.Metal, func(s string) (err error) { d.Metal, err = water.ParseMetal(s); return err }},
		{"scale", n.Scale, func(s string) (err error) { d.ScaleStep, err = unit.ParseGram(s); return err }},
		{"with", n.With, func(s string) (err error) { d.With, err = parseFittings(s); return err }},
		{"date", n.Date, func(s string) error {
			if _, err := time.Parse(time.DateOnly, s); err != nil {
				return fault.Inputf(`write year, month and day as in "2026-11-20"`, "%q is no day of the calendar", s)
			}
			return nil
		}},
	} {
		if one.text == "" {
			continue
		}
		if err := one.read(one.text); err != nil {
			tell(one.key, err)
		}
	}
	number("water_c", n.Water, &d.Water.TempC)
	number("salinity", n.Salinity, &d.Water.Salinity)
	number("tip_mm", n.TipDiameter, (*float64)(&d.TipDiameter))
	number("above_mm", n.Above, (*float64)(&d.Above))
	number("read_to_mm", n.ReadTo, (*float64)(&d.ReadTo))
	if n.Metal == "" || d.Metal.Key != "" { // else what is wrong with the metal is told already
		if err := hung(&d, n.Reading, n.Metal != "", how.Shot); err != nil {
			tell("reading", err)
		}
	}
	if len(errs) == 0 {
		if _, err := d.Load(); err != nil {
			tell("reading", err)
		}
	}
	if err := errors.Join(errs...); err != nil {
		return tank.Reading{}, err
	}
	return d, nil
}

// hung reads what hung: a mass of the tank's metal, or counted shot, which is of
// its convention's.
func hung(d *tank.Reading, text string, metalSaid bool, c shot.Convention) error {
	if m, err := unit.ParseGram(text); err == nil {
		if d.Metal.Key == "" {
			return fault.Inputf("name the metal that hung, as in lead or tin", "%q does not say of which metal", text)
		}
		if m == 0 && d.Stage < tank.Fitted {
			return fault.Inputf("write what hung", "%q is nothing", text)
		}
		d.Hung = m
		return nil
	}
	counts, err := countedShot(text, c)
	if err != nil {
		return err
	}
	if d.Metal.Key != c.Metal.Key && (metalSaid || d.Metal.Key != "") {
		return fault.Inputf("weigh the shot together and write its grams", "%q is shot of %s, and the metal that hung is %s", text, c.Metal.Name, d.Metal.Name)
	}
	d.Metal, d.Counted = c.Metal, counts
	return nil
}

// parseFittings reads what hung with the shot: "swivel 0.3 g brass", several
// with a plus between.
func parseFittings(s string) ([]tank.Fitting, error) {
	const do = `write name, mass and metal, as in "swivel 0.3 g brass"`
	var all []tank.Fitting
	for one := range strings.SplitSeq(s, "+") {
		words := strings.Fields(one)
		digit := slices.IndexFunc(words, func(w string) bool { return w[0] >= '0' && w[0] <= '9' })
		unitAt := slices.IndexFunc(words, func(w string) bool {
			return strings.HasSuffix(strings.ToLower(w), "g") && strings.TrimLeft(w, "0123456789.,") != w || w == "g" || w == "mg" || w == "oz"
		})
		if digit < 1 || unitAt < digit || unitAt == len(words)-1 {
			return nil, fault.Inputf(do, "%q does not tell name, mass and metal", strings.TrimSpace(one))
		}
		m, err := unit.ParseGram(strings.Join(words[digit:unitAt+1], " "))
		if err != nil {
			return nil, err
		}
		metal, err := water.ParseMetal(strings.Join(words[unitAt+1:], " "))
		if err != nil {
			return nil, err
		}
		if !(m > 0 && m <= maxMass) {
			return nil, fault.Inputf(do, "%q weighs nothing or too much", strings.TrimSpace(one))
		}
		all = append(all, tank.Fitting{Name: strings.Join(words[:digit], " "), Mass: m, Metal: metal})
	}
	return all, nil
}

// allowance reads what coats and parts that come after the test will take of
// the load: a mass, with its uncertainty when retests told it ("0.012 g ± 0.005
// g"), or the word for a common one.
func (r *reader) allowance(t *table, tab string) *tank.Allowance {
	c := r.cell(t, tab, "allowance", optional, true)
	if !c.ok() {
		return nil
	}
	switch strings.ToLower(c.text) {
	case "varnish and decal":
		a := tank.VarnishAndDecal()
		return &a
	case "full paint":
		a := tank.FullPaint()
		return &a
	}
	mass, known, both := strings.Cut(c.text, "±")
	var figures []unit.Gram
	for _, text := range []string{mass, known} {
		part := cell{text: strings.TrimSpace(text), at: c.at, set: true}
		if !both && len(figures) == 1 {
			break
		}
		m, ok := r.mass(part, in(tab, "allowance"), true)
		switch {
		case !ok:
			return nil
		case m > maxAllowance:
			r.add(c.at, "check the decimal sign and the unit", "%s: %q is more than %s", in(tab, "allowance"), part.text, maxAllowance.Text(1, unit.Style{}))
			return nil
		}
		figures = append(figures, m)
	}
	a := tank.Stated(figures[0], "the batch file")
	if both {
		a.U = figures[1]
	}
	if a.Pull == 0 && a.U == 0 {
		return nil
	}
	return &a
}

// maxAllowance is the most coats may weigh, as in package tank.
const maxAllowance unit.Gram = 1

// For returns how a float of the batch is read: at its pattern's tip, with its
// pattern's allowance, and, when nothing is built in, bare.
func (t Tank) For(f *label.Float) Tank {
	t.TipDiameter, t.ToCome = f.Pattern.TipDiameter(), t.toCome[f.Pattern.Key]
	t.Stage = tank.Fitted
	if f.Weight == nil {
		t.Stage = tank.Bare
	}
	return t
}
