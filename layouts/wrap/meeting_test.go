package wrap

import (
	"math"
	"testing"
)

// Calliper ±0.05 mm, 0.15 mm per cut edge: figures worked out by hand and by a
// separate program, to their last place.
func TestMeeting(t *testing.T) {
	const cut = 0.15
	for _, c := range []struct{ d, scale, want float64 }{
		{2, 0.001, 0.46}, {20, 0.001, 0.48}, // scale calibrated to 0.1 %
		{2, Rectangle(0.01), 0.47}, {20, Rectangle(0.01), 0.86}, // as it comes, ±1 %
	} {
		u := Meeting(c.d, Rectangle(0.05), 0, c.scale, cut)
		near(t, "U", u, c.want, 0.005)
		near(t, "by length", Meeting(0, Rectangle(0.05), math.Pi*c.d, c.scale, cut), u, 1e-12)
		if u > OverlapCalibrated || u > MinPartGap {
			t.Errorf("an overlap or gap is no wider than the joint's uncertainty %v", u)
		}
	}
	near(t, "one known diameter to 0.3 mm moves a seam", Meeting(8, 0.3, 0, 0, 0)/2, 0.94, 0.005)
}
