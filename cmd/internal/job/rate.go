package job

import (
	"fmt"
	"math"

	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// Notice is something the maker should know before printing.
type Notice struct {
	Float int    `json:"float,omitempty"` // 0 when it concerns the batch
	Code  string `json:"code"`            // stable
	Text  string `json:"text"`
}

// tested is a float's reading as a load, worked out once.
type tested struct {
	reading, bare *tank.Load
}

// fellow is what floats must share for one's reading to speak for another.
type fellow struct {
	pattern *label.Pattern
	nominal unit.Gram
	weight  unit.Gram
	metal   string
	outside bool
}

// fellowStep is how near built-in weights must be for floats to be fellows: the
// spread of weights that are meant to be the same (common practice, no source).
const fellowStep unit.Gram = 0.1

func fellowOf(f *label.Float) fellow {
	k := fellow{pattern: f.Pattern, nominal: f.Nominal}
	if f.Weight != nil {
		k.weight = unit.Gram(math.Round(float64(f.Weight.Mass / fellowStep)))
		k.metal, k.outside = f.Weight.Metal.Key, f.Weight.Outside
	}
	return k
}

// rated is one float's figures: those its body bears, and, of an exchangeable
// float, those of every set-up, the body's own first.
type rated struct {
	loading.Rating
	setups []loading.Rating
}

// rate works out the figures of every float in every set-up.
func rate(b *label.Batch) ([]rated, []Notice, error) { return rateWith(b, nil) }

// rateWith is rate with the loads, by number, of floats that the batch has no
// reading of.
func rateWith(b *label.Batch, known map[int]tank.Load) ([]rated, []Notice, error) {
	var list []label.Float
	for _, f := range b.Floats {
		list = append(list, f)
		for i := 1; i < len(f.Setups); i++ {
			s, g := f.Setups[i], f
			g.Nominal, g.Weight, g.Reading, g.Bare = s.Nominal, s.Weight, s.Reading, s.Bare
			list = append(list, g)
		}
	}
	figures, notices, err := rateEach(b, list, known)
	if err != nil {
		return nil, nil, err
	}
	out := make([]rated, len(b.Floats))
	for i, f := range b.Floats {
		n := max(1, len(f.Setups))
		out[i].Rating = figures[0]
		if len(f.Setups) > 0 {
			out[i].setups = figures[:n]
		}
		figures = figures[n:]
	}
	return out, notices, nil
}

// rateEach rates each float of the list as it stands there. All are gone
// through, so that one run tells everything that is wrong.
func rateEach(b *label.Batch, floats []label.Float, known map[int]tank.Load) ([]loading.Rating, []Notice, error) {
	var findings []error
	loads := make([]tested, len(floats))
	fellows := map[fellow][]unit.Gram{}
	worst := map[fellow]unit.Gram{}
	for i := range floats {
		f := &floats[i]
		t, err := test(f)
		if err != nil {
			findings = append(findings, fault.At(f.Where, err))
			continue
		}
		if l, ok := known[f.Number]; ok && t.reading == nil {
			t.reading = &l
		}
		loads[i] = t
		if t.reading != nil {
			add, u := t.reading.In(b.Convention.Metal, b.Water)
			k := fellowOf(f)
			fellows[k] = append(fellows[k], add)
			worst[k] = max(worst[k], u)
		}
	}
	others := make([]unit.Gram, len(b.Ratings))
	for i, r := range b.Ratings {
		others[i] = r.Nominal
	}
	ratings := make([]loading.Rating, len(floats))
	var notices []Notice
	for i := range floats {
		f := &floats[i]
		k := fellowOf(f)
		r, told, err := loading.Rate(loading.Input{Kind: label.KindFitted(f.Pattern.Kind, f.Weight), Nominal: f.Nominal, Others: others,
			Weight: f.Weight, Reading: loads[i].reading, Bare: loads[i].bare,
			Fellows: fellows[k], FellowsU: worst[k], Metal: b.Convention.Metal, Water: b.Water, Step: b.Step})
		if err != nil {
			findings = append(findings, fault.At(f.Where, err))
			continue
		}
		ratings[i] = r
		if f.Reading != nil && f.Reading.ToCome != nil && f.Reading.Stage != tank.Varnished {
			notices = append(notices, allowanceNotice(f.Number, *f.Reading.ToCome))
		}
		for _, n := range told {
			notices = append(notices, Notice{f.Number, n.Code, n.Text})
		}
	}
	return ratings, notices, join(findings)
}

func test(f *label.Float) (tested, error) {
	var t tested
	for _, one := range []struct {
		from *tank.Reading
		to   **tank.Load
	}{{f.Reading, &t.reading}, {f.Bare, &t.bare}} {
		if one.from == nil {
			continue
		}
		l, err := one.from.Finished()
		if err != nil {
			return tested{}, err
		}
		*one.to = &l
	}
	return t, nil
}

// mostShot is the longest row of shot worth printing: beyond it grams say it
// better (an estimate).
const mostShot = 8

// limitsFor is what shot may be used for a float of the batch.
func limitsFor(f *label.Float, b *label.Batch) shot.Limits {
	return shot.Limits{TipDiameter: f.Pattern.TipDiameter(), Water: b.Water, Market: b.Maker.Market, MaxShots: mostShot}
}

// shotFor returns the best equivalent per convention, nil where no shot that
// may be used makes the add near enough.
func shotFor(r loading.Rating, f *label.Float, b *label.Batch, cs []shot.Convention) []*shot.Equivalent {
	best := make([]*shot.Equivalent, len(cs))
	if r.Add <= 0 {
		return best
	}
	for i, c := range cs {
		list := r.Equivalents(c, limitsFor(f, b))
		if len(list) > 0 {
			best[i] = &list[0]
		}
	}
	return best
}

// equivalentNotice tells when the mark's convention has no shot for the add.
func equivalentNotice(b *label.Batch, f *label.Float, r loading.Rating, c shot.Convention, eq *shot.Equivalent) []Notice {
	if r.Add <= 0 || eq != nil || c.Unit != "" { // a unit of mass has no shot
		return nil
	}
	text := fmt.Sprintf("no shot of %s makes the add: the mark shows grams only", c.Name)
	if found, err := shot.Solve(r.In(c), c, limitsFor(f, b)); err == nil {
		for _, out := range found.LeftOut {
			if out.Why == shot.ByMarket {
				text += "; left out: " + out.Text
			}
		}
	}
	return []Notice{{f.Number, "no-shot", text}}
}
