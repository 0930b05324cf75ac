package job

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"floatmark/cmd/internal/batch"
	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/label/words"
	"floatmark/layouts/backer"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
)

// Plan is everything a print would do, worked out and not yet written.
type Plan struct {
	File    *batch.File
	Floats  []FloatPlan
	Spares  []Spare
	Ahead   []Ahead
	Notices []Notice
	Film    nest.Report  // what is spent of it
	Laid    []decal.Laid // its sheets, before calibration
	// Provisional says that the workshop has no key yet: the first print draws
	// one, and other ids come with it.
	Provisional bool

	Graded *Graded
	Number int // of the print, once it is made

	Decals, Backers, JobSheets []*draw.Sheet
	Proof                      []*draw.Sheet // on plain paper: the decal sheets as they will be, with rules
	Boxes                      []*draw.Sheet // stickers for boxes and tubes; nil where none are asked for
	Jigs                       []*draw.Sheet // in place of Decals for marks put on by hand
	Previews                   []Preview
	Spread                     *draw.Sheet // the floats about their ratings; nil when none was tested

	key       []byte
	preview   bool // sheets are nested coarsely
	forShop   *ForShop
	only      []int          // numbers of the floats whose marks are printed; empty for all
	sheets    Ledger         // what the plan counts on
	marksID   string         // key of the marks, wherever they lie
	before    *record.Print  // that printed these very marks, not cancelled; nil for none
	cards     []backer.Sheet // of cards before calibration
	laidCards []backer.Laid  // the cards, one by one
	cuts      decal.Cuts
	bears     bears // what the film bears
	prover    *prover
	codes     legible.Limits // what the workshop's own phones read; zero for the model's
	codesBy   string         // where codes come from, for messages; "" for the model
	words     words.Words
	fonts     fonts.Set
	film      stock.Stock
	card      stock.Stock
	paper     stock.Stock
	print     stock.Printer
}

// FloatPlan is one float on the way to its mark.
type FloatPlan struct {
	Float   *label.Float
	Attempt int
	Rating  loading.Rating
	Setups  []loading.Rating   // of an exchangeable float, the body's own first
	told    []Notice           // of its figures
	shots   []*shot.Equivalent // by convention of the cards, as far as Rows were worked out
	Shot    *shot.Equivalent   // of the mark, nil when none makes the add
	Rows    []label.Row
	Mark    label.Mark
	Decal   decal.Result
	Ready   bool // a mark with its figures lies ready and is used: none is printed
	Card    label.Card
	Entry   label.Entry
}

// Preview is the flat decal of one pattern as a picture.
type Preview struct {
	Pattern string
	Sheet   *draw.Sheet
}

// Progress is told what is being done and how far it is; total is 0 when that
// is not known. A nil Progress hears nothing.
type Progress func(stage string, done, total int)

func (p Progress) tell(stage string, done, total int) {
	if p != nil {
		p(stage, done, total)
	}
}

// Plan reads the batch file and works everything out that a print would print.
// It writes nothing. Errors are of class Input (the file), NotFound, NoFit or
// Machine; all findings of a class of work come joined.
func (w *Workshop) Plan(ctx context.Context, path string, progress Progress) (*Plan, error) {
	src, err := readBatch(path)
	if err != nil {
		return nil, err
	}
	return w.PlanSource(ctx, path, src, progress)
}

func readBatch(path string) ([]byte, error) {
	src, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fault.New(fault.NotFound, path, "there is no such file", "name a batch file, or make one with: floatmark demo", err)
	}
	if err != nil {
		return nil, machine(path, "cannot be read", err)
	}
	return src, nil
}

// PlanSource is Plan for a batch file that is already read. Files it names are
// looked for beside path.
func (w *Workshop) PlanSource(ctx context.Context, path string, src []byte, progress Progress) (*Plan, error) {
	beside := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(path), name)) }
	return w.planFrom(ctx, path, src, beside, progress)
}

// planFrom is PlanSource with the files that it names from anywhere.
func (w *Workshop) planFrom(ctx context.Context, path string, src []byte, beside func(string) ([]byte, error), progress Progress) (*Plan, error) {
	p, err := w.figuresFrom(ctx, path, src, beside, progress)
	if err != nil {
		return nil, err
	}
	if err := p.lay(ctx, w, progress); err != nil {
		return nil, err
	}
	return p, nil
}

// figuresFrom is the part of planFrom that hangs on no layout: what each float
// comes to and how they lie about their ratings. No mark is laid out, no code is
// proved and no film packed.
func (w *Workshop) figuresFrom(ctx context.Context, path string, src []byte, beside func(string) ([]byte, error), progress Progress) (*Plan, error) {
	if IsBare(path) {
		return nil, fault.New(fault.Input, path, "a CSV file tells no shapes, so nothing can be laid out from it",
			`name it in a batch file (floats = "`+filepath.Base(path)+`"); its figures alone: floatmark check `+path)
	}
	file, err := batch.Parse(path, src, beside, w.settings)
	if err != nil {
		return nil, err
	}
	p := &Plan{File: file, preview: w.Preview, forShop: w.Shop, only: w.Only, prover: w.prover(ctx)}
	if err := w.equip(p); err != nil {
		return nil, err
	}
	progress.tell("figures", 0, len(file.Batch.Floats))
	known, told, err := w.storedLoads(file)
	if err != nil {
		return nil, err
	}
	ratings, notices, err := rateWith(file.Batch, known)
	if err != nil {
		return nil, withPredictions(file.Batch, err)
	}
	p.Notices = append(told, notices...)
	if err := w.identify(p); err != nil {
		return nil, err
	}
	for i := range p.Floats {
		p.Floats[i].Rating, p.Floats[i].Setups = ratings[i].Rating, ratings[i].setups
	}
	eachOf(len(p.Floats), func(i int) { p.figure(&p.Floats[i]) })
	if err := p.grade(); err != nil {
		return nil, err
	}
	return p, ctx.Err()
}

// equip finds what the plan is printed with: words, faces and stocks, the printer,
// what the film bears and what phones read.
func (w *Workshop) equip(p *Plan) (err error) {
	if err = p.materials(); err != nil {
		return err
	}
	if err = w.printer(p); err != nil {
		return err
	}
	if p.bears, err = w.bears(p); err != nil {
		return err
	}
	p.codes, p.codesBy, err = w.codeLimits()
	return err
}

// materials looks up what the file names: words, faces, stocks, the printer.
func (p *Plan) materials() error {
	var err error
	if p.words, err = words.For(p.File.Batch.Maker.Language); err != nil {
		return fault.At(p.File.Path, err)
	}
	if p.fonts, err = fonts.Default(); err != nil {
		return err
	}
	for _, s := range []struct {
		key string
		to  *stock.Stock
	}{{p.File.Film, &p.film}, {p.File.Card, &p.card}, {paperKey, &p.paper}} {
		found, ok := p.File.Stock(s.key)
		if !ok {
			return fault.New(fault.Input, p.File.Path, fmt.Sprintf("there is no stock %q", s.key), "choose one of: floatmark stocks")
		}
		*s.to = found
	}
	p.print = stock.Plain()
	p.print.DPI = p.File.DPI
	return nil
}

// paperKey is the plain paper of job sheets.
const paperKey = "a4-paper"

// identify gives every float its id: the same for the same workshop, batch and
// number, unless another float already bears it.
func (w *Workshop) identify(p *Plan) error {
	s, err := w.records()
	if err != nil {
		return err
	}
	if s != nil {
		defer s.Close()
	}
	key, known, err := w.key(s)
	if err != nil {
		return err
	}
	p.key, p.Provisional = key, !known
	b := p.File.Batch
	p.Floats = make([]FloatPlan, len(b.Floats))
	seen := map[ident.ID]bool{}
	for i := range b.Floats {
		f := &b.Floats[i]
		attempt := 0
		for ; ; attempt++ {
			f.ID = ident.Make(key, b.Name, f.Number, attempt)
			taken, err := takenByAnother(s, b.Name, f)
			if err != nil {
				return err
			}
			if !seen[f.ID] && !taken {
				break
			}
		}
		seen[f.ID] = true
		p.Floats[i] = FloatPlan{Float: f, Attempt: attempt}
	}
	return p.missing(s)
}

func takenByAnother(s *record.Store, batch string, f *label.Float) (bool, error) {
	if s == nil {
		return false, nil
	}
	old, ok, err := s.Float(string(f.ID))
	if err != nil || ok {
		return ok && (old.Batch != batch || old.Number != f.Number), err
	}
	_, spare, err := s.Spare(string(f.ID))
	return spare, err
}

// missing tells of floats that the records know and the file no longer has:
// they are kept.
func (p *Plan) missing(s *record.Store) error {
	if s == nil {
		return nil
	}
	old, err := s.Floats(p.File.Batch.Name)
	if err != nil {
		return err
	}
	here := map[int]bool{}
	for _, f := range p.File.Batch.Floats {
		here[f.Number] = true
	}
	for _, f := range old {
		if !here[f.Number] {
			p.Notices = append(p.Notices, Notice{f.Number, "kept",
				fmt.Sprintf("is in the records as %s but no longer in the file: its record is kept", f.ID)})
		}
	}
	return nil
}

// join joins findings, nil for none.
func join(findings []error) error { return errors.Join(findings...) }

// Words returns the words the plan is printed in.
func (p *Plan) Words() words.Words { return p.words }
