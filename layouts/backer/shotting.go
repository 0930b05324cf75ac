package backer

import (
	"math"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
)

// Measures of the shotting picture, mm; a scheme, not to scale. Own choices.
const (
	rigLine   = 0.25 // width of the line
	rigShot   = 1.1  // radius of a shot of 1 g
	rigLeast  = 0.45 // radius of the least shot drawn
	rigHook   = 1.6  // its bend
	rigStep   = 2.4  // between two shot of a bulk
	rigHigh   = 76.0 // the picture in a column of words, where there is room
	rigLow    = 36.0 // where there is not
	rigMost   = 8    // shot drawn at one place; beyond it the number says it
	rigFloatH = 9.0  // the float in small
)

// shotting is where the shot goes on the line, for the way the line is fixed: a
// line from the float down to the hook, shot where it goes and words beside it.
func shotting(f *frame, c col) ([]item, error) {
	if len(f.Card.Shotting) == 0 {
		return nil, nil
	}
	head, err := f.heading(c, "shotting heading", words.PageFor(f.Words.Language).HowToShot)
	if err != nil {
		return nil, err
	}
	high := f.scale.down(f.scale.between(rigLow, rigHigh))
	ops, err := f.rig(geom.XYWH(c.left, -high, c.width(), high))
	if err != nil {
		return nil, err
	}
	it := item{name: "shotting", up: high, air: 1, draw: func(base float64) ([]draw.Op, []geom.Rect) {
		g := &draw.Group{Name: "shotting", At: geom.Translate(0, base), Ops: ops}
		return []draw.Op{g}, []geom.Rect{geom.XYWH(c.left, base-high, c.width(), high)}
	}}
	return append(opened(head, 2), it), nil
}

// rig draws the picture in a box.
func (f *frame) rig(box geom.Rect) ([]draw.Op, error) {
	var ops []draw.Op
	x := box.Min.X + 4
	stroke := func(p geom.Path, w float64) { ops = append(ops, &draw.Stroke{Path: p, Ink: f.ink, Width: w}) }
	dot := func(y, r float64) {
		ops = append(ops, &draw.Fill{Path: geom.Circle(geom.Point{X: x, Y: y}, r), Ink: f.ink})
	}
	small := f.plain(capSmall)
	t := col{left: x + 4, right: box.Max.X}
	say := func(y float64, text string) error {
		lines, err := small.wrap("shotting picture", text, t.width())
		if err != nil {
			return err
		}
		y += small.Cap/2 - float64(f.scale.line*float64(len(lines)-1)/2)
		for _, l := range lines {
			ops = append(ops, l.Straight(geom.Translate(t.left, y), typeset.Left, f.ink)...)
			y += f.scale.line
		}
		return nil
	}
	top, foot := box.Min.Y, box.Max.Y-2*rigHook
	// The water, and the float standing in it: a spindle with its tip out.
	water := top + rigFloatH*0.3
	ops = append(ops, &draw.Stroke{Path: geom.LineBetween(geom.Point{X: box.Min.X, Y: water}, geom.Point{X: box.Min.X + 8, Y: water}), Ink: waterInk, Width: waterWidth})
	var body geom.Path
	tip, end := geom.Point{X: x, Y: top}, geom.Point{X: x, Y: top + rigFloatH}
	body.MoveTo(geom.Point{X: x - 0.25, Y: top})
	body.LineTo(geom.Point{X: x - 0.3, Y: water})
	body.CubicTo(geom.Point{X: x - 1.8, Y: water + 3}, geom.Point{X: x - 0.6, Y: end.Y - 1.5}, end)
	body.CubicTo(geom.Point{X: x + 0.6, Y: end.Y - 1.5}, geom.Point{X: x + 1.8, Y: water + 3}, geom.Point{X: x + 0.3, Y: water})
	body.LineTo(geom.Point{X: x + 0.25, Y: tip.Y})
	body.Close()
	ops = append(ops, &draw.Fill{Path: body, Ink: f.accent})
	stroke(geom.LineBetween(end, geom.Point{X: x, Y: foot}), rigLine)
	// The hook: down, round and a little up.
	var hook geom.Path
	hook.MoveTo(geom.Point{X: x, Y: foot})
	hook.Arc(geom.Point{X: x - rigHook/2, Y: foot}, rigHook/2, 0, math.Pi)
	stroke(hook, 0.35)
	// Places are spread evenly between the float and the hook.
	run := foot - end.Y
	at := map[label.Place]float64{label.AtFloat: 0.02, label.StopAbove: 0.02, label.Together: 0.55, label.Even: 0.45, label.Downline: 0.86}
	for _, p := range f.Card.Shotting {
		y := end.Y + float64(at[p.Place]*run)
		n := min(p.Shots, rigMost)
		switch p.Place {
		case label.AtFloat: // half above the eye, half below: drawn on either side of it, in pairs
			for i := range n {
				side := float64(i%2)*2 - 1
				ops = append(ops, &draw.Fill{Path: geom.Circle(geom.Point{X: x + float64(side*1.2), Y: end.Y + 0.9 + float64(float64(i/2)*rigStep)}, shotRadius(p.Each)), Ink: f.ink})
			}
			y = end.Y + 0.9
		case label.StopAbove:
			stroke(geom.LineBetween(geom.Point{X: x - 1.2, Y: y}, geom.Point{X: x + 1.2, Y: y}), 0.5)
		case label.Even:
			for i := range n {
				dot(end.Y+float64(run*(0.15+0.6*float64(i)/math.Max(1, float64(n-1)))), shotRadius(p.Each))
			}
		case label.Downline:
			for i := range n {
				dot(y-float64(float64(n-1-i)*4), shotRadius(p.Each))
			}
		default:
			for i := range n {
				dot(y-float64(float64(n-1-i)*rigStep), shotRadius(p.Each))
			}
		}
		if err := say(y, p.Text); err != nil {
			return nil, err
		}
	}
	return ops, say(foot+rigHook/2, words.CardFor(f.Words.Language).Hook)
}

// shotRadius is how big a shot is drawn: by the cube root of its mass, as balls
// are.
func shotRadius(g float64) float64 { return math.Max(rigLeast, rigShot*math.Cbrt(math.Min(g, 2))) }
