package symbol

import (
	"strings"
	"testing"

	"floatmark/loading/fault"

	"pgregory.net/rapid"
)

// Capacities of versions 1 to 3, alphanumeric / bytes: the table of ISO/IEC
// 18004 (from memory, and as counted with two encoders).
func TestSmallestVersionAtCapacity(t *testing.T) {
	for _, c := range []struct {
		version, n, alpha, bytes int
		level                    Level
	}{
		{1, 21, 25, 17, L}, {1, 21, 20, 14, M}, {1, 21, 16, 11, Q}, {1, 21, 10, 7, H},
		{2, 25, 47, 32, L}, {2, 25, 38, 26, M}, {2, 25, 29, 20, Q}, {2, 25, 20, 14, H},
		{3, 29, 77, 53, L}, {3, 29, 61, 42, M}, {3, 29, 47, 32, Q}, {3, 29, 35, 24, H},
	} {
		for _, s := range []struct {
			letter string
			most   int
		}{{"A", c.alpha}, {"a", c.bytes}} {
			m, err := AtLevel(strings.Repeat(s.letter, s.most), c.level)
			if err != nil || m.N != c.n || m.Version != c.version || m.Level != c.level {
				t.Errorf("%d of %q at %v: version %d, side %d, %v, %v; want version %d", s.most, s.letter, c.level, m.Version, m.N, m.Level, err, c.version)
			}
			if m, err = AtLevel(strings.Repeat(s.letter, s.most+1), c.level); err != nil || m.Version != c.version+1 {
				t.Errorf("%d of %q at %v: version %d, %v; want version %d", s.most+1, s.letter, c.level, m.Version, err, c.version+1)
			}
		}
	}
}

func TestCorrectionRaisedOnlyWhereFree(t *testing.T) {
	for _, c := range []struct {
		text    string
		version int
		level   Level
	}{
		{"HTTPS://F.EXAMPLE/9KYA3C", 1, L}, // 24 characters of the 25 that 1-L holds
		{"HTTPS://F.EX/9KYA3C", 1, M},      // 19 of 20
		{"8G ADD 0.8G 9KYA", 1, Q},         // 16 of 16
		{"9KYA3C", 1, H},
		{"https://f.example/9KYA3C", 2, M}, // the same link in small letters: 24 bytes of 26
		{"HTTPS://FLOATS.EXAMPLE/9KYA3C", 2, Q},
	} {
		m, err := QR(c.text)
		if err != nil || m.Version != c.version || m.Level != c.level || m.Text != c.text || m.N != 17+4*m.Version {
			t.Errorf("QR(%q): version %d-%v, side %d, text %q, %v; want %d-%v", c.text, m.Version, m.Level, m.N, m.Text, err, c.version, c.level)
		}
	}
}

func TestQRErrors(t *testing.T) {
	for _, c := range []struct {
		text string
		want fault.Class
	}{{"", fault.Input}, {"a\xff", fault.Input}, {strings.Repeat("a", 2954), fault.NoFit}, {strings.Repeat("A", 4297), fault.NoFit}, {strings.Repeat("1", 7090), fault.NoFit}} {
		if m, err := QR(c.text); err == nil || fault.ClassOf(err) != c.want || m.N != 0 {
			t.Errorf("QR of %d bytes: side %d, %v; want class %v", len(c.text), m.N, err, c.want)
		}
	}
	if _, err := AtLevel("A", H+1); fault.ClassOf(err) != fault.Ours || err == nil {
		t.Errorf("a level out of range: %v", err)
	}
}

// The finder squares stand in three corners of every code and not in the
// fourth: x and y are not mixed up.
func TestFinders(t *testing.T) {
	m, err := QR("HTTPS://F.EXAMPLE/9KYA3C")
	if err != nil {
		t.Fatal(err)
	}
	finder := func(x0, y0 int) bool {
		for y := range 7 {
			for x := range 7 {
				ring := min(x, y, 6-x, 6-y) // 0 dark, 1 pale, 2 and 3 dark
				if m.Dark(x0+x, y0+y) == (ring == 1) {
					return false
				}
			}
		}
		return true
	}
	far := m.N - 7
	if !finder(0, 0) || !finder(far, 0) || !finder(0, far) || finder(far, far) {
		t.Errorf("finders: %v %v %v, and %v bottom right", finder(0, 0), finder(far, 0), finder(0, far), finder(far, far))
	}
	// The lone dark square beside the lower left finder, in column 8 of row
	// 4·version + 9 (ISO/IEC 18004, format information).
	if !m.Dark(8, 4*m.Version+9) {
		t.Error("the dark square is not at column 8")
	}
	if m.Dark(-1, 0) || m.Dark(0, -1) || m.Dark(m.N, 0) || m.Dark(0, m.N) || (Matrix{}).Dark(0, 0) {
		t.Error("dark outside the code")
	}
}

// winding counts how often the rings go round the middle of square (x, y), by
// the upright edges to its right.
func winding(rings [][][2]int, x, y int) int {
	sum := 0
	for _, r := range rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if a[0] != b[0] || a[0] <= x {
				continue
			}
			if a[1] <= y && b[1] > y {
				sum++
			} else if b[1] <= y && a[1] > y {
				sum--
			}
		}
	}
	return sum
}

func checkContour(t interface{ Fatalf(string, ...any) }, m Matrix) {
	rings := m.Contour()
	for y := -1; y <= m.N; y++ {
		for x := -1; x <= m.N; x++ {
			want := 0
			if m.Dark(x, y) {
				want = 1
			}
			if got := winding(rings, x, y); got != want {
				t.Fatalf("square %d, %d: the rings go round %d times, want %d", x, y, got, want)
			}
		}
	}
	for i, r := range rings {
		if len(r) < 4 || len(r)%2 != 0 {
			t.Fatalf("ring %d has %d corners", i, len(r))
		}
		for j, a := range r {
			b, c := r[(j+1)%len(r)], r[(j+2)%len(r)]
			if (a[0] == b[0]) == (a[1] == b[1]) || (a[0] == b[0]) == (b[0] == c[0]) {
				t.Fatalf("ring %d: %v %v %v is no turn between square edges", i, a, b, c)
			}
		}
	}
}

func area(r [][2]int) int {
	twice := 0
	for i, a := range r {
		b := r[(i+1)%len(r)]
		twice += a[0]*b[1] - b[0]*a[1]
	}
	return twice / 2
}

func TestContourOfCodes(t *testing.T) {
	for _, s := range []string{"HTTPS://F.EXAMPLE/9KYA3C", "8G ADD 0.8G 9KYA3C", strings.Repeat("Withy Sluice Floats ", 12)} {
		m, err := QR(s)
		if err != nil {
			t.Fatal(err)
		}
		checkContour(t, m)
	}
	if got := (Matrix{}).Contour(); len(got) != 0 {
		t.Errorf("an empty code has %d rings", len(got))
	}
}

// Any pattern, not only those of codes: corners that touch, holes in holes,
// parts on the edge.
func TestContourOfAnyPattern(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		checkContour(t, Matrix{N: n, dark: rapid.SliceOfN(rapid.Bool(), n*n, n*n).Draw(t, "dark")})
	})
}

// A ring with a hole, worked by hand: 3 x 3 without its middle.
func TestContourDirections(t *testing.T) {
	m := Matrix{N: 3, dark: []bool{true, true, true, true, false, true, true, true, true}}
	rings := m.Contour()
	if len(rings) != 2 || area(rings[0]) != 9 || area(rings[1]) != -1 {
		t.Errorf("rings %v, want one of area 9 and a hole of -1", rings)
	}
}

func BenchmarkQR(b *testing.B) {
	for b.Loop() {
		if _, err := QR("HTTPS://F.EXAMPLE/9KYA3C"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkContour(b *testing.B) {
	m, err := QR("HTTPS://F.EXAMPLE/9KYA3C")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		m.Contour()
	}
}
