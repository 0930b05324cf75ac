package job

import (
	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/water"
)

// measured is a rating's add as a load with the weight fitted, to be compared
// with what should be.
func measured(r loading.Rating) *tank.Load {
	return &tank.Load{Pull: water.Pull(r.Measured, r.Metal, r.Water), U: water.Pull(r.U, r.Metal, r.Water),
		Metal: r.Metal, Water: r.Water, Stage: tank.Fitted}
}

func (p *Plan) ratingOf(number int) loading.Rating {
	for _, fp := range p.Floats {
		if fp.Float.Number == number {
			return fp.Rating
		}
	}
	return loading.Rating{}
}

// predict works out what a float of a pattern takes from its shape, the
// pattern's or its own; false when the pattern does not say what it is made of.
func predict(b *label.Batch, p *label.Pattern, shape body.Profile, w *loading.Weight) (loading.Prediction, bool) {
	if len(p.Material) == 0 {
		return loading.Prediction{}, false
	}
	parts, err := loading.PartsOf(shape, p.Material)
	if err != nil {
		return loading.Prediction{}, false // told when the file was read
	}
	got, err := loading.PredictShape(loading.Shape{Parts: parts, Waterline: p.Waterline, Weight: w, Metal: b.Convention.Metal, Water: b.Water})
	return got, err == nil
}

// shapeNotices tells what each pattern takes by its shape when bare, and which
// tests the shape contradicts.
func (p *Plan) shapeNotices() []Notice {
	b := p.File.Batch
	var out []Notice
	for _, pt := range b.Patterns {
		if got, ok := predict(b, pt, pt.Profile, nil); ok {
			out = append(out, Notice{0, "predicted", pt.Name + ", bare: " + got.Text()})
		}
	}
	for _, fp := range p.Floats {
		if fp.Rating.About {
			continue
		}
		got, ok := predict(b, fp.Float.Pattern, fp.Float.Shape(), fp.Rating.Weight)
		if !ok {
			continue
		}
		if n, told := got.Compare(*measured(fp.Rating)); told {
			out = append(out, Notice{fp.Float.Number, n.Code, n.Text})
		}
	}
	return out
}

// withPredictions adds to errors of untested floats what their shape promises:
// it is told, never printed.
func withPredictions(b *label.Batch, err error) error {
	if fault.ClassOf(err) != fault.Input {
		return err
	}
	findings := []error{err}
	told := map[*label.Pattern]bool{}
	for _, f := range b.Floats {
		if f.Reading != nil || f.Bare != nil || told[f.Pattern] {
			continue
		}
		told[f.Pattern] = true
		if got, ok := predict(b, f.Pattern, f.Pattern.Profile, nil); ok {
			findings = append(findings, fault.New(fault.Input, f.Pattern.Where, f.Pattern.Name+", bare: "+got.Text(),
				"test one float of each kind: what is predicted is not printed"))
		}
	}
	return join(findings)
}
