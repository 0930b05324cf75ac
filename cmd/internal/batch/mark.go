package batch

import (
	"fmt"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/label"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// The words for the way a mark runs, in the order of label's constants, and the
// ends it is placed from.
var (
	turns = []string{"auto", "round", "lengthwise"}
	ends  = []string{"base", "tip"}
)

const markTab = "[[pattern.mark]]"

// The ranges catch a slip of the unit: estimates.
const (
	leastCapitals, mostCapitals = 0.5, 10 // mm
	mostRepeat                  = 6
	mostGap                     = 20 // mm, of a seam
	mostZones                   = 8
)

// marks reads what goes where on the body: one ready-made mark, or a table for
// each stretch of the body that bears one.
func (r *reader) marks(t *table, tab string, p *label.Pattern, known bool) {
	e := t.get("mark")
	if e == nil || e.val.kind == unstable.String {
		r.readyMade(t, tab, p, known)
		return
	}
	for _, key := range []string{"turn", "mark_from_mm", "mark_height_mm"} {
		if old := t.get(key); old != nil {
			r.add(old.at, "move it into the "+markTab+" it belongs to", "%s stands beside %s", in(tab, key), markTab)
		}
	}
	if e.val.kind != unstable.Array || len(e.val.list) > mostZones {
		r.add(e.val.at, `write mark = "least" or "full", or a table `+markTab+" for each place", "%s is neither a word nor a list of tables", in(tab, "mark"))
		return
	}
	for i, n := range e.val.list {
		if n.tab == nil {
			r.add(n.at, "write each as "+markTab+", with two brackets", "%s is not a list of tables", in(tab, "mark"))
			return
		}
		r.known(n.tab, markTab, markKeys)
		p.Zones = append(p.Zones, r.zone(n.tab, p, known, i == 0))
	}
	r.apart(e.val.list, p, known)
}

// readyMade reads the short form: the least or the full mark, and where.
func (r *reader) readyMade(t *table, tab string, p *label.Pattern, known bool) {
	style := r.style(t, tab, "mark")
	turn, _ := r.choice(t, tab, "turn", optional, turns...)
	z := label.Zone{Style: style, Show: label.ReadyMade(style), Turn: label.Turn(turn)}
	from, height := t.get("mark_from_mm"), t.get("mark_height_mm")
	if from == nil && height == nil {
		if known { // else it is told what is wrong with the body, and once that is mended the mark has its usual place
			z.From, z.Height = usualPlace(p)
		}
	} else {
		a, ok1 := r.number(t, tab, "mark_from_mm", needed, 0, float64(body.MaxHeight), 0)
		h, ok2 := r.number(t, tab, "mark_height_mm", needed, 0.1, float64(body.MaxHeight), 0)
		z.From, z.Height = unit.Millimetre(a), unit.Millimetre(h)
		if ok1 && ok2 && known {
			r.onFloat(z, p, in(tab, "mark_from_mm"), in(tab, "mark_height_mm"), from.val.at, height.val.at)
		}
	}
	p.Zones = []label.Zone{z}
}

// style reads the name of a ready-made mark; the least is meant where it is not
// named.
func (r *reader) style(t *table, tab, key string) string {
	styles := []string{label.StyleLeast, label.StyleFull}
	i, _ := r.choice(t, tab, key, optional, styles...)
	return styles[i]
}

// onFloat tells of a zone that leaves the float.
func (r *reader) onFloat(z label.Zone, p *label.Pattern, fromKey, heightKey string, from, height place) {
	text := func(m unit.Millimetre) string { return m.Text(0.01, unit.Style{}) }
	top := p.Profile.Top()
	switch {
	case z.From >= top:
		r.add(from, "give the height of the mark's lower edge over the base end", "%s: %s is off the float, which is %s long", fromKey, text(z.From), text(top))
	case z.From < 0:
		r.add(height, "give at most "+text(z.To()), "%s: the mark would begin %s below the base end", heightKey, text(-z.From))
	case z.To() > top:
		r.add(height, "give at most "+text(top-z.From)+", or begin lower", "%s: the mark ends at %s, and the float at %s", heightKey, text(z.To()), text(top))
	}
}

// zone reads one table of a mark.
func (r *reader) zone(t *table, p *label.Pattern, known, first bool) label.Zone {
	const tab = markTab
	z := label.Zone{Style: label.StyleOwn, Where: r.where(t.at)}
	r.show(t, &z)
	turn, _ := r.choice(t, tab, "turn", optional, turns...)
	fit, _ := r.choice(t, tab, "fit", optional, label.FitNames()...)
	stretch, _ := r.choice(t, tab, "stretch", optional, label.StretchNames()...)
	z.Turn, z.Fit, z.Stretch = label.Turn(turn), label.Fit(fit), label.Stretch(stretch)
	z.Text = r.text(t, tab, "text", optional)
	if z.Text != "" && !z.Show.Has(label.PartText) {
		r.add(t.get("text").at, `put "text" into show`, "%s: the mark does not show it", in(tab, "text"))
	}
	if e := t.get("show"); z.Text == "" && z.Show.Has(label.PartText) {
		r.add(e.val.at, `add text = "…"`, "%s: there is no text to show", in(tab, "show"))
	}
	if e := t.get("show"); z.Show.Has(label.PartOwnMark) && !r.marked {
		r.add(e.val.at, `add own_mark = "mark.svg" to [print]`, "%s: the maker has no mark of his own", in(tab, "show"))
	}
	n, ok := r.number(t, tab, "repeat", optional, 1, mostRepeat, 0)
	if ok && n != float64(int(n)) {
		r.add(t.get("repeat").val.at, "give a whole number", "%s: %v is no count", in(tab, "repeat"), n)
	}
	z.Repeat = int(n)
	z.Floor, _ = r.number(t, tab, "least_capitals_mm", optional, leastCapitals, mostCapitals, 0)
	z.Arc, _ = r.number(t, tab, "arc_deg", optional, 5, 355, 0)
	z.Width, _ = r.number(t, tab, "width_mm", optional, 1, 200, 0)
	z.Overlap, _ = r.number(t, tab, "seam_mm", optional, 0, mostGap, 0)
	r.forFit(t, z)
	r.place(t, &z, p, known, first)
	return z
}

// forFit tells of measures that the fit has no use for.
func (r *reader) forFit(t *table, z label.Zone) {
	for _, k := range []struct {
		key  string
		only []label.Fit
	}{{"arc_deg", []label.Fit{label.FitPart}}, {"width_mm", []label.Fit{label.FitPatch}}, {"seam_mm", []label.Fit{label.FitFull, label.FitButt}}} {
		if e := t.get(k.key); e != nil && !slices.Contains(k.only, z.Fit) {
			r.add(e.at, fmt.Sprintf("write fit = %q, or remove it", k.only[0].String()), "%s means nothing with fit = %q", in(markTab, k.key), z.Fit)
		}
	}
}

// place reads where a zone sits, from the base end or from the tip.
func (r *reader) place(t *table, z *label.Zone, p *label.Pattern, known, first bool) {
	const tab = markTab
	end, ok := r.choice(t, tab, "from", optional, ends...)
	at, height := t.get("at_mm"), t.get("height_mm")
	if at == nil && height == nil && first && t.get("from") == nil {
		if known { // as in readyMade
			z.From, z.Height = usualPlace(p)
		}
		return
	}
	a, ok1 := r.number(t, tab, "at_mm", needed, 0, float64(body.MaxHeight), 0)
	h, ok2 := r.number(t, tab, "height_mm", needed, 0.1, float64(body.MaxHeight), 0)
	z.From, z.Height = unit.Millimetre(a), unit.Millimetre(h)
	if !ok || !ok1 || !ok2 || !known {
		return
	}
	if end == 1 {
		z.AtTip, z.FromTip = true, z.From
		z.From = p.Profile.Top() - z.FromTip - z.Height
	}
	r.onFloat(*z, p, in(tab, "at_mm"), in(tab, "height_mm"), at.val.at, height.val.at)
}

// apart tells of zones that lie on each other, and of a second code.
func (r *reader) apart(list []*node, p *label.Pattern, known bool) {
	codes := 0
	for i, z := range p.Zones {
		if z.Show.Has(label.PartCode) {
			if codes++; codes > 1 {
				r.add(list[i].tab.at, "keep the code in one of them", "%s: the float has a code already", markTab)
			}
		}
		for j, other := range p.Zones[:i] {
			if known && z.Height > 0 && other.Height > 0 && z.From < other.To() && other.From < z.To() {
				r.add(list[i].tab.at, "move one of them", "%s: it lies on the mark at %s", markTab, r.where(list[j].tab.at))
			}
		}
	}
}

// show reads what a zone shows: strips, words in one row, and faces as lists
// within the list, in order from the tip's end.
func (r *reader) show(t *table, z *label.Zone) {
	key := in(markTab, "show")
	e := t.get("show")
	switch {
	case e == nil || e.val.kind == unstable.String:
		z.Style = r.style(t, markTab, "show")
		z.Show = label.ReadyMade(z.Style)
		return
	case e.val.kind != unstable.Array || len(e.val.list) == 0:
		r.add(e.val.at, `write it as in ["rings", ["rating", "add"], ["code", "id"]]`, "%s is no list of what to show", key)
		return
	}
	s := &z.Show
	seen := map[label.Part]bool{}
	for _, n := range e.val.list {
		if n.kind == unstable.Array {
			var face []label.Part
			for _, x := range n.list {
				if p, ok := r.part(x, seen); ok {
					if p.Strip() {
						r.add(x.at, "move it before or behind the faces", "%s: %q goes all round and has no face", key, p)
					}
					face = append(face, p)
				}
			}
			if len(n.list) == 0 {
				r.add(n.at, "name what it shows, or remove it", "%s: a face shows nothing", key)
			}
			s.Faces = append(s.Faces, face)
			continue
		}
		p, ok := r.part(n, seen)
		switch {
		case !ok:
		case !p.Strip() && len(s.Foot) > 0:
			r.add(n.at, "put bands, rings and rules first or last", "%s: %q stands below a strip that has words above it", key, p)
		case !p.Strip():
			s.Row = append(s.Row, p)
		case len(s.Row)+len(s.Faces) > 0:
			s.Foot = append(s.Foot, p)
		default:
			s.Top = append(s.Top, p)
		}
	}
	if len(s.Row) > 0 && len(s.Faces) > 0 {
		r.add(e.val.at, "put every word in a list of its own, or none", "%s mixes words in a row with faces", key)
	}
}

// part reads the name of a part, each of which a zone shows once.
func (r *reader) part(n *node, seen map[label.Part]bool) (label.Part, bool) {
	key := in(markTab, "show")
	if n.kind != unstable.String {
		r.add(n.at, "write it in quotation marks", "%s is not a list of words", key)
		return 0, false
	}
	p, ok := label.ParsePart(strings.ToLower(n.text))
	switch {
	case !ok:
		r.add(n.at, instead(n.text, label.PartNames()), "%s: %q is nothing that a mark shows", key, n.text)
	case seen[p]:
		r.add(n.at, "keep one of them", "%s: %q stands twice", key, n.text)
		ok = false
	}
	seen[p] = seen[p] || ok
	return p, ok
}
