package wrap_test

import (
	"fmt"
	"math"

	"floatmark/layouts/wrap"
	"floatmark/loading/body"
)

// The wrap of a tapered body: 12 mm below, 8 mm above, 15 mm tall.
func ExampleDevelop() {
	p, err := body.New([]body.Station{{Z: 0, D: 12}, {Z: 15, D: 8}})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := wrap.Develop(p, 0, 15, wrap.Film{Thickness: 0.02}, wrap.Seam{Overlap: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("arcs %.2f and %.2f, sweep %.2f degrees, apex up %v\n", f.RhoFrom, f.RhoTo, f.Sweep*180/math.Pi, f.ApexUp)
	// Output: arcs 45.47 and 30.34, sweep 47.58 degrees, apex up true
}

// A letter 3 mm to the right of the centre meridian, half way up.
func ExampleFlat_Frame() {
	p, err := body.New([]body.Station{{Z: 0, D: 12}, {Z: 15, D: 8}})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := wrap.Develop(p, 0, 15, wrap.Film{}, wrap.Seam{})
	if err != nil {
		fmt.Println(err)
		return
	}
	s := f.Slant / 2
	m := f.Frame(f.Angle(3, s), s)
	fmt.Printf("at %.3f, %.3f, turned %.2f degrees\n", m.E, m.F, math.Atan2(m.B, m.A)*180/math.Pi)
	// Output: at 2.997, -7.685, turned -4.54 degrees
}
