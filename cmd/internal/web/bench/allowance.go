package bench

import (
	"fmt"
	"net/http"
	"slices"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// finishTaken is what the finish of a pattern's floats took of their load, as
// retests tell it.
type finishTaken struct {
	Key, Pattern string
	Takes, From  string
	Stands       bool // the pattern says just that already
}

// allowanceText is a learned allowance as a pattern says it.
func allowanceText(a job.TankAllowance) string { return a.Pull.Sure(a.U, gramStep, unit.Style{}) }

// patternAt is the place of a pattern in the batch; false where it has none of
// that key.
func patternAt(d *batch.Doc, key string) (int, bool) {
	for i := range d.Len("pattern") {
		if d.Text(fmt.Sprintf("pattern/%d/key", i)) == key {
			return i, true
		}
	}
	return 0, false
}

// finishesOf lists what retests tell of the batch's own patterns.
func finishesOf(d *batch.Doc, learned []job.TankAllowance, said words.Page) []finishTaken {
	var all []finishTaken
	for _, a := range learned {
		i, ok := patternAt(d, a.Pattern)
		if !ok {
			continue
		}
		at := fmt.Sprintf("pattern/%d/", i)
		all = append(all, finishTaken{Key: a.Pattern, Pattern: d.Text(at + "name"), Takes: said.Sure(a.Pull, a.U, gramStep), From: a.From,
			Stands: d.Text(at+"allowance") == allowanceText(a)})
	}
	return all
}

// useAllowance puts what retests tell by now into the pattern; what was shown
// plays no part.
func (s *server) useAllowance(w http.ResponseWriter, r *http.Request) error {
	report, err := s.shop().Tank(r.PathValue("batch"))
	if err != nil {
		return err
	}
	key := r.PostFormValue("pattern")
	i := slices.IndexFunc(report.Allowances, func(a job.TankAllowance) bool { return a.Pattern == key })
	if i < 0 {
		return fault.New(fault.NotFound, key, "there is no retest to learn from", "")
	}
	return s.edit(w, r, "use what the retests tell", "tank#finish", func(d *batch.Doc) error {
		at, ok := patternAt(d, key)
		if !ok {
			return fault.New(fault.NotFound, key, "there is no such pattern in this batch", "")
		}
		return d.Set(fmt.Sprintf("pattern/%d/allowance", at), allowanceText(report.Allowances[i]))
	})
}
