package body_test

import (
	"fmt"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// A cone below, a parallel, and a rounded shoulder that ends in a pole.
func ExampleNew() {
	p, err := body.New([]body.Station{
		{Z: 0, D: 4},
		{Z: 30, D: 14, Corner: true},
		{Z: 60, D: 14, Kind: body.Round},
		{Z: 65, D: 10, Kind: body.Round},
		{Z: 67, D: 0},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Diameter(15).Text(0.01, unit.Style{}), p.IsCone(0, 30), p.IsCone(20, 40))
	// Output: 9 mm true false
}

// A stem below an olive, a shoulder where they meet, and a body taken
// off a drawing.
func ExampleJoin() {
	p, err := body.New(body.Join(body.Stem(2, 2, 40), body.Olive(14, 3, 30)))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Length().Text(0.1, unit.Style{}), p.MaxDiameter().Text(0.1, unit.Style{}), len(p.Stations()))
	drawn, err := body.ParseOutline("M 1 70 V 30 L 7 15 L 0 0", body.Axis{}, 1, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(drawn), drawn[2].D.Text(0.1, unit.Style{}))
	// Output:
	// 70 mm 14 mm 35
	// 4 14 mm
}
