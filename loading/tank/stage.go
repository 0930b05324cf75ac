package tank

import (
	"strings"

	"floatmark/loading/fault"
)

// Stage is how far a float was made when it was tested.
type Stage int

// The stages, in the order of the work.
const (
	Bare      Stage = iota // no weight in or on it
	Beneath                // its weight hung beneath it, not yet fitted
	Fitted                 // its weight fitted
	Varnished              // finished
)

// Tip is how the tip stood to the water in the test.
type Tip int

// The tips. The meniscus on a 3 mm tip is worth up to 0.07 g.
const (
	TipUnknown Tip = iota // not noted
	TipDry                // dry or waxed: the water does not climb it
	TipWet                // wetted all round before the test
	TipWashed             // a drop of washing-up liquid in the tank
)

var (
	stageWords = [...]string{"bare", "beneath", "fitted", "varnished"}
	tipWords   = [...]string{"unknown", "dry", "wet", "washed"}
)

// String returns the word used in files: bare, beneath, fitted, varnished.
func (s Stage) String() string { return word(stageWords[:], int(s)) }

// String returns the word used in files: unknown, dry, wet, washed.
func (t Tip) String() string { return word(tipWords[:], int(t)) }

// ParseStage reads the word of a stage, in any case of letters; Input error
// for any other.
func ParseStage(s string) (Stage, error) {
	i, err := parseWord(stageWords[:], s, "stage of a float")
	return Stage(i), err
}

// ParseTip reads the word of a tip, in any case of letters; "" is unknown.
// Input error for any other.
func ParseTip(s string) (Tip, error) {
	if strings.TrimSpace(s) == "" {
		return TipUnknown, nil
	}
	i, err := parseWord(tipWords[:], s, "state of the tip")
	return Tip(i), err
}

func word(words []string, i int) string {
	if i < 0 || i >= len(words) {
		return "?"
	}
	return words[i]
}

func parseWord(words []string, s, what string) (int, error) {
	for i, w := range words {
		if strings.EqualFold(strings.TrimSpace(s), w) {
			return i, nil
		}
	}
	return 0, fault.Inputf("write one of "+strings.Join(words, ", "), "%q is no %s", s, what)
}

// meniscus returns the surface tension in mN/m and the share of the full
// meniscus that stays in doubt.
func (t Tip) meniscus() (gamma, share float64) {
	switch t {
	case TipDry, TipWet:
		return cleanWater, knownWetting
	case TipWashed:
		return washedWater, washedWetting
	default:
		return cleanWater, unknownWetting
	}
}
