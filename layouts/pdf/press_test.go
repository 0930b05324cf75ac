package pdf

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// pressSheet is a card of 50 x 30 mm with a bleed of 1 mm on a page of 60 x 40.
func pressSheet(t testing.TB) *draw.Sheet {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	l, err := typeset.Shape("8 g", typeset.Bold(set, 3))
	if err != nil {
		t.Fatal(err)
	}
	s := &draw.Sheet{Size: geom.Size{W: 60, H: 40}, Trim: geom.XYWH(5, 6, 50, 30), Bleed: geom.XYWH(4, 5, 52, 32)}
	s.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(s.Bleed), Ink: draw.Ink{R: 255, G: 255}})
	s.Add(draw.Colour, l.Straight(geom.Translate(10, 20), typeset.Left, draw.Ink{R: 150})...)
	s.Add(draw.Colour, &draw.Group{Rigid: true, At: geom.Translate(30, 10), Ops: []draw.Op{&draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, 5, 5)), Ink: draw.Ink{B: 120}}}})
	s.Add(draw.Cut, &draw.Stroke{Path: geom.Rectangle(s.Trim), Ink: draw.Ink{R: 255, B: 51}, Width: 0.1})
	return s
}

func TestBoxes(t *testing.T) {
	file := string(write(t, draw.Document{Sheets: []*draw.Sheet{pressSheet(t)}}))
	// mm·72/25.4, from the page's bottom: trim 5..55 by 4..34, bleed 4..56 by 3..35.
	const want = "/MediaBox [0 0 170.07874 113.38583] /TrimBox [14.17323 11.33858 155.90551 96.37795] /BleedBox [11.33858 8.50394 158.74016 99.2126]"
	if !strings.Contains(file, want) {
		t.Errorf("no %q in the file", want)
	}
	for name, s := range map[string]*draw.Sheet{
		"bleed off the page":   {Size: geom.Size{W: 10, H: 10}, Bleed: geom.XYWH(-1, 0, 12, 10)},
		"trim beyond bleed":    {Size: geom.Size{W: 10, H: 10}, Trim: geom.XYWH(1, 1, 8, 8), Bleed: geom.XYWH(2, 2, 5, 5)},
		"trim turned about":    {Size: geom.Size{W: 10, H: 10}, Trim: geom.Rect{Min: geom.Point{X: 5, Y: 5}, Max: geom.Point{X: 1, Y: 1}}},
		"bleed without a trim": {Size: geom.Size{W: 10, H: 10}, Bleed: geom.XYWH(1, 1, 8, 8)},
	} {
		var b bytes.Buffer
		if err := Write(&b, draw.Document{Sheets: []*draw.Sheet{s}}); fault.ClassOf(err) != fault.Ours || err == nil || b.Len() > 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCutLines(t *testing.T) {
	for _, c := range []struct {
		o    Options
		want string
	}{
		{Options{}, "[/Separation /Cut /DeviceRGB << /FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [1 0 0.2] /N 1 >>]"},
		{Options{CutName: "Die Line №1", CutCMYK: [4]float64{0, 1, 0.25, 0}},
			"[/Separation /Die#20Line#20#E2#84#961 /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 0.25 0] /N 1 >>]"},
	} {
		var b bytes.Buffer
		if err := WriteWith(&b, draw.Document{Sheets: []*draw.Sheet{pressSheet(t)}}, c.o); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(b.String(), c.want) {
			t.Errorf("no %q in the file", c.want)
		}
		if got := operators(t, b.Bytes()); !strings.Contains(got, "/OC /Layer2 BDC\nq\n/Over gs\n/Cut CS\n1 SCN\n0.1 w\n") {
			t.Errorf("the cut line is not a spot colour in\n%s", got)
		}
	}
	for _, o := range []Options{{CutName: "all"}, {CutName: "Black"}, {CutName: "a\nb"}, {CutName: "\xff"}, {CutName: strings.Repeat("x", 128)}, {CutCMYK: [4]float64{0, 2}}} {
		var b bytes.Buffer
		if err := WriteWith(&b, document(t), o); fault.ClassOf(err) != fault.Input || b.Len() > 0 {
			t.Errorf("%+v: %v", o, err)
		}
	}
}

// TestBlackOnly: one plate and the spot colour, no other ink; text and codes
// without a screen.
func TestBlackOnly(t *testing.T) {
	var b bytes.Buffer
	if err := WriteWith(&b, draw.Document{Sheets: []*draw.Sheet{pressSheet(t)}}, Options{BlackOnly: true}); err != nil {
		t.Fatal(err)
	}
	got := operators(t, b.Bytes())
	if m := regexp.MustCompile(`(?m) (rg|RG|k|K)$`).FindString(got); m != "" {
		t.Errorf("%q in\n%s", m, got)
	}
	var inks []string
	for _, m := range regexp.MustCompile(`(?m)^([\d.]+) g$`).FindAllStringSubmatch(got, -1) {
		inks = append(inks, m[1])
	}
	if s := strings.Join(inks, " "); s != "0.89 0 0" { // yellow is 0.3 + 0.59; the words and the code are black
		t.Errorf("greys %s", s)
	}
}

func TestOmit(t *testing.T) {
	var b bytes.Buffer
	if err := WriteWith(&b, draw.Document{Sheets: []*draw.Sheet{pressSheet(t)}}, Options{Omit: []draw.Layer{draw.Cut, draw.Ground}}); err != nil {
		t.Fatal(err)
	}
	got := operators(t, b.Bytes())
	if strings.Contains(got, "/Layer0") || strings.Contains(got, "/Layer2") || !strings.Contains(got, "/Layer1") || strings.Contains(b.String(), "(cut)") {
		t.Errorf("layers left out are there:\n%s", got)
	}
}
