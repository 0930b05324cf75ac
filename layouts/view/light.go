package view

import (
	"image"
	"math"
)

// The light is one long lamp above and to the left of the camera, parallel to
// the axis, in a bright room: form shows, and paint in front keeps its colour.
// All figures are chosen by eye.
const (
	ambient  = 0.48 // of the light in front, on what faces away from the lamp
	softness = 0.35 // the lamp is wide: it reaches round the limb by so much

	// The highlight on the varnish lies where the surface has turned this far
	// from the camera towards the lamp, so that it keeps off what is read.
	glossAt    = -0.92 // radians
	glossWidth = 0.10  // radians
	glossPeak  = 0.80  // of the way to white, at a gloss of 1
	haloWidth  = 0.34
	haloPeak   = 0.16
	haloReach  = 2.6 * haloWidth // beyond it less than a step of 255
	lampTilt   = 0.9             // slope of the side beyond which the lamp is no more mirrored

	shadowDark  = 0.17 // share of light taken under the float
	shadowShift = 0.55 // of the largest radius, away from the lamp
	shadowBlur  = 0.45 // of the largest radius
	maxBlur     = 60   // pixels
)

// backdrop is the ground behind the float: a pale neutral.
var backdrop = rgb{244, 243, 240}

// rgb is a colour in sRGB steps, 0 to 255, that may lie between two of them.
type rgb [3]float32

func (c rgb) scaled(k float32) rgb { return rgb{c[0] * k, c[1] * k, c[2] * k} }

func (c rgb) mix(d rgb, t float32) rgb {
	return rgb{c[0] + (d[0]-c[0])*t, c[1] + (d[1]-c[1])*t, c[2] + (d[2]-c[2])*t}
}

// times is one transparent colour over another.
func (c rgb) times(d rgb) rgb {
	const full = 255
	return rgb{c[0] * d[0] / full, c[1] * d[1] / full, c[2] * d[2] / full}
}

// lamp is the direction to the light: across the axis, towards the camera, and
// along the axis. It comes from above and the left of the picture.
func (l lens) lamp() (across, near, along float64) {
	if l.upright {
		return -0.44, 0.86, 0.26
	}
	return -0.48, 0.86, -0.17
}

// shade returns how much light the surface with this unit normal sends on: 1
// where it faces the camera. The lamp goes with the camera: the float is tipped
// under it.
func (l lens) shade(across, near, along float64) float64 {
	x, y, z := l.lamp()
	near, along = float64(near*l.cos)+float64(along*l.sin), float64(along*l.cos)-float64(near*l.sin)
	lit := (float64(x*across) + float64(y*near) + float64(z*along) + softness) / (y + softness)
	return min(1, ambient+(1-ambient)*max(0, lit))
}

// shine returns the share of white the varnish adds where the surface has turned
// phi from the camera and has the slope dr/dz.
func shine(phi, slope float64) float64 {
	bell := func(width float64) float64 { q := (phi - glossAt) / width; return math.Exp(-q * q) }
	tilt := slope / lampTilt
	tilt *= tilt
	return (glossPeak*bell(glossWidth) + haloPeak*bell(haloWidth)) / (1 + tilt*tilt)
}

// ground paints the backdrop with the float's soft shadow, as a plane of
// along x across colours. wide is the silhouette, in pixels to each side, of
// each line of it.
func (l lens) ground(wide []float64, radius float64) []rgb {
	mask := make([]float32, l.along*l.across)
	shift := shadowShift * radius * l.k
	for i := range l.along {
		w := (wide[lines*i] + wide[lines*i+1]) / lines
		for j := range l.across {
			mask[i*l.across+j] = float32(overlap(float64(j)-shift-float64(l.across)/2, 1, w))
		}
	}
	blur := int(min(maxBlur, math.Round(shadowBlur*radius*l.k)))
	for range 2 { // twice a box is a tent: no edges
		box(mask, l.along, l.across, 1, l.across, blur)
		box(mask, l.across, l.along, l.across, 1, blur)
	}
	out := make([]rgb, len(mask))
	for i, m := range mask {
		out[i] = backdrop.scaled(1 - shadowDark*m)
	}
	return out
}

// overlap is the length of the part of [x, x+d] within w of 0.
func overlap(x, d, w float64) float64 { return max(0, min(x+d, w)-max(x, -w)) }

// box averages rows of a plane over reach places to either side. There are rows
// of n places; places of a row are step apart, rows are apart.
func box(v []float32, rows, n, step, apart, reach int) {
	if reach < 1 {
		return
	}
	sum := make([]float64, n+1)
	for r := range rows {
		row := v[r*apart:]
		for i := range n {
			sum[i+1] = sum[i] + float64(row[i*step])
		}
		for i := range n {
			row[i*step] = float32((sum[min(n, i+reach+1)] - sum[max(0, i-reach)]) / float64(2*reach+1))
		}
	}
}

// set writes a colour of the plane (along, across) to its pixel.
func (l lens) set(img *image.RGBA, along, across int, c rgb) {
	x, y := along, across
	if l.upright {
		x, y = across, l.along-1-along
	}
	p := img.Pix[img.PixOffset(x, y):][:4]
	for i := range c {
		p[i] = uint8(min(max(c[i], 0), 255) + 0.5)
	}
	p[3] = 255
}
