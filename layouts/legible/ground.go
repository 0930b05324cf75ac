package legible

import (
	"math"
	"sort"

	"floatmark/layouts/draw"
)

// Floors of what is read on a ground.
const (
	// BigContrast is the least Contrast for big lettering, as knocked out of a
	// band: WCAG 2, success criterion 1.4.3, large text.
	BigContrast = 3.0
	// CodeFails and CodeWarns are the symbol contrasts, in percent, under which
	// a code is not printed and under which it is told: the grades C and B of
	// ISO/IEC 15415:2011, as a verifier's manual restates them.
	CodeFails = 40.0
	CodeWarns = 55.0
	// blackest is the share of light that black print still gives back: the
	// figure of the model the code forms were fitted on, an estimate.
	blackest = 0.05
)

// Printed returns what the eye sees where an ink is printed on a film on paint.
// Printed inks are transparent and take their share of the light that comes
// through; so does a clear film. A film that is not clear hides the paint. Where
// nothing is printed the ink is white.
func Printed(ink, film draw.Ink, clear bool, paint draw.Ink) draw.Ink {
	l := LightOf(film)
	if clear {
		l = LightOf(paint).Under(l)
	}
	return l.Under(LightOf(ink)).Ink()
}

// SymbolContrast returns the symbol contrast of ISO/IEC 15415, in percent: the
// reflectance of the light squares less that of the dark ones, which no print
// brings under 5 %. It is below zero when they are the wrong way round.
func SymbolContrast(dark, light draw.Ink) float64 {
	return 100 * (Reflectance(light) - math.Max(Reflectance(dark), blackest))
}

// Grading is how well something reads.
type Grading int

// The gradings, worst last.
const (
	Good       Grading = iota
	Doubtful           // told; may be printed
	Unreadable         // not to be printed so
)

// String returns "ok", "warn" or "fail".
func (g Grading) String() string {
	switch g {
	case Good:
		return "ok"
	case Doubtful:
		return "warn"
	}
	return "fail"
}

func grade(v, fails, warns float64) Grading {
	switch {
	case v >= warns:
		return Good
	case v >= fails:
		return Doubtful
	}
	return Unreadable
}

// Verdict says what can be read on a ground.
type Verdict struct {
	Ground       draw.Ink // as seen, where nothing is printed
	Worst        draw.Ink // the ink of text that shows least, as it is given
	TextContrast float64  // of that ink, 1 to 21; 0 without text
	Text         Grading  // Unreadable under BigContrast, Doubtful under TextContrast
	CodeContrast float64  // percent; 0 without a code
	Code         Grading  // Unreadable under CodeFails, Doubtful under CodeWarns

	// NeedLightness is the least CIELAB lightness, 0 to 100, of a grey paint, or
	// of a film that hides it, on which all this is Good; above 100 when white is
	// not pale enough, and another ink is wanted.
	NeedLightness float64
}

// Overall returns the worse of text and code.
func (v Verdict) Overall() Grading { return max(v.Text, v.Code) }

// JudgeGround judges a ground for text in the given inks and, if code is set,
// for a code in black. No inks means no text. film is the colour of the film, or
// its tint if it is clear: white for glass-clear film.
func JudgeGround(inks []draw.Ink, code bool, film draw.Ink, clear bool, paint draw.Ink) Verdict {
	v := judge(inks, code, film, clear, paint)
	v.NeedLightness = needLightness(inks, code, film, clear)
	return v
}

// JudgeBand judges a band of the ink for big lettering knocked out of it. A
// contrast of less than BigContrast is Doubtful: the band itself still shows.
func JudgeBand(ink, film draw.Ink, clear bool, paint draw.Ink) (contrast float64, g Grading) {
	contrast = Contrast(Printed(ink, film, clear, paint), Printed(draw.White, film, clear, paint))
	return contrast, grade(contrast, 0, BigContrast)
}

func judge(inks []draw.Ink, code bool, film draw.Ink, clear bool, paint draw.Ink) Verdict {
	v := Verdict{Ground: Printed(draw.White, film, clear, paint)}
	for i, ink := range inks {
		c := Contrast(Printed(ink, film, clear, paint), v.Ground)
		if i == 0 || c < v.TextContrast {
			v.Worst, v.TextContrast = ink, c
		}
	}
	if len(inks) > 0 {
		v.Text = grade(v.TextContrast, BigContrast, TextContrast)
	}
	if code {
		v.CodeContrast = SymbolContrast(Printed(draw.Black, film, clear, paint), v.Ground)
		v.Code = grade(v.CodeContrast, CodeFails, CodeWarns)
	}
	return v
}

// beyondWhite is a lightness that no paint has.
const beyondWhite = 101

// needLightness finds the darkest of the 256 greys that does; the paler ones do
// too, but for the rounding of a step.
func needLightness(inks []draw.Ink, code bool, film draw.Ink, clear bool) float64 {
	at := func(g int) draw.Ink { return draw.Ink{R: uint8(g), G: uint8(g), B: uint8(g)} }
	g := sort.Search(256, func(g int) bool {
		if !clear {
			film = at(g)
		}
		return judge(inks, code, film, clear, at(g)).Overall() == Good
	})
	if g == 256 {
		return beyondWhite
	}
	return Lightness(at(g))
}

// Lightness returns the lightness L* of CIELAB, 0 (black) to 100 (white).
func Lightness(i draw.Ink) float64 {
	y := Reflectance(i)
	if y <= 216.0/24389 { // CIE 15: the straight foot of the curve
		return y * 24389 / 27
	}
	return float64(116*math.Cbrt(y)) - 16
}

// palePaints are the grounds proposed, the first that does: an ivory that looks
// like paint and not like paper, then white.
var palePaints = [...]draw.Ink{{R: 0xf2, G: 0xec, B: 0xdc}, draw.White}

// PaleGround proposes a paint on which all of it is Good under a clear film of
// the given tint; false when an ink is too pale even on white.
func PaleGround(inks []draw.Ink, code bool, film draw.Ink) (draw.Ink, bool) {
	for _, p := range palePaints {
		if judge(inks, code, film, true, p).Overall() == Good {
			return p, true
		}
	}
	return draw.White, false
}
