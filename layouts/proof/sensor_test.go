package proof

import (
	"math"
	"testing"
)

// The noise has no mean, a variance of 1, and does not repeat from point to
// point or from picture to picture.
func TestNormal(t *testing.T) {
	const n = 1 << 18
	var sum, square, next, other float64
	for i := range uint32(n) {
		v := normal(7, i)
		sum += v
		square += v * v
		next += v * normal(7, i+1)
		other += v * normal(8, i)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"mean", sum / n, 0}, {"variance", square / n, 1}, {"next to each other", next / n, 0}, {"picture to picture", other / n, 0}} {
		// Four standard errors, of about 1/sqrt n each.
		if math.Abs(c.got-c.want) > 4/math.Sqrt(n) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
}

// A point of light is spread without loss over its standard deviation.
func TestBlur(t *testing.T) {
	for _, sigma := range []float64{0.6, 1, 2.5} {
		const side = 41
		in := make([]float32, side*side)
		in[side/2*side+side/2] = 1
		blur(in, side, side, sigma)
		var sum, vx, vy float64
		for i, v := range in {
			x, y := float64(i%side-side/2), float64(i/side-side/2)
			sum += float64(v)
			vx += x * x * float64(v)
			vy += y * y * float64(v)
		}
		// Cut off at three deviations and more, 3 % of the variance is lost at most.
		if math.Abs(sum-1) > 1e-4 || math.Abs(vx/(sigma*sigma)-1) > 0.03 || math.Abs(vx-vy) > 1e-4 {
			t.Errorf("sigma %v: sum %v, variances %v and %v", sigma, sum, vx, vy)
		}
	}
	flat := []float32{0.5, 0.5, 0.5, 0.5, 0.5, 0.5}
	blur(flat, 3, 2, 1.5)
	for _, v := range flat {
		if math.Abs(float64(v)-0.5) > 1e-6 {
			t.Errorf("an even field came out as %v", flat)
		}
	}
}

// An autofocus 3 % off at 100 mm spreads a point over a disc of 1.05 picture
// points (worked out by hand: 2.5·1440·(1/100 - 1/103)); nearer than 90 mm the
// lens does not go.
func TestDefocus(t *testing.T) {
	if got := 4 * (Pose{Distance: 100, Focus: 0.03}).defocus(); math.Abs(got-1.0485) > 1e-3 {
		t.Errorf("a disc of %v", got)
	}
	if got := (Pose{Distance: 100}).defocus(); got != 0 {
		t.Errorf("in focus, spread by %v", got)
	}
	if got := 4 * (Pose{Distance: 60}).defocus(); math.Abs(got-20) > 0.01 {
		t.Errorf("too near, a disc of %v", got)
	}
}

// Even light comes out as gamma has it, within the noise of the electrons.
func TestExpose(t *testing.T) {
	const side = 200
	for _, light := range []float32{0.03, 0.2, 0.8} {
		in := make([]float32, side*side)
		for i := range in {
			in[i] = light
		}
		img := Pose{Distance: 100, Seed: 3}.expose(in, side, side, newTones())
		var sum, square float64
		for _, v := range img.Pix {
			l := math.Pow(float64(v)/255, gamma)
			sum += l
			square += l * l
		}
		mean := sum / (side * side)
		want := float64(light) + flare
		if math.Abs(mean-want) > 0.002 {
			t.Errorf("light %v: mean %v, want %v", light, mean, want)
		}
		noise := math.Sqrt(square/(side*side) - mean*mean)
		if e := math.Sqrt(want*wellFull+readNoise*readNoise) / wellFull; noise < 0.9*e || noise > 1.15*e {
			t.Errorf("light %v: noise %v, want %v", light, noise, e)
		}
	}
}

// The frozen list is the Halton points it says it is.
func TestPoses(t *testing.T) {
	halton := func(i, base int) float64 {
		share, f := 0.0, 1.0
		for ; i > 0; i /= base {
			f /= float64(base)
			share += f * float64(i%base)
		}
		return share
	}
	for _, g := range []Grade{Aim, Casual} {
		for i, p := range Poses(g) {
			n := i + 1
			roll := 15.0
			if n%3 == 0 {
				roll = 180
			}
			for _, c := range []struct {
				what      string
				got, want float64
			}{
				{"yaw", p.Yaw, (2*halton(n, 2) - 1) * g.tilt()},
				{"pitch", p.Pitch, (2*halton(n, 3) - 1) * g.tilt()},
				{"distance", p.Distance, 90 + 25*halton(n, 5)},
				{"roll", p.Roll, (2*halton(n, 7) - 1) * roll},
			} {
				if math.Abs(c.got-c.want) > 0.01 {
					t.Errorf("%s %d: %s %v, want %v", g, n, c.what, c.got, c.want)
				}
			}
			if (p.Window != 0) != (n%3 == 0) {
				t.Errorf("%s %d: window %d", g, n, p.Window)
			}
		}
	}
	seeds := map[uint32]bool{}
	for _, g := range []Grade{Aim, Casual, None} {
		for _, p := range Poses(g) {
			if seeds[p.Seed] {
				t.Errorf("two pictures have the noise %d", p.Seed)
			}
			seeds[p.Seed] = true
		}
	}
}
