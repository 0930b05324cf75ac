package palette

import (
	"math"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/legible"

	"pgregory.net/rapid"
)

// cones maps XYZ to the three kinds of cones: Smith and Pokorny 1975, as both
// papers of Viénot and Brettel use them (from memory).
var cones = projection{{0.15514, 0.54312, -0.03286}, {-0.15514, 0.45684, 0.03286}, {0, 0, 0.01608}}

func times(a, b projection) (c projection) {
	for i := range c {
		for j := range c[i] {
			for k := range b {
				c[i][j] += a[i][k] * b[k][j]
			}
		}
	}
	return c
}

func cross(a, b legible.Light) legible.Light {
	return legible.Light{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func inverse(m projection) (inv projection) {
	rows := [3]legible.Light{cross(m[1], m[2]), cross(m[2], m[0]), cross(m[0], m[1])}
	det := dot(m[0], rows[0])
	for i := range inv {
		for j := range inv[i] {
			inv[i][j] = rows[j][i] / det
		}
	}
	return inv
}

// derived works the projection out again: in the space of the cones the missing
// one, lost, is replaced so that the colour lands on the plane through black,
// white and the anchor, all of which the sight sees as others do.
func derived(lost int, anchor legible.Light) projection {
	fromRGB := times(cones, toXYZ)
	white := fromRGB.of(legible.Light{1, 1, 1})
	n := cross(white, anchor)
	onto := projection{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for j := range 3 {
		onto[lost][j] = -n[j] / n[lost]
	}
	onto[lost][lost] = 0
	return times(inverse(fromRGB), times(onto, fromRGB))
}

func TestProjectionsFromTheCones(t *testing.T) {
	// The published numbers start from an observer corrected at short waves
	// (Judd and Vos), the sums here from that of 1931.
	const bends = 0.012
	blue := times(cones, toXYZ).of(legible.Light{0, 0, 1}) // the anchor of Viénot 1999
	// The anchors of Brettel 1997 for tritans, 485 and 660 nm, in the CIE 1931
	// observer's XYZ (from memory).
	short, long := cones.of(legible.Light{0.05795, 0.16930, 0.61620}), cones.of(legible.Light{0.16490, 0.06100, 0})
	for _, c := range []struct {
		name      string
		got, want projection
	}{
		{"protan", protanView, derived(0, blue)},
		{"deutan", deutanView, derived(1, blue)},
		{"tritan A", tritanViewA, derived(2, long)},
		{"tritan B", tritanViewB, derived(2, short)},
	} {
		for i := range 3 {
			for j := range 3 {
				if math.Abs(c.got[i][j]-c.want[i][j]) > bends {
					t.Errorf("%s %d %d: %.5f, derived %.5f", c.name, i, j, c.got[i][j], c.want[i][j])
				}
			}
		}
	}
}

func TestSeenKeepsGreys(t *testing.T) {
	for v := range 256 {
		grey := draw.Ink{R: uint8(v), G: uint8(v), B: uint8(v)}
		for _, s := range Sights() {
			if got := Seen(grey, s); got != grey {
				t.Errorf("%v by %v: %v", grey, s, got)
			}
		}
	}
}

// Two lights that differ only in what the missing cone catches look the same,
// and looking twice changes nothing more.
func TestSeenCollapsesConfusionLines(t *testing.T) {
	toRGB := inverse(times(cones, toXYZ))
	rapid.Check(t, func(t *rapid.T) {
		s := Sights()[rapid.IntRange(1, 3).Draw(t, "sight")]
		l := legible.LightOf(anyInk(t, "ink"))
		lost := int(s) - 1
		along := legible.Light{toRGB[0][lost], toRGB[1][lost], toRGB[2][lost]}
		long := math.Sqrt(dot(along, along))
		move := rapid.Float64Range(-0.3, 0.3).Draw(t, "move")
		var m legible.Light
		for i := range m {
			m[i] = l[i] + move*along[i]/long
		}
		a, b := seen(l, s), seen(m, s)
		again := seen(a, s)
		for i := range a {
			if math.Abs(a[i]-b[i]) > 0.01 || math.Abs(a[i]-again[i]) > 0.01 {
				t.Fatalf("%v: %v sees %v and %v, again %v", l, s, a, b, again)
			}
		}
	})
}
