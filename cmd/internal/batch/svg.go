package batch

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"

	"floatmark/loading/fault"
)

// drawnPath is a path found in a drawing.
type drawnPath struct {
	data, id string
	line     int     // of the file
	scale    float64 // mm per unit; 0 when the drawing does not say
	held     string  // an element round it, or itself, that moves or hides it
}

// mmPer are the units of SVG's lengths (CSS: 96 px to the inch, 72 pt, 6 pc; from
// memory). A length without one is in px.
var mmPer = map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "px": 25.4 / 96, "": 25.4 / 96, "pt": 25.4 / 72, "pc": 25.4 / 6}

// svgPath returns the only path of an SVG drawing, or the one with the id. Paths
// that are only referred to (in defs, clip paths, markers and the like) do not
// count unless they are named. What moves the path is refused, not followed: a
// float whose drawing was flipped or stretched without notice would fit nothing.
// Errors are Input errors with the line.
func svgPath(src []byte, id string) (drawnPath, error) {
	dec := xml.NewDecoder(bytes.NewReader(src))
	var open []xml.StartElement
	var paths []drawnPath
	scale := 0.0
	for {
		token, err := dec.Token()
		line, _ := dec.InputPos()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return drawnPath{}, svgFault(line, "save it again as plain SVG, in UTF-8", "the drawing cannot be read")
		}
		switch e := token.(type) {
		case xml.StartElement:
			if open = append(open, e); len(open) == 1 {
				if e.Name.Local != "svg" {
					return drawnPath{}, svgFault(line, "save the drawing as SVG", "this is no SVG drawing")
				}
				scale = svgScale(e)
			}
			if d := attribute(e, "d"); e.Name.Local == "path" && d != "" {
				paths = append(paths, drawnPath{d, attribute(e, "id"), line, scale, holding(open)})
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		}
	}
	return choosePath(paths, id)
}

func choosePath(paths []drawnPath, id string) (drawnPath, error) {
	var found, ids []string
	var one drawnPath
	for _, p := range paths {
		switch {
		case id != "" && p.id == id:
			found = append(found, p.id)
			one = p
		case id == "" && p.held != hidden:
			found = append(found, p.id)
			one = p
		}
		if p.id != "" {
			ids = append(ids, p.id)
		}
	}
	switch {
	case len(found) == 0 && id != "":
		return one, svgFault(1, instead(id, ids), "the drawing has no path with the id %q", id)
	case len(found) == 0:
		return one, svgFault(1, "draw one side of the float as a path; turn other shapes into one (\"object to path\")", "the drawing has no path")
	case len(found) > 1 && id == "":
		const most = 5
		do := "remove the others"
		if len(ids) > 0 {
			do = "say which, as in id = \"" + ids[0] + "\"; its ids are: " + quoted(ids[:min(most, len(ids))])
		}
		return one, svgFault(1, do, "the drawing has %d paths", len(found))
	case len(found) > 1:
		return one, svgFault(one.line, "give each path an id of its own", "the drawing has %d paths with the id %q", len(found), id)
	case one.held != "" && one.held != hidden:
		return one, svgFault(one.line, "ungroup it until no transform is left, or draw it again on a new layer", "the path is moved by a transform of %s", one.held)
	}
	return one, nil
}

// hidden says that a path is not drawn where it stands.
const hidden = "hidden"

// holding returns the innermost element that moves a path, itself too; hidden
// when one of them keeps it from being drawn; "" when it stands as written.
func holding(open []xml.StartElement) (by string) {
	for i, e := range open {
		switch e.Name.Local {
		case "defs", "clipPath", "mask", "marker", "pattern", "symbol":
			return hidden
		case "svg":
			if i > 0 {
				by = "an svg inside the svg"
			}
		}
		style := strings.ReplaceAll(strings.ToLower(attribute(e, "style")), " ", "")
		if attribute(e, "transform") != "" || strings.Contains(";"+style, ";transform:") {
			by = e.Name.Local
			if id := attribute(e, "id"); id != "" {
				by += " " + strconv.Quote(id)
			}
		}
	}
	return by
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}

// svgScale returns the mm of one unit by the drawing's size and its viewBox; 0
// when it has no size, or one that would stretch it.
func svgScale(svg xml.StartElement) float64 {
	w, ok1 := svgLength(attribute(svg, "width"))
	h, ok2 := svgLength(attribute(svg, "height"))
	if !ok1 || !ok2 {
		return 0
	}
	box := strings.FieldsFunc(attribute(svg, "viewBox"), func(r rune) bool { return r == ' ' || r == ',' || r == '\t' || r == '\n' })
	if len(box) == 0 {
		return mmPer["px"]
	}
	if len(box) != 4 {
		return 0
	}
	bw, err1 := strconv.ParseFloat(box[2], 64)
	bh, err2 := strconv.ParseFloat(box[3], 64)
	const same = 0.002 // sizes are written to about three digits after the point
	if err1 != nil || err2 != nil || !(bw > 0 && bh > 0) || !(math.Abs(w/bw*bh/h-1) <= same) {
		return 0
	}
	if s := w / bw; s > 0 && s <= mostOutlineScale {
		return s
	}
	return 0
}

// svgLength reads "210mm" in mm; false for a percentage and for none.
func svgLength(text string) (float64, bool) {
	text = strings.TrimSpace(text)
	number := strings.TrimRight(text, "abcdefghijklmnopqrstuvwxyz%")
	per, ok := mmPer[text[len(number):]]
	v, err := strconv.ParseFloat(number, 64)
	if !ok || err != nil || !(v > 0) || math.IsInf(v, 0) {
		return 0, false
	}
	return v * per, true
}

func svgFault(line int, do, what string, args ...any) error {
	return fault.At("line "+strconv.Itoa(line), fault.Inputf(do, what, args...))
}
