package batch

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/label"
	"floatmark/layouts/typeset"
	"floatmark/loading/unit"
)

// cell is one value as text with its place. bad marks one already told.
type cell struct {
	text     string
	at       place
	set, bad bool
}

func (c cell) ok() bool { return c.set && !c.bad }

// missing tells a needed key that is not there, at its table.
func (r *reader) missing(t *table, tab, key string) {
	r.add(t.at, "add "+examples[in(tab, key)], "%s is missing", in(tab, key))
}

// cell reads a text; quantity says that it has a unit, which a number has not.
func (r *reader) cell(t *table, tab, key string, n need, quantity bool) cell {
	e := t.get(key)
	if e == nil {
		if n == needed && t != nil {
			r.missing(t, tab, key)
			return cell{at: t.at, bad: true}
		}
		return cell{}
	}
	c := cell{text: e.val.text, at: e.val.at, set: true}
	switch k := e.val.kind; {
	case k == unstable.String:
		r.checkText(&c, in(tab, key))
	case quantity && (k == unstable.Integer || k == unstable.Float):
		r.add(c.at, fmt.Sprintf("write %q", e.val.text+" g"), "%s: %s has no unit", in(tab, key), e.val.text)
		c.bad = true
	default:
		r.add(c.at, "write it in quotation marks", "%s is not text", in(tab, key))
		c.bad = true
	}
	return c
}

// maxText is the longest text taken, in characters: more has no room on a card.
const maxText = 200

// checkText refuses text that would break a line or a table it is set in, and
// letters that no face has: a blank on a float cannot be mended.
func (r *reader) checkText(c *cell, key string) {
	switch {
	case strings.TrimSpace(c.text) == "" && !strings.HasSuffix(key, "note"):
		r.add(c.at, "write it, or remove the key", "%s is empty", key)
		c.bad = true
	case strings.ContainsFunc(c.text, unicode.IsControl):
		r.add(c.at, "write it on one line", "%s has a line break or a control character", key)
		c.bad = true
	case len([]rune(c.text)) > maxText:
		r.add(c.at, "write at most 200 characters", "%s is too long", key)
		c.bad = true
	}
	c.text = strings.TrimSpace(c.text)
	if !c.bad {
		text, err := typeset.Compose(c.text)
		if err != nil {
			r.addErr(c.at, key, err)
			c.bad = true
		} else {
			c.text = text
		}
	}
	for _, x := range c.text {
		if !c.bad && !unicode.IsSpace(x) && !r.faces.Has(x) {
			r.add(c.at, "write it with other letters", "%s: no face has %q (U+%04X)", key, x, x)
			c.bad = true
		}
	}
}

func (r *reader) text(t *table, tab, key string, n need) string {
	c := r.cell(t, tab, key, n, false)
	if c.bad {
		return ""
	}
	return c.text
}

// texts reads a list of texts; a single one may stand without brackets.
func (r *reader) texts(t *table, tab, key string) []cell {
	e := t.get(key)
	if e == nil {
		return nil
	}
	if e.val.kind == unstable.String {
		return []cell{r.cell(t, tab, key, needed, false)}
	}
	var all []cell
	if e.val.kind != unstable.Array {
		r.add(e.val.at, `write it as a list, as in ["one", "two"]`, "%s is not a list of texts", in(tab, key))
		return nil
	}
	for _, n := range e.val.list {
		c := cell{text: n.text, at: n.at, set: true}
		if n.kind != unstable.String {
			r.add(n.at, "write it in quotation marks", "%s is not a list of texts", in(tab, key))
			c.bad = true
		} else {
			r.checkText(&c, in(tab, key))
		}
		all = append(all, c)
	}
	return all
}

// choice reads one of a few words; the first is what is meant when the key is
// not there and not needed. false when what it says was told.
func (r *reader) choice(t *table, tab, key string, n need, words ...string) (int, bool) {
	c := r.cell(t, tab, key, n, false)
	if !c.ok() {
		return 0, !c.bad
	}
	i := slices.Index(words, strings.ToLower(c.text))
	if i < 0 {
		r.add(c.at, instead(c.text, words), "%s: %q is none of the words for it", in(tab, key), c.text)
		return 0, false
	}
	return i, true
}

// maxMass is the most a weight, a reading or a rating may be, in grams: the
// heaviest floats carry about a tenth of it; more is a slip of the unit.
const maxMass unit.Gram = 500

// mass reads a mass from a cell; false when there is none or it was told.
// fromZero lets 0 g pass.
func (r *reader) mass(c cell, key string, fromZero bool) (unit.Gram, bool) {
	if !c.ok() {
		return 0, false
	}
	m, err := unit.ParseGram(c.text)
	switch {
	case err != nil:
		r.addErr(c.at, key, err)
		return 0, false
	case m > maxMass:
		r.add(c.at, "check the decimal sign and the unit", "%s: %q is more than %s", key, c.text, maxMass.Text(1, unit.Style{}))
		return 0, false
	case m == 0 && !fromZero:
		r.add(c.at, "write the mass, or remove the key", "%s: %q is nothing", key, c.text)
		return 0, false
	}
	return m, true
}

// number reads a plain number from lo to hi; def when it is not there.
func (r *reader) number(t *table, tab, key string, n need, lo, hi, def float64) (float64, bool) {
	e := t.get(key)
	if e == nil {
		if n == needed && t != nil {
			r.missing(t, tab, key)
		}
		return def, n == optional
	}
	v, ok := r.plain(e.val, in(tab, key))
	if ok && !(v >= lo && v <= hi) {
		r.add(e.val.at, fmt.Sprintf("give a number from %v to %v%s", lo, hi, unitOf(key)), "%s = %s is out of range", in(tab, key), e.val.text)
		ok = false
	}
	if !ok {
		return def, false
	}
	return v, true
}

// unitOf says which unit a plain number is in, by the end of its key.
func unitOf(key string) string {
	switch {
	case strings.HasSuffix(key, "_mm"):
		return " mm"
	case strings.HasSuffix(key, "_c"):
		return " degrees Celsius"
	}
	return ""
}

// plain reads an integer or a decimal of TOML.
func (r *reader) plain(n *node, key string) (float64, bool) {
	digits := strings.ReplaceAll(n.text, "_", "")
	switch n.kind {
	case unstable.Integer:
		if v, err := strconv.ParseInt(digits, 0, 64); err == nil {
			return float64(v), true
		}
		if v, err := strconv.ParseInt(digits, 10, 64); err == nil {
			return float64(v), true
		}
	case unstable.Float:
		if v, err := strconv.ParseFloat(digits, 64); err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
			return v, true
		}
	case unstable.String:
		do := "write a number without quotation marks"
		if m, err := unit.ParseMillimetre(n.text); err == nil && strings.HasSuffix(key, "_mm") {
			do = "write " + unit.Number(float64(m), 0, unit.Style{})
		} else if v, ok := unit.Decimal(n.text); ok {
			do = "write " + unit.Number(v, 0, unit.Style{})
		}
		switch unitOf(key) {
		case " mm":
			r.add(n.at, do, "%s: %q is text, not a plain number of mm", key, n.text)
		case "":
			r.add(n.at, do, "%s: %q is text, not a plain number", key, n.text)
		default:
			r.add(n.at, do, "%s: %q is text, not a plain number of degrees Celsius", key, n.text)
		}
		return 0, false
	}
	r.add(n.at, "write a plain number, as in 16 or 13.4", "%s is not a number", key)
	return 0, false
}

func (r *reader) colour(t *table, tab, key string, n need, def label.Colour) label.Colour {
	c := r.cell(t, tab, key, n, false)
	if !c.ok() {
		return def
	}
	v, err := label.ParseColour(c.text)
	if err != nil {
		r.addErr(c.at, in(tab, key), err)
		return def
	}
	return v
}

// date reads the batch's day, as text or as a date of TOML. It is calendar
// text, printed as it stands: no clock and no zone come into it.
func (r *reader) date(root *table) string {
	e := root.get("date")
	if e == nil {
		r.missing(root, "", "date")
		return ""
	}
	if e.val.kind != unstable.String && e.val.kind != unstable.LocalDate {
		r.add(e.val.at, `write it as in "2026-11-20"`, "date is not a day")
		return ""
	}
	if _, err := time.Parse(time.DateOnly, e.val.text); err != nil {
		r.add(e.val.at, `write year, month and day as in "2026-11-20"`, "date: %q is no day of the calendar", e.val.text)
		return ""
	}
	return e.val.text
}
