package stock

import (
	"math"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Readings are what a maker reads off printed test sheets, lengths in mm. What
// was not read is left at its zero.
type Readings struct {
	Nominal         geom.Size // of the ruler's rectangle, as it was to be
	Sides           geom.Size // as measured, from the middle of one line to that of the other
	Falling, Rising float64   // its diagonals: top left to bottom right, bottom left to top right
	ReadTo          float64   // every length was read to this, give or take; 0 is ReadTo
	Corrected       bool      // the sheet was drawn corrected by the profile: what is read is what was left
	Margin          float64   // blank along every edge
	OpenSlot        int       // the narrowest pale slot in black that stays open, dots; 1 to MostSlot
	Crosses         Crosses   // of a sheet printed on both sides
}

// Crosses are where the crosses of the back lie, seen from the front against
// those of the front: mm to the right and down.
type Crosses struct {
	Apart       float64 // from the one at the top to the one at the bottom; 0 if they were not read
	Top, Bottom geom.Point
}

const (
	// ReadTo is how near a length is read on a steel rule by half millimetres, mm.
	ReadTo = 0.25
	// MostSlot is the widest slot of the gain test, dots.
	MostSlot = 6
)

// How near a length can be read at all, and how far off is still a reading, mm.
const (
	minReadTo = 0.02
	maxReadTo = 1.0
)

// rectangular is the standard deviation of an even spread of half-width 1.
var rectangular = 1 / math.Sqrt(3)

// Measured returns p with what the readings say put in: the scales and the shear
// if the ruler was read, and the margin, the gain and the offset of the back,
// each if it was. What was not read stays as it was. An Input fault names the
// reading that cannot be, and says what may have happened.
func (p Printer) Measured(r Readings) (Printer, error) {
	if r.ReadTo == 0 {
		r.ReadTo = ReadTo
	}
	if !(r.ReadTo >= minReadTo && r.ReadTo <= maxReadTo) {
		return p, fault.New(fault.Input, "", "no rule is read to "+mm(r.ReadTo, 0.001), "give how near you read, usually "+mm(ReadTo, 0.01))
	}
	u := r.ReadTo * rectangular
	steps := []func(Printer, Readings, float64) (Printer, error){ruled, gained, crossed}
	for _, f := range steps {
		var err error
		if p, err = f(p, r, u); err != nil {
			return p, err
		}
	}
	if r.Margin != 0 {
		p.Margin = r.Margin
	}
	return p, p.Sound()
}

// ruled takes scale and shear from the rectangle. Of scale, u on 180 mm is what
// one side is read to; of shear, what two diagonals are.
func ruled(p Printer, r Readings, u float64) (Printer, error) {
	if r.Sides == (geom.Size{}) && r.Falling == 0 && r.Rising == 0 {
		return p, nil
	}
	if err := r.believable(u); err != nil {
		return p, err
	}
	before := p.distortion()
	fit, err := p.Fit(r.Nominal, r.Sides, r.Falling, r.Rising)
	if err != nil {
		return p, err
	}
	if r.Corrected {
		// The printer distorts by what it was thought to and, after that, by
		// what was read.
		d := before.Then(fit.distortion())
		fit.ScaleX, fit.ScaleY, fit.Shear = d.A, math.Hypot(d.C, d.D), math.Atan2(d.C, d.D)
	}
	fit.U.ScaleX, fit.U.ScaleY = u/r.Nominal.W, u/r.Nominal.H
	mean := (r.Falling + r.Rising) / 2
	fit.U.Shear = 2 * mean * math.Sqrt2 * u / (4 * r.Sides.W * r.Sides.H) // of Fit's sum, by its two diagonals
	return fit, fit.Sound()
}

// gained takes the gain from the narrowest slot that stays open. The next
// narrower one closed, so twice the gain lies between the two.
func gained(p Printer, r Readings, _ float64) (Printer, error) {
	switch {
	case r.OpenSlot == 0:
		return p, nil
	case r.OpenSlot < 1 || r.OpenSlot > MostSlot:
		return p, fault.New(fault.Input, "gain", "the slots are 1 to "+unit.Number(MostSlot, 1, unit.Style{})+" dots wide",
			"give the number of the narrowest slot that is open all along; if all are closed, take another paper or less ink")
	}
	if err := p.Sound(); err != nil {
		return p, err
	}
	p.Gain = (float64(r.OpenSlot) - 0.5) * p.Dot() / 2
	p.U.Gain = p.Dot() / 4 * rectangular
	return p, p.Sound()
}

// crossed takes the offset of the back from the crosses. The sheet turns about
// its middle: crosses in the middle of the top and the bottom then move apart
// sideways.
func crossed(p Printer, r Readings, u float64) (Printer, error) {
	c := r.Crosses
	if c.Apart == 0 {
		return p, nil
	}
	for _, q := range [...]struct {
		name string
		at   geom.Point
	}{{"top", c.Top}, {"bottom", c.Bottom}} {
		if !(math.Abs(q.at.X) <= maxOffset && math.Abs(q.at.Y) <= maxOffset) {
			return p, fault.New(fault.Input, q.name, "the back cannot be "+mm(max(math.Abs(q.at.X), math.Abs(q.at.Y)), 0.01)+" off",
				"read the cross again: its scale ends at 5 mm; write millimetres")
		}
	}
	// Both sides are printed by one printer: only paper that dries between them
	// pulls the crosses together, by half a per cent at most (0.4 % is told of
	// bond across its grain).
	const shrink = 0.005
	if pull := math.Abs(c.Top.Y - c.Bottom.Y); !(pull <= shrink*c.Apart+4*u) {
		return p, fault.New(fault.Input, "top, bottom", "one back cross is "+mm(pull, 0.01)+" nearer the other than on the front",
			"read how far up or down both are again; both sides are printed at actual size")
	}
	found := Offset{X: (c.Top.X + c.Bottom.X) / 2, Y: (c.Top.Y + c.Bottom.Y) / 2, Turn: math.Asin((c.Top.X - c.Bottom.X) / c.Apart)}
	if r.Corrected {
		was := geom.Rotate(found.Turn).Apply(geom.Point{X: p.Duplex.X, Y: p.Duplex.Y})
		found = Offset{X: was.X + found.X, Y: was.Y + found.Y, Turn: p.Duplex.Turn + found.Turn}
	}
	p.Duplex = found
	p.U.Duplex, p.U.Turn = u/math.Sqrt2, u*math.Sqrt2/c.Apart
	return p, p.Sound()
}

// Left is what stays wrong, expanded (twice the standard uncertainty), mm.
type Left struct {
	X, Y  float64 // on a length across and down
	Shear float64 // sideways on a length down
	Gain  float64 // an edge of a code, once it is reduced: the most
	Back  float64 // of the back against the front at the length from the middle of the sheet
}

// Left returns what stays wrong on a length of mm, such as a mark's 60 mm round
// the body. What was not measured is 0.
func (p Printer) Left(length float64) Left {
	const k = 2 // some 95 %
	l := Left{X: k * p.U.ScaleX * length, Y: k * p.U.ScaleY * length, Shear: k * p.U.Shear * length,
		Back: k * math.Hypot(p.U.Duplex, p.U.Turn*length)}
	if p.U.Gain > 0 {
		// The reading leaves a quarter of a dot an edge to both sides.
		l.Gain = math.Abs(p.Gain-float64(p.Reduction())*p.Dot()/2) + p.U.Gain/rectangular
	}
	return l
}
