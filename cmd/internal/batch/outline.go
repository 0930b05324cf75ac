package batch

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

const (
	// calliper is how closely stations keep to a traced outline, mm, unless the
	// file says: what a calliper reads.
	calliper = 0.05
	// Ranges of an outline's numbers: they catch a slip, not an odd drawing.
	mostOutlineScale = 1000 // mm a unit: a drawing in metres
	leastTolerance   = 0.01 // mm, body.MinStep
	mostTolerance    = 1    // mm
	mostAxis         = 1e6  // units of the drawing
)

var outlineKeys = []string{"path", "file", "id", "axis_x", "axis_y", "mm_per_unit", "tolerance_mm"}

// outlineExample shows how an outline in a drawing is named.
const outlineExample = `outline = {file = "reed.svg", axis_x = 105}`

// outline reads one side of the float as a path: path data in mm from an axis at
// x = 0, or a table that says where the path and its axis are.
func (r *reader) outline(n *node, key string) (body.Profile, bool) {
	switch {
	case n.kind == unstable.String && strings.HasSuffix(strings.ToLower(n.text), ".svg"):
		r.add(n.at, fmt.Sprintf("write outline = {file = %q, axis_x = 105}, with the x of the float's axis in the drawing", n.text), "%s is the name of a file, not a path", key)
		return body.Profile{}, false
	case n.kind == unstable.String:
		return r.traced(n.text, n.at, key, body.Axis{}, 1, calliper)
	case n.kind != unstable.InlineTable || n.tab == nil:
		r.add(n.at, `write it as path data, as in outline = "M 2 0 L 8 -30 L 1.5 -150", or as in `+outlineExample, "%s is no path", key)
		return body.Profile{}, false
	}
	t, told := n.tab, len(r.findings)
	r.known(t, key, outlineKeys)
	path, file := t.get("path"), t.get("file")
	switch {
	case path != nil && file != nil:
		r.add(file.at, "keep the one or the other", "%s has both path and file", key)
	case path == nil && file == nil:
		r.add(n.at, "add path or file, as in "+outlineExample, "%s has no path", key)
	case path != nil && path.val.kind != unstable.String, file != nil && file.val.kind != unstable.String:
		r.add(n.at, "write it in quotation marks", "%s: the path or the file is not text", key)
	case path != nil && t.get("id") != nil:
		r.add(t.get("id").at, "remove it; it names a path in a file", "%s: id without a file", key)
	}
	if len(r.findings) > told {
		return body.Profile{}, false
	}
	axis := r.axis(n, key, file != nil)
	scale, _ := r.number(t, key, "mm_per_unit", optional, 0, mostOutlineScale, 0)
	if e := t.get("mm_per_unit"); e != nil && scale == 0 && len(r.findings) == told {
		r.add(e.val.at, "write how many mm one unit of the drawing is, as in 0.2646", "%s: mm_per_unit is 0", key)
	}
	tolerance, _ := r.number(t, key, "tolerance_mm", optional, leastTolerance, mostTolerance, calliper)
	id := r.text(t, key, "id", optional)
	if len(r.findings) > told {
		return body.Profile{}, false
	}
	if path != nil {
		if scale == 0 {
			scale = 1
		}
		return r.traced(path.val.text, path.val.at, key, axis, scale, unit.Millimetre(tolerance))
	}
	src, ok := r.fileBeside(file.val, key, "an SVG drawing")
	if !ok {
		return body.Profile{}, false
	}
	name := r.besidePath(file.val.text)
	found, err := svgPath(src, id)
	if err != nil {
		r.addFileErr(name, err)
		return body.Profile{}, false
	}
	if scale == 0 {
		scale = found.scale
	}
	if scale == 0 {
		r.add(n.at, "add mm_per_unit, as in mm_per_unit = 0.2646 for a drawing in pixels of 96 to the inch", "%s: %s does not say how long its unit is", key, file.val.text)
		return body.Profile{}, false
	}
	return r.traced(found.data, place{file: name, line: found.line}, "", axis, scale, unit.Millimetre(tolerance))
}

// axis reads where the float's axis is. In a drawing it must be told: no place
// of it is more likely than another.
func (r *reader) axis(n *node, key string, told need) body.Axis {
	x, y := n.tab.get("axis_x"), n.tab.get("axis_y")
	switch {
	case x != nil && y != nil:
		r.add(y.at, "keep axis_x for a float that is drawn upright, axis_y for one that lies with its tip to the right", "%s has both axis_x and axis_y", key)
	case x == nil && y == nil && told == needed:
		r.add(n.at, "add axis_x, the x of the float's axis in the drawing's units, or axis_y for a float that lies with its tip to the right", "%s: axis_x is missing", key)
	case y != nil:
		v, _ := r.number(n.tab, key, "axis_y", optional, -mostAxis, mostAxis, 0)
		return body.Axis{Level: true, At: v}
	}
	v, _ := r.number(n.tab, key, "axis_x", optional, -mostAxis, mostAxis, 0)
	return body.Axis{At: v}
}

// traced makes a body of one side of an outline.
func (r *reader) traced(data string, at place, key string, axis body.Axis, scale float64, tolerance unit.Millimetre) (body.Profile, bool) {
	st, err := body.ParseOutline(data, axis, scale, tolerance)
	if err == nil && len(st) > maxStations {
		err = fault.Inputf("draw it with fewer points, or allow a wider tolerance_mm", "the outline needs more than %d stations", maxStations)
	}
	if err != nil {
		r.addErr(at, key, err)
		return body.Profile{}, false
	}
	return r.made(st, at, key)
}
