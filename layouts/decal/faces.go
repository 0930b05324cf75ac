package decal

import (
	"math"
	"slices"
	"strconv"

	"floatmark/label"
	"floatmark/layouts/legible"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// faces is how many sides a body is read from: 120 degrees of it can be read
// without turning the float.
const faces = 3

func count(n int) string { return strconv.Itoa(n) }

// angles returns the middles of n even faces of the piece. The seam lies between
// two of them. Face zero, when there is one (not negative), has its middle on
// the centre meridian: on a cone a code is parallel to the printer's dots only
// there. An even number then leaves one place empty, at the seam.
func (l *layout) angles(n, zero int) []float64 {
	span := l.span()
	all := make([]float64, n)
	for i := range all {
		if zero < 0 {
			all[i] = (float64(i) - float64(n-1)/2) * span / float64(n)
			continue
		}
		places := n
		if n%2 == 0 {
			places++
		}
		k := (i - zero + places) % places
		if k > places/2 {
			k -= places
		}
		all[i] = float64(k) * span / float64(places)
	}
	return all
}

// face is one side of the body and what it bears.
type face struct {
	lines []label.Line
	code  bool
}

// gather fills the faces with the lines there are. A face that asks for shot
// without the figures it belongs to says what it is; a face without any line
// repeats the rating.
func (l *layout) gather() (all []face, zero int) {
	zero = -1
	for _, parts := range l.show.Faces {
		var f face
		var heading bool
		for _, p := range parts {
			if p == label.PartCode {
				f.code = l.code != nil
				continue
			}
			role, ok := p.Role()
			if !ok {
				continue
			}
			if p == label.PartAdd || p == label.PartRating {
				heading = true // what follows is understood
			}
			found := l.find(role)
			if (p == label.PartShot || p == label.PartMetal) && len(found) > 0 && !heading {
				f.lines = append(f.lines, label.Line{Role: label.RoleMetal, Text: l.Words.Add})
				heading = true
			}
			f.lines = append(f.lines, found...)
		}
		switch {
		case f.code:
			zero = len(all)
		case len(f.lines) == 0 && slices.Contains(parts, label.PartCode):
			continue // the code went to the card and left nothing
		case len(f.lines) == 0:
			f.lines = l.find(label.RoleRating)
			if len(f.lines) == 0 {
				continue
			}
		}
		all = append(all, f)
	}
	return all, zero
}

func (l *layout) find(r label.Role) []label.Line {
	var all []label.Line
	for _, line := range l.lines {
		if line.Role == r {
			all = append(all, line)
		}
	}
	return all
}

// faces sets each face's lines one under the other, the code on the centre
// meridian with its words under it.
func (l *layout) faces() error {
	all, zero := l.gather()
	if zero < 0 && len(all) > 0 {
		n := len(all)
		for r := 1; r < l.repeats; r++ {
			all = append(all, all[:n]...)
		}
	} else {
		l.repeats = 1 // one code is enough
	}
	angles := l.angles(len(all), zero)
	// The places round the body: an even number with a code leaves one free.
	places := len(all)
	if zero >= 0 && places%2 == 0 {
		places++
	}
	low, high := l.lo+edge, l.hi-edge
	for i, f := range all {
		if f.code {
			continue
		}
		if err := l.stack(f.lines, angles[i], low, high, places); err != nil {
			return err
		}
	}
	if zero < 0 {
		return nil
	}
	foot, err := l.drawCode(0, l.hi-edge/2)
	if err != nil {
		return err
	}
	if len(all[zero].lines) == 0 {
		return nil // a mark without a record has no id
	}
	return l.stack(all[zero].lines, 0, low, foot, places)
}

// stack sets lines one under the other on a face, between the heights s0 and
// s1, as big as their shares and the face's width allow, and spreads them
// evenly over what is left.
func (l *layout) stack(lines []label.Line, theta, s0, s1 float64, places int) error {
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
	width := math.Min(math.Min(l.reach(s0), l.reach(s1))/float64(places),
		legible.ReadableArc(math.Min(l.diameter(s0), l.diameter(s1)), legible.ReadableDegrees)) - 2*facePad
	sets := make([]set, len(lines))
	used := 0.0
	for i, line := range lines {
		t, err := l.fitted(line, math.Max(unitCap*share(line.Role), l.Floor), width)
		if err != nil {
			return err
		}
		sets[i] = t
		used += t.Cap
		if i > 0 {
			used += leading * (t.Cap + sets[i-1].Cap) / 2
		}
	}
	used += descender * sets[len(sets)-1].Cap
	if used > room+1e-9 {
		return fault.New(fault.NoFit, "", "the words of one face need "+l.Words.Millimetre(unit.Millimetre(used), 0.1)+
			" of height and have "+l.Words.Millimetre(unit.Millimetre(max(0, room)), 0.1), "make the mark higher")
	}
	gap := math.Min((room-used)/float64(len(sets)+1), maxAir)
	s := s1 - (room-used-gap*float64(len(sets)-1))/2
	for i, t := range sets {
		if i > 0 {
			s -= leading*(t.Cap+sets[i-1].Cap)/2 + gap
		}
		s -= t.Cap
		l.hoop(t, theta, s)
	}
	return nil
}

// maxAir is the most that two lines of a face are moved apart beyond their
// leading, mm: further, they no longer read as one figure.
const maxAir = 1.2

// descender is how far a g reaches under its line, as a share of the cap height.
const descender = 0.3
