package decal

import (
	"math"
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
)

// A widened code has its columns on the girth as legible gives them and its rows
// a module high; its middle lies on the meridian, and nothing stands in its pale
// edge.
func TestWidenedCode(t *testing.T) {
	s := spec(t, full, 9, 9, 40)
	s.Prove = func(c Code) Proof {
		if c.Front() {
			return Proof{Grade: legible.Aim, Why: "it reads"}
		}
		return Proof{Why: "it does not"}
	}
	r := lay(t, s)
	if !r.CodeOn || !r.Code.Front() {
		t.Fatalf("code on the float %v: %v", r.CodeOn, r.Notices)
	}
	var box geom.Rect
	edges := map[float64]bool{}
	draw.Walk(r.Pieces[0].Drawing.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
		if f, ok := o.(*draw.Fill); ok && rigid {
			path := f.Path.Transform(at)
			box = path.Bounds()
			for _, seg := range path {
				if seg.Verb == geom.Close {
					continue
				}
				edges[math.Round(seg.P[0].X*1e6)/1e6] = true
			}
		}
	})
	n := r.Code.Matrix.N
	if math.Abs(box.W()-(r.Code.Columns[n]-r.Code.Columns[0])) > 1e-9 || math.Abs(box.H()-float64(n)*r.Code.Module) > 1e-9 {
		t.Errorf("code %v, want %v by %v", box, r.Code.Wide(n), float64(n)*r.Code.Module)
	}
	if math.Abs(box.Min.X+box.Max.X) > 1e-9 || math.Abs((box.Min.Y+box.Max.Y)/2-r.Code.Flat.Frame(r.Code.Theta, r.Code.S).Apply(geom.Point{}).Y) > 1e-9 {
		t.Errorf("code %v is not about its place", box)
	}
	for x := range edges {
		found := false
		for _, c := range r.Code.Columns {
			found = found || math.Abs(x-c) < 1e-5
		}
		if !found {
			t.Errorf("an edge at %v is no column's", x)
		}
	}
	if len(r.Code.Proved) == 0 || !strings.Contains(r.Code.Proved[len(r.Code.Proved)-1], "widened") {
		t.Errorf("told: %q", r.Code.Proved)
	}
}

// The pictures decide: the first that reads however it is held, else the first
// that reads held square, and none where that is not enough or nothing reads.
func TestPicturesDecide(t *testing.T) {
	grades := func(plain8, plain7, rest string) func(Code) Proof {
		return func(c Code) Proof {
			switch {
			case c.Front() || c.Dots < 7:
				return Proof{Grade: rest, Why: "so"}
			case c.Dots == 8:
				return Proof{Grade: plain8, Why: "so"}
			}
			return Proof{Grade: plain7, Why: "so"}
		}
	}
	for name, c := range map[string]struct {
		prove func(Code) Proof
		want  string
		dots  int
		told  int
	}{
		"casual at once":      {grades(legible.Casual, "", ""), "", 8, 1},
		"aim, then casual":    {grades(legible.Aim, legible.Casual, ""), "", 7, 2},
		"the first held so":   {grades(legible.Aim, legible.Aim, legible.Aim), "", 8, 1},
		"only the third":      {grades("", "", legible.Aim), "", 7, 3},
		"square is not asked": {grades(legible.Aim, legible.Aim, legible.Aim), legible.Casual, 0, 0},
		"nothing":             {grades("", "", ""), "", 0, 0},
		"no answer yet":       {func(Code) Proof { return Proof{Open: true} }, "", 8, 1},
	} {
		s := spec(t, full, 16, 13.4, 28)
		s.Prove, s.Want = c.prove, c.want
		r := lay(t, s)
		if r.CodeOn != (c.dots > 0) {
			t.Errorf("%s: code on the float %v", name, r.CodeOn)
			continue
		}
		if !r.CodeOn {
			if len(r.Notices) == 0 || r.Notices[0].Code != "code-on-card" || !strings.Contains(r.Notices[0].Text, "simulated") {
				t.Errorf("%s: %v", name, r.Notices)
			}
			if !strings.Contains(texts(r), "9KYA3C") {
				t.Errorf("%s: no id on the float", name)
			}
			continue
		}
		if r.Code.Dots != c.dots || len(r.Code.Proved) < c.told {
			t.Errorf("%s: %d dots, told %q", name, r.Code.Dots, r.Code.Proved)
		}
	}
}

// What is proved is where it was drawn, whichever way the words run.
func TestProvedWhereItLies(t *testing.T) {
	for _, turn := range []label.Turn{label.Auto, label.Round, label.Lengthwise} {
		s := spec(t, full, 16, 13.4, 28)
		s.Pattern.Zones[0].Turn = turn
		var asked []Code
		s.Prove = func(c Code) Proof {
			asked = append(asked, c)
			return Proof{Grade: legible.Casual}
		}
		r := lay(t, s)
		if !r.CodeOn || len(asked) != 1 {
			t.Fatalf("turn %v: asked %d times, on the float %v", turn, len(asked), r.CodeOn)
		}
		var box geom.Rect
		draw.Walk(r.Pieces[0].Drawing.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
			if f, ok := o.(*draw.Fill); ok && rigid {
				box = f.Path.Transform(at).Bounds()
			}
		})
		at := asked[0].Flat.Frame(asked[0].Theta, asked[0].S).Apply(geom.Point{})
		if math.Abs((box.Min.X+box.Max.X)/2-at.X) > 1e-9 || math.Abs((box.Min.Y+box.Max.Y)/2-at.Y) > 1e-9 {
			t.Errorf("turn %v: proved at %v, drawn at %v", turn, at, box)
		}
	}
}
