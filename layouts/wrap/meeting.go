package wrap

import "math"

// Seams as they are usually made, mm.
const (
	// OverlapCalibrated is the overlap on a printer whose scale is known to
	// 0.1 %: above Meeting's two sigma at every diameter. Common practice is 1
	// to 1.5 mm, no source.
	OverlapCalibrated = 1.0
	// OverlapPlain is the overlap on a printer as it comes, ±1 %.
	OverlapPlain = 1.5
	// MinButtGap is the least gap of an honest butt joint, and it should
	// contrast: less, and on some floats the edges ride up. Worked out.
	MinButtGap = 0.5
)

// Rectangle returns the standard uncertainty of a reading that may lie anywhere
// within half to either side: half/sqrt 3 (JCGM 100, 4.3.7, from memory).
func Rectangle(half float64) float64 { return half / math.Sqrt(3) }

// Meeting returns how far the edges of a full wrap may miss each other, mm: the
// expanded uncertainty U = 2·sqrt((pi·uD)² + (length·uScale)² + 2·uCut²), two
// sigma. d is the diameter; uD the standard uncertainty of it, mm; length the
// printed length round the body, mm, pi·d when 0; uScale that of the printer's
// scale, a share of 1; uCut that of one cut edge, mm. A calliper read to ±0.05
// mm is Rectangle(0.05), a printer within ±1 % Rectangle(0.01).
func Meeting(d, uD, length, uScale, uCut float64) float64 {
	if length == 0 {
		length = math.Pi * d
	}
	const coverage, edges = 2, 2
	body, scale := math.Pi*uD, length*uScale
	return coverage * math.Sqrt(float64(body*body)+float64(scale*scale)+float64(edges*uCut*uCut))
}
