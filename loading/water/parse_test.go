package water

import (
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

func TestParseMetal(t *testing.T) {
	for _, c := range []struct {
		in, key, name string
		density       float64
		lead          bool
	}{
		{"tin", "tin", "tin", 7.28, false},
		{" Hard-Lead ", "hard-lead", "hard lead", 10.9, true},
		{"putty 9.0", "putty:9", "putty (9 g/cm³)", 9, false},
		{"putty:9,0", "putty:9", "putty (9 g/cm³)", 9, false},
		{"Tungsten putty : 12 g/cm3", "tungsten putty:12", "tungsten putty (12 g/cm³)", 12, false},
		{"pewter 7.3 g/cm³", "pewter:7.3", "pewter (7.3 g/cm³)", 7.3, false},
		{"lead:11.1", "lead:11.1", "lead (11.1 g/cm³)", 11.1, true},
	} {
		m, err := ParseMetal(c.in)
		if err != nil || m.Key != c.key || m.Name != c.name || m.Density != c.density || m.Lead != c.lead || m.Source == "" {
			t.Errorf("ParseMetal(%q) = %+v, %v", c.in, m, err)
		}
		if back, err := ParseMetal(m.Key); err != nil || back != m {
			t.Errorf("%q reads back as %+v, %v", m.Key, back, err)
		}
	}
	for in, say := range map[string]string{
		"": "no metal", "cheese": "no metal", "putty": "putty", "putty:x": "no density",
		"putty:0.9": "no usable density", "putty:99": "no usable density", "putty:-9": "no usable density",
		"putty:NaN": "no density", "putty nan": "no density", "putty:Inf": "no density", "putty:1e9": "no density", "putty:": "no metal",
		":9": "no name", "9:9": "no name", "a very long name of some putty:9": "no name", "pu\x00tty:9": "no name",
	} {
		m, err := ParseMetal(in)
		if fault.ClassOf(err) != fault.Input || err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("ParseMetal(%q) = %+v, %v; want an input error with %q", in, m, err, say)
		}
	}
}

// Whatever is read sinks and reads back as itself.
func FuzzParseMetal(f *testing.F) {
	for _, s := range []string{"tin", "putty 9.0", "putty:9,0 g/cm3", "lead:1/2", "a:22.7", "x 1.5", ":", "putty:0x9", "zinc  7 1/2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParseMetal(s)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		back, err := ParseMetal(m.Key)
		if err != nil || back != m || m.Check() != nil || math.IsNaN(m.Density) {
			t.Fatalf("%q is %+v and reads back as %+v, %v", s, m, back, err)
		}
	})
}
