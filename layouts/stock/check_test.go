package stock

import (
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

func TestCheckLineIsAHundredBothWays(t *testing.T) {
	across := draw.Bounds(CheckLine(geom.Point{X: 20, Y: 30}, false))
	down := draw.Bounds(CheckLine(geom.Point{X: 20, Y: 30}, true))
	if !near(across.W(), 100) || !near(across.Min.X, 20) || !near(across.H(), 2*CheckTick) {
		t.Errorf("across %v", across)
	}
	if !near(down.H(), 100) || !near(down.Min.Y, 30) || !near(down.W(), 2*CheckTick) {
		t.Errorf("down %v", down)
	}
}
