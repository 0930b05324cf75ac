package emblem

import (
	"math"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// outline makes the rings of one SVG shape, empty for one without extent.
func outline(name string, attr map[string]string) (geom.Path, error) {
	var err error
	length := func(name string) float64 {
		text, ok := attr[name]
		if !ok || text == "auto" {
			return 0
		}
		v, e := lengthOf(text)
		if e != nil && err == nil {
			err = fault.At(name, e)
		}
		return v
	}
	switch name {
	case "path":
		return parsePath(attr["d"])
	case "polygon", "polyline":
		return polygon(attr["points"])
	case "circle":
		r := length("r")
		return ellipse(length("cx"), length("cy"), r, r), err
	case "ellipse":
		return ellipse(length("cx"), length("cy"), length("rx"), length("ry")), err
	case "rect":
		rx, ry := length("rx"), length("ry")
		if _, ok := attr["rx"]; !ok { // one radius stands for both
			rx = ry
		} else if _, ok := attr["ry"]; !ok {
			ry = rx
		}
		return roundedRect(geom.XYWH(length("x"), length("y"), length("width"), length("height")), rx, ry), err
	}
	return nil, fault.Inputf(toPaths, "the mark holds an element %.40q, which is not read", name)
}

func polygon(list string) (geom.Path, error) {
	v, err := numbers(list)
	if err != nil {
		return nil, err
	}
	if len(v)%2 != 0 {
		return nil, fault.Inputf("give x and y of every corner", "a polygon's last corner has no y")
	}
	var pts []geom.Point
	for i := 0; i < len(v); i += 2 {
		pts = append(pts, geom.Point{X: v[i], Y: v[i+1]})
	}
	if len(pts) == 0 {
		return nil, nil
	}
	return geom.Polygon(pts...), nil
}

func ellipse(x, y, rx, ry float64) geom.Path {
	if !(rx > 0 && ry > 0) {
		return nil
	}
	return geom.Circle(geom.Point{}, 1).Transform(geom.Scale(rx, ry).Then(geom.Translate(x, y)))
}

// roundedRect is a rectangle whose corners are quarters of an ellipse, as large
// as the sides allow.
func roundedRect(r geom.Rect, rx, ry float64) geom.Path {
	if !(r.W() > 0 && r.H() > 0) {
		return nil
	}
	rx, ry = min(rx, r.W()/2), min(ry, r.H()/2)
	if !(rx > 0 && ry > 0) {
		return geom.Rectangle(r)
	}
	// Drawn where the corners are quarters of a unit circle.
	w, h := r.W()/rx, r.H()/ry
	var p geom.Path
	for i, c := range []geom.Point{{X: 1, Y: 1}, {X: w - 1, Y: 1}, {X: w - 1, Y: h - 1}, {X: 1, Y: h - 1}} {
		from := math.Pi + float64(i)*math.Pi/2
		p.Arc(c, 1, from, from+math.Pi/2)
	}
	p.Close()
	return p.Transform(geom.Scale(rx, ry).Then(geom.Translate(r.Min.X, r.Min.Y)))
}
