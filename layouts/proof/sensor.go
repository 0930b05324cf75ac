package proof

import (
	"image"
	"math"
)

// Figures of the phone, a usual main camera (all from memory, no maker's
// figures; with focal they are those the closed forms were fitted on).
const (
	pupil        = 2.5  // mm across
	nearestFocus = 90   // mm
	lensBlur     = 0.6  // picture points: standard deviation of lens and demosaicing
	wellFull     = 2000 // electrons of a full picture point
	readNoise    = 6    // electrons
	flare        = 0.02 // share of full light that strays over the whole picture
	gamma        = 2.2
)

// defocus returns the standard deviation, in picture points, of the disc into
// which a place at the distance is spread.
func (p Pose) defocus() float64 {
	at := math.Max(p.Distance*(1+p.Focus), nearestFocus)
	disc := pupil * focal * math.Abs(1/p.Distance-1/at)
	return disc / 4 // a disc across d has d/4 each way
}

// expose makes the picture that the sensor delivers of light, full scale being
// 1.
func (p Pose) expose(light []float32, w, h int, t *tones) *image.Gray {
	blur(light, w, h, math.Hypot(lensBlur, p.defocus()))
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i, l := range light {
		l += flare
		e := float64(l * wellFull)
		e += float64(math.Sqrt(e+readNoise*readNoise) * normal(p.Seed, uint32(i)))
		img.Pix[i] = t.coded(e / wellFull)
	}
	return img
}

// toneSteps is fine enough that no step of a picture is missed.
const toneSteps = 4096

// tones is the sensor's gamma as a table.
type tones [toneSteps + 1]uint8

func newTones() *tones {
	var t tones
	for i := range t {
		t[i] = uint8(math.Round(math.MaxUint8 * math.Pow(float64(i)/toneSteps, 1/gamma)))
	}
	return &t
}

func (t *tones) coded(v float64) uint8 {
	return t[int(math.Max(0, math.Min(1, v))*toneSteps+0.5)]
}

// normal is a hash of seed and index shaped like a normal deviate of variance 1:
// the sum of four even ones. It takes the place of a random number: the same
// picture has the same noise everywhere.
func normal(seed, i uint32) float64 {
	z := uint64(seed)<<32 | uint64(i)
	// The finisher of splitmix64 (public domain, from memory).
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	z ^= z >> 31
	const parts, even = 4, 1 << 16
	sum := z&(even-1) + z>>16&(even-1) + z>>32&(even-1) + z>>48
	// Each part is even over 0 to 65535, of variance (65536² - 1)/12.
	return (float64(sum) - parts*(even-1)/2.0) / (even * 0.57735026918962576)
}

// blur softens a raster by a normal of the standard deviation sigma, samples.
// Beyond its edges it goes on as it ends.
func blur(in []float32, w, h int, sigma float64) {
	kernel := bell(sigma)
	if len(kernel) == 1 {
		return
	}
	n := len(kernel) / 2
	line := make([]float32, w+2*n)
	for y := range h {
		row := in[y*w : (y+1)*w]
		for i := range n {
			line[i], line[n+w+i] = row[0], row[w-1]
		}
		copy(line[n:], row)
		for x := range row {
			sum := float32(0)
			for k, c := range kernel {
				sum += float32(c * line[x+k])
			}
			row[x] = sum
		}
	}
	// Down the columns a row at a time, which keeps to the order of memory.
	out := make([]float32, len(in))
	for y := range h {
		to := out[y*w : (y+1)*w]
		for k, c := range kernel {
			from := in[min(max(y+k-n, 0), h-1)*w:][:w]
			for x, v := range from {
				to[x] += float32(c * v)
			}
		}
	}
	copy(in, out)
}

// bell is a normal's share of each sample out to three deviations, summing to 1.
func bell(sigma float64) []float32 {
	const least, reach = 0.1, 3.0
	if !(sigma > least) {
		return []float32{1}
	}
	n := int(math.Ceil(reach * sigma))
	share := make([]float64, 2*n+1)
	sum := 0.0
	for i := range share {
		share[i] = math.Exp(-float64(i-n) * float64(i-n) / (2 * sigma * sigma))
		sum += share[i]
	}
	out := make([]float32, len(share))
	for i, s := range share {
		out[i] = float32(s / sum)
	}
	return out
}
