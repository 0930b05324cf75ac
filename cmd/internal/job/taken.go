package job

import (
	"encoding/json"
	"fmt"
	"math"

	"floatmark/label/record"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// regionFormat is the version of region that is written.
const regionFormat = 1

// region is the stored shape of a part of a sheet: rings in mm on the sheet,
// origin top left, y down. Each ring is spent with all inside it: a hole in a
// piece holds no other.
type region struct {
	Format int            `json:"format"`
	Paths  [][][2]float64 `json:"paths"`
	// Sheet is the width and height of the sheet, mm, where that was known: a maker's
	// own stock can go from the list, or come back in another size.
	Sheet [2]float64 `json:"sheet_mm,omitzero"`
}

const (
	// ringTolerance flattens curves: a quarter of a dot at 600 dpi, far below the
	// gap that pieces keep from each other.
	ringTolerance = 0.01 // mm
	// regionStep is what stored places are rounded to, so that what is read back
	// and stored again stays the same text.
	regionStep = 0.001 // mm
	// leastRemnant is the smallest area that is left spent beside a part noted as
	// blank: below it lies rounding.
	leastRemnant = 0.01 // mm²
	// farAway is beyond every sheet and every slip of a hand; a micrometre is still
	// a step there.
	farAway = 1e6 // mm
)

// encodeRegion stores paths.
func encodeRegion(paths []geom.Path) (json.RawMessage, error) {
	return encodeOn(geom.Size{}, paths)
}

// encodeOn stores paths on a sheet of that size.
func encodeOn(sheet geom.Size, paths []geom.Path) (json.RawMessage, error) {
	return json.Marshal(region{regionFormat, numbers(paths), [2]float64{sheet.W, sheet.H}})
}

// sizeOf returns the size of a sheet as its parts tell it; nothing if none does.
func sizeOf(parts []record.Part) geom.Size {
	for _, part := range parts {
		var r region
		if json.Unmarshal(part.Data, &r) == nil && r.Sheet != [2]float64{} {
			return geom.Size{W: r.Sheet[0], H: r.Sheet[1]}
		}
	}
	return geom.Size{}
}

func numbers(paths []geom.Path) [][][2]float64 {
	out := [][][2]float64{}
	for _, p := range paths {
		for _, ring := range p.Flatten(ringTolerance) {
			var pts [][2]float64
			for _, q := range ring {
				pts = append(pts, [2]float64{onStep(q.X), onStep(q.Y)})
			}
			out = append(out, pts)
		}
	}
	return out
}

func onStep(v float64) float64 {
	const steps = 1 / regionStep
	return math.Round(v*steps) / steps
}

// decodeRegion reads stored paths, one ring each.
func decodeRegion(data json.RawMessage) ([]geom.Path, error) {
	var r region
	if err := json.Unmarshal(data, &r); err != nil || r.Format != regionFormat {
		return nil, fault.New(fault.Input, "", fmt.Sprintf("what the record says of this sheet cannot be read: its format is %d, this program knows %d", r.Format, regionFormat),
			"use the newer floatmark; the record was not changed", err)
	}
	for _, ring := range r.Paths {
		for _, q := range ring {
			if math.Abs(q[0]) > farAway || math.Abs(q[1]) > farAway {
				return nil, fault.New(fault.Input, "", "what the record says of this sheet is damaged: a place on it is kilometres away",
					"put the record aside and use your last copy of the workshop folder")
			}
		}
	}
	return paths(r.Paths), nil
}

func paths(rings [][][2]float64) []geom.Path {
	var out []geom.Path
	for _, ring := range rings {
		pts := make([]geom.Point, len(ring))
		for i, q := range ring {
			pts[i] = geom.Point{X: q[0], Y: q[1]}
		}
		if len(pts) > 0 {
			out = append(out, geom.Polygon(pts...))
		}
	}
	return out
}

// takenOf returns what is spent of a sheet: each part in its order, what was
// noted as blank taken away from those before it.
func takenOf(parts []record.Part) ([]geom.Path, error) {
	var taken []geom.Path
	for _, part := range parts {
		rings, err := decodeRegion(part.Data)
		if err != nil {
			return nil, err
		}
		if !part.Freed {
			taken = append(taken, rings...)
			continue
		}
		for _, blank := range rings {
			var left []geom.Path
			for _, t := range taken {
				left = append(left, without(t, blank)...)
			}
			taken = left
		}
	}
	return paths(numbers(taken)), nil
}

// without returns what is left of a ring when a convex one is cut out of it. One
// edge of that after the other cuts off what lies beyond it.
func without(ring, blank geom.Path) []geom.Path {
	a, b := ring.Bounds(), blank.Bounds()
	if !a.Overlaps(b) {
		return []geom.Path{ring}
	}
	if blank.Area(ringTolerance) < 0 {
		blank = blank.Reverse()
	}
	rest := ring.Flatten(ringTolerance)[0]
	edges := blank.Flatten(ringTolerance)[0]
	var out []geom.Path
	for i, p := range edges {
		q := edges[(i+1)%len(edges)]
		if beyond := geom.Polygon(half(rest, q, p)...); math.Abs(beyond.Area(ringTolerance)) >= leastRemnant {
			out = append(out, beyond)
		}
		rest = half(rest, p, q)
	}
	return out
}

// half returns what of a ring lies to the right of the line from p to q as one
// goes (clockwise inside, with y down). A ring that crosses more than twice
// comes back as one, its pieces joined along the line: no more is spent by that
// than the line.
func half(ring []geom.Point, p, q geom.Point) []geom.Point {
	side := func(r geom.Point) float64 {
		d, e := q.Sub(p), r.Sub(p)
		return float64(d.X*e.Y) - float64(d.Y*e.X)
	}
	var out []geom.Point
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		sa, sb := side(a), side(b)
		if sa >= 0 {
			out = append(out, a)
		}
		if sa >= 0 != (sb >= 0) {
			out = append(out, a.Add(b.Sub(a).Scale(sa/(sa-sb))))
		}
	}
	return out
}

// convex reports whether a path is one ring that bends one way and once round:
// what can be cut out of others.
func convex(p geom.Path) bool {
	rings := p.Flatten(ringTolerance)
	if len(rings) != 1 || math.Abs(p.Area(ringTolerance)) < leastRemnant {
		return false
	}
	ring, turn := rings[0], 0.0
	n := len(ring)
	for i := range ring {
		d, e := ring[(i+1)%n].Sub(ring[i]), ring[(i+2)%n].Sub(ring[(i+1)%n])
		angle := math.Atan2(float64(d.X*e.Y)-float64(d.Y*e.X), float64(d.X*e.X)+float64(d.Y*e.Y))
		if angle*turn < 0 && math.Abs(angle) > 1e-9 { // radians: rounding of a straight edge
			return false
		}
		turn += angle
	}
	return math.Abs(math.Abs(turn)-2*math.Pi) < 1e-6 // radians: once round and not twice
}
