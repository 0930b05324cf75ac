package body

import (
	"math"
	"slices"

	"floatmark/loading/fault"
	"floatmark/loading/pathdata"
	"floatmark/loading/unit"
)

// Axis is the float's axis on a drawing.
type Axis struct {
	// Level is false for a float drawn upright, tip up, and true for one that
	// lies, tip to the right.
	Level bool
	// At is the axis's x, or y when it is level, in the drawing's units.
	At float64
}

// onAxis is the distance, mm, up to which a point lies on the axis, and up to
// which two heights are one: far below any reading, far above rounding.
const onAxis = 1e-6

// ParseOutline turns one side of a float's outline, an SVG path data string,
// into straight stations that keep to it within tolerance, mm (MinStep to 1).
// Scale is the millimetres per unit of the drawing. The commands M, L, H, V, C, Q
// and Z are read, absolute and relative, one subpath; which side it is and at
// which end it begins do not matter. A closed path is the outline of one half
// and must have the axis as one of its sides; lines along the axis and end faces
// square to it are left out. The lowest station is at height 0.
//
// A path that turns back along the axis or crosses it by more than the tolerance,
// comes to it inside the body or uses other commands is an Input error. A square step becomes a shoulder
// 0.02 mm high, and points nearer than MinStep are moved apart by as much, which
// comes on top of the tolerance.
func ParseOutline(d string, axis Axis, scale float64, tolerance unit.Millimetre) ([]Station, error) {
	switch {
	case !(scale > 0 && scale <= maxCoordinate):
		return nil, fault.Inputf("give the mm of one unit: 1 for a drawing in mm, 0.352778 for one in points", "the drawing's scale is not above 0")
	case !(tolerance >= MinStep && tolerance <= 1):
		return nil, fault.Inputf("0.05 mm is what a calliper reads", "the tolerance %s is not between %s and %s",
			tolerance.Text(printStep/10, unit.Style{}), MinStep.Text(printStep, unit.Style{}), unit.Millimetre(1).Text(1, unit.Style{}))
	case !(math.Abs(axis.At) <= maxCoordinate):
		return nil, fault.Inputf("give the place of the axis in the drawing's units", "the axis is out of range")
	}
	tol := float64(tolerance)
	p := path{Scanner: pathdata.Scanner{Text: d}, flat: tol / 4 / scale} // the rest is for leaving out points
	if err := p.read(); err != nil {
		return nil, err
	}
	side := make([]point, len(p.points)) // x the height, y the distance from the axis, mm
	for i, q := range p.points {
		side[i] = point{-float64(q.y * scale), float64((q.x - axis.At) * scale)}
		if axis.Level {
			side[i] = point{float64(q.x * scale), float64((axis.At - q.y) * scale)}
		}
	}
	side, err := oneSide(side, p.closed, tol)
	if err != nil {
		return nil, err
	}
	if err := upwards(side, tol); err != nil {
		return nil, err
	}
	if side[len(side)-1].x < float64(MinStep) {
		return nil, fault.Inputf("check which way the axis runs", "the outline has no length along the axis")
	}
	st := stations(reduce(trim(side), tol*3/4))
	if _, err := New(st); err != nil {
		return nil, fault.At("the outline", err)
	}
	return st, nil
}

// oneSide puts the outline on the positive side of the axis, from the base up,
// and opens a closed one at the axis.
func oneSide(side []point, closed bool, tol float64) ([]point, error) {
	if len(side) < 2 {
		return nil, fault.Inputf("give a path, as in \"M 2 0 L 5 20\"", "the outline has fewer than two points")
	}
	least, most := 0.0, 0.0
	for _, q := range side {
		least, most = min(least, q.y), max(most, q.y)
	}
	if most < -least {
		least = -most
		for i := range side {
			side[i].y = -side[i].y
		}
	}
	if least < -tol {
		return nil, fault.Inputf("give one side only, and check where the axis is", "the outline crosses the axis, by %s",
			unit.Millimetre(-least).Text(printStep/10, unit.Style{}))
	}
	for i := range side {
		if side[i].y <= onAxis {
			side[i].y = 0
		}
	}
	if closed {
		k := slices.IndexFunc(side, func(q point) bool { return q.y == 0 })
		for i := range side { // the longest side on the axis, so that a doubled point does not count
			j := (i + 1) % len(side)
			if a, b := side[i], side[j]; a.y == 0 && b.y == 0 && math.Abs(a.x-b.x) > math.Abs(side[k].x-side[(k+1)%len(side)].x) {
				k = i
			}
		}
		if k < 0 || side[(k+1)%len(side)].y != 0 {
			return nil, fault.Inputf("give one side as an open line, or the half with the axis as one of its sides",
				"the outline is closed and has no side along the axis")
		}
		side = slices.Concat(side[k+1:], side[:k+1])
	}
	for len(side) > 2 && side[0].y == 0 && side[1].y == 0 {
		side = side[1:]
	}
	for n := len(side); n > 2 && side[n-1].y == 0 && side[n-2].y == 0; n-- {
		side = side[:n-1]
	}
	if side[0].x > side[len(side)-1].x {
		slices.Reverse(side)
	}
	low := side[0].x
	for i := range side {
		side[i].x -= low
	}
	return side, nil
}

// upwards refuses an outline that turns back along the axis by more than the
// tolerance, and levels what turns back by less.
func upwards(side []point, tol float64) error {
	height := side[0].x
	for i := range side {
		if side[i].x < height-tol {
			return fault.New(fault.Input, "the outline", "it turns back along the axis at height "+unit.Millimetre(height).Text(printStep, unit.Style{}),
				"give an outline that runs from one end to the other without hooks")
		}
		height = max(height, side[i].x)
		side[i].x = height
	}
	return nil
}

// trim leaves out end faces: lines square to the axis that come from it.
func trim(side []point) []point {
	for len(side) > 2 && side[0].y == 0 && side[1].x-side[0].x <= onAxis {
		side = side[1:]
	}
	for n := len(side); n > 2 && side[n-1].y == 0 && side[n-1].x-side[n-2].x <= onAxis; n-- {
		side = side[:n-1]
	}
	return side
}

// reduce leaves out points that lie within tol of the line that remains
// (Douglas and Peucker, The Canadian Cartographer 10 (1973), from memory).
func reduce(side []point, tol float64) []point {
	keep := make([]bool, len(side))
	keep[0], keep[len(side)-1] = true, true
	for todo := [][2]int{{0, len(side) - 1}}; len(todo) > 0; {
		i, j := todo[len(todo)-1][0], todo[len(todo)-1][1]
		todo = todo[:len(todo)-1]
		worst, at := tol, -1
		for k := i + 1; k < j; k++ {
			if w := distance(side[k], side[i], side[j]); w > worst {
				worst, at = w, k
			}
		}
		if at >= 0 {
			keep[at] = true
			todo = append(todo, [2]int{i, at}, [2]int{at, j})
		}
	}
	var out []point
	for i, q := range side {
		if keep[i] {
			out = append(out, q)
		}
	}
	return out
}

// distance is that of q from the stretch from a to b.
func distance(q, a, b point) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	l2 := float64(dx*dx) + float64(dy*dy)
	if l2 == 0 {
		return math.Hypot(q.x-a.x, q.y-a.y)
	}
	t := min(1, max(0, (float64((q.x-a.x)*dx)+float64((q.y-a.y)*dy))/l2))
	n := between(a, b, t)
	return math.Hypot(q.x-n.x, q.y-n.y)
}

// stations makes stations of the points, each a corner of its straight runs. A
// point that lies too near the one below, as the upper of a step does, is moved
// up to a shoulder's height; below the top it is the lower one that gives way.
func stations(side []point) []Station {
	const near = MinStep * 1.001 // no rounding brings it below MinStep
	var st []Station
	for i, q := range side {
		s := Station{Z: unit.Millimetre(q.x), D: unit.Millimetre(2 * q.y), Corner: true}
		if i == len(side)-1 {
			for len(st) > 1 && s.Z < st[len(st)-1].Z+near {
				last := &st[len(st)-1]
				if last.Z = s.Z - stepHeight; last.Z >= st[len(st)-2].Z+near {
					break
				}
				st = st[:len(st)-1]
			}
		}
		if n := len(st); n > 0 && s.Z < st[n-1].Z+near {
			s.Z = st[n-1].Z + stepHeight
		}
		st = append(st, s)
	}
	return st
}
