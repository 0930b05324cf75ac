package web

import (
	"context"
	"fmt"
	"math"
	"net"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"floatmark/label"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// luminance is the relative luminance of WCAG 2.2.
func luminance(t *testing.T, s string) float64 {
	t.Helper()
	c, err := label.ParseColour(s)
	if err != nil {
		t.Fatal(err)
	}
	lin := func(v uint8) float64 {
		f := float64(v) / 255
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// WCAG 2.2: 4.5 for text at level AA, 7 at AAA, which is what sunlight asks
// for; 3 for lines that mean something (success criterion 1.4.11).
func TestContrast(t *testing.T) {
	if got := contrast(t, "#767676", "#ffffff"); math.Abs(got-4.54) > 0.005 { // the well-known lightest grey that passes AA on white
		t.Fatalf("contrast of #767676 on white is %.3f, want 4.54", got)
	}
	light, dark, ok := strings.Cut(styleSource, "prefers-color-scheme: dark")
	if !ok {
		t.Fatal("the stylesheet has no dark side")
	}
	variable := regexp.MustCompile(`--([a-z]+): (#[0-9a-f]{6});`)
	for scheme, css := range map[string]string{"light": light, "dark": dark} {
		v := map[string]string{}
		for _, m := range variable.FindAllStringSubmatch(css, -1) {
			v[m[1]] = m[2]
		}
		for name, least := range map[string]float64{"ink": 15, "quiet": 7, "link": 7, "rule": 3, "band": 3} {
			if got := contrast(t, v[name], v["paper"]); !(got >= least) {
				t.Errorf("%s, %s on paper: contrast %.2f, at least %.1f", scheme, name, got, least)
			}
		}
	}
}

// The picture has the body's own measures: its widest point is the largest
// diameter, its pieces end where the entry says.
func TestOutline(t *testing.T) {
	e := sample()
	o, ok := outlineOf(e)
	if !ok {
		t.Fatal("the sample has no outline")
	}
	lo, hi := extent(t, o.Whole)
	if lo != [2]float64{-8, 0} || hi != [2]float64{8, 174} {
		t.Errorf("the whole float spans %v to %v, want 16 mm by 174 mm", lo, hi)
	}
	if len(o.Pieces) != 4 {
		t.Fatalf("%d pieces, want body, tip, mark and band", len(o.Pieces))
	}
	for i, want := range [][2]float64{{0, 174}, {0, 174 - 161}, {174 - 56, 174 - 34}, {174 - 56, 174 - 56 + 3.52}} {
		lo, hi := extent(t, o.Pieces[i].Path)
		if math.Abs(lo[1]-want[0]) > 0.011 || math.Abs(hi[1]-want[1]) > 0.011 {
			t.Errorf("piece %d runs from %v to %v, want %v", i, lo[1], hi[1], want)
		}
	}
	if o.Water != "16" || o.Pieces[1].Fill != e.TipInk || o.Pieces[3].Fill != e.BandInk {
		t.Errorf("water %s, tip %s, band %s", o.Water, o.Pieces[1].Fill, o.Pieces[3].Fill)
	}
	// A ball: the contour stays on the profile between its stations.
	e.Stations = []body.Station{{Z: 0, D: 0, Kind: body.Round}, {Z: 10, D: 20, Kind: body.Round}, {Z: 20, D: 0}}
	p, err := body.New(e.Stations)
	if err != nil {
		t.Fatal(err)
	}
	if o, ok = outlineOf(e); !ok {
		t.Fatal("a ball has no outline")
	}
	pts := points(t, o.Whole)
	if len(pts) < 40 {
		t.Errorf("a ball has %d points", len(pts))
	}
	for _, q := range pts {
		if d := float64(p.Diameter(unit.Millimetre(20 - q[1]))); math.Abs(math.Abs(q[0])*2-d) > 0.03 {
			t.Errorf("the contour is %v wide at y = %v, the body %v", 2*math.Abs(q[0]), q[1], d)
		}
	}
}

func points(t *testing.T, path string) (all [][2]float64) {
	t.Helper()
	for _, m := range regexp.MustCompile(`[ML]([^MLZ]+)`).FindAllStringSubmatch(path, -1) {
		var q [2]float64
		if _, err := fmt.Sscan(m[1], &q[0], &q[1]); err != nil {
			t.Fatal(err)
		}
		all = append(all, q)
	}
	return all
}

func extent(t *testing.T, path string) (lo, hi [2]float64) {
	pts := points(t, path)
	lo, hi = pts[0], pts[0]
	for _, q := range pts {
		for i := range q {
			lo[i], hi[i] = min(lo[i], q[i]), max(hi[i], q[i])
		}
	}
	return lo, hi
}

func withLocal(t *testing.T, addr string) context.Context {
	t.Helper()
	a, err := net.ResolveTCPAddr("tcp", addr)
	if err != nil {
		t.Fatal(err)
	}
	return context.WithValue(t.Context(), http.LocalAddrContextKey, net.Addr(a))
}

// The server starts on a free port, answers, stops when told, and says when it
// cannot start.
func TestServe(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	at, done := make(chan string, 1), make(chan error, 1)
	go func() { done <- Serve(ctx, "127.0.0.1:0", New(one(), Options{}), func(a string) { at <- a }) }()
	addr := <-at
	res, err := http.Get("http://" + addr + "/" + sampleID)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	if res.StatusCode != http.StatusOK {
		t.Errorf("status %d", res.StatusCode)
	}
	if err := Serve(ctx, addr, New(one(), Options{}), nil); fault.ClassOf(err) != fault.Machine || !strings.Contains(err.Error(), addr) {
		t.Errorf("a taken address gives %v", err)
	}
	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Errorf("stopped with %v", err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the server does not stop")
	}
	if _, err := http.Get("http://" + addr + "/"); err == nil {
		t.Error("the server still answers")
	}
}
