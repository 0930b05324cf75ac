package decal

import (
	"math"
	"strings"

	"floatmark/label"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/loading/fault"
)

// lengthwise sets the words along the axis, each group of them on its own side
// of the body, read with the tip to the right: the common case on thin bodies.
func (l *layout) lengthwise() error {
	sides := l.sides()
	length := l.hi - l.lo - 2*edge
	mid := l.lo + edge + length/2
	least := math.Min(l.reach(l.lo), l.reach(l.hi))
	diameter := math.Min(l.diameter(l.lo), l.diameter(l.hi))
	taken := 0.0 // of the girth, by the code
	if l.code != nil {
		if _, err := l.drawCode(0, mid+l.code.patch()/2); err != nil || len(sides) == 0 {
			return err
		}
		taken = l.code.wide()
	}
	// Letters higher than the arc within 45 degrees either side lean out of sight.
	tallest := func(n int) float64 {
		if l.code != nil {
			n += n % 2 // as many to its left as to its right
		}
		girth := (least - taken) / float64(n)
		high := 1 + descender
		if l.flat.Right() <= math.Pi {
			high += descender // no overlap takes up what hangs over to the right
		}
		return math.Min(legible.LengthwiseCap(1, diameter, length), (girth-2*sidePad)/high)
	}
	n := len(sides)
	if l.zone.Repeat == 0 && l.code == nil && n <= 2 && tallest(2*n) >= keepSize*math.Min(tallest(n), maxLengthwise) {
		l.repeats = 2 // the other side shows it too
	}
	for r := 1; r < l.repeats; r++ {
		sides = append(sides, sides[:n]...)
	}
	most := tallest(len(sides))
	if most < l.Floor {
		return l.thin(diameter, len(sides))
	}
	angles := l.angles(len(sides), -1)
	if l.code != nil {
		angles = besideCode(len(sides), l.flat.Angle(taken/2, mid), l.span())
	}
	for i, side := range sides {
		t, err := l.fitted(side, math.Min(most, math.Max(l.Floor, maxLengthwise*rowShare(side.Role))), length)
		if err != nil {
			return err
		}
		// A quarter turn back, so that words run from base to tip; then down by
		// half a capital, so that the letters' middle lies on the meridian.
		l.along(t, diameter, geom.Translate(0, t.Cap/2).Then(geom.Rotate(-math.Pi/2)).Then(l.flat.Frame(angles[i], mid)))
	}
	return nil
}

const (
	maxLengthwise = 4.5 // capitals of the rating along the axis, mm
	sidePad       = 0.3 // between two sides, each way, mm
)

// thin says that a body is too thin for its words.
func (l *layout) thin(diameter float64, sides int) error {
	need := float64(sides) * ((1+descender)*l.Floor + 2*sidePad) / math.Pi
	lines := count(sides) + " lines lengthwise do"
	if sides == 1 {
		lines = "a line lengthwise does"
	}
	return fault.New(fault.NoFit, "", lines+" not fit round a body of "+l.mm(diameter),
		"move the mark to where the body is at least "+l.mm(need)+" thick, or show less")
}

// sides gathers the lines into the sides of the body: what is read together
// stands together, so that few turns are needed. Faces that the maker arranged
// himself are kept as they are.
func (l *layout) sides() []label.Line {
	groups := [][]label.Part{{label.PartRating}, {label.PartAdd, label.PartBuiltIn}, {label.PartShot, label.PartMetal},
		{label.PartSetup}, {label.PartID}, {label.PartDedication}}
	if l.zone.Style == label.StyleOwn {
		groups = l.show.Faces
		for _, p := range l.show.Row {
			groups = append(groups, []label.Part{p})
		}
	}
	var sides []label.Line
	for _, g := range groups {
		var text []string
		role := label.RoleEquivalent
		for _, line := range l.ordered(g) {
			if line.Role == label.RoleOwnMark { // a picture stands by itself
				sides = append(sides, line)
				continue
			}
			text = append(text, line.Text)
			role = min(role, line.Role)
		}
		if len(text) > 0 {
			sides = append(sides, label.Line{Role: role, Text: strings.Join(text, ", ")})
		}
	}
	return sides
}

// besideCode returns the middles of n sides, half of them to the right of the
// code and half to its left, none across the seam. An odd one stands to the right.
func besideCode(n int, half, span float64) []float64 {
	all := make([]float64, 0, n)
	right := (n + 1) / 2
	each := (span/2 - half) / float64(right)
	for i := range right {
		all = append(all, half+each*(float64(i)+0.5))
	}
	for i := range n - right {
		all = append(all, -span/2+each*(float64(i)+0.5))
	}
	return all
}
