package wrap

import "math"

// FilmLimit is the hoop strain a kind of film is taken to bear before it
// wrinkles or lifts.
type FilmLimit struct {
	Key    string  // stable, for batch files: "waterslide-softener"
	Limit  float64 // largest strain, 0.02 is 2 %
	Source string  // where the figure comes from
}

// Estimate is the source of a figure that has none.
const Estimate = "estimate, no source"

// FilmLimits returns the limits a maker starts from, in a stated order. All are
// estimates: he measures his own film on a ball (BallStrain) and uses that.
func FilmLimits() []FilmLimit {
	return []FilmLimit{
		{"waterslide-softener", 0.02, Estimate},
		{"waterslide", 0.01, Estimate},
		{"paper-label", 0.005, Estimate},
		{"vinyl-cold", 0.025, Estimate}, // 2 to 3 %
		{"tissue", 0.015, Estimate},     // wet with varnish it gives a little, and its tucks can be pressed flat
		{"rub-on", 0.005, Estimate},     // brittle once it is off its carrier
		{"skin-transfer", 0.02, Estimate},
	}
}

// LimitOf returns the limit of the kind with this key; ok is false when there is
// none.
func LimitOf(key string) (l FilmLimit, ok bool) {
	for _, l := range FilmLimits() {
		if l.Key == key {
			return l, true
		}
	}
	return FilmLimit{}, false
}

// BallDiameter, mm, is the ball on which a maker tries his film: that of table
// tennis, easily had (size from memory).
const BallDiameter = 40.0

// BallStrain returns the strain of a band of slant height h mm laid round the
// middle of a ball of diameter d mm: K·h²/16 with K = 4/d². The tallest band
// that lies flat gives the film's limit; on BallDiameter 8 mm is 1 %. It is 0
// for a ball of no size.
func BallStrain(d, h float64) float64 {
	if !(d > 0) {
		return 0
	}
	q := h / (2 * d)
	return float64(q * q)
}

// BallBand returns the slant height, mm, of the band that strains so much on a
// ball of diameter d mm: the inverse of BallStrain.
func BallBand(d, strain float64) float64 { return 2 * d * math.Sqrt(max(0, strain)) }
