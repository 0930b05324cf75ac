package job

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/symbol"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
	"floatmark/layouts/proof"
)

// prover has the codes of a plan proved, each design once: many floats share one.
// While marks are laid out side by side it only notes what is asked and leaves it
// open; then the designs are proved, each from the first float that asked, and the
// floats that asked are laid out again: who came first changes nothing.
type prover struct {
	ctx   context.Context
	cache string // folder of verdicts by content; "" for none
	keep  bool   // the pictures that did not read
	made  *symbol.Memory

	mu    sync.Mutex
	known map[string]proof.Verdict // by proof.Key
	tried []ask                    // what was proved, in the order it was asked
}

func (w *Workshop) prover(ctx context.Context) *prover {
	return &prover{ctx: ctx, cache: w.Proofs, keep: w.Pictures, made: &symbol.Memory{}, known: map[string]proof.Verdict{}}
}

// ask is a design that a float's layout needs an answer for.
type ask struct {
	key    string
	design proof.Design
	want   proof.Grade
	number int // of the float that asks
}

func wanted(c decal.Code) proof.Grade {
	if !c.Hopeful() {
		return proof.Aim
	}
	return proof.Casual
}

// design is what a code on a float looks like.
func (p *Plan) design(fp *FloatPlan, c decal.Code) proof.Design {
	return proof.Design{Profile: fp.Float.Shape(), Flat: c.Flat, Codes: []symbol.Matrix{c.Matrix}, Module: c.Module, Columns: c.Columns,
		Theta: c.Theta, S: c.S, Quiet: c.Quiet, Film: c.Ground, Paint: draw.White, Gloss: glosses[fp.Float.Pattern.Varnish], Printer: p.print}
}

// proves answers for a code as it lies on a float's piece. Where there is no
// answer yet, asked is told and the answer is open; with asked nil the pictures
// are made at once.
func (p *Plan) proves(fp *FloatPlan, c decal.Code, asked *[]ask) decal.Proof {
	d := p.design(fp, c)
	key := proof.Key(d)
	if key == "" { // no picture can be made: the error says why
		_, err := proof.Prove(p.prover.ctx, d, proof.Aim, nil)
		return decal.Proof{Why: err.Error()}
	}
	p.prover.mu.Lock()
	v, ok := p.prover.known[key]
	p.prover.mu.Unlock()
	one := ask{key, d, wanted(c), fp.Float.Number}
	switch {
	case !ok && asked != nil:
		*asked = append(*asked, one)
		return decal.Proof{Open: true}
	case !ok:
		var err error
		if v, err = p.prover.prove(one); err != nil {
			return decal.Proof{Why: err.Error()}
		}
		p.prover.mu.Lock()
		p.prover.known[key] = v
		p.prover.tried = append(p.prover.tried, one)
		p.prover.mu.Unlock()
	}
	return p.answer(c, v)
}

// answer turns a verdict into what the layout goes by. What a maker's own phones
// read comes before what is simulated.
func (p *Plan) answer(c decal.Code, v proof.Verdict) decal.Proof {
	a := decal.Proof{Grade: string(v.Grade), Why: scoresText(v)}
	if v.Grade == proof.None {
		a.Grade = ""
	}
	own := p.codes.Plain
	if c.Front() {
		own = p.codes.Front
	}
	if own == 0 { // no phone of theirs was tried on such codes
		return a
	}
	switch {
	case c.Grade == "" && a.Grade != "":
		a.Grade, a.Why = "", a.Why+"; but by "+p.codesBy+" it is too small a body"
	case c.Grade != "" && a.Grade == "":
		a.Grade, a.Why = legible.Aim, a.Why+"; but by "+p.codesBy+" it reads held square"
	}
	return a
}

// wantsCodes is the least of codes that the batch wants on its floats.
func (p *Plan) wantsCodes() string {
	if p.File.CodeHeld == 1 {
		return legible.Casual
	}
	return legible.Aim
}

func tiltOf(g proof.Grade) float64 {
	if g == proof.Casual {
		return legible.CasualTilt
	}
	return legible.AimTilt
}

// glosses is how varnishes shine.
var glosses = [...]float64{label.Satin: proof.SatinGloss, label.Matt: 0, label.Gloss: 1}

// scoresText says what of the pictures read: "held within 10 degrees of square 16
// of 16 pictures read".
func scoresText(v proof.Verdict) string {
	var parts []string
	for _, s := range v.Scores {
		what := fmt.Sprintf("%d of %d pictures read", s.Read, s.Of)
		if s.Skipped {
			what = "it does not read"
		}
		if !s.Pass() && !s.Skipped {
			what += fmt.Sprintf(", %d are wanted", s.Grade.Needed())
		}
		parts = append(parts, fmt.Sprintf("held within %.0f degrees of square %s", tiltOf(s.Grade), what))
	}
	return strings.Join(parts, "; ")
}

// settle proves what the floats asked, and returns the floats that did: none when
// nothing was asked.
func (p *Plan) settle(asks [][]ask, of []int, progress Progress) ([]int, error) {
	var again []int
	var order []*ask
	byKey := map[string]*ask{}
	for i, list := range asks {
		if len(list) > 0 {
			again = append(again, of[i])
		}
		for j := range list {
			one := &list[j]
			if byKey[one.key] == nil {
				byKey[one.key] = one
				order = append(order, one)
			}
		}
	}
	if len(order) == 0 {
		return nil, nil
	}
	verdicts := make([]proof.Verdict, len(order))
	findings := make([]error, len(order))
	var telling sync.Mutex // who hears of progress hears it from one side
	done := 0
	progress.tell("codes", 0, len(order))
	eachOf(len(order), func(i int) {
		verdicts[i], findings[i] = p.prover.prove(*order[i])
		telling.Lock()
		defer telling.Unlock()
		done++
		progress.tell("codes", done, len(order))
	})
	if err := join(findings); err != nil {
		return nil, err
	}
	for i, one := range order {
		p.prover.known[one.key] = verdicts[i]
		p.prover.tried = append(p.prover.tried, *one)
	}
	slices.Sort(again)
	return again, nil
}

// sampleIDs stand in codes that are proved: ids as they are issued, always the same
// ones, so that what was proved of a design holds for every batch of the maker's,
// and before the first print, when ids are only provisional.
var sampleIDs = [proof.MaxCodes]string{"9KYA3C", "JPPHHE", "0EB16D", "V8H3CW"}

// samplesOf are the texts that a code is proved with: its own with other ids.
func samplesOf(text string) []string {
	before := len(text) - ident.Length
	if _, err := ident.Parse(text[max(0, before):]); before < 0 || err != nil {
		return []string{text} // it ends in no id
	}
	var all []string
	for _, id := range sampleIDs {
		all = append(all, text[:before]+id)
	}
	return all
}

// prove makes the pictures of one design, or finds what they said when they were
// made before.
func (v *prover) prove(a ask) (proof.Verdict, error) {
	var codes []symbol.Matrix
	for _, t := range samplesOf(a.design.Codes[0].Text) {
		m, err := v.made.QR(t)
		if err != nil {
			return proof.Verdict{}, err
		}
		if own := a.design.Codes[0]; m.N != own.N || m.Level != own.Level { // as long as each other, they are not else
			codes = a.design.Codes
			break
		}
		codes = append(codes, m)
	}
	a.design.Codes = codes
	if said, ok := v.remembered(a); ok && !v.keep {
		return said, nil
	}
	said, err := proof.Prove(v.ctx, a.design, a.want, nil)
	if err == nil {
		v.remember(a, said)
	}
	return said, err
}
