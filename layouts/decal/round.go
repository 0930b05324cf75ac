package decal

import (
	"math"

	"floatmark/label"
	"floatmark/layouts/legible"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// faces is how many sides a body is read from: 120 degrees of it can be read
// without turning the float.
const faces = 3

// faceAngles returns the middles of n even faces, the seam between two of them.
func faceAngles(n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = (float64(i) - float64(n-1)/2) * 2 * math.Pi / float64(n)
	}
	return all
}

// round sets the words round the body. A full mark has three faces: figures,
// code and id (opposite the seam), shot. The least mark has one row.
func (l *layout) round(top float64) error {
	if l.Mark.Style == label.Full {
		return l.threeFaces(top)
	}
	return l.row(top)
}

// row sets the lines of a least mark side by side on one baseline. Sizes keep
// their order of importance at one common scale; gaps are even all round.
func (l *layout) row(top float64) error {
	n := float64(len(l.lines))
	base := edge
	scale := math.Min(maxRating, (top-2*edge)/(1+descender+airAbove))
	sum := 0.0
	for _, line := range l.lines {
		one, err := typeset.Shape(line.Text, l.font(line.Role, rowShare(line.Role)))
		if err != nil {
			return err
		}
		sum += one.Width
		scale = math.Min(scale, legible.ReadableArc(l.flat.Hoop(base)/math.Pi, readable)/one.Width)
	}
	hoop := l.flat.Hoop(base)
	scale = math.Min(scale, (hoop-n*2*facePad)/sum)
	base = edge + descender*scale + (top-2*edge-scale*(1+descender+airAbove))/2
	gap := (l.flat.Hoop(base) - sum*scale) / n
	x := -l.flat.Hoop(base)/2 + gap/2
	for _, line := range l.lines {
		cap := scale * rowShare(line.Role)
		if cap < legible.CapFloor {
			return fault.New(fault.NoFit, "", "the words round the body would have capitals of "+
				l.Words.Millimetre(unit.Millimetre(cap), 0.1), "turn the mark lengthwise or give it more height")
		}
		set, err := typeset.Shape(line.Text, l.font(line.Role, cap))
		if err != nil {
			return err
		}
		l.set(set, l.flat.Angle(x+set.Width/2, base), base)
		x += set.Width + gap
	}
	return nil
}

// set draws a line round the body, its middle at theta, its baseline at s.
func (l *layout) set(line typeset.Line, theta, s float64) {
	l.noteCap(line.Cap)
	l.ops = append(l.ops, line.Along(l.hoopFrame(theta, s, line.Cap), centre, ink)...)
}

// airAbove keeps words off the rings above them, as a share of the cap height.
const airAbove = 0.3

// readable is the arc of a body that is read from one side, degrees.
const readable = 120

// descender is how far a g reaches under its line, as a share of the cap height.
const descender = 0.3

// rowShare is share with less contrast: in one row the eye compares directly.
func rowShare(r label.Role) float64 { return math.Pow(share(r), 0.75) }

// threeFaces sets figures to the left of the code and shot to its right.
func (l *layout) threeFaces(top float64) error {
	var figures, middle, setup, right []label.Line
	for _, line := range l.lines {
		switch line.Role {
		case label.RoleRating, label.RoleAdd, label.RoleBuiltIn:
			figures = append(figures, line)
		case label.RoleID:
			middle = append(middle, line)
		case label.RoleSetup:
			setup = append(setup, line)
		default:
			right = append(right, line)
		}
	}
	order(figures, label.RoleRating, label.RoleBuiltIn, label.RoleAdd)
	if len(figures) == 0 {
		return fault.New(fault.Ours, "", "a full mark without a rating", "")
	}
	if len(right) == 0 { // nothing to add as shot: the rating is worth a second face
		right = append(right, figures[0])
	} else {
		right = append([]label.Line{{Role: label.RoleMetal, Text: l.Words.Add}}, right...)
	}
	right = append(setup, right...) // what the figures hold for comes before them
	angles := faceAngles(faces)
	if err := l.stack(figures, angles[0], edge, top-edge); err != nil {
		return err
	}
	if err := l.stack(right, angles[2], edge, top-edge); err != nil {
		return err
	}
	low := top - edge/2
	if l.code != nil {
		foot, err := l.drawCode(angles[1], low)
		if err != nil {
			return err
		}
		low = foot
	}
	if len(middle) == 0 {
		return nil // a mark without a record has no id
	}
	return l.stack(middle, angles[1], edge, low)
}

// order sorts lines by a list of roles.
func order(lines []label.Line, roles ...label.Role) {
	at := func(r label.Role) int {
		for i, x := range roles {
			if x == r {
				return i
			}
		}
		return len(roles)
	}
	for i := range lines {
		for j := i; j > 0 && at(lines[j].Role) < at(lines[j-1].Role); j-- {
			lines[j], lines[j-1] = lines[j-1], lines[j]
		}
	}
}

// stack sets lines one under the other on a face, between the heights s0 and
// s1, as big as their shares and the face's width allow, and spreads them
// evenly over what is left.
func (l *layout) stack(lines []label.Line, theta, s0, s1 float64) error {
	room := s1 - s0
	sum := 0.0
	for i, line := range lines {
		sum += share(line.Role)
		if i > 0 {
			sum += leading * (share(line.Role) + share(lines[i-1].Role)) / 2
		}
	}
	last := lines[len(lines)-1]
	sum += descender * share(last.Role)
	unitCap := math.Min(room/sum, maxRating)
	width := math.Min(l.flat.Hoop(s0), l.flat.Hoop(s1))/faces - 2*facePad
	sets := make([]typeset.Line, len(lines))
	used := 0.0
	for i, line := range lines {
		cap := math.Max(unitCap*share(line.Role), legible.CapFloor)
		set, err := typeset.Fit(line.Text, l.font(line.Role, cap), width, legible.CapFloor)
		if err != nil {
			return err
		}
		sets[i] = set
		used += set.Cap
		if i > 0 {
			used += leading * (set.Cap + sets[i-1].Cap) / 2
		}
	}
	used += descender * sets[len(sets)-1].Cap
	if used > room+1e-9 {
		return fault.New(fault.NoFit, "", "the words of one face need "+l.Words.Millimetre(unit.Millimetre(used), 0.1)+
			" of height and have "+l.Words.Millimetre(unit.Millimetre(room), 0.1), "make the mark higher")
	}
	gap := math.Min((room-used)/float64(len(sets)+1), maxAir)
	s := s1 - (room-used-gap*float64(len(sets)-1))/2
	for i, set := range sets {
		if i > 0 {
			s -= leading*(set.Cap+sets[i-1].Cap)/2 + gap
		}
		s -= set.Cap
		l.set(set, theta, s)
	}
	return nil
}

// maxAir is the most that two lines of a face are moved apart beyond their
// leading, mm: further, they no longer read as one figure.
const maxAir = 1.2
