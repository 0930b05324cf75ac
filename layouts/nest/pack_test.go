package nest

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

var every = []int{0, 1, 2, 3}

// a4Sheet has 200 x 287 mm inside its margins.
var a4Sheet = Area{Size: a4, Margin: 5}

func pack(t interface {
	Helper()
	Fatal(...any)
}, pieces []Piece, used []Area, fresh Area, o Options) ([]Placed, Report) {
	t.Helper()
	placed, report, err := Pack(context.Background(), pieces, used, fresh, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return placed, report
}

// heavy runs are asked for by FLOATMARK_HEAVY, as the checks before a landing do.
func heavy() bool { return os.Getenv("FLOATMARK_HEAVY") != "" }

// The goals were set for this mix before the engine was written; the bound of
// 80.5 % (81.9 % strictly) is what no layout with a gap of 2 mm can pass.
func TestGoals(t *testing.T) {
	for _, c := range []struct {
		sets, squares int
		least         float64
		most          int
	}{{1, 10, 0.59, 1}, {17, 150, 0.67, 8}} {
		if c.sets > 1 && !heavy() {
			continue // a thousand pieces take a quarter of a minute
		}
		pieces := batchMix(c.sets, c.squares)
		placed, r := pack(t, pieces, nil, a4Sheet, Options{Gap: 2})
		checkPlain(t, pieces, placed, nil, a4Sheet, 2)
		_, u, err := Rows(pieces, a4, 5, 2)
		if err != nil {
			t.Fatal(err)
		}
		// .ci/nestpeer.mjs reads this line.
		t.Logf("ours: %d pieces: %d sheets, %.3f spent, net %.2f %% (%s)", len(pieces), r.Fresh, r.Sheets(a4Sheet), 100*r.Net(), r.Rule)
		t.Logf("rows: %d sheets, %.3f spent, net %.2f %%; bounds %.3f sheets by area, %.3f with the gap",
			u.Sheets, u.Spent/(200*287), 100*u.Net(), r.AreaBound, r.GapBound)
		if r.Net() < c.least || r.Fresh > c.most {
			t.Errorf("%d pieces: net %.4f on %d sheets, want %v on %d", len(pieces), r.Net(), r.Fresh, c.least, c.most)
		}
		if got := r.AreaBound / r.GapBound; math.Abs(got-0.819) > 0.002 {
			t.Errorf("the bound is %.4f net, want 0.819", got)
		}
		if math.Abs(r.Pieces-u.Pieces) > 1e-6*u.Pieces || r.Sheets(a4Sheet) < r.GapBound {
			t.Errorf("%+v against %+v", r, u)
		}
	}
}

// polygons are the outline of a piece on its sheet and what captions it has, or
// all of its box below the outline if it does not tell.
func polygons(p Piece, at Placed) [][]geom.Point {
	o := p.Outline
	if len(o) == 0 {
		o = geom.Rectangle(p.Box)
	}
	all := append(o.Transform(at.At).Flatten(0.005), p.Beside.Transform(at.At).Flatten(0.005)...)
	if below := o.Bounds().Max.Y; len(p.Beside) == 0 && p.Box.Max.Y > below {
		r := geom.Rect{Min: geom.Point{X: p.Box.Min.X, Y: below}, Max: p.Box.Max}
		all = append(all, geom.Rectangle(r).Transform(at.At).Flatten(0.005)...)
	}
	return all
}

// checkPlain proves a layout by points and edges alone, with nothing of the engine.
func checkPlain(t interface{ Fatalf(string, ...any) }, pieces []Piece, placed []Placed, used []Area, fresh Area, gap float64) {
	const tolerance = 1e-6
	if len(placed) != len(pieces) {
		t.Fatalf("%d places for %d pieces", len(placed), len(pieces))
	}
	away := func(name string, a [][]geom.Point, other string, b [][]geom.Point) {
		for _, r := range a {
			for _, s := range b {
				ra, rb := geom.Polygon(r...).Bounds(), geom.Polygon(s...).Bounds()
				if !ra.Inset(-gap).Overlaps(rb) {
					continue
				}
				if d := distance(r, s); d < gap-tolerance {
					t.Fatalf("%s and %s are %v apart, want %v", name, other, d, gap)
				}
				if inside(r[0], s) || inside(s[0], r) {
					t.Fatalf("%s lies in %s", name, other)
				}
			}
		}
	}
	all := make([][][]geom.Point, len(placed))
	for i, p := range placed {
		if p.Piece != i {
			t.Fatalf("place %d is of piece %d", i, p.Piece)
		}
		turns := pieces[i].Turns
		if len(turns) == 0 {
			turns = []int{0}
		}
		allowed := false
		for _, turn := range turns {
			r := geom.Rotate(float64(turn) * math.Pi / 2)
			allowed = allowed || r.A == p.At.A && r.B == p.At.B && r.C == p.At.C && r.D == p.At.D
		}
		if !allowed {
			t.Fatalf("%s is turned as %v, allowed %v", pieces[i].Name, p.At, turns)
		}
		sheet := fresh
		if p.Sheet < len(used) {
			sheet = used[p.Sheet]
		}
		all[i] = polygons(pieces[i], p)
		for _, r := range all[i] {
			for _, q := range r {
				if m := sheet.Margin - tolerance; q.X < m || q.Y < m || q.X > sheet.Size.W-m || q.Y > sheet.Size.H-m {
					t.Fatalf("%s has a point at %v", pieces[i].Name, q)
				}
			}
		}
		for n, taken := range sheet.Taken {
			away(pieces[i].Name, all[i], fmt.Sprint("what is taken ", n), taken.Flatten(0.005))
		}
		for j := range i {
			if placed[j].Sheet == p.Sheet {
				away(pieces[i].Name, all[i], pieces[j].Name, all[j])
			}
		}
	}
}

// job is a random job on small sheets.
type job struct {
	pieces []Piece
	used   []Area
	fresh  Area
	o      Options
}

func genJob(t *rapid.T) job {
	j := job{fresh: Area{Size: geom.Size{W: rapid.SampledFrom([]float64{100, 105, 148}).Draw(t, "w"), H: rapid.SampledFrom([]float64{100, 148, 210}).Draw(t, "h")},
		Margin: rapid.SampledFrom([]float64{0, 3, 5}).Draw(t, "margin")},
		o: Options{Gap: rapid.SampledFrom([]float64{0.3, 1, 2, 3.5}).Draw(t, "gap"), Quick: rapid.IntRange(0, 2).Draw(t, "quick") > 0,
			Strip: rapid.Bool().Draw(t, "strip"), Feed: Edge(rapid.IntRange(0, 3).Draw(t, "feed")), Together: rapid.Bool().Draw(t, "together")}}
	size := rapid.SampledFrom([]float64{3, 9, 12, 20, 33.3, 44, 66, 84})
	turns := rapid.SampledFrom([][]int{nil, {0}, {1}, {0, 2}, every, {3, -1, 7}})
	n := rapid.IntRange(1, 5).Draw(t, "kinds")
	for range n {
		var p Piece
		if rapid.Bool().Draw(t, "round") {
			r := size.Draw(t, "r") / 2
			p = sector("", r/2, r, rapid.Float64Range(10, 340).Draw(t, "sweep"), turns.Draw(t, "turns")...)
		} else {
			p = box("", size.Draw(t, "w"), size.Draw(t, "h"), turns.Draw(t, "turns")...)
		}
		if len(p.Outline) > 0 && rapid.Bool().Draw(t, "caption") {
			b := p.Box
			p.Box.Max.Y += 3
			if rapid.Bool().Draw(t, "told") {
				p.Beside = geom.Rectangle(geom.XYWH(b.Min.X, b.Max.Y+0.5, b.W()/2, 1.5))
			}
		}
		p.Keep = rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "keep")
		for range rapid.IntRange(1, 8).Draw(t, "count") {
			p.Name = fmt.Sprint("piece ", len(j.pieces)+1)
			j.pieces = append(j.pieces, p)
		}
	}
	return j
}

func taken(t *rapid.T, s geom.Size) geom.Path {
	at := geom.Point{X: rapid.Float64Range(-10, s.W).Draw(t, "x"), Y: rapid.Float64Range(-10, s.H).Draw(t, "y")}
	if rapid.Bool().Draw(t, "circle") {
		return geom.Circle(at, rapid.Float64Range(1, 40).Draw(t, "radius"))
	}
	return geom.Rectangle(geom.XYWH(at.X, at.Y, rapid.Float64Range(1, s.W).Draw(t, "w"), rapid.Float64Range(1, s.H).Draw(t, "h")))
}

// Over 200 random jobs: true to the gap, inside, and never worse than Rows.
func TestPack(t *testing.T) {
	parts := []string{"first", "second", "third"}
	if !heavy() {
		parts = parts[:1]
	}
	for _, part := range parts {
		t.Run(part, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				j := genJob(t)
				placed, r := pack(t, j.pieces, nil, j.fresh, j.o)
				checkPlain(t, j.pieces, placed, nil, j.fresh, j.o.Gap)
				plain := j.pieces
				if !j.o.Together {
					plain = append([]Piece(nil), plain...)
					for i := range plain {
						plain[i].Keep = ""
					}
				}
				// With a strip from a side, rows run from that side.
				size := j.fresh.Size
				q := 0
				if j.o.Strip {
					if q = j.o.Feed.Opposite().quarter(); q%2 == 1 {
						size.W, size.H = size.H, size.W
					}
					plain = append([]Piece(nil), plain...)
					for i := range plain {
						turns := plain[i].Turns
						if len(turns) == 0 {
							turns = []int{0}
						}
						plain[i].Turns = nil
						for _, turn := range turns {
							plain[i].Turns = append(plain[i].Turns, turn+q)
						}
					}
				}
				_, u, err := Rows(plain, size, j.fresh.Margin, j.o.Gap)
				if err != nil {
					t.Fatal(err)
				}
				if r.Fresh > u.Sheets || r.Spent > u.Spent+0.01 {
					t.Fatalf("%d sheets, %.2f mm² spent (%s); rows need %d, %.2f", r.Fresh, r.Spent, r.Rule, u.Sheets, u.Spent)
				}
				if r.Net() <= 0 || r.Net() > 1 || r.Used != 0 || len(r.Strips) != r.Fresh || float64(r.Fresh) < r.GapBound || r.Sheets(j.fresh) < r.AreaBound {
					t.Fatalf("%+v", r)
				}
				if !j.o.Strip {
					return
				}
				for _, s := range r.Strips {
					if s.Edge != j.o.Feed.Opposite() {
						t.Fatalf("a strip from edge %v, the feed edge is %v", s.Edge, j.o.Feed)
					}
				}
				last := r.Strips[len(r.Strips)-1]
				for i, p := range placed {
					if p.Sheet == last.Sheet && !last.Part.Inset(-1e-6).Contains(geom.Rectangle(j.pieces[i].Box).Transform(p.At).Bounds()) && len(j.pieces[i].Beside) == 0 {
						t.Fatalf("%s leaves the strip %v", j.pieces[i].Name, last.Part)
					}
				}
			})
		})
	}
}

// Part-used sheets first, and nothing on what is taken of them.
func TestPartUsed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := genJob(t)
		j.o.Quick = true
		for range rapid.IntRange(1, 2).Draw(t, "sheets") {
			a := Area{Size: j.fresh.Size, Margin: j.fresh.Margin}
			for range rapid.IntRange(1, 3).Draw(t, "regions") {
				a.Taken = append(a.Taken, taken(t, a.Size))
			}
			j.used = append(j.used, a)
		}
		placed, r := pack(t, j.pieces, j.used, j.fresh, j.o)
		checkPlain(t, j.pieces, placed, j.used, j.fresh, j.o.Gap)
		_, without := pack(t, j.pieces, nil, j.fresh, j.o)
		if r.Fresh > without.Fresh {
			t.Fatalf("%d fresh sheets, without the part-used ones %d", r.Fresh, without.Fresh)
		}
		for i, p := range placed {
			if p.Sheet >= len(j.used)+r.Fresh {
				t.Fatalf("%s lies on sheet %d", j.pieces[i].Name, p.Sheet)
			}
		}
	})
}

// What is left of a sheet is filled before a fresh one is opened; a strip taken
// before stays a strip.
func TestStripAfterStrip(t *testing.T) {
	o := Options{Gap: 2, Strip: true, Feed: Left}
	pieces := batchMix(1, 10)
	_, first := pack(t, pieces, nil, a4Sheet, o)
	if len(first.Strips) != 1 || first.Strips[0].Edge != Right {
		t.Fatalf("%+v", first)
	}
	part := first.Strips[0].Part
	if part.Max != (geom.Point{X: 210, Y: 297}) || part.Min.Y != 0 || part.Min.X < 100 {
		t.Fatalf("the strip is %v", part)
	}
	rest := Area{Size: a4, Margin: 5, Taken: []geom.Path{geom.Rectangle(part)}}
	some := pieces[:20]
	placed, second := pack(t, some, []Area{rest}, a4Sheet, o)
	checkPlain(t, some, placed, []Area{rest}, a4Sheet, 2)
	if second.Fresh != 0 || second.Used != 1 || second.OnUsed != second.Pieces || second.Net() != 0 {
		t.Errorf("%+v", second)
	}
	if p := second.Strips[0].Part; p.Min.X > part.Min.X-10 || p.Max != part.Max {
		t.Errorf("strip %v after %v", p, part)
	}
}

func TestSameLayoutEachTime(t *testing.T) {
	pieces := batchMix(1, 10)
	for _, o := range []Options{{Gap: 2, Quick: true}, {Gap: 1.5, Strip: true}} {
		placed, r := pack(t, pieces, nil, a4Sheet, o)
		before := runtime.GOMAXPROCS(1)
		again, r2 := pack(t, pieces, nil, a4Sheet, o)
		runtime.GOMAXPROCS(before)
		if !reflect.DeepEqual(placed, again) || !reflect.DeepEqual(r, r2) {
			t.Errorf("%+v: two runs, two layouts", o)
		}
	}
}

func TestTogether(t *testing.T) {
	var pieces []Piece
	for i := range 40 {
		s := sector(fmt.Sprint("float ", i+1), 14, 28, 77, every...)
		b := box(fmt.Sprint("stem ", i+1), 14, 20, every...)
		s.Keep, b.Keep = s.Name, s.Name
		pieces = append(pieces, s, b)
	}
	fresh := Area{Size: geom.Size{W: 148, H: 105}, Margin: 5}
	apart := func(o Options) int {
		placed, _ := pack(t, pieces, nil, fresh, o)
		checkPlain(t, pieces, placed, nil, fresh, o.Gap)
		n := 0
		for i := 0; i < len(placed); i += 2 {
			if placed[i].Sheet != placed[i+1].Sheet {
				n++
			}
		}
		return n
	}
	if n := apart(Options{Gap: 2, Together: true, Quick: true}); n != 0 {
		t.Errorf("%d floats have their pieces on two sheets", n)
	}
	if n := apart(Options{Gap: 2, Quick: true}); n == 0 {
		t.Error("no float is spread without the wish: the check above shows nothing")
	}
}

func TestGrain(t *testing.T) {
	pieces := batchMix(1, 0)
	placed, _ := pack(t, pieces, nil, a4Sheet, Options{Gap: 2, Grain: true, Quick: true})
	for i, p := range placed {
		if p.At.A == 0 {
			t.Fatalf("%s lies across the grain", pieces[i].Name)
		}
	}
	placed, _ = pack(t, pieces, nil, a4Sheet, Options{Gap: 2, Grain: true, Across: true, Quick: true})
	for i, p := range placed {
		if p.At.A != 0 {
			t.Fatalf("%s lies across the grain of a sheet whose grain runs across", pieces[i].Name)
		}
	}
	pieces[3].Turns, pieces[5].Turns = []int{1}, []int{3, 1}
	_, _, err := Pack(context.Background(), pieces, nil, a4Sheet, Options{Gap: 2, Grain: true}, nil)
	all := fault.List(err)
	if len(all) != 2 || all[0].Class != fault.Input || all[0].Where != pieces[3].Name || all[1].Where != pieces[5].Name || all[0].Do == "" {
		t.Errorf("%v: want pieces 4 and 6", err)
	}
	pieces[3].Turns, pieces[5].Turns = []int{0, 1, 2, 3}, []int{0}
	if _, _, err = Pack(context.Background(), pieces, nil, a4Sheet, Options{Gap: 2, Grain: true, Across: true}, nil); len(fault.List(err)) != 1 || fault.List(err)[0].Where != pieces[5].Name {
		t.Errorf("%v: want piece 6", err)
	}
}

func TestPackRefuses(t *testing.T) {
	nan := math.NaN()
	good := []Piece{box("float 1", 10, 10)}
	broken := sector("float 2", 5, 10, 90)
	broken.Outline[1].P[0].X = nan
	leaves := sector("float 2", 5, 10, 90)
	leaves.Box = leaves.Box.Inset(1)
	full := Area{Size: a4, Margin: 5, Taken: []geom.Path{geom.Rectangle(geom.XYWH(-1, -1, 212, 299))}}
	half := Area{Size: a4, Margin: 5, Taken: []geom.Path{geom.Rectangle(geom.XYWH(0, 0, 210, 150))}}
	for name, c := range map[string]struct {
		pieces []Piece
		used   []Area
		fresh  Area
		gap    float64
		class  fault.Class
		says   string
	}{
		"zero gap":        {good, nil, a4Sheet, 0, fault.Input, "gap"},
		"negative gap":    {good, nil, a4Sheet, -1, fault.Input, "gap"},
		"gap no number":   {good, nil, a4Sheet, nan, fault.Input, "gap"},
		"endless gap":     {good, nil, a4Sheet, math.Inf(1), fault.Input, "gap"},
		"no sheet":        {good, nil, Area{}, 2, fault.Input, "no sheet"},
		"sheet no number": {good, nil, Area{Size: geom.Size{W: nan, H: 297}}, 2, fault.Input, "size"},
		"negative margin": {good, nil, Area{Size: a4, Margin: -1}, 2, fault.Input, "margin"},
		"all margin":      {good, nil, Area{Size: a4, Margin: 105}, 2, fault.Input, "210 x 297 mm"},
		"taken no number": {good, []Area{{Size: a4, Taken: []geom.Path{broken.Outline}}}, a4Sheet, 2, fault.Input, "used region"},
		"box no number":   {[]Piece{{Name: "x", Box: geom.XYWH(0, 0, nan, 1)}}, nil, a4Sheet, 2, fault.Ours, "size"},
		"no size":         {[]Piece{{Name: "x"}}, nil, a4Sheet, 2, fault.Ours, "size"},
		"outline broken":  {[]Piece{broken}, nil, a4Sheet, 2, fault.Ours, "size"},
		"outline leaves":  {[]Piece{leaves}, nil, a4Sheet, 2, fault.Ours, "leaves"},
		"too large":       {[]Piece{box("float 3", 250, 20, 0, 2)}, nil, a4Sheet, 2, fault.NoFit, "250 x 20 mm does not fit into the 200 x 287 mm"},
		"nothing free":    {good, []Area{full}, Area{}, 2, fault.NoFit, "10 x 10 mm"},
		"too little free": {[]Piece{box("float 4", 180, 150)}, []Area{half}, half, 2, fault.NoFit, "180 x 150 mm"},
	} {
		_, _, err := Pack(context.Background(), c.pieces, c.used, c.fresh, Options{Gap: c.gap}, nil)
		if err == nil || fault.ClassOf(err) != c.class || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want class %v with %q", name, err, c.class, c.says)
		} else if all := fault.List(err); c.class != fault.Ours && all[0].Do == "" {
			t.Errorf("%s: nothing to do about it", name)
		}
	}
	if placed, r, err := Pack(context.Background(), nil, nil, a4Sheet, Options{Gap: 2}, nil); len(placed) != 0 || !reflect.DeepEqual(r, Report{}) || err != nil {
		t.Errorf("nothing to place: %v %v %v", placed, r, err)
	}
	// Exactly as large as the room, and as what a used region leaves.
	whole := []Piece{box("float 5", 200, 287)}
	if _, r := pack(t, whole, nil, a4Sheet, Options{Gap: 2}); math.Abs(r.Net()-1) > 1e-9 {
		t.Errorf("net %v", r.Net())
	}
}

func TestPackStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	calls := 0
	_, _, err := Pack(ctx, batchMix(2, 20), nil, a4Sheet, Options{Gap: 2}, func(done, total int) {
		if calls++; done != calls || total < done {
			t.Errorf("call %d: %d of %d", calls, done, total)
		}
		stop()
	})
	if !errors.Is(err, context.Canceled) || calls == 0 {
		t.Errorf("%v after %d calls", err, calls)
	}
}

// The proof itself: a layout that is wrong is refused.
func TestVerifyRefuses(t *testing.T) {
	pieces := []Piece{sector("a", 12, 24, 60, every...), sector("b", 12, 24, 60, every...), box("c", 10, 10), box("d", 60, 60)}
	sheet := Area{Size: a4, Margin: 5, Taken: []geom.Path{geom.Rectangle(geom.XYWH(100, 0, 1, 297))}}
	o := Options{Gap: 2}
	good, _ := pack(t, pieces, []Area{sheet}, a4Sheet, o)
	p := newProblem(pieces, []Area{sheet}, a4Sheet, o)
	if err := p.verify(good); err != nil {
		t.Fatal(err)
	}
	edge := geom.Rectangle(pieces[2].Box).Transform(good[2].At).Bounds().Min
	for name, spoil := range map[string]func(p []Placed){
		"same place": func(p []Placed) { p[1].At = p[0].At },
		"on one":     func(p []Placed) { p[0].At = p[2].At.Then(geom.Translate(0, 22)) },
		"within":     func(p []Placed) { p[2].At, p[2].Sheet = p[3].At.Then(geom.Translate(10, 10)), p[3].Sheet },
		"outside":    func(p []Placed) { p[2].At.E += 5 - edge.X - 0.001 },
		"taken":      func(p []Placed) { p[2].At.E += 98 - 10 + 0.001 - edge.X },
		"turned":     func(p []Placed) { p[2].At = geom.Rotate(math.Pi / 2).Then(geom.Translate(150, 150)) },
		"askew":      func(p []Placed) { p[0].At = geom.Rotate(0.1).Then(geom.Translate(150, 150)) },
		"missing":    func(p []Placed) { p[1] = Placed{} },
		"twice":      func(p []Placed) { p[1].Piece = 0 },
		"a hair near": func(p []Placed) {
			p[0].At, p[1].At = geom.Translate(50, 50), geom.Translate(50, 50+nested(12, 24, 60, 2)-0.002)
		},
	} {
		bad := append([]Placed(nil), good...)
		spoil(bad)
		if err := p.verify(bad); fault.ClassOf(err) != fault.Ours || err == nil {
			t.Errorf("%s: %v, want a fault of ours", name, err)
		}
	}
	// The same chevron a hair farther is right.
	bad := append([]Placed(nil), good...)
	bad[0].At, bad[1].At = geom.Translate(50, 50), geom.Translate(50, 50+nested(12, 24, 60, 2)+0.002)
	bad[2].At, bad[3].At = geom.Translate(150, 250), geom.Translate(150, 150)
	if err := p.verify(bad); err != nil {
		t.Error(err)
	}
}

// nested is the pitch of equal sectors stacked along their axis with a gap: the
// gap is met between the inner arc of one, at its end, and the outer arc of the
// other. Derived from the published closed form for gap 0,
// √(ρ₂² − ρ₁²·sin²(F/2)) − ρ₁·cos(F/2), by growing the outer arc by the gap.
func nested(r1, r2, sweep, gap float64) float64 {
	half := sweep / 2 * math.Pi / 180
	return math.Sqrt(math.Pow(r2+gap, 2)-math.Pow(r1*math.Sin(half), 2)) - r1*math.Cos(half)
}
