package job

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"floatmark/label"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// lay composes and lays out every mark and card, then the sheets.
func (p *Plan) lay(ctx context.Context, w *Workshop, progress Progress) error {
	b := p.File.Batch
	if err := p.File.Cards.Unanswered; err != nil {
		return err
	}
	if err := p.marks(ctx, progress); err != nil {
		return err
	}
	p.Notices = append(p.Notices, p.hostNotice()...)
	p.Notices = append(p.Notices, p.shapeNotices()...)
	p.Notices = append(p.Notices, p.bandNotices()...)
	progress.tell("sheets", 0, 3)
	if err := p.known(); err != nil {
		return err
	}
	if err := w.sheetsFor(p); err != nil {
		return err
	}
	if err := w.ready(p); err != nil {
		return err
	}
	if err := w.spares(p); err != nil {
		return err
	}
	if err := p.decals(ctx, progress); err != nil {
		return err
	}
	if err := p.proof(); err != nil {
		return err
	}
	progress.tell("sheets", 1, 3)
	if err := p.backers(); err != nil {
		return err
	}
	progress.tell("sheets", 2, 3)
	if err := p.jobSheets(); err != nil {
		return err
	}
	if err := p.boxes(); err != nil {
		return err
	}
	progress.tell("sheets", 3, 3)
	p.previews()
	for i := range p.Floats {
		p.Floats[i].Entry = entry(b, &p.Floats[i], p.words, p.Notices)
	}
	return nil
}

// marks works out every float, on as many workers as there are processors.
// Floats share nothing but the cuts of their patterns, and what is told of them
// is put together in their order.
func (p *Plan) marks(ctx context.Context, progress Progress) error {
	told := make([][]Notice, len(p.Floats))
	findings := make([]error, len(p.Floats))
	// The first float of each pattern settles which codes its pattern bears, a round
	// for every size that is tried; the others then find it known, mostly.
	first, others := p.firstOfEach()
	for _, of := range [][]int{first, others} {
		for len(of) > 0 {
			asks, err := p.round(ctx, of, told, findings, progress)
			if err == nil {
				of, err = p.settle(asks, of, progress)
			}
			if err != nil {
				return err
			}
		}
	}
	for i, n := range told {
		p.Notices = append(append(p.Notices, p.Floats[i].told...), n...)
	}
	return join(findings)
}

// firstOfEach parts the floats, by their place in the plan, into the first of each
// pattern and the others.
func (p *Plan) firstOfEach() (first, others []int) {
	seen := map[*label.Pattern]bool{}
	for i := range p.Floats {
		if pat := p.Floats[i].Float.Pattern; !seen[pat] {
			seen[pat] = true
			first = append(first, i)
			continue
		}
		others = append(others, i)
	}
	return first, others
}

// round works these floats out and returns which codes each wants proved.
func (p *Plan) round(ctx context.Context, of []int, told [][]Notice, findings []error, progress Progress) ([][]ask, error) {
	asks := make([][]ask, len(of))
	jobs := make(chan int)
	var done atomic.Int64
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for n := range jobs {
				i := of[n]
				told[i], findings[i] = p.mark(&p.Floats[i], &asks[n])
				done.Add(1)
			}
		})
	}
	for n := range of {
		if ctx.Err() != nil {
			break
		}
		progress.tell("marks", int(done.Load()), len(of))
		jobs <- n
	}
	close(jobs)
	wait.Wait()
	progress.tell("marks", len(of), len(of))
	return asks, ctx.Err()
}

// known refuses to print the marks of floats that the batch has not.
func (p *Plan) known() error {
	for _, n := range p.only {
		if !slices.ContainsFunc(p.Floats, func(fp FloatPlan) bool { return fp.Float.Number == n }) {
			return fault.New(fault.NotFound, p.File.Path, fmt.Sprintf("there is no float %d in the batch", n), "name a number of its drying board")
		}
	}
	return nil
}

// figure works out the shot of one float's mark, once its rating is known.
func (p *Plan) figure(fp *FloatPlan) {
	b, f := p.File.Batch, fp.Float
	fp.Shot = shotFor(fp.Rating, f, b, []shot.Convention{b.Convention})[0]
	if f.Pattern.Shows(label.PartShot) {
		fp.told = equivalentNotice(b, f, fp.Rating, b.Convention, fp.Shot)
	}
}

// mark lays out one float whose figures are known: mark, decal, card. It returns
// what is to be told of it, and adds to asked the codes that are laid out but not
// proved.
func (p *Plan) mark(fp *FloatPlan, asked *[]ask) (told []Notice, err error) {
	b, f := p.File.Batch, fp.Float
	if fp.shots == nil { // else it is laid out once more
		fp.shots = shotFor(fp.Rating, f, b, b.Cards)
		fp.Rows = label.RowsOf(fp.Rating, b.Cards, fp.shots, p.words)
	}
	fp.Mark = label.Compose(b, f, fp.Rating, b.Convention, fp.Shot, p.words)
	if f.Pattern.Shows(label.PartEquivalents) && fp.Rating.Add > 0 {
		fp.Mark.Lines = append(fp.Mark.Lines, label.EquivalentLines(b.Convention, b.Cards, fp.shots, p.words)...)
	}
	fp.Decal, err = decal.Lay(p.asking(fp, asked))
	if err != nil {
		// What does not fit is the pattern's zone; the float only shows it.
		name := fmt.Sprintf("float %d", f.Number)
		if list := fault.List(err); len(list) == 1 && list[0].Where != "" { // the very table of the mark
			one := *list[0]
			one.Where += ": " + name
			return told, &one
		}
		return told, fault.At(f.Pattern.Where, fault.At(name, err))
	}
	for _, n := range fp.Decal.Notices {
		told = append(told, Notice{f.Number, n.Code, n.Text})
	}
	fp.Card, err = label.ComposeCard(b, f, fp.Rating, fp.Rows, p.words)
	fp.Card.Setups = label.SetupRows(f, fp.Setups, p.words)
	fp.Card.Ground = p.seenGround(f.Pattern)
	return told, fault.At(f.Where, err)
}

// spec is what a float's mark is laid out from.
func (p *Plan) spec(fp *FloatPlan) decal.Spec {
	bleed := 0.0
	if p.forShop != nil {
		bleed = shopBleed
	}
	return decal.Spec{Bleed: bleed, Mark: fp.Mark, Pattern: fp.Float.Pattern, Body: fp.Float.Shape(), Measured: fp.Float.Measured, Fonts: p.fonts, Film: p.film,
		Printer: p.print, Overlap: p.File.Overlap, Limit: p.bears.limit, LimitBy: p.bears.by, Floor: p.File.Floor, OwnMark: p.File.OwnMark,
		Limits: p.codes, Want: p.wantsCodes(), Prove: func(c decal.Code) decal.Proof { return p.proves(fp, c, nil) },
		Words: p.words, Cuts: &p.cuts, Codes: p.prover.made}
}

// asking is spec for a layout that leaves codes open which nobody has proved yet.
func (p *Plan) asking(fp *FloatPlan, asked *[]ask) decal.Spec {
	s := p.spec(fp)
	s.Prove = func(c decal.Code) decal.Proof { return p.proves(fp, c, asked) }
	return s
}

// seenGround is what a mark is seen on: the film, or the paint under clear film.
func (p *Plan) seenGround(pat *label.Pattern) label.Colour {
	if p.film.Clear {
		return pat.Ground
	}
	return label.Colour(p.film.Colour)
}

// eachOf does n things that share nothing on as many workers as there are
// processors.
func eachOf(n int, do func(i int)) {
	turns := make(chan int)
	var wait sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := range turns {
				do(i)
			}
		})
	}
	for i := range n {
		turns <- i
	}
	close(turns)
	wait.Wait()
}

// previews takes the first float of each pattern.
func (p *Plan) previews() {
	const air = 2.0 // mm round the piece
	for _, fp := range p.firsts() {
		s := &draw.Sheet{Name: fp.Float.Pattern.Key}
		y := 0.0
		for _, piece := range fp.Decal.Pieces { // one under the other, the tip's end on top
			s.Size.W = max(s.Size.W, piece.Box.W()+2*air)
		}
		for i := len(fp.Decal.Pieces) - 1; i >= 0; i-- {
			box := fp.Decal.Pieces[i].Box.Inset(-air)
			s.Place(fp.Decal.Pieces[i].Drawing, geom.Translate(-box.Min.X+(s.Size.W-box.W())/2, y-box.Min.Y))
			y += box.H()
		}
		s.Size.H = y
		p.Previews = append(p.Previews, Preview{fp.Float.Pattern.Key, s})
	}
}

func calibrated(sheets []*draw.Sheet, printer stock.Printer) ([]*draw.Sheet, error) {
	out := make([]*draw.Sheet, len(sheets))
	for i, s := range sheets {
		c, err := stock.Calibrate(s, printer)
		if err != nil {
			return nil, err
		}
		out[i] = c
	}
	return out, nil
}

// Placed says where a float's mark sits, in words.
func (fp FloatPlan) Placed() string {
	switch {
	case fp.Decal.CodeOn:
		return fp.sits() + ", code read " + Reads(fp.Decal.Code.Grade)
	case fp.Card.Code != "":
		return fp.sits() + ", code on the card"
	}
	return fp.sits()
}

// sits is Placed without the code.
func (fp FloatPlan) sits() string {
	pieces, from := "", fp.Float.Pattern.Main().From.Text(0.1, unit.Style{})
	if n := len(fp.Decal.Pieces); n > 1 {
		pieces = fmt.Sprintf(" in %d pieces", n)
	}
	if z := fp.Decal.Pieces[0].Repeats; len(fp.Decal.Pieces) == 1 && z > 1 {
		pieces += fmt.Sprintf(", %d times", z)
	}
	if fp.Decal.Turn == label.Lengthwise {
		return "lengthwise" + pieces + ", " + from + " from base"
	}
	return "round" + pieces + ", " + from + " from base"
}
