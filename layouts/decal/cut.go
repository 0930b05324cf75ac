package decal

import (
	"fmt"
	"math"
	"sync"

	"floatmark/label"
	"floatmark/layouts/wrap"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// band is one flat piece of a zone and what it is to show.
type band struct {
	flat   wrap.Flat
	show   label.Show
	strain float64
}

// cutting is one way to cut a zone into pieces that lie flat.
type cutting struct {
	bands   []band // from the base end up
	notices []loading.Notice
}

// Cuts remembers how the zones of patterns are cut. Its zero value is ready; it
// may be shared by goroutines that use one film, printer and limit.
type Cuts struct {
	mu   sync.Mutex
	done map[cutKey]cutDone
}

type cutKey struct {
	pattern *label.Pattern
	zone    int
}

type cutDone struct {
	ways []cutting
	err  error
}

// cuttings returns the ways to cut a zone, the preferred one first. A body that
// was measured by itself is worked out by itself.
func (s Spec) cuttings(i int, z label.Zone) ([]cutting, error) {
	if s.Cuts == nil || s.Measured {
		return s.cut(z)
	}
	key := cutKey{s.Pattern, i}
	s.Cuts.mu.Lock()
	defer s.Cuts.mu.Unlock()
	if d, ok := s.Cuts.done[key]; ok {
		return d.ways, d.err
	}
	ways, err := s.cut(z)
	if s.Cuts.done == nil {
		s.Cuts.done = map[cutKey]cutDone{}
	}
	s.Cuts.done[key] = cutDone{ways, err}
	return ways, err
}

// Gaps of pieces that do not meet, mm.
const (
	// handGap is left on a body that nobody measured: three times the 0.94 mm
	// by which 0.3 mm of diameter moves a seam.
	handGap = 3.0
	// gapShare of the hoop is left where no arc is asked for, on big bodies.
	gapShare = 0.1
)

// around is how the pieces of a zone go round the body.
type around struct {
	fit     label.Fit
	seam    wrap.Seam
	arc     float64 // of a part wrap, degrees; 0 for as much as leaves a safe gap
	width   float64 // of a patch, mm; 0 for what is seen from one side
	notices []loading.Notice
}

func (s Spec) around(z label.Zone) around {
	a := around{fit: z.Fit, seam: wrap.Seam{Overlap: s.Overlap}, arc: z.Arc, width: z.Width}
	loose := s.Pattern.HandMade && !s.Measured
	switch {
	case loose && a.fit != label.FitPart && a.fit != label.FitPatch:
		a.fit = label.FitPart
		a.notices = append(a.notices, loading.Notice{Code: "hand-made", Text: "no two of this pattern are alike and this one has no diameters of its own, so the piece leaves a gap in place of a seam that would not meet: give diameters_mm or girths_mm for a full wrap"})
	case a.fit == label.FitAuto && s.Overlap < 0, a.fit == label.FitButt:
		a.fit = label.FitButt
	case a.fit == label.FitAuto:
		a.fit = label.FitFull
	}
	switch a.fit {
	case label.FitButt:
		gap := math.Max(z.Overlap, -s.Overlap)
		if gap <= 0 {
			gap = wrap.MinButtGap
		}
		if gap < wrap.MinButtGap {
			a.notices = append(a.notices, loading.Notice{Code: "seam", Text: fmt.Sprintf("a gap of %s is less than the edges may be off: on some floats they ride up; leave %s",
				s.Words.Millimetre(unit.Millimetre(gap), 0.1), s.Words.Millimetre(wrap.MinButtGap, 0.1))})
		}
		a.seam.Overlap = -gap
	case label.FitFull:
		if z.Overlap > 0 {
			a.seam.Overlap = z.Overlap
		}
	}
	return a
}

// develop makes the flat piece between two heights, and says what it strains.
func (s Spec) develop(a around, from, to unit.Millimetre) (wrap.Flat, float64, error) {
	film := wrap.Film{Thickness: s.Film.Thickness}
	full, err := wrap.Develop(s.Body, from, to, film, a.seam)
	if err != nil || a.fit == label.FitFull || a.fit == label.FitButt {
		return full, full.Strain, err
	}
	hoop := full.Hoop(full.Slant / 2)
	var f wrap.Flat
	width := a.width
	if a.fit == label.FitPatch {
		if width == 0 {
			width = hoop / 4 // 90 degrees: what letters along the body may take
		}
		f, err = wrap.DevelopPatch(s.Body, from, to, film, width)
	} else {
		arc := a.arc
		if arc == 0 {
			arc = 360 * (1 - math.Max(handGap, gapShare*hoop)/hoop)
		}
		width = hoop * arc / 360
		f, err = wrap.DevelopPart(s.Body, from, to, film, arc)
	}
	// A narrow strip follows the body along its length.
	return f, math.Min(full.Strain, wrap.PatchStrain(s.Body, from, to, width)), err
}

func (s Spec) cut(z label.Zone) ([]cutting, error) {
	a := s.around(z)
	whole, strain, err := s.develop(a, z.From, z.To())
	if err != nil {
		return nil, err
	}
	edges := wrap.Corners(s.Body, z.From, z.To())
	if strain <= s.Limit && len(edges) == 0 {
		return []cutting{{[]band{{whole, z.Show, strain}}, a.notices}}, nil
	}
	var ways []cutting
	var first error
	try := func(w cutting, err error) {
		if err == nil {
			w.notices = append(append([]loading.Notice{}, a.notices...), w.notices...)
			ways = append(ways, w)
		} else if first == nil || fault.ClassOf(err) != fault.NoFit {
			first = err
		}
	}
	parted := len(z.Show.Top)+len(z.Show.Foot) > 0 && len(z.Show.Row)+len(z.Show.Faces) > 0
	if z.Stretch == label.StretchSplit || z.Stretch == label.StretchAuto && parted {
		try(s.split(a, z, strain))
	}
	if z.Stretch != label.StretchSplit {
		try(s.shorten(a, z, strain))
	}
	if z.Stretch == label.StretchAuto && !parted {
		try(s.split(a, z, strain))
	}
	if len(ways) == 0 {
		return nil, first
	}
	return ways, nil
}

// limit says what the film bears and who says so.
func (s Spec) limit() string {
	by := s.LimitBy
	if by == "" {
		by = wrap.Estimate
	}
	return s.percent(s.Limit) + " (" + by + ")"
}

func (s Spec) percent(strain float64) string {
	return unit.Number(100*strain, 0.1, s.Words.Number) + " %"
}

// why says what is wrong with the whole zone.
func (s Spec) why(z label.Zone, strain float64) string {
	if strain > s.Limit {
		return fmt.Sprintf("in one piece the film would have to give %s, and it bears %s", s.percent(strain), s.limit())
	}
	edge := wrap.Corners(s.Body, z.From, z.To())[0]
	return fmt.Sprintf("no film goes over the body's edge at %s", s.Words.Millimetre(edge, 0.1))
}

// split cuts the zone into bands of equal strain: the strips go on the outer
// ones, the words on the highest of the rest.
func (s Spec) split(a around, z label.Zone, strain float64) (cutting, error) {
	cuts, _, err := wrap.Split(s.Body, z.From, z.To(), wrap.Film{Thickness: s.Film.Thickness}, a.seam, s.Limit)
	if err != nil {
		return cutting{}, err
	}
	lo, hi := 0, len(cuts)-1
	words := z.Show
	shows := map[int]label.Show{}
	if len(z.Show.Top) > 0 && hi > lo {
		shows[hi] = label.Show{Top: z.Show.Top}
		words.Top = nil
		hi--
	}
	if len(z.Show.Foot) > 0 && hi > lo {
		shows[lo] = label.Show{Foot: z.Show.Foot}
		words.Foot = nil
		lo++
	}
	best := lo
	for i := lo; i <= hi; i++ {
		if cuts[i].Slant > cuts[best].Slant {
			best = i
		}
	}
	shows[best] = words
	var c cutting
	for i, f := range cuts {
		show, used := shows[i]
		if !used {
			continue // stays bare
		}
		flat, e, err := s.develop(a, f.From, f.To)
		if err != nil {
			return cutting{}, err
		}
		c.bands = append(c.bands, band{flat, show, e})
	}
	c.notices = []loading.Notice{{Code: "split", Text: fmt.Sprintf("the mark is cut into %d pieces, parted at %s: %s",
		len(c.bands), s.heights(cuts), s.why(z, strain))}}
	return c, nil
}

// heights lists where cuts lie.
func (s Spec) heights(cuts []wrap.Flat) string {
	out := ""
	for i := 1; i < len(cuts); i++ {
		if i > 1 {
			out += ", "
		}
		out += s.Words.Millimetre(cuts[i].From, 0.1)
	}
	return out
}

// shorten keeps the higher of the two bands that start at an end of the zone.
func (s Spec) shorten(a around, z label.Zone, strain float64) (cutting, error) {
	var best wrap.Flat
	var first error
	for _, top := range []bool{false, true} {
		f, _, err := wrap.Shorten(s.Body, z.From, z.To(), wrap.Film{Thickness: s.Film.Thickness}, a.seam, s.Limit, top)
		if err != nil && first == nil {
			first = err
		}
		if err == nil && f.Slant > best.Slant {
			best = f
		}
	}
	if best.Slant == 0 {
		return cutting{}, first
	}
	flat, e, err := s.develop(a, best.From, best.To)
	if err != nil {
		return cutting{}, err
	}
	return cutting{[]band{{flat, z.Show, e}}, []loading.Notice{{Code: "shortened", Text: fmt.Sprintf("the mark is shortened to %s to %s from base: %s",
		unit.Number(float64(best.From), 0.1, s.Words.Number), s.Words.Millimetre(best.To, 0.1), s.why(z, strain))}}}, nil
}
