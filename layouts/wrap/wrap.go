// Package wrap makes the flat piece that goes round a band of a body: the true
// development of a cylinder or a frustum, the best conical piece for a band
// that is curved or bent, with the stretch it asks of the film, and the seam.
//
// Lengths are millimetres, angles radians, y down. It knows no ink, no text and
// no sheet. It tells the stretch and does not judge it: Split and Shorten keep to
// a limit they are given, and which one is right for a film the maker's own test
// says (BallStrain); until then FilmLimits are estimates.
package wrap

import (
	"math"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Film is what the piece is cut from. The piece is made true on the film's
// mid-surface, half its thickness off the body; the outside of a thick film is
// on a larger circle than the body.
type Film struct {
	Thickness float64 // mm, 0 to MaxThickness
}

// Seam is how the two edges meet, opposite the centre meridian.
type Seam struct {
	// Overlap is added on the right, mm, as wide as this at half the slant and
	// in proportion to the hoop above and below; negative leaves a gap.
	Overlap float64
}

// Limits of a piece. No sources: they catch a wrong unit.
const (
	MaxThickness = 1.0 // mm; card is a third of it
	MinHeight    = 0.1 // mm of body height: less is no band
)

// rectTolerance, mm: half a dot of a 600 dpi printer. A piece nowhere further
// than this from a rectangle is drawn as one.
const rectTolerance = 0.02

// edgeSlack, mm: how far a zone may pass the ends of a body by rounding.
const edgeSlack = 1e-6

// Flat is a flat piece. Its coordinates have the origin at the foot of the
// centre meridian, y down and the tip up, so that the upper edge has negative y.
//
// A place on it is (theta, s): theta is the angle round the body in radians, 0
// on the centre meridian and positive to the right as seen from outside with
// the tip up; s is the slant distance up from the lower edge, 0 to Slant, mm.
// The same (theta, s) is the place on the body.
type Flat struct {
	From, To unit.Millimetre // the zone, heights above the base end
	// RhoFrom and RhoTo are the radii of the lower and the upper arc, mm; 0 on
	// a rectangle.
	RhoFrom, RhoTo float64
	Sweep          float64 // angle of the full turn on the flat piece, without overlap; 0 on a rectangle
	Rect           bool    // a rectangle: no arc departs from it by half a printer dot
	ApexUp         bool    // the body narrows towards the tip: the arcs' centre is above (negative y)
	Strain         float64 // largest hoop strain, without sign; 0 on a cone or a cylinder, 0.02 is 2 %
	Slant          float64 // distance of the two edges, mm
	Overlap        float64 // mm at half the slant

	profile body.Profile
	foot    float64 // hoop radius of the flat piece at s = 0, mm
	grow    float64 // its growth per mm of s: the sine of the half-angle, negative with the apex up
	part    float64 // half the body angle a part wrap covers; 0 on a full wrap
}

// Develop makes the flat piece for the zone between the heights from and to.
//
// On a cylinder or a frustum it is exact. On any other band the meridians keep
// their length and the hoops are those of the cone that leaves the least strain;
// Strain says how much. The growth of a meridian by the film's own thickness is
// left out: thickness/2 times the angle it bends through, 0.01 mm for decal film
// on a hemisphere.
//
// A zone outside the body, upside down or lower than MinHeight, a film beyond
// MaxThickness and an overlap or gap of half the hoop or more are Input errors;
// a piece so nearly a full disc that its overlap would lie on itself is NoFit.
func Develop(p body.Profile, from, to unit.Millimetre, film Film, seam Seam) (Flat, error) {
	if err := checkZone(p, from, to); err != nil {
		return Flat{}, err
	}
	if !(film.Thickness >= 0 && film.Thickness <= MaxThickness) {
		return Flat{}, fault.Inputf("give the film's thickness in mm, as in 0.02", "a film cannot be %s thick", length(film.Thickness))
	}
	from, to = max(from, p.Base()), min(to, p.Top())
	f := Flat{From: from, To: to, Overlap: seam.Overlap, profile: p}
	var hoops []hoop
	if p.IsCone(from, to) {
		f.cone(film)
	} else {
		hoops = measure(p, from, to, film)
		f.Slant = hoops[len(hoops)-1].s
		f.foot, f.grow, f.Strain = fit(hoops)
	}
	f.shape(hoops)

	mid := f.hoopRadius(f.Slant / 2)
	if !(math.Abs(seam.Overlap) < math.Pi*mid) {
		return Flat{}, fault.Inputf("make it shorter than half the way round, "+length(math.Pi*mid),
			"a seam of %s does not suit a hoop of %s", length(seam.Overlap), length(2*math.Pi*mid))
	}
	if (f.Right()-f.Left())*math.Abs(f.grow) >= 2*math.Pi {
		return Flat{}, fault.New(fault.NoFit, "", "the body is so blunt here that the overlap would lie on the piece itself",
			"move the zone to a slimmer part, or use a gap in place of the overlap")
	}
	return f, nil
}

func length(mm float64) string { return unit.Millimetre(mm).Text(0.01, unit.Style{}) }

func checkZone(p body.Profile, from, to unit.Millimetre) error {
	base, top := p.Base(), p.Top()
	zone := "the zone from " + length(float64(from)) + " to " + length(float64(to))
	switch {
	case !(from >= base-edgeSlack && to <= top+edgeSlack): // written so that NaN fails
		return fault.Inputf("keep the zone between "+length(float64(base))+" and "+length(float64(top)), "%s leaves the body", zone)
	case !(to-from >= MinHeight):
		return fault.Inputf("give the lower height first, at least "+length(MinHeight)+" below the upper", "%s has no height", zone)
	}
	return nil
}

// cone sets the exact development of a frustum or a cylinder. Moving the wall
// out by half the film lifts it along the normal: radii grow by t/2·cos a, the
// slant stays.
func (f *Flat) cone(film Film) {
	h := float64(f.To - f.From)
	r0, r1 := float64(f.profile.Diameter(f.From))/2, float64(f.profile.Diameter(f.To))/2
	f.Slant = math.Hypot(h, r1-r0)
	f.grow = (r1 - r0) / f.Slant
	f.foot = r0 + film.Thickness/2*h/f.Slant
}

// shape decides between sector and rectangle. Two departures count: the sagitta
// of the widest arc, and the ends of the edges, whose length differs.
func (f *Flat) shape(hoops []hoop) {
	top := f.foot + float64(f.grow*f.Slant)
	widest, k := max(f.foot, top), math.Abs(f.grow)
	f.ApexUp = f.grow < 0
	sagitta := 0.0
	if k > 0 {
		q := math.Sin(math.Pi * k / 2) // 1-cos x = 2 sin²(x/2)
		sagitta = widest / k * 2 * q * q
	}
	if sagitta < rectTolerance && math.Pi*k*f.Slant/2 < rectTolerance {
		f.Rect, f.ApexUp = true, false
		f.foot, f.grow = (f.foot+top)/2, 0
		if hoops != nil {
			f.Strain = strain(hoops, f.foot, 0)
		}
		return
	}
	f.RhoFrom, f.RhoTo = f.foot/k, max(0, top/k)
	f.Sweep = 2 * math.Pi * k
}
