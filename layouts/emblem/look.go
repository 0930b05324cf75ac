package emblem

import (
	"strconv"
	"strings"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// look is what an element hands down to those in it.
type look struct {
	at           geom.Affine
	fill, stroke string
	noStroke     bool // the strokes have no width
	evenOdd      bool
	hidden       bool // nothing in it is drawn
	unseen       bool // not drawn unless an element in it says so
	sheet        bool // this is a style sheet
}

// pale are the fills that hide what is under them instead of inking it.
var pale = map[string]bool{"white": true, "#fff": true, "#ffffff": true, "rgb(255,255,255)": true, "rgb(100%,100%,100%)": true}

// take reads an element's attributes; those of its style go before the others.
func (l *look) take(attr map[string]string) error {
	get := func(name string) string { return strings.TrimSpace(attr[name]) }
	if t, ok := attr["transform"]; ok {
		m, err := parseTransform(t)
		if err != nil {
			return err
		}
		l.at = m.Then(l.at)
	}
	props := map[string]string{}
	for _, name := range []string{"fill", "fill-rule", "stroke", "stroke-width", "display", "visibility", "opacity",
		"fill-opacity", "clip-path", "mask", "filter", "marker", "marker-start"} {
		if v := get(name); v != "" {
			props[name] = v
		}
	}
	for _, d := range strings.Split(attr["style"], ";") {
		name, v, _ := strings.Cut(d, ":")
		if name = strings.TrimSpace(name); name != "" {
			props[name] = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(v), "!important"))
		}
	}
	return l.apply(props)
}

func (l *look) apply(props map[string]string) error {
	for _, name := range []string{"clip-path", "mask", "filter", "marker", "marker-start", "transform"} {
		if v := props[name]; v != "" && v != "none" {
			return fault.Inputf("apply it to the shapes in the drawing program and save as plain SVG", "the mark has the style %q", name)
		}
	}
	for _, name := range []string{"opacity", "fill-opacity"} {
		v := props[name]
		full, err := strconv.ParseFloat(strings.TrimSuffix(v, "%"), 64)
		if strings.HasSuffix(v, "%") {
			full /= 100
		}
		switch {
		case v == "":
		case err == nil && full == 0:
			l.hidden = true
		case err != nil || full < 1:
			return fault.Inputf("make the shape solid", "the mark has a half-tone (%s %.20s): it is printed in one ink", name, v)
		}
	}
	if v := strings.ToLower(props["fill"]); v != "" && v != "inherit" {
		l.fill = strings.ReplaceAll(v, " ", "")
	}
	if v := props["stroke"]; v != "" && v != "inherit" {
		l.stroke = v
	}
	if v := props["stroke-width"]; v != "" && v != "inherit" {
		n, err := strconv.ParseFloat(strings.TrimRight(v, "pxtcmin% "), 64)
		l.noStroke = err == nil && n == 0
	}
	switch v := props["fill-rule"]; v {
	case "", "inherit":
	case "nonzero", "evenodd":
		l.evenOdd = v == "evenodd"
	default:
		return fault.Inputf("use nonzero or evenodd", "there is no fill rule %.20q", v)
	}
	l.hidden = l.hidden || props["display"] == "none"
	switch props["visibility"] {
	case "hidden", "collapse":
		l.unseen = true
	case "visible":
		l.unseen = false
	}
	return nil
}

// printable refuses what a single ink cannot show of a shape.
func (l *look) printable() error {
	switch {
	case l.stroke != "none" && l.stroke != "transparent" && !l.noStroke:
		return fault.Inputf(toPaths, "the mark has a line drawn as a stroke")
	case strings.HasPrefix(l.fill, "url("):
		return fault.Inputf("fill the shape with one solid colour", "the mark has a gradient or a pattern: it is printed in one ink")
	case pale[l.fill]:
		return fault.Inputf("cut the white shape out of what lies under it (\"Path > Difference\"), or delete it",
			"the mark has a white shape: it is printed in one ink, on the film's own colour")
	}
	if l.fill == "transparent" {
		l.fill = "none"
	}
	return nil
}
