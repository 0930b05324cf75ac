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

// rate works out every float's figures. All floats are gone through, so that
// one run tells everything that is wrong.
func rate(b *label.Batch) ([]loading.Rating, []Notice, error) {
	var findings []error
	loads := make([]tested, len(b.Floats))
	fellows := map[fellow][]unit.Gram{}
	worst := map[fellow]unit.Gram{}
	for i := range b.Floats {
		f := &b.Floats[i]
		t, err := test(f)
		if err != nil {
			findings = append(findings, fault.At(f.Where, err))
			continue
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
	ratings := make([]loading.Rating, len(b.Floats))
	var notices []Notice
	for i := range b.Floats {
		f := &b.Floats[i]
		k := fellowOf(f)
		r, told, err := loading.Rate(loading.Input{Kind: f.Pattern.Kind, Nominal: f.Nominal, Others: others,
			Weight: f.Weight, Reading: loads[i].reading, Bare: loads[i].bare,
			Fellows: fellows[k], FellowsU: worst[k], Metal: b.Convention.Metal, Water: b.Water, Step: b.Step})
		if err != nil {
			findings = append(findings, fault.At(f.Where, err))
			continue
		}
		ratings[i] = r
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
		l, err := one.from.Load()
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

// shotFor returns the best equivalent per convention, nil where no shot that
// may be used makes the add near enough.
func shotFor(r loading.Rating, f *label.Float, b *label.Batch, cs []shot.Convention) []*shot.Equivalent {
	best := make([]*shot.Equivalent, len(cs))
	if r.Add <= 0 {
		return best
	}
	for i, c := range cs {
		list := r.Equivalents(c, shot.Limits{TipDiameter: f.Pattern.TipDiameter(), Water: b.Water, Market: b.Maker.Market, MaxShots: mostShot})
		if len(list) > 0 {
			best[i] = &list[0]
		}
	}
	return best
}

// equivalentNotice tells when the mark's convention has no shot for the add.
func equivalentNotice(f *label.Float, r loading.Rating, c shot.Convention, eq *shot.Equivalent) []Notice {
	if r.Add <= 0 || eq != nil {
		return nil
	}
	return []Notice{{f.Number, "no-shot", fmt.Sprintf("no shot of %s makes the add: the mark shows grams only", c.Name)}}
}
