package job

import (
	"context"
	"slices"

	"floatmark/cmd/internal/batch"
	"floatmark/layouts/decal"
	"floatmark/loading/fault"
)

// Trouble is something that is not as good as it could be with a mark, and what
// is known to help.
type Trouble struct {
	Code     string // of the notice, "line" for a line that is hard to read, "no-fit" for a mark that cannot be laid out
	Text     string
	Do       string // what may be done, in words, where the finding says so
	Remedies []Remedy
}

// Remedy is a change of the batch file that was tried: with it the trouble is
// gone, and no other has come.
type Remedy struct {
	Key  string   // stable, for the request that does it: "lengthwise", "move:42:25"
	Says string   // what it will do, an English sentence with a printf verb %s for each of Args
	Args []string // quantities and colours, formatted
	Wide bool     // it changes the whole batch, not this pattern alone

	edit func(*batch.Doc) error
}

// Edit is the change.
func (r Remedy) Edit(d *batch.Doc) error { return r.edit(d) }

// Troubles lists what is the matter with a mark that was looked at, each once.
func (v *MarkView) Troubles() []Trouble {
	var all []Trouble
	add := func(code, text, do string) {
		if !slices.ContainsFunc(all, func(t Trouble) bool { return t.Code == code && t.Text == text }) {
			all = append(all, Trouble{Code: code, Text: text, Do: do})
		}
	}
	for _, e := range fault.List(v.Err) {
		add("no-fit", e.What, e.Do)
	}
	if v.Err != nil && len(all) == 0 {
		add("no-fit", v.Err.Error(), "")
	}
	for _, n := range v.Notices {
		add(n.Code, n.Text, "")
	}
	for _, l := range v.Lines {
		if l.Grade != lineFine {
			add(LineTrouble, l.Line(), "")
		}
	}
	return all
}

// LineTrouble is the code of a line that is hard to read.
const LineTrouble = "line"

// lineFine is the grade of one that is not.
const lineFine = "ok"

// mostRemedies is how many remedies of a trouble are looked for: the choice is to
// be made at a glance.
const mostRemedies = 3

// Remedies tells the troubles of a pattern's mark with what helps: each remedy
// was tried on the very mark. It takes as long as the codes that are laid out on
// the way take to be proved: some seconds the first time.
func (w *Workshop) Remedies(ctx context.Context, d Draft, v *MarkView) ([]Trouble, error) {
	all := v.Troubles()
	eachOf(len(all), func(i int) {
		for _, kind := range remedyKinds[all[i].Code] {
			for _, r := range kind(v, d) {
				if len(all[i].Remedies) == mostRemedies || ctx.Err() != nil {
					return
				}
				if slices.ContainsFunc(all[i].Remedies, func(o Remedy) bool { return o.Key == r.Key }) {
					break // as another kind found
				}
				if w.helps(ctx, d, v, all[i].Code, r) {
					all[i].Remedies = append(all[i].Remedies, r)
					break // one of each kind
				}
			}
		}
	})
	return all, ctx.Err()
}

// Remedy finds a remedy by its key, as Remedies may have offered it.
func (v *MarkView) Remedy(d Draft, key string) (Remedy, error) {
	for _, t := range v.Troubles() {
		for _, r := range v.candidates(d, t.Code) {
			if r.Key == key {
				return r, nil
			}
		}
	}
	return Remedy{}, fault.New(fault.NotFound, v.Key, "this is no longer the matter with the mark", "look at the page again")
}

// helps tries a remedy: first quickly, then with what pictures say of its code.
func (w *Workshop) helps(ctx context.Context, d Draft, v *MarkView, code string, r Remedy) bool {
	doc := d.Doc.Clone()
	if r.edit(doc) != nil {
		return false
	}
	before := codesOf(v.Troubles())
	for _, quick := range []bool{true, false} {
		got, err := w.planMark(ctx, d, doc, v.Pattern, quick)
		if err != nil || got.Err != nil {
			return false
		}
		after := codesOf(got.Troubles())
		if slices.Contains(after, code) || slices.ContainsFunc(after, func(c string) bool { return !slices.Contains(before, c) }) {
			return false
		}
		if !got.Open {
			return true
		}
	}
	return false
}

func codesOf(all []Trouble) (codes []string) {
	for _, t := range all {
		codes = append(codes, t.Code)
	}
	return codes
}

// remedyKinds says what may help against what, the gentlest first.
var remedyKinds = map[string][]func(*MarkView, Draft) []Remedy{
	"no-fit":        {turned, moved, higher, lower},
	"line-dropped":  {turned, higher, moved},
	LineTrouble:     {turned, paled, whitened, higher, moved},
	"contrast":      {paled, whitened},
	"code-contrast": {paled, whitened},
	"band":          {darkened, whitened},
	decal.OnCard:    {higher, moved, heldSquare, carded, paled, whitened},
	"code":          {higher, moved},
	"stretch":       {moved, lower},
	"split":         {moved, lower},
	"shortened":     {moved, lower},
	"hand-made":     {parted},
	"seam":          {gapped},
}

func (v *MarkView) candidates(d Draft, code string) (all []Remedy) {
	for _, kind := range remedyKinds[code] {
		all = append(all, kind(v, d)...)
	}
	return all
}
