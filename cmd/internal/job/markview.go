package job

import (
	"context"
	"slices"
	"sync"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/layouts/view"
	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// MarkView is the mark of the first float of one pattern, worked out as a print
// works it out, without the sheets and the other floats: quick enough to be
// looked at while it is being changed. It may be used by several goroutines at
// once.
type MarkView struct {
	Pattern int    // its place in the batch file, from 0
	Key     string // of the pattern
	Number  int    // of the float that is shown
	Sample  bool   // no float of the pattern was tested: its figures stand in
	Err     error  // why the mark cannot be laid out; nil when it can
	Notices []Notice
	Code    *CodeReport
	Lines   []LineReport
	Placed  string // where the mark sits, in words, its code apart
	Open    bool   // nobody has looked yet whether the code reads: PlanMark does

	plan *Plan
	fp   *FloatPlan

	mu     sync.Mutex
	scenes map[int]*view.Prepared // by the width of the picture
}

// Load is the load that the mark bears, and how finely it is printed.
func (v *MarkView) Load() (load, step unit.Gram) {
	return v.fp.Rating.Printed, v.fp.Rating.Step
}

// PlanMark works out the mark of a pattern of a draft, by its place from 0. The
// error is of class NotFound for a pattern that is not there and Input where the
// pattern or its float cannot be read; what keeps a mark from being laid out is
// the view's own Err, for then there is still a float to be looked at. With quick
// a code is laid out as if it read.
func (w *Workshop) PlanMark(ctx context.Context, d Draft, pattern int, quick bool) (*MarkView, error) {
	return w.planMark(ctx, d, d.Doc, pattern, quick)
}

func (w *Workshop) planMark(ctx context.Context, d Draft, doc *batch.Doc, pattern int, quick bool) (*MarkView, error) {
	doc, err := doc.OnlyPattern(pattern)
	if err != nil {
		return nil, fault.At(d.Name, err)
	}
	v := &MarkView{Pattern: pattern, Key: doc.Text("pattern/0/key")}
	open := openedFile{Beside: d.beside}.beside
	p := &Plan{preview: true, prover: w.prover(ctx)}
	if p.File, err = w.markFile(d, doc, v, open); err != nil {
		return nil, err
	}
	if err := w.equip(p); err != nil {
		return nil, err
	}
	all, err := w.someRated(p, v)
	if err != nil {
		return nil, err
	}
	if err := w.identify(p); err != nil {
		return nil, err
	}
	p.Notices = nil // of floats that are left out
	p.Floats = p.Floats[:1]
	fp := &p.Floats[0]
	fp.Rating, fp.Setups = all[0].Rating, all[0].setups
	v.plan, v.fp, v.Number = p, fp, fp.Float.Number
	p.figure(fp)
	v.Err = p.markOne(ctx, fp, v, quick)
	v.told()
	return v, ctx.Err()
}

// markOne lays one mark out, its codes proved unless that is left for later.
func (p *Plan) markOne(ctx context.Context, fp *FloatPlan, v *MarkView, quick bool) error {
	for {
		var asked []ask
		told, err := p.mark(fp, &asked)
		if err != nil || len(asked) == 0 || quick {
			v.Notices, v.Open = append(slices.Clip(fp.told), told...), len(asked) > 0
			return err
		}
		if _, err := p.settle([][]ask{asked}, []int{0}, nil); err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
}

// told gathers what is said of the mark beside its notices.
func (v *MarkView) told() {
	v.Notices = append(v.Notices, v.plan.hostNotice()...)
	if v.Err != nil {
		return
	}
	v.Placed = v.fp.sits()
	v.Lines = v.plan.LineReports()
	if all := v.plan.CodeReports(); len(all) > 0 && !v.Open {
		v.Code = &all[0]
	}
}

// CodeLine says in words where the code is and how it reads; "" where there is
// none or nobody has looked yet.
func (v *MarkView) CodeLine() string {
	switch {
	case v.Code != nil:
		return v.Code.Line()
	case v.Err == nil && v.fp.Card.Code != "" && !v.fp.Decal.CodeOn:
		return CodeReport{On: "card"}.Line()
	}
	return ""
}

// CodeContrast says which contrast to expect of the code on the float; "" where
// there is none, or nobody has looked yet.
func (v *MarkView) CodeContrast() string {
	if v.Code == nil {
		return ""
	}
	return v.Code.Expected.Text()
}

// markFile reads the document with the floats of the pattern, or, where there are
// none that can be read, with one that stands in for them.
func (w *Workshop) markFile(d Draft, doc *batch.Doc, v *MarkView, open func(string) ([]byte, error)) (*batch.File, error) {
	if _, csv := doc.Get("floats"); csv {
		if d.File == nil {
			return nil, d.Err
		}
		// The spreadsheet names other patterns: what is known of it is taken.
		one, err := batch.PatternOf(doc, 0, d.Name, open)
		if err != nil {
			return nil, err
		}
		b, file := *d.File.Batch, *d.File
		b.Floats, file.Batch = nil, &b
		for _, f := range d.File.Batch.Floats {
			if f.Pattern.Key == one.Key {
				f.Pattern = one
				b.Floats = append(b.Floats, f)
			}
		}
		if len(b.Floats) == 0 {
			return w.sampleFile(d, doc, v, open)
		}
		return &file, nil
	}
	if doc.Len("float") > 0 {
		file, err := batch.Parse(d.Name, doc.Source(), open, w.settings)
		if err != nil {
			return nil, err
		}
		return file, nil
	}
	return w.sampleFile(d, doc, v, open)
}

// sampleFile reads the document with one float that stands in: its figures are
// invented, so that a mark can be looked at before there are any.
func (w *Workshop) sampleFile(d Draft, doc *batch.Doc, v *MarkView, open func(string) ([]byte, error)) (*batch.File, error) {
	v.Sample = true
	doc = doc.Clone()
	rating := doc.Text("rating/0/load")
	load, err := unit.ParseGram(rating)
	if err != nil || load <= 0 {
		const usual unit.Gram = 4
		load = usual
	}
	text := func(share float64) string { return (load * unit.Gram(share)).Text(0.01, unit.Style{}) }
	f := map[string]any{"number": int64(1), "pattern": doc.Text("pattern/0/key"), "rating": text(1), "reading": text(0.96)}
	switch doc.Text("pattern/0/kind") {
	case "loaded", "exchangeable":
		f["built_in"], f["metal"], f["reading"] = text(0.9), "brass", text(0.09)
	case "self-cocking":
		f["built_in"], f["metal"], f["reading"] = text(1), "brass", "0 g"
	}
	steps := []struct {
		path string
		v    any
	}{{"floats", nil}, {"float", []any{f}}, {"rating", []any{map[string]any{"load": text(1)}}}}
	if _, ok := doc.Get("rating/0"); ok {
		steps[2].path, steps[2].v = "rating/0/load", text(1)
	}
	for _, s := range steps {
		if err := doc.Set(s.path, s.v); err != nil {
			return nil, err
		}
	}
	for path, v := range map[string]string{"maker/name": "?", "tank/metal": "lead", "print/convention": "gb-modern"} {
		if doc.Text(path) == "" && (path != "maker/name" || w.settings == nil || w.settings.Maker.Name == "") {
			if err := doc.Set(path, v); err != nil {
				return nil, err
			}
		}
	}
	return batch.Parse(d.Name, doc.Source(), open, w.settings)
}

// someRated rates the floats of the pattern, those of which figures can be printed,
// and leaves them in the plan.
func (w *Workshop) someRated(p *Plan, v *MarkView) ([]rated, error) {
	known, _, err := w.storedLoads(p.File)
	if err != nil {
		return nil, err
	}
	b := *p.File.Batch
	all, _, err := rateWith(&b, known)
	if err != nil {
		// Some float was not tested: those that were still have a mark.
		b.Floats = slices.DeleteFunc(slices.Clone(b.Floats), func(f label.Float) bool {
			_, ok := known[f.Number]
			return f.Reading == nil && !ok && len(f.Setups) == 0
		})
		if len(b.Floats) == 0 {
			return w.standIn(p, v, err)
		}
		var err2 error
		if all, _, err2 = rateWith(&b, known); err2 != nil {
			return nil, err
		}
	}
	file := *p.File
	file.Batch, p.File = &b, &file
	return all, nil
}

// standIn gives the first float an invented reading.
func (w *Workshop) standIn(p *Plan, v *MarkView, why error) ([]rated, error) {
	b := *p.File.Batch
	f := b.Floats[0]
	left := f.Nominal
	if f.Weight != nil {
		left = max(0, f.Nominal-f.Weight.Mass)
	}
	r := tank.Reading{Hung: left, Metal: b.Convention.Metal, Water: b.Water, Stage: tank.Fitted}
	f.Reading, v.Sample = &r, true
	b.Floats = []label.Float{f}
	all, _, err := rate(&b)
	if err != nil {
		return nil, why
	}
	file := *p.File
	file.Batch, p.File = &b, &file
	return all, nil
}
