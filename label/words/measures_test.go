package words

import (
	"testing"

	"floatmark/loading/unit"
)

func TestMeasures(t *testing.T) {
	for _, c := range []struct {
		language                                  string
		of                                        unit.System
		length, bare, volume, degrees, load, told string
	}{
		{"en", unit.Metric, "12.3 mm", "12.34", "16.39 cm³", "16.5", "0.85 g", "from 12.3 mm up, 1.5 g"},
		{"de", unit.Metric, "12,3 mm", "12,34", "16,39 cm³", "16,5", "0,85 g", "from 12,3 mm up, 1,5 g"},
		{"en", unit.Imperial, "0.486 in", "0.486", "1 in³", "61.7", "0.85 g (0.0300 oz)", "from 0.484 in up, 1.5 g"},
		{"de", unit.Imperial, "0,486 Zoll", "0,486", "1 Zoll³", "61,7", "0,85 g (0,0300 oz)", "from 0,484 Zoll up, 1,5 g"},
	} {
		m := MeasuresFor(c.language, c.of)
		for _, one := range [][2]string{{m.Length(12.34, 0.1), c.length}, {m.Bare(12.34), c.bare}, {m.Volume(16387.064), c.volume}, {m.Degrees(16.5), c.degrees},
			{m.Load(0.85, 0.01), c.load}, {m.Told("from 12.3 mm up, 1.5 g"), c.told}} {
			if one[0] != one[1] {
				t.Errorf("%s, %v: %q, want %q", c.language, c.of, one[0], one[1])
			}
		}
		for _, text := range []string{m.Length(12.34, 0.01), "12.34 mm", "12,34mm"} {
			if v, err := m.ReadLength(text); err != nil || float64(v-12.34) > 0.0127 || float64(v-12.34) < -0.0127 {
				t.Errorf("%s, %v: %q is read as %v, %v", c.language, c.of, text, float64(v), err)
			}
		}
	}
}

// What is told in inches is kept in millimetres again.
func TestToldAndKept(t *testing.T) {
	m := MeasuresFor("en", unit.Imperial)
	for told, kept := range map[string]string{
		"balsa to 2.756 in; peacock":      "balsa to 70.0024 mm; peacock",
		"balsa to 2 3/4 in; peacock":      "balsa to 69.85 mm; peacock",
		"balsa to 1-3/16″; cork":          "balsa to 30.1625 mm; cork",
		"balsa to 70 mm; 0.16":            "balsa to 70 mm; 0.16",
		"3 points in a row, 2 insulators": "3 points in a row, 2 insulators",
	} {
		if got := m.Kept(told, "cork to 12 mm"); got != kept {
			t.Errorf("%q is kept as %q, want %q", told, got, kept)
		}
	}
	if got := m.Kept("balsa to 2.756 in; cork to 4 in; reed", "balsa to 70 mm; peacock"); got != "balsa to 70 mm; cork to 101.6 mm; reed" {
		t.Errorf("what was not changed is kept as %q", got)
	}
	for text, want := range map[string]string{
		"a 16 mm body": "a 0.630 in body", "16mm": "0.630 in", "no. 3.5 mmx": "no. 3.5 mmx", "the mark is shortened to 28 to 53.5 mm from base": "the mark is shortened to 1.102 to 2.106 in from base", "105 × 200 mm": "4.134 × 7.874 in",
		`"Sedge 16 mm" is 16 mm`: `"Sedge 16 mm" is 0.630 in`, "12 mm² of 3 mm": "12 mm² of 0.118 in", "between 3 mm and 5.5 mm": "between 0.118 in and 0.217 in",
	} {
		if got := m.Told(text); got != want {
			t.Errorf("%q is told as %q, want %q", text, got, want)
		}
	}
}
