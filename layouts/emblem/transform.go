package emblem

import (
	"math"
	"strconv"
	"strings"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/pathdata"
)

// arguments is how many numbers each transform takes, at least and at most.
var arguments = map[string][2]int{
	"matrix": {6, 6}, "translate": {1, 2}, "scale": {1, 2}, "rotate": {1, 3}, "skewX": {1, 1}, "skewY": {1, 1},
}

// parseTransform reads a transform attribute (SVG 1.1, 7.6, from memory). The
// last one named is applied first.
func parseTransform(text string) (geom.Affine, error) {
	all := geom.Identity
	wrong := func() (geom.Affine, error) {
		return all, fault.Inputf("save the mark as plain SVG", "the transform %.60q is not understood", text)
	}
	for rest := strings.TrimSpace(text); rest != ""; {
		name, after, ok := strings.Cut(rest, "(")
		list, next, closed := strings.Cut(after, ")")
		name = strings.TrimSpace(name)
		count, known := arguments[name]
		v, err := numbers(list)
		if !ok || !closed || !known || err != nil || len(v) < count[0] || len(v) > count[1] || name == "rotate" && len(v) == 2 {
			return wrong()
		}
		all = transform(name, v).Then(all)
		rest = strings.TrimLeft(next, ", \t\r\n")
	}
	return all, nil
}

func transform(name string, v []float64) geom.Affine {
	second := func(or float64) float64 {
		if len(v) > 1 {
			return v[1]
		}
		return or
	}
	switch name {
	case "matrix":
		return geom.Affine{A: v[0], B: v[1], C: v[2], D: v[3], E: v[4], F: v[5]}
	case "translate":
		return geom.Translate(v[0], second(0))
	case "scale":
		return geom.Scale(v[0], second(v[0]))
	case "rotate":
		turn := geom.Rotate(v[0] * math.Pi / 180)
		if len(v) == 3 {
			turn = geom.Translate(-v[1], -v[2]).Then(turn).Then(geom.Translate(v[1], v[2]))
		}
		return turn
	case "skewX":
		return geom.Affine{A: 1, C: math.Tan(v[0] * math.Pi / 180), D: 1}
	default: // skewY
		return geom.Affine{A: 1, B: math.Tan(v[0] * math.Pi / 180), D: 1}
	}
}

// numbers reads a list of numbers parted by blanks or commas, with the same
// reader as path data.
func numbers(list string) ([]float64, error) {
	p := pathReader{Scanner: pathdata.Scanner{Text: list}}
	p.Blanks("")
	var out []float64
	for p.At < len(p.Text) {
		v, err := p.number()
		if err != nil {
			return nil, err
		}
		out = append(out, v)
		if p.comma() && p.At == len(p.Text) {
			return nil, p.wrong("take the comma out", "a comma is followed by no number")
		}
	}
	return out, nil
}

// lengthOf reads one length in the drawing's units, with or without "px".
func lengthOf(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(text), "px"), 64)
	if err != nil || !(math.Abs(v) <= maxCoord) {
		return 0, fault.Inputf("save the mark as plain SVG with lengths in px", "the length %.40q is not understood", text)
	}
	return v, nil
}
