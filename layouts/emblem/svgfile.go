package emblem

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// FromSVG reads the filled shapes of an SVG file (path, rect, circle, ellipse,
// polygon and polyline), with the transforms of the groups they stand in, as one
// path in the file's units. Colours do not count: all that is filled is inked.
// Fill rules do; the path that comes back is filled by the non-zero rule.
//
// What a single ink cannot show or what is not a shape is an Input error that
// names the line: text, strokes, gradients and half-tones, pale shapes that
// hide others, clips and masks, style sheets, pictures and uses. So are shapes
// that cross themselves so that no turning of rings gives what the even-odd rule
// filled.
func FromSVG(file []byte) (geom.Path, error) {
	if len(file) > MaxBytes {
		return nil, tooMuch()
	}
	r := svgReader{xml: xml.NewDecoder(bytes.NewReader(file))}
	if err := r.read(); err != nil {
		line, _ := r.xml.InputPos()
		return nil, fault.At("line "+strconv.Itoa(line), err)
	}
	if len(r.shapes) == 0 {
		return nil, fault.Inputf("draw the mark as closed, filled shapes", "the SVG file has no filled shape")
	}
	return union(r.shapes)
}

// svgSpace is SVG's XML name space; a file without one is taken as well.
const svgSpace = "http://www.w3.org/2000/svg"

// maxDepth is how deep groups may stand in each other. No source: drawings have
// a dozen.
const maxDepth = 100

// toPaths is what to do about most of what is refused.
const toPaths = "turn text and lines into filled paths in the drawing program (\"Object to Path\", \"Stroke to Path\") and save as plain SVG"

// refused are the elements that would show and cannot be read.
var refused = map[string]string{
	"text": "text", "tspan": "text", "textPath": "text", "use": "a copy of another shape (use)", "image": "a picture",
	"foreignObject": "a foreign object", "switch": "a switch", "line": "a line",
	"animate": "animation", "animateTransform": "animation", "animateMotion": "animation", "set": "animation",
}

// unseen are the elements that draw nothing by themselves.
var unseen = map[string]bool{
	"defs": true, "title": true, "desc": true, "metadata": true, "linearGradient": true, "radialGradient": true, "pattern": true,
	"clipPath": true, "mask": true, "filter": true, "symbol": true, "marker": true, "view": true, "script": true, "solidColor": true,
}

type svgReader struct {
	xml    *xml.Decoder
	groups []look // one for each open element
	shapes []shape
	steps  int // of all shapes
}

func (r *svgReader) read() error {
	for root := true; ; {
		token, err := r.xml.Token()
		switch {
		case err == io.EOF && root:
			return fault.Inputf("give an SVG file", "the file has no drawing")
		case err == io.EOF:
			return nil
		case err != nil:
			var syntax *xml.SyntaxError
			if errors.As(err, &syntax) {
				return fault.New(fault.Input, "", "this is no well-formed XML: "+syntax.Msg, "save the mark as plain SVG", err)
			}
			return fault.New(fault.Input, "", "this is no SVG in UTF-8", "save the mark as plain SVG", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			if root && e.Name.Local != "svg" {
				return fault.Inputf("give an SVG file", "the file is no SVG but %.40q", e.Name.Local)
			}
			if err := r.start(e, root); err != nil {
				return err
			}
			root = false
		case xml.EndElement:
			r.groups = r.groups[:len(r.groups)-1]
		case xml.CharData:
			if n := len(r.groups); n > 0 && r.groups[n-1].sheet && strings.TrimSpace(string(e)) != "" {
				return fault.Inputf("save as plain SVG with presentation attributes, or with the styles on the shapes", "the file has a style sheet")
			}
		}
	}
}

// start takes in one element.
func (r *svgReader) start(e xml.StartElement, root bool) error {
	if len(r.groups) >= maxDepth {
		return fault.Inputf("ungroup the shapes", "groups stand more than %d deep", maxDepth)
	}
	now := look{at: geom.Identity, fill: "black", stroke: "none"}
	if n := len(r.groups); n > 0 {
		now = r.groups[n-1]
	}
	name := e.Name.Local
	own := e.Name.Space == "" || e.Name.Space == svgSpace
	now.sheet = own && name == "style"
	now.hidden = now.hidden || !own || unseen[name] || now.sheet
	defer func() { r.groups = append(r.groups, now) }()
	if now.hidden {
		return nil
	}
	if what, no := refused[name]; no {
		return fault.Inputf(toPaths, "the mark holds %s", what)
	}
	attr := map[string]string{}
	for _, a := range e.Attr {
		if a.Name.Space == "" {
			attr[a.Name.Local] = a.Value
		}
	}
	if err := now.take(attr); err != nil || now.hidden {
		return err
	}
	switch name {
	case "svg":
		if !root {
			return fault.Inputf("save as plain SVG with one drawing", "the file has a drawing within the drawing")
		}
		return nil
	case "g", "a":
		return nil
	}
	p, err := outline(name, attr)
	if err != nil || len(p) == 0 || now.unseen {
		return err
	}
	if err := now.printable(); err != nil {
		return err
	}
	if r.steps += len(p); r.steps > MaxSegments {
		return tooMuch()
	}
	if now.fill != "none" {
		r.shapes = append(r.shapes, shape{p.Transform(now.at), now.evenOdd})
	}
	return nil
}
