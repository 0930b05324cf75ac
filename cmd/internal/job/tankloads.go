package job

import (
	"fmt"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// storedLoads returns the loads of floats of a batch that the batch file has no
// reading of and the workshop has: finished if it was tested so, else fitted,
// else, with nothing built in, bare. What of the allowance is taken off and where
// the load is from is told.
func (w *Workshop) storedLoads(file *batch.File) (map[int]tank.Load, []Notice, error) {
	b := file.Batch
	s, err := w.records()
	if err != nil || s == nil {
		return nil, nil, err
	}
	defer s.Close()
	all, err := testedFloats(s, b.Name)
	if err != nil {
		return nil, nil, err
	}
	loads := map[int]tank.Load{}
	var notices []Notice
	for i := range b.Floats {
		f := &b.Floats[i]
		if f.Reading != nil || len(f.Setups) > 0 || f.Weight == nil && f.Bare != nil {
			continue
		}
		best := -1
		for j, t := range all {
			if t.Number == f.Number && t.ok && serves(t.load.Stage, f) {
				best = j // stages rise: the last one that serves
			}
		}
		if best < 0 {
			continue
		}
		t, l := all[best], all[best].load
		notices = append(notices, Notice{f.Number, "stored-reading", fmt.Sprintf("its load is from the workshop's records: %s, %s, last on %s", countText(len(t.Readings)), t.Stage, t.last)})
		for _, told := range t.Told {
			notices = append(notices, Notice{f.Number, "stored-reading", told})
		}
		if a := file.Tank.For(f).ToCome; a != nil && l.Stage != tank.Varnished {
			l = l.Less(*a)
			notices = append(notices, allowanceNotice(f.Number, *a))
		}
		loads[f.Number] = l
	}
	return loads, notices, nil
}

func serves(s tank.Stage, f *label.Float) bool {
	return s == tank.Varnished || s == tank.Fitted || s == tank.Bare && f.Weight == nil ||
		s == tank.Beneath && f.Weight != nil && f.Weight.Outside
}

func countText(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}

// allowanceNotice tells that what is printed is measured less an allowance.
func allowanceNotice(number int, a tank.Allowance) Notice {
	pull, u := a.Pull.Apart(a.U, 0.001, unit.Style{})
	return Notice{number, "allowance", fmt.Sprintf("%s is taken off the reading for what comes after the test (%s, give or take %s)", pull, a.From, u)}
}
