package wrap

import (
	"math"
	"sort"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// A zone is walked once, at zoneLooks places or a few more, and every band
// tried inside it is fitted on those: a peak missed by half a look is then
// short by a part in looks per band, squared.
const (
	zoneLooks     = 160
	intervalLooks = 2 // at least, between two stations
)

// cornerAngle is the turn of the side from which a station counts as a corner
// that no film goes over, whether it is marked as one or not. Estimate, no
// source.
const cornerAngle = 10 * math.Pi / 180

// nearby, mm: how far above and below a station its two slopes are read.
const nearby = 1e-6

// way is a zone walked through: heights and the hoops there.
type way struct {
	p     body.Profile
	film  Film
	z     []unit.Millimetre
	hoops []hoop
}

func walk(p body.Profile, from, to unit.Millimetre, film Film) way {
	w := way{p: p, film: film, z: []unit.Millimetre{from}, hoops: []hoop{{0, midRadius(p, from, film)}}}
	stops := []unit.Millimetre{}
	for _, st := range p.Stations() {
		if st.Z > from && st.Z < to {
			stops = append(stops, st.Z)
		}
	}
	stops = append(stops, to)
	lo := from
	for _, hi := range stops {
		n := max(intervalLooks, int(math.Ceil(zoneLooks*float64((hi-lo)/(to-from)))))
		for j := 1; j <= n; j++ {
			at := lo + (hi-lo)*unit.Millimetre(j)/unit.Millimetre(n)
			if j == n {
				at = hi
			}
			last := len(w.z) - 1
			w.hoops = append(w.hoops, hoop{w.hoops[last].s + p.Meridian(w.z[last], at), midRadius(p, at, film)})
			w.z = append(w.z, at)
		}
		lo = hi
	}
	return w
}

// strain is what Develop would say of the band between two heights of the way.
func (w way) strain(z0, z1 unit.Millimetre) float64 {
	i := sort.Search(len(w.z), func(i int) bool { return w.z[i] > z0 })
	j := sort.Search(len(w.z), func(j int) bool { return w.z[j] >= z1 })
	band := []hoop{{0, midRadius(w.p, z0, w.film)}}
	s := 0.0
	for k, at := i, z0; k <= j; k++ {
		z := z1
		if k < j {
			z = w.z[k]
		}
		switch {
		case k == i || k == j:
			s += w.p.Meridian(at, z)
		default:
			s += w.hoops[k].s - w.hoops[k-1].s
		}
		r := 0.0
		if k < j {
			r = w.hoops[k].r
		} else {
			r = midRadius(w.p, z, w.film)
		}
		band, at = append(band, hoop{s, r}), z
	}
	if w.p.IsCone(z0, z1) {
		return 0
	}
	f := Flat{Slant: s}
	f.foot, f.grow, f.Strain = fit(band)
	f.shape(band)
	return f.Strain
}

// Corners returns the heights between from and to that no film goes over: marked
// corners, and stations where the side turns sharply.
func Corners(p body.Profile, from, to unit.Millimetre) []unit.Millimetre {
	var out []unit.Millimetre
	for _, st := range p.Stations() {
		if !(st.Z > from+edgeSlack && st.Z < to-edgeSlack) {
			continue
		}
		turn := math.Abs(p.HalfAngle(st.Z+nearby) - p.HalfAngle(st.Z-nearby))
		if st.Corner || turn > cornerAngle {
			out = append(out, st.Z)
		}
	}
	return out
}
