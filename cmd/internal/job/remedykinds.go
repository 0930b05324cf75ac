package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// zones are the marks of the pattern with their places in the file.
func (v *MarkView) zones(do func(markAt, label.Zone)) {
	for i, z := range v.fp.Float.Pattern.Zones {
		do(markAt{v.Pattern, i}, z)
	}
}

func plainMM(v unit.Millimetre) string { return v.Text(0.1, unit.Style{}) }

// tenth rounds to what a rule on a float can be set to, mm.
func tenth(v unit.Millimetre) float64 { return math.Round(float64(v)*10) / 10 }

func turned(v *MarkView, _ Draft) (all []Remedy) {
	v.zones(func(m markAt, z label.Zone) {
		if z.Turn != label.Lengthwise {
			all = append(all, Remedy{Key: markKey(m, "lengthwise"), Says: "Turn its words lengthwise", edit: func(d *batch.Doc) error { return m.set(d, "turn", "lengthwise") }})
		}
		if z.Turn != label.Round {
			all = append(all, Remedy{Key: markKey(m, "round"), Says: "Turn its words round the body", edit: func(d *batch.Doc) error { return m.set(d, "turn", "round") }})
		}
	})
	return all
}

// moved puts a mark on each straight run of the body, the roomiest first.
func moved(v *MarkView, _ Draft) (all []Remedy) {
	const usual, most unit.Millimetre = 25, 50 // as a mark whose place is left to the reader; the longest that is proposed
	pat := v.fp.Float.Pattern
	runs := straightRuns(pat)
	room := func(z label.Zone) float64 {
		return float64(min(z.Height, usual) * min(pat.Profile.Diameter(z.From), pat.Profile.Diameter(z.To())))
	}
	slices.SortStableFunc(runs, func(a, b label.Zone) int { return int(math.Copysign(1, room(b)-room(a))) })
	v.zones(func(m markAt, z label.Zone) {
		for _, run := range runs {
			for _, high := range []unit.Millimetre{z.Height, usual, most} {
				high = min(high, run.Height)
				from := tenth(run.From + (run.Height-high)/2)
				if from == tenth(z.From) && high == z.Height {
					continue
				}
				r := m.placing(from, tenth(high), "Move it to %s from the base end, %s high")
				if !slices.ContainsFunc(all, func(o Remedy) bool { return o.Key == r.Key }) {
					all = append(all, r)
				}
			}
		}
	})
	return all
}

func (m markAt) placing(from, high float64, says string) Remedy {
	return Remedy{Key: markKey(m, "move", unit.Number(from, 0.1, unit.Style{}), unit.Number(high, 0.1, unit.Style{})), Says: says,
		Args: []string{plainMM(unit.Millimetre(from)), plainMM(unit.Millimetre(high))},
		edit: func(d *batch.Doc) error { return m.move(d, from, high) }}
}

// higher makes a mark higher step by step, within the run of body it sits on.
func higher(v *MarkView, _ Draft) (all []Remedy) {
	const step, most unit.Millimetre = 2, 30
	pat := v.fp.Float.Pattern
	v.zones(func(m markAt, z label.Zone) {
		lo, hi := pat.Profile.Base(), pat.TipFrom
		for _, run := range straightRuns(pat) {
			if z.From >= run.From-1 && z.To() <= run.To()+1 {
				lo, hi = run.From, run.To()
			}
		}
		for more := step; more <= most && z.Height+more <= hi-lo; more += step {
			high := z.Height + more
			from := max(lo, min(z.From, hi-high))
			r := m.placing(tenth(from), tenth(high), "Make it %[2]s high, from %[1]s")
			all = append(all, r)
		}
	})
	return all
}

// lower makes a mark lower, about its middle.
func lower(v *MarkView, _ Draft) (all []Remedy) {
	const least unit.Millimetre = 6
	v.zones(func(m markAt, z label.Zone) {
		for _, share := range []unit.Millimetre{0.85, 0.7, 0.55, 0.4} {
			if high := z.Height * share; high >= least {
				all = append(all, m.placing(tenth(z.From+(z.Height-high)/2), tenth(high), "Make it %[2]s high, from %[1]s"))
			}
		}
	})
	return all
}

// paled plans a band of pale paint under the marks.
func paled(v *MarkView, _ Draft) []Remedy {
	p, pat := v.plan, v.fp.Float.Pattern
	if !p.film.Clear && !p.film.Sheetless() {
		return nil // it hides the paint
	}
	pale, ok := legible.PaleGround([]draw.Ink{draw.Black}, pat.Shows(label.PartCode), p.film.Colour)
	if !ok || label.Colour(pale) == pat.Ground {
		return nil
	}
	const aside unit.Millimetre = 0.5 // past the film on either side, as the job sheet has it
	from, to := pat.Profile.Top(), pat.Profile.Base()
	for _, z := range pat.Zones {
		from, to = min(from, z.From-aside), max(to, z.To()+aside)
	}
	return []Remedy{{Key: "pale", Says: "Paint a pale band of %s from %s to %s under the mark", Args: []string{pale.String(), plainMM(max(0, from)), plainMM(min(to, pat.Profile.Top()))},
		edit: func(d *batch.Doc) error { return d.Set(markAt{pattern: v.Pattern}.path("ground"), pale.String()) }}}
}

// whitened prints on white film of the same size.
func whitened(v *MarkView, _ Draft) []Remedy {
	size, _, _ := strings.Cut(v.plan.film.Key, "-")
	key := size + "-film-white"
	found, ok := v.plan.File.Stock(key)
	if !ok || key == v.plan.film.Key {
		return nil
	}
	return []Remedy{{Key: "white", Says: "Print the whole batch on %s", Args: []string{found.Name}, Wide: true,
		edit: func(d *batch.Doc) error { return d.Set("print/film", key) }}}
}

// darkened gives the float's rating a darker band.
func darkened(v *MarkView, _ Draft) (all []Remedy) {
	was := v.fp.Mark.Band
	for _, share := range []float64{0.8, 0.6, 0.4, 0.25} {
		dark := func(x uint8) uint8 { return uint8(math.Round(float64(x) * share)) }
		c := label.Colour{R: dark(was.R), G: dark(was.G), B: dark(was.B)}
		nominal := v.fp.Float.Nominal
		all = append(all, Remedy{Key: "band:" + c.String(), Says: "Give the rating %s a darker band, %s", Args: []string{nominal.Text(0.01, unit.Style{}), c.String()}, Wide: true,
			edit: func(d *batch.Doc) error {
				for i := range d.Len("rating") {
					path := fmt.Sprintf("rating/%d/", i)
					if load, err := unit.ParseGram(d.Text(path + "load")); err == nil && load == nominal {
						return d.Set(path+"band", c.String())
					}
				}
				return fault.New(fault.NotFound, "", "the batch file has no such rating", "")
			}})
	}
	return all
}

// heldSquare lets codes count that read when the phone is held square.
func heldSquare(v *MarkView, _ Draft) []Remedy {
	if v.plan.File.CodeHeld == 0 {
		return nil
	}
	return []Remedy{{Key: "square", Says: "Print codes that must be held square to the phone, in the whole batch", Wide: true,
		edit: func(d *batch.Doc) error { return d.Set("print/code", "square") }}}
}

// carded leaves the code to the card.
func carded(v *MarkView, _ Draft) (all []Remedy) {
	v.zones(func(m markAt, z label.Zone) {
		if !z.Show.Has(label.PartCode) {
			return
		}
		show := withoutPart(z.Show, label.PartCode)
		all = append(all, Remedy{Key: markKey(m, "card"), Says: "Leave the code off the float: its card carries it", edit: func(d *batch.Doc) error {
			if err := m.toOwn(d); err != nil {
				return err
			}
			return d.Set(m.key(d, "show"), show)
		}})
	})
	return all
}

// toOwn makes sure that the mark is a table.
func (m markAt) toOwn(d *batch.Doc) error {
	if m.tabled(d) {
		return nil
	}
	return m.toTable(d)
}

// parted leaves a gap on purpose where no two bodies are alike.
func parted(v *MarkView, _ Draft) (all []Remedy) {
	v.zones(func(m markAt, z label.Zone) {
		if z.Fit != label.FitPart && z.Fit != label.FitPatch {
			all = append(all, Remedy{Key: markKey(m, "part"), Says: "Leave a gap on purpose, on every float of the pattern", edit: func(d *batch.Doc) error { return m.set(d, "fit", label.FitPart.String()) }})
		}
	})
	if len(all) < 2 {
		return all
	}
	// A notice that all marks share goes when all of them are changed.
	each := slices.Clone(all)
	return []Remedy{{Key: "part", Says: each[0].Says, edit: func(d *batch.Doc) error {
		for _, r := range each {
			if err := r.edit(d); err != nil {
				return err
			}
		}
		return nil
	}}}
}

// gapped widens the gap of a butt joint to what the edges may be off.
func gapped(v *MarkView, _ Draft) (all []Remedy) {
	v.zones(func(m markAt, z label.Zone) {
		all = append(all, Remedy{Key: markKey(m, "gap"), Says: "Leave a gap of %s at the seam", Args: []string{plainMM(wrap.MinButtGap)}, edit: func(d *batch.Doc) error {
			if err := m.set(d, "fit", label.FitButt.String()); err != nil {
				return err
			}
			return m.set(d, "seam_mm", float64(wrap.MinButtGap))
		}})
	})
	return all
}
