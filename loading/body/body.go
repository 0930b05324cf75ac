// Package body is the shape of a float's body: a profile of revolution given
// by stations of diameter along the axis. Volume, surface and slant length are
// measured on it, wraps are developed from it and pictures are drawn of it, so
// that all of them speak of one shape.
//
// Lengths are millimetres; z is the height above the base end, the tip is up.
// It knows no mass, no water and no film.
package body

import (
	"slices"
	"sort"
	"strconv"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Kind says how the body runs from a station up to the next.
type Kind int

// The kinds. Straight is the zero Kind: a cone or a parallel, the safe reading
// of two diameters and nothing else.
const (
	Straight Kind = iota // radius linear in z
	Curved               // monotone cubic of the radius: ogives, waists, shoulders
	Round                // monotone cubic of the radius squared: any run that ends in a round pole
)

// String returns the kind as one plain word.
func (k Kind) String() string {
	switch k {
	case Curved:
		return "curved"
	case Round:
		return "round"
	default:
		return "straight"
	}
}

// Station is one measured diameter, taken over the last colour coat.
type Station struct {
	Z    unit.Millimetre // height above the base end
	D    unit.Millimetre // diameter
	Kind Kind            // of the interval from here up; ignored at the last station
	// Corner says that the body has an edge here. Without it a curved or round
	// run goes smoothly through the station, and smoothly into a straight one.
	Corner bool
}

// Limits of a body. They catch a wrong unit, not a bold design; no source: no
// hand float comes near them.
const (
	MaxDiameter unit.Millimetre = 80
	MaxHeight   unit.Millimetre = 600
	// MinStep is the least distance of two stations: below what a calliper
	// reads, and wide enough that slopes stay finite.
	MinStep unit.Millimetre = 0.01
)

// printStep rounds lengths in messages: what a calliper shows.
const printStep unit.Millimetre = 0.01

// Profile is a body. It is immutable; the zero Profile has no stations, and
// every measure of it is 0.
type Profile struct {
	stations []Station
	pieces   []piece
}

// New makes a Profile of stations in rising order. It needs two stations or
// more, heights of 0 to MaxHeight at least MinStep apart, and diameters of 0 to
// MaxDiameter, 0 only at an end. Anything else is an Input error that names the
// station, counted from 1.
func New(stations []Station) (Profile, error) {
	if len(stations) < 2 {
		return Profile{}, fault.Inputf("give the height and the diameter at two places or more",
			"a body needs two stations, and there are %d", len(stations))
	}
	for i := range stations {
		if err := check(stations, i); err != nil {
			return Profile{}, err
		}
	}
	p := Profile{stations: slices.Clone(stations)}
	p.pieces = pieces(p.stations)
	if p.MaxDiameter() == 0 {
		return Profile{}, fault.Inputf("give the diameters between the ends", "the body has no thickness anywhere")
	}
	return p, nil
}

func check(stations []Station, i int) error {
	s, where := stations[i], "station "+strconv.Itoa(i+1)
	text := func(m unit.Millimetre) string { return m.Text(printStep, unit.Style{}) }
	input := func(what, do string) error { return fault.New(fault.Input, where, what, do) }
	switch {
	case !(s.Z >= 0 && s.Z <= MaxHeight): // written so that NaN fails
		return input("height "+text(s.Z)+" is not between 0 and "+text(MaxHeight), "measure upwards from the base end, in mm")
	case !(s.D >= 0 && s.D <= MaxDiameter):
		return input("diameter "+text(s.D)+" is not between 0 and "+text(MaxDiameter), "give the diameter over the last colour coat, in mm")
	case s.Kind < Straight || s.Kind > Round:
		return input("the interval above is of no known kind", "use straight, curved or round")
	case i > 0 && !(s.Z-stations[i-1].Z >= MinStep):
		return input("height "+text(s.Z)+" does not lie above the station before it, "+text(stations[i-1].Z),
			"list the stations from the base end up, at least "+text(MinStep)+" apart")
	case s.D == 0 && i > 0 && i < len(stations)-1:
		return input("the diameter is 0 inside the body", "only the two ends may run out to nothing")
	}
	return nil
}

// Stations returns a copy of the stations.
func (p Profile) Stations() []Station { return slices.Clone(p.stations) }

// Base returns the height of the lowest station, mm.
func (p Profile) Base() unit.Millimetre {
	if len(p.stations) == 0 {
		return 0
	}
	return p.stations[0].Z
}

// Top returns the height of the highest station, mm.
func (p Profile) Top() unit.Millimetre {
	if len(p.stations) == 0 {
		return 0
	}
	return p.stations[len(p.stations)-1].Z
}

// Length returns the distance from base to top along the axis, mm.
func (p Profile) Length() unit.Millimetre { return p.Top() - p.Base() }

// MaxDiameter returns the largest diameter, mm. No piece bulges beyond its two
// stations (the cubics are monotone), so it is that of a station.
func (p Profile) MaxDiameter() unit.Millimetre {
	var d unit.Millimetre
	for _, s := range p.stations {
		d = max(d, s.D)
	}
	return d
}

// Diameter returns the diameter at height z, mm. A z beyond an end counts as
// that end.
func (p Profile) Diameter(z unit.Millimetre) unit.Millimetre {
	if len(p.pieces) == 0 {
		return 0
	}
	return unit.Millimetre(2 * p.at(float64(z)).radius(float64(z)))
}

// Slope returns dr/dz at height z: positive where the body widens towards the
// tip. At a corner it is the slope just above; at a round pole it is infinite.
func (p Profile) Slope(z unit.Millimetre) float64 {
	if len(p.pieces) == 0 {
		return 0
	}
	return p.at(float64(z)).slope(float64(z))
}

// at returns the piece that holds z, the upper one at a station.
func (p Profile) at(z float64) piece {
	i := sort.Search(len(p.pieces), func(i int) bool { return p.pieces[i].z0 > z })
	return p.pieces[max(0, i-1)]
}
