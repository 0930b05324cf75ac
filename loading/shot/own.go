package shot

import (
	"floatmark/loading/unit"
)

// Weighed is what a maker's own weighing of a size says.
type Weighed struct {
	N      int       // how many shot were weighed in all; 0 when none were
	Times  int       // in how many weighings
	Spread unit.Gram // standard deviation from shot to shot; 0 when one weighing cannot tell it
	U      unit.Gram // standard uncertainty of the mean mass of one shot
	Date   string    // of the last weighing, as the maker wrote it
}
