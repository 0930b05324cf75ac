package cli

import (
	"bytes"
	"strings"
	"testing"

	"floatmark/label/symbol"
)

// The code on the terminal has the squares of the code, dark on pale, with the pale
// edge that readers ask for.
func TestCodeOnTheTerminal(t *testing.T) {
	m, err := symbol.QR("HTTP://192.168.1.20:8017/")
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	writeCode(&buf, m)
	y := -quietEdge
	for line := range strings.Lines(buf.String()) {
		line = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(strings.ReplaceAll(line, "\n", "")), "\x1b[38;5;16;48;5;231m"), "\x1b[0m")
		x := -quietEdge
		for _, r := range line {
			upper, lower := r == '▀' || r == '█', r == '▄' || r == '█'
			if upper != m.Dark(x, y) || lower != m.Dark(x, y+1) {
				t.Fatalf("square %d, %d is %q", x, y, r)
			}
			x++
		}
		if x != m.N+quietEdge {
			t.Fatalf("a line of %d squares, want %d", x+quietEdge, m.N+2*quietEdge)
		}
		y += 2
	}
	if y < m.N+quietEdge {
		t.Errorf("the lower pale edge is missing: %d", y)
	}
}
