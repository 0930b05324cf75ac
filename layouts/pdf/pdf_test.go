package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"pgregory.net/rapid"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

func sheet(t testing.TB, text string) *draw.Sheet {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	s := &draw.Sheet{Name: "sheet", Size: geom.Size{W: 210, H: 297}}
	for i, f := range []typeset.Font{typeset.Bold(set, 3), typeset.Regular(set, 2)} {
		l, err := typeset.Shape(text, f)
		if err != nil {
			t.Fatal(err)
		}
		s.Add(draw.Colour, l.Straight(geom.Translate(20, 20+float64(i)*10), typeset.Left, draw.Black)...)
	}
	s.Add(draw.Cut, &draw.Stroke{Path: geom.Circle(geom.Point{X: 100, Y: 100}, 20), Width: 0.1, Dash: []float64{1, 0.5}})
	s.Add(draw.Guide, &draw.Fill{Path: geom.Rectangle(geom.XYWH(10.12345, 10, 20, 1))})
	return s
}

func write(t testing.TB, doc draw.Document) []byte {
	var b bytes.Buffer
	if err := Write(&b, doc); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func document(t testing.TB) draw.Document {
	return draw.Document{Title: "Withy Sluice Floats", Date: "2026-11-20", Sheets: []*draw.Sheet{sheet(t, "12.5 g → 8"), sheet(t, "Łódź"), {Size: geom.Size{W: 55, H: 90}}}}
}

// TestSameBytes writes a document of several faces, pages and layers again and
// again, from parts made anew.
func TestSameBytes(t *testing.T) {
	want := write(t, document(t))
	for range 5 {
		if got := write(t, document(t)); !bytes.Equal(got, want) {
			t.Fatal("the same document gave other bytes")
		}
	}
	other := document(t)
	other.Title = "other"
	id := regexp.MustCompile(`/ID \[<(\w{32})>`)
	a, b := id.FindSubmatch(want), id.FindSubmatch(write(t, other))
	if a == nil || b == nil || bytes.Equal(a[1], b[1]) {
		t.Errorf("ids of two documents: %q and %q", a, b)
	}
}

func TestKeys(t *testing.T) {
	file := string(write(t, document(t)))
	for _, want := range []string{
		"/ViewerPreferences << /PrintScaling /None >>", "/CreationDate (D:20261120)",
		"/MediaBox [0 0 595.27559 841.88976] /TrimBox [0 0 595.27559 841.88976] /BleedBox [0 0 595.27559 841.88976]", // 210 and 297 mm · 72/25.4
		"/MediaBox [0 0 155.90551 255.11811]",
		"/Type /OCG /Name (cut)", "/Type /OCG /Name (colour)", "/Type /OCG /Name (guide)",
		"+MarkCondensed-Bold", "+MarkCondensed-Regular", "+MarkWide-Bold", "/ToUnicode",
	} {
		if !strings.Contains(file, want) {
			t.Errorf("the file has no %q", want)
		}
	}
	if strings.Contains(file, "/Name (crease)") {
		t.Error("a layer without ops is in the layer list")
	}
	if m := regexp.MustCompile(`/BaseFont /([A-Z]{6})\+`).FindAllString(file, -1); len(m) != 6 { // a Type 0 font and its CID font, three faces
		t.Errorf("subset tags: %q", m)
	}
	undated := document(t)
	undated.Date = ""
	if strings.Contains(string(write(t, undated)), "Date") {
		t.Error("a document without a date got one")
	}
}

// operators returns what a page's streams say, unpacked.
func operators(t testing.TB, file []byte) string {
	var all strings.Builder
	for _, part := range bytes.Split(file, []byte("stream\n")) {
		z, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		text, err := io.ReadAll(z)
		if err == nil {
			all.Write(text)
		}
	}
	return all.String()
}

func TestInkAndNumbers(t *testing.T) {
	s := &draw.Sheet{Size: geom.Size{W: 100, H: 100}}
	bar := geom.Rectangle(geom.XYWH(1.5, 10.12346, 2, 3))
	s.Add(draw.Colour, &draw.Fill{Path: bar, Ink: draw.Black}, &draw.Fill{Path: bar, Ink: draw.White},
		&draw.Fill{Path: bar, Ink: draw.Ink{R: 255, G: 51}},
		&draw.Group{At: geom.Scale(2, 2), Ops: []draw.Op{&draw.Stroke{Path: bar, Width: 0.25, Dash: []float64{1}, Ink: draw.Black}}})
	got := operators(t, write(t, draw.Document{Sheets: []*draw.Sheet{s}}))
	for _, want := range []string{"2.8346457 0 0 -2.8346457 0 283.4645669 cm", "\n0 g\n1.5 10.1235 2 3 re\nf\n", "\n1 g\n", "\n1 0.2 0 rg\n",
		"\nq\n2 0 0 2 0 0 cm\n0 G\n0.25 w\n[1] 0 d\n1.5 10.12346 2 3 re\nS\nQ\n"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// TestNumber compares with the plain meaning: off by half a last place at most,
// and no longer than it must be.
func TestNumber(t *testing.T) {
	plain := regexp.MustCompile(`^(0|-?[1-9]\d*|-?\d+\.\d*[1-9])$`)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1000, 1000).Draw(t, "x")
		d := rapid.IntRange(1, 7).Draw(t, "decimals")
		text := string(appendNumber(nil, x, d))
		back, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-x) > 0.5000001*math.Pow10(-d) || !plain.MatchString(text) {
			t.Fatalf("%v at %d decimals is written %q", x, d, text)
		}
	})
}

// TestVerify: a subset that lacks a glyph is refused, not printed as a blank.
func TestVerify(t *testing.T) {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	s := &subset{face: set.Bold, number: 1, glyphs: map[fonts.GlyphID]rune{}}
	for _, r := range "8g" {
		id, _ := set.Bold.Glyph(r)
		s.glyphs[id], s.text = r, append(s.text, r)
	}
	fonts, err := embedded(&faces{list: []*subset{s}})
	if err != nil {
		t.Fatalf("a whole subset is refused: %v", err)
	}
	id, _ := set.Bold.Glyph('x')
	s.glyphs[id] = 'x'
	if err := verify(fonts[0].objects, s); fault.ClassOf(err) != fault.Input {
		t.Errorf("a missing glyph gives %v", err)
	}
}

// failing writes a few bytes and then fails.
type failing struct{ left int }

var errFull = errors.New("disc full")

func (f *failing) Write(b []byte) (int, error) {
	if len(b) > f.left {
		return f.left, errFull
	}
	return len(b), nil
}

func TestErrors(t *testing.T) {
	err := Write(&failing{1000}, document(t))
	if !errors.Is(err, errFull) || fault.ClassOf(err) != fault.Machine {
		t.Errorf("a full disc gives %v", err)
	}
	good := sheet(t, "8 g")
	face := good.Layers[draw.Colour][0].(*draw.Glyphs).Face
	bar := geom.Rectangle(geom.XYWH(0, 0, 1, 1))
	with := func(op draw.Op) draw.Document {
		s := &draw.Sheet{Name: "bad", Size: geom.Size{W: 10, H: 10}}
		s.Add(draw.Colour, op)
		return draw.Document{Sheets: []*draw.Sheet{s}}
	}
	for name, c := range map[string]struct {
		doc   draw.Document
		class fault.Class
	}{
		"no sheets":           {draw.Document{}, fault.Ours},
		"no size":             {draw.Document{Sheets: []*draw.Sheet{{}}}, fault.Ours},
		"size is no number":   {draw.Document{Sheets: []*draw.Sheet{{Size: geom.Size{W: math.NaN(), H: 1}}}}, fault.Ours},
		"no date":             {draw.Document{Date: "20.11.2026", Sheets: []*draw.Sheet{good}}, fault.Input},
		"infinite place":      {with(&draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, math.Inf(1), 1))}), fault.Ours},
		"path without start":  {with(&draw.Fill{Path: geom.Path{{Verb: geom.Line}}}), fault.Ours},
		"stroke of no width":  {with(&draw.Stroke{Path: bar}), fault.Ours},
		"dash of no length":   {with(&draw.Stroke{Path: bar, Width: 1, Dash: []float64{0, 0}}), fault.Ours},
		"negative dash":       {with(&draw.Stroke{Path: bar, Width: 1, Dash: []float64{-1, 3}}), fault.Ours},
		"glyph without words": {with(&draw.Glyphs{Face: face, Run: []draw.Glyph{{ID: 5, At: geom.Identity}}, Text: "x"}), fault.Ours},
	} {
		var b bytes.Buffer
		err := Write(&b, c.doc)
		if err == nil || b.Len() > 0 || fault.ClassOf(err) != c.class {
			t.Errorf("%s: error %v (%v), %d bytes written", name, err, fault.ClassOf(err), b.Len())
		}
	}
}

// TestOwnFace embeds a face named by a path, as a maker's own is, and refuses
// one that the library cannot read.
func TestOwnFace(t *testing.T) {
	face, err := fonts.Parse("my fonts/(Bold) #1.ttf", gobold.TTF)
	if err != nil {
		t.Fatal(err)
	}
	l, err := typeset.Shape("8 g é", typeset.Font{Face: face, Cap: 2})
	if err != nil {
		t.Fatal(err)
	}
	s := &draw.Sheet{Size: geom.Size{W: 50, H: 50}}
	s.Add(draw.Colour, l.Straight(geom.Translate(5, 20), typeset.Left, draw.Black)...)
	if file := write(t, draw.Document{Sheets: []*draw.Sheet{s}}); !bytes.Contains(file, []byte("+myfontsBold1ttf\n")) {
		t.Error("the face's name was not made plain")
	}
	// A face that our reader takes and the library does not: without the table
	// of styles. The new name keeps the directory in order.
	broken, err := fonts.Parse("broken", bytes.Replace(gobold.TTF, []byte("OS/2"), []byte("OS/3"), 1))
	if err != nil {
		t.Fatal(err)
	}
	for _, op := range s.Layers[draw.Colour] {
		op.(*draw.Glyphs).Face = broken
	}
	var b bytes.Buffer
	err = Write(&b, draw.Document{Sheets: []*draw.Sheet{s}})
	if fault.ClassOf(err) != fault.Input || b.Len() > 0 {
		t.Errorf("a face that cannot be embedded: %v, %d bytes", err, b.Len())
	}
}
