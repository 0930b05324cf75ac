package proof

import (
	"image"
	"math"

	"floatmark/label/symbol"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/view"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// studio is a design made ready for its pictures.
type studio struct {
	d      Design
	films  []*film
	tones  *tones
	skin   *view.Skin
	ground float64 // reflectance of the pale squares
	z      unit.Millimetre
	foot   float64     // slant on the skin of the piece's lower edge, mm
	home   geom.Affine // from the piece to the code's own place, its middle in the origin
	xs, ys []float64   // edges of the columns and the rows, mm from the code's middle
	half   float64     // angle round the body from the code's middle to its edge
	all    bool        // make every picture, however few are foreseen
	// place puts a hit on the code, mm from its middle.
	place func(h view.Hit) geom.Point
}

// about, mm, is how much of the body is looked at beyond the code's pale edge.
const about unit.Millimetre = 6

// Reflectances of what is not the code.
const (
	// behind is the hand or table behind the float: the grey of photographers'
	// cards (from memory).
	behind = 0.18
	// darkest is the least of any paint (estimate).
	darkest = 0.05
)

// ground is what the pale squares give back.
func (d Design) ground() float64 {
	l := legible.LightOf(d.Film)
	if d.Clear {
		l = legible.LightOf(d.Paint).Under(l)
	}
	y := float64(0.2126*l[0]) + float64(0.7152*l[1]) + float64(0.0722*l[2]) // ITU-R BT.709
	return math.Max(darkest, whitest*y)
}

func newStudio(d Design) (*studio, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	d.Codes = d.Codes[:min(len(d.Codes), MaxCodes)]
	st := &studio{d: d, tones: newTones(), ground: d.ground(), xs: d.columns(), ys: d.rows()}
	patch := unit.Millimetre((float64(d.Codes[0].N)/2 + float64(d.Quiet)) * d.Module)
	// The zone's edges bound the code; the skin goes on about it.
	whole := view.NewSkin(d.Profile, d.Flat.From, d.Flat.To)
	st.z = whole.Height(d.S)
	st.skin = view.NewSkin(d.Profile, st.z-patch-about, st.z+patch+about)
	st.foot = st.skin.Slant(st.z) - d.S
	home, ok := d.Flat.Frame(d.Theta, d.S).Inverse()
	if !ok {
		return nil, fault.New(fault.Ours, "", "the code's place on the piece has no inverse", "")
	}
	st.home = home
	st.half = d.Flat.Angle(st.xs[len(st.xs)-1], d.S)
	st.place = func(h view.Hit) geom.Point {
		return st.home.Apply(st.d.Flat.At(st.d.Theta+h.Phi, h.S-st.foot))
	}
	for _, m := range d.Codes {
		st.films = append(st.films, d.printed(m, st.ground))
	}
	return st, nil
}

// code is the number of the code in the i-th picture.
func (st *studio) code(i int) int { return i / PosesPerCode % len(st.films) }

func (st *studio) matrix(i int) symbol.Matrix { return st.d.Codes[st.code(i)] }

const (
	// margin is left round the code in a picture, picture points.
	margin = 12
	// sub is the samples of a picture point each way.
	sub = 3
)

// frame returns the picture's rectangle: the code with its pale edge, as far as
// it is seen, and a margin.
func (st *studio) frame(l view.Sight) image.Rectangle {
	d := st.d
	wide := st.xs[len(st.xs)-1] + float64(d.Quiet)*d.Module
	high := st.ys[len(st.ys)-1] + float64(d.Quiet)*d.Module
	box := image.Rectangle{}
	const looks = 8 // along half a side
	for i := -looks; i <= looks; i++ {
		for j := -looks; j <= looks; j++ {
			s := d.S + float64(high*float64(j)/looks)
			phi := d.Flat.Angle(float64(wide*float64(i)/looks), d.S)
			phi = math.Max(-math.Pi/2, math.Min(math.Pi/2, phi))
			x, y := l.Project(phi, st.skin.Height(s+st.foot))
			at := image.Rect(int(math.Floor(x)), int(math.Floor(y)), int(math.Floor(x))+1, int(math.Floor(y))+1)
			box = box.Union(at)
		}
	}
	return box.Inset(-margin)
}

// seen is what a ray meets: a place on the code and the light there.
type seen struct {
	x, y  float32 // mm from the code's middle
	shade float32 // of the light on it
	shine float32 // light mirrored by the varnish
	hit   bool
}

// picture is the phone's picture of code number k.
func (st *studio) picture(p Pose, k int) *image.Gray {
	l := p.phone().Aim(st.skin, st.z)
	box := st.frame(l)
	w, h := box.Dx(), box.Dy()
	light := make([]float32, w*h)
	// Rays go through the corners of the picture points, and what lies between
	// them runs straight: nothing bends within a point.
	upper, lower := make([]seen, w+1), make([]seen, w+1)
	st.row(l, p, box, box.Min.Y, upper)
	for y := range h {
		st.row(l, p, box, box.Min.Y+y+1, lower)
		for x := range w {
			light[y*w+x] = st.point(st.films[k], &upper[x], &upper[x+1], &lower[x], &lower[x+1])
		}
		upper, lower = lower, upper
	}
	return p.expose(light, w, h, st.tones)
}

// row traces the rays of one row of corners.
func (st *studio) row(l view.Sight, p Pose, box image.Rectangle, y int, out []seen) {
	guess := math.NaN()
	toPhone, up := l.Back(), l.Up()
	// An overcast sky: from above and behind the phone, the rest from all round.
	const sky = 0.5
	var lamp [3]float64
	for i := range lamp {
		lamp[i] = (toPhone[i] + up[i]) / math.Sqrt2
	}
	for i := range out {
		h, ok := l.Hit(float64(box.Min.X+i), float64(y), guess)
		if !ok {
			out[i] = seen{}
			continue
		}
		guess = h.Z
		q := st.place(h)
		facing := float64(h.Normal[0]*lamp[0]) + float64(h.Normal[1]*lamp[1]) + float64(h.Normal[2]*lamp[2])
		out[i] = seen{x: float32(q.X), y: float32(q.Y), hit: true, shade: float32(1 - sky + float64(sky*math.Max(0, facing)))}
		if p.Window != 0 && st.d.Gloss > 0 {
			out[i].shine = float32(st.shine(h.Phi, p.Window))
		}
	}
}

// A window mirrored by round varnish is a line along the body.
const (
	// windowPeak is its light in shares of white, windowWide its width, radians,
	// and windowOff how far beyond the code's edge it stands (estimates).
	windowPeak = 1.2
	windowWide = 5 * math.Pi / 180
	windowOff  = 12 * math.Pi / 180
)

func (st *studio) shine(phi float64, side int) float64 {
	off := (phi - float64(side)*(st.half+windowOff)) / windowWide
	return st.d.Gloss * windowPeak * whitest * math.Exp(-off*off/2)
}

// point is the light of one picture point between four corners.
func (st *studio) point(f *film, a, b, c, d *seen) float32 {
	if !(a.hit && b.hit && c.hit && d.hit) {
		return behind
	}
	sum := float32(0)
	for j := range sub {
		v := (float32(j) + 0.5) / sub
		x0, y0 := a.x+float32((c.x-a.x)*v), a.y+float32((c.y-a.y)*v)
		x1, y1 := b.x+float32((d.x-b.x)*v), b.y+float32((d.y-b.y)*v)
		for i := range sub {
			u := (float32(i) + 0.5) / sub
			sum += f.reflectance(x0+float32((x1-x0)*u), y0+float32((y1-y0)*u))
		}
	}
	const all = sub * sub
	return float32(sum/all*(a.shade+b.shade+c.shade+d.shade)/4) + (a.shine+b.shine+c.shine+d.shine)/4
}
