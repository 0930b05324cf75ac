package decal

import (
	"math"

	"floatmark/label"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/typeset"
)

// lengthwise sets the words along the axis, each group of them on its own side
// of the body, read with the tip to the right: the common case on thin bodies.
func (l *layout) lengthwise(top float64) error {
	sides := l.sides()
	length := top - 2*edge
	mid := edge + length/2
	least := math.Min(l.flat.Hoop(0), l.flat.Hoop(top))
	taken := 0.0 // of the girth, by the code
	angles := faceAngles(len(sides))
	if l.code != nil {
		if _, err := l.drawCode(0, edge+length/2+l.code.patch()/2); err != nil {
			return err
		}
		taken = l.code.patch()
		angles = besideCode(len(sides), l.flat.Angle(taken/2, mid))
	}
	girth := (least - taken) / float64(len(sides))
	diameter := least / math.Pi
	// Letters higher than the arc within 45 degrees either side lean out of sight.
	tallest := math.Min(legible.LengthwiseCap(1, diameter, length), (girth-2*sidePad)/(1+descender))
	for i, side := range sides {
		cap := math.Min(tallest, math.Max(legible.CapFloor, maxLengthwise*rowShare(side.Role)))
		set, err := typeset.Fit(side.Text, l.font(side.Role, cap), length, legible.CapFloor)
		if err != nil {
			return err
		}
		if cap < legible.CapFloor {
			return thin(l, diameter, len(sides))
		}
		l.noteCap(set.Cap)
		// A quarter turn back, so that words run from base to tip; then down by
		// half a capital, so that the letters' middle lies on the meridian.
		at := geom.Translate(0, set.Cap/2).Then(geom.Rotate(-math.Pi / 2)).Then(l.flat.Frame(angles[i], mid))
		l.ops = append(l.ops, set.Straight(at, centre, ink)...)
	}
	return nil
}

const (
	maxLengthwise = 4.5 // capitals of the rating along the axis, mm
	sidePad       = 0.3 // between two sides, each way, mm
)

// sides gathers the lines into the sides of the body: what is read together
// stands together, so that few turns are needed.
func (l *layout) sides() []label.Line {
	text := map[label.Role]string{}
	for _, line := range l.lines {
		text[line.Role] = line.Text
	}
	join := func(r label.Role, parts ...string) (label.Line, bool) {
		out := ""
		for _, p := range parts {
			switch {
			case p == "":
			case out == "":
				out = p
			default:
				out += ", " + p
			}
		}
		return label.Line{Role: r, Text: out}, out != ""
	}
	var sides []label.Line
	keep := func(line label.Line, ok bool) {
		if ok {
			sides = append(sides, line)
		}
	}
	keep(join(label.RoleRating, text[label.RoleRating]))
	keep(join(label.RoleAdd, text[label.RoleAdd], text[label.RoleBuiltIn]))
	keep(join(label.RoleShot, text[label.RoleShot], text[label.RoleMetal]))
	keep(join(label.RoleSetup, text[label.RoleSetup]))
	keep(join(label.RoleID, text[label.RoleID]))
	return sides
}

// besideCode returns the middles of n sides that share the girth the code
// leaves, half of them to its left.
func besideCode(n int, half float64) []float64 {
	all := make([]float64, n)
	each := (2*math.Pi - 2*half) / float64(n)
	for i := range all {
		a := half + each*(float64(i)+0.5)
		if a > math.Pi {
			a -= 2 * math.Pi
		}
		all[i] = a
	}
	return all
}
