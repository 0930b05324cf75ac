package job

import (
	"encoding/json"
	"fmt"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/layouts/decal"
	"floatmark/loading/fault"
)

// Spare is a mark printed beyond the floats, for when one tears: it carries
// figures and an id that is nobody's until it is claimed.
type Spare struct {
	Number, Attempt int
	ID              ident.ID
	Like            int // number of a float with the same figures
	Pattern         string
	Figures         string
	Mark            label.Mark
	Decal           decal.Result
}

// spares lays out as many spares as the batch asks for, for every set of figures
// in it. A mark with a dedication, or of a float with diameters of its own, has
// none: nobody else's would do.
func (w *Workshop) spares(p *Plan) error {
	if p.File.Spares == 0 || len(p.only) > 0 || p.film.Sheetless() {
		return nil
	}
	s, err := w.records()
	if err != nil {
		return err
	}
	number := 1
	taken := func(string) (bool, error) { return false, nil }
	mine := map[string]bool{}
	if s != nil {
		defer s.Close()
		taken = s.Taken
		old, err := s.Spares()
		if err != nil {
			return err
		}
		for _, one := range old {
			if one.Batch != p.File.Batch.Name {
				continue
			}
			if p.before != nil && one.Print == p.before.Number {
				mine[one.ID] = true
				continue
			}
			number = max(number, one.Number+1)
		}
	}
	for _, fp := range p.Floats {
		mine[string(fp.Float.ID)] = false
	}
	seen := map[string]bool{}
	for i := range p.Floats {
		fp := &p.Floats[i]
		figures := FiguresKey(fp.Float.Pattern.Key, fp.Mark, fp.Decal.Printed)
		if seen[figures] || fp.Float.Measured || fp.Float.Dedication != "" {
			continue
		}
		seen[figures] = true
		for range p.File.Spares {
			sp := Spare{Number: number, Like: fp.Float.Number, Pattern: fp.Float.Pattern.Key, Figures: figures}
			number++
			for ; ; sp.Attempt++ {
				sp.ID = ident.Make(p.key, p.File.Batch.Name+" spare", sp.Number, sp.Attempt)
				again, known := mine[string(sp.ID)]
				busy, err := taken(string(sp.ID))
				if err != nil {
					return err
				}
				if again || !known && !busy {
					break
				}
			}
			mine[string(sp.ID)] = false
			if err := p.spare(fp, &sp); err != nil {
				return err
			}
			p.Spares = append(p.Spares, sp)
		}
	}
	return nil
}

// spare lays one out: the float's mark with another id.
func (p *Plan) spare(fp *FloatPlan, sp *Spare) error {
	sp.Mark = fp.Mark
	sp.Mark.ID = string(sp.ID)
	sp.Mark.Lines = append([]label.Line(nil), fp.Mark.Lines...)
	for i, l := range sp.Mark.Lines {
		if l.Role == label.RoleID {
			sp.Mark.Lines[i].Text = sp.Mark.ID
		}
	}
	if fp.Mark.Code != "" {
		sp.Mark.Code = label.Link(p.File.Batch.Maker, sp.Mark.ID, fp.Rating)
	}
	spec := p.spec(fp)
	spec.Mark = sp.Mark
	spec.Caption = fmt.Sprintf("%s %d", p.words.Spare, sp.Number)
	var err error
	sp.Decal, err = decal.Lay(spec)
	return fault.At(fmt.Sprintf("%s %d", p.words.Spare, sp.Number), err)
}

// spareRecords are the spares as they are stored.
func (p *Plan) spareRecords() ([]record.Spare, error) {
	var all []record.Spare
	places := p.sparePlaces()
	for _, sp := range p.Spares {
		var lines []string
		for _, l := range sp.Decal.Printed {
			lines = append(lines, l.Text)
		}
		data, err := json.Marshal(struct {
			Format int      `json:"format"`
			Like   int      `json:"like_float"`
			Lines  []string `json:"lines"`
			Code   string   `json:"code,omitempty"`
			SparePlace
		}{1, sp.Like, lines, sp.Mark.Code, places[sp.Number]})
		if err != nil {
			return nil, err
		}
		all = append(all, record.Spare{ID: string(sp.ID), Batch: p.File.Batch.Name, Number: sp.Number, Attempt: sp.Attempt,
			Pattern: sp.Pattern, Figures: sp.Figures, Data: data})
	}
	return all, nil
}
