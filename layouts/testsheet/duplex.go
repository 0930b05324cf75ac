package testsheet

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/unit"
)

// Measures of the duplex test, mm. They are ours, chosen by eye.
const (
	besideCross = 60.0 // of the sheet's height, above the upper cross and below the lower one together
	leastApart  = 80.0 // nearer crosses tell the turn no better than to 0.15 degrees
	scaleMost   = 5    // the front's scale reaches so far, which is as far as a back may be off
	scaleHalf   = 0.5
	scaleLine   = 0.8
	scaleMM     = 1.6
	backArm     = 9.0 // of the back's cross: it is seen beyond the scale
	capWay      = 1.6
)

// The example on the page: what is typed, and its figures as they are read, mm.
const (
	duplexExample = "top=0.5right/0.25up,bottom=0.25left/0down"
	exampleRight  = 0.5
	exampleSmall  = 0.25
)

// CrossesApart returns how far the two crosses of Duplex are apart, mm: 230 on
// A4. It is 0 where the stock is too small for two.
func CrossesApart(s stock.Stock) float64 {
	d := grid * math.Floor((s.Size.H-besideCross)/grid)
	if !(d >= leastApart) {
		return 0
	}
	return d
}

// Duplex lays out the front and the back of a sheet that is turned over its long
// edge: a scale at the top and one at the bottom of the front, and where their
// middles are, crosses on the back. With s.Profile both are corrected by the
// printer's profile. Errors are Input for stock without a sheet and an impossible
// printer, NoFit for one too small.
func Duplex(s Spec) ([]*draw.Sheet, error) {
	if err := s.printed(); err != nil {
		return nil, err
	}
	front := &draw.Sheet{Name: "duplex front", Size: s.Stock.Size}
	back := &draw.Sheet{Name: "duplex back", Size: s.Stock.Size}
	apart := CrossesApart(s.Stock)
	if apart == 0 {
		return nil, s.noRoom(0, besideCross+leastApart, geom.XYWH(0, 0, s.Stock.Size.W, s.Stock.Size.H))
	}
	middle := geom.Point{X: front.Size.W / 2, Y: front.Size.H / 2}
	const air = 4.0
	w := s.Words.Tests
	for _, c := range [...]struct {
		name string
		at   geom.Point
	}{{w.Top, geom.Point{X: middle.X, Y: middle.Y - apart/2}}, {w.Bottom, geom.Point{X: middle.X, Y: middle.Y + apart/2}}} {
		if err := s.scale(front, c.at, c.name); err != nil {
			return nil, err
		}
		b := s.bars()
		b.across(c.at.Y, c.at.X-backArm, c.at.X+backArm)
		b.down(c.at.X, c.at.Y-backArm, c.at.Y+backArm)
		back.Add(draw.Colour, b.fill())
		// From the front the words shine through at the lower right, clear of the
		// scale's own.
		if err := s.label(back, fmt.Sprintf(w.OfBack, c.name), capText, c.at.Add(geom.Point{X: -backArm, Y: backArm}), typeset.Right); err != nil {
			return nil, err
		}
	}
	room := geom.XYWH(0, 0, front.Size.W, front.Size.H).Inset(s.Stock.Margin)
	room.Min.Y, room.Max.Y = middle.Y-apart/2+backArm+air, middle.Y+apart/2-backArm-air
	if _, err := s.text(front, room, s.title(w.Duplex), s.duplexSteps(), s.calibrate(duplexExample, true)); err != nil {
		return nil, err
	}
	p := s.printer()
	one, err := stock.Calibrate(front, p)
	if err != nil {
		return nil, err
	}
	two, err := stock.CalibrateBack(back, p)
	if err != nil {
		return nil, err
	}
	return []*draw.Sheet{one, two}, nil
}

// scale draws a cross with ticks of half a millimetre about at, and which way is
// which.
func (s Spec) scale(sheet *draw.Sheet, at geom.Point, name string) error {
	b := s.bars()
	b.across(at.Y, at.X-scaleMost, at.X+scaleMost)
	b.down(at.X, at.Y-scaleMost, at.Y+scaleMost)
	for i := -scaleMost * 2; i <= scaleMost*2; i++ {
		d, half := float64(i)*scaleHalf, scaleLine/2
		switch {
		case i == 0:
			continue
		case i%2 == 0:
			half = scaleMM / 2
		}
		b.down(at.X+d, at.Y-half, at.Y+half)
		b.across(at.Y+d, at.X-half, at.X+half)
	}
	sheet.Add(draw.Colour, b.fill())
	away := backArm + capWay
	for _, w := range [...]struct {
		text string
		to   geom.Point
		a    typeset.Align
	}{
		{s.Words.Tests.Up, geom.Point{Y: -away}, typeset.Centre}, {s.Words.Tests.Down, geom.Point{Y: away}, typeset.Centre},
		{s.Words.Tests.Left, geom.Point{X: -away}, typeset.Right}, {s.Words.Tests.Right, geom.Point{X: away}, typeset.Left},
		{name, geom.Point{X: -away, Y: -away}, typeset.Right},
	} {
		cap := capWay
		if w.text == name {
			cap = capHead
		}
		if err := s.label(sheet, w.text, cap, at.Add(w.to), w.a); err != nil {
			return err
		}
	}
	return nil
}

func (s Spec) duplexSteps() []string {
	w := s.Words.Tests
	mm := func(v unit.Millimetre) string { return s.Words.Millimetre(v, 0.01) }
	return []string{w.DuplexPrint, w.DuplexHold, fmt.Sprintf(w.DuplexRead, mm(scaleHalf)), w.DuplexAgain,
		s.naming() + " " + fmt.Sprintf(w.DuplexExample, mm(exampleRight), mm(exampleSmall), mm(exampleSmall))}
}
