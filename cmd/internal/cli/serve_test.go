package cli

import (
	"bytes"
	"net"
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

func TestPrivateAddress(t *testing.T) {
	of := func(all ...string) (out []net.Addr) {
		for _, s := range all {
			ip, n, err := net.ParseCIDR(s)
			if err != nil {
				t.Fatal(err)
			}
			n.IP = ip
			out = append(out, n)
		}
		return out
	}
	if ip, ok := private(of("127.0.0.1/8", "::1/128", "fe80::1/64", "198.51.100.7/24", "192.168.1.20/24", "10.0.0.3/8")); !ok || ip.String() != "192.168.1.20" {
		t.Errorf("%v, %v", ip, ok)
	}
	if ip, ok := private(of("127.0.0.1/8", "198.51.100.7/24")); ok {
		t.Errorf("%v is in no home network", ip)
	}
}
