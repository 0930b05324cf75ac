package job

import (
	"encoding/json"
	"fmt"
	"slices"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/layouts/decal"
	"floatmark/loading/fault"
)

// Ahead is unnumbered marks printed beyond what the batch needs: figures alone,
// for floats to come.
type Ahead struct {
	Figures string
	Pattern string
	Count   int
	Decal   decal.Result
}

// unnumbered reports whether a mark bears nothing that is one float's own.
func (fp *FloatPlan) unnumbered() bool {
	return !fp.Decal.CodeOn && !fp.Float.Measured && len(fp.Decal.Printed) > 0 &&
		!slices.ContainsFunc(fp.Decal.Printed, func(l label.Line) bool { return l.Role == label.RoleID || l.Role == label.RoleDedication })
}

func (fp *FloatPlan) figures() string {
	return FiguresKey(fp.Float.Pattern.Key, fp.Mark, fp.Decal.Printed)
}

// ready takes unnumbered marks that lie ready before any are printed, and lays
// out those that the batch asks for ahead.
func (w *Workshop) ready(p *Plan) error {
	if p.film.Sheetless() || p.forShop != nil || len(p.only) > 0 {
		return nil
	}
	lies := map[string]int{}
	if p.before != nil { // as it was then: that print has taken them
		var data printed
		if err := json.Unmarshal(p.before.Data, &data); err != nil {
			return fault.At(fmt.Sprintf("print %d", p.before.Number), err)
		}
		for i := range p.Floats {
			p.Floats[i].Ready = slices.Contains(data.FromReady, p.Floats[i].Float.Number)
		}
	} else {
		all, err := w.MarksReady()
		if err != nil {
			return err
		}
		for _, m := range all {
			if m.Stock == p.film.Key {
				lies[m.Figures] += m.Count
			}
		}
		for _, one := range w.after {
			for i := range one.Floats {
				if fp := &one.Floats[i]; fp.Ready && one.before == nil && one.film.Key == p.film.Key {
					lies[fp.figures()]--
				}
			}
		}
	}
	asked := map[string]bool{}
	for i := range p.Floats {
		fp := &p.Floats[i]
		if !fp.unnumbered() {
			continue
		}
		key := fp.figures()
		if lies[key] > 0 {
			lies[key]--
			fp.Ready = true
		}
		if fp.Ready {
			p.Notices = append(p.Notices, Notice{fp.Float.Number, "ready", "a mark with its figures lies ready from an earlier print: use that one, none is printed"})
		}
		if n := p.File.Ahead; n > 0 && !asked[key] {
			asked[key] = true
			one := *fp
			spec := p.spec(&one)
			spec.Caption = fig(fp)
			laid, err := decal.Lay(spec)
			if err != nil {
				return err
			}
			p.Ahead = append(p.Ahead, Ahead{key, fp.Float.Pattern.Key, n, laid})
		}
	}
	if p.File.Ahead > 0 && len(p.Ahead) == 0 {
		p.Notices = append(p.Notices, Notice{0, "ahead", "nothing is printed ahead: every mark of the batch bears an id, a code or a dedication"})
	}
	return nil
}

// fig is the caption of a mark printed ahead.
func fig(fp *FloatPlan) string { return fp.Float.Pattern.Name + " " + fp.Mark.Rating }

// moves is what a print adds to the unnumbered marks and takes from them.
func (p *Plan) moves() []record.Marks {
	var all []record.Marks
	for _, a := range p.Ahead {
		all = append(all, record.Marks{Stock: p.film.Key, Pattern: a.Pattern, Figures: a.Figures, Count: a.Count})
	}
	for i := range p.Floats {
		fp := &p.Floats[i]
		if fp.Ready {
			all = append(all, record.Marks{Stock: p.film.Key, Pattern: fp.Float.Pattern.Key, Figures: fp.figures(), Count: -1})
		}
	}
	return all
}

// fromReady lists the floats whose marks lay ready.
func (p *Plan) fromReady() []int {
	var all []int
	for _, fp := range p.Floats {
		if fp.Ready {
			all = append(all, fp.Float.Number)
		}
	}
	return all
}

// ReadyLine is a kind of unnumbered marks that lies ready.
type ReadyLine struct {
	Stock   string `json:"stock"`
	Pattern string `json:"pattern"`
	Figures string `json:"figures"`
	Count   int    `json:"count"`
}

// ReadyList lists the unnumbered marks that lie ready.
func (w *Workshop) ReadyList() ([]ReadyLine, error) {
	all, err := w.MarksReady()
	var out []ReadyLine
	for _, m := range all {
		out = append(out, ReadyLine{m.Stock, m.Pattern, figuresText(m.Figures), m.Count})
	}
	return out, err
}
