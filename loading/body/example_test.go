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
