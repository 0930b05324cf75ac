package shot

import (
	"strings"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Fixing is how the line is fixed to the float, which decides where the shot
// can go.
type Fixing int

// The ways to fix the line.
const (
	BottomEnd    Fixing = iota // at the bottom only: shot either side lock the float
	TopAndBottom               // at tip and base, as a stick or a pole float: no shot locks it
	Sliding                    // free on the line up to a stop: no shot at the float
)

// String returns the word used in files: bottom end, top and bottom, sliding.
func (f Fixing) String() string {
	switch f {
	case BottomEnd:
		return "bottom end"
	case TopAndBottom:
		return "top and bottom"
	case Sliding:
		return "sliding"
	}
	return "?"
}

// ParseFixing reads the words of a fixing, in any case of letters, hyphens for
// blanks allowed; Input error for any other.
func ParseFixing(s string) (Fixing, error) {
	word := strings.Join(strings.Fields(strings.ReplaceAll(s, "-", " ")), " ")
	for f := BottomEnd; f <= Sliding; f++ {
		if strings.EqualFold(word, f.String()) {
			return f, nil
		}
	}
	return 0, fault.Inputf("write one of bottom end, top and bottom, sliding", "%q is no way to fix the line", s)
}

// Share says how the load is parted. The zero value is what is usual for the
// fixing.
type Share struct {
	Least, Most float64   // of the load that locks the float or hangs in bulk; both 0 is the usual one
	Dropper     unit.Gram // the heaviest shot down the line; 0 is the usual one
}

// usual is a share with where it comes from.
type usual struct {
	Share
	source string // key in Sources
}

// usualShares returns what is tried for a fixing, one after another until
// something is found.
func (f Fixing) usualShares() []usual {
	wide := usual{Share{Least: 0.6, Most: 0.9}, practice}
	if f == BottomEnd {
		// A waggler takes half to three quarters of its load at the base. That four
		// fifths lock it is often said and was found in print for olivettes only.
		return []usual{{Share{Least: 0.5, Most: 0.75}, "shotting-guide"}, wide}
	}
	return []usual{wide}
}

const practice = "practice"

// The olivette of a pole float takes 80 % of the capacity, from 2 g up (a French
// hobby site, source french-line). Sizes come in steps, so a tenth either way is
// taken; that, and its use on lighter floats, is common practice, no source.
const (
	olivetteLeast, olivetteMost           = 0.7, 0.9
	olivetteFrom                unit.Gram = 2
	olivetteSource                        = "french-line"
)

// An even chain is five shot of the next size over a sixth of the capacity, and
// droppers (french-line).
const (
	chainParts = 6
	chainShots = 5
)

// dropper returns the heaviest shot that goes down the line below the locking
// shot or the bulk: No.4, or a twentieth of a heavy load. Common practice, no
// source; the twentieth is an estimate.
func (s Share) dropper(target unit.Gram) unit.Gram {
	const number4 unit.Gram = 0.2
	if s.Dropper > 0 {
		return s.Dropper
	}
	return max(number4, target/20)
}

func (s Share) check() error {
	if s.Least == 0 && s.Most == 0 {
		s.Most = 1
	}
	if !(s.Least >= 0 && s.Least <= s.Most && s.Most <= 1) || !(s.Dropper >= 0 && s.Dropper <= maxLoad) {
		return fault.Inputf("give a least and a most from 0 to 1, as in 0.5 and 0.75", "the share of the load at the float is no share")
	}
	return nil
}
