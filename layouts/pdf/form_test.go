package pdf

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// star is a path of n points about the origin, long enough to become a form.
func star(n int, seed float64) geom.Path {
	pts := make([]geom.Point, n)
	for i := range pts {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := 3 + math.Sin(a*seed)
		pts[i] = geom.Point{X: r * math.Cos(a), Y: r * math.Sin(a)}
	}
	return geom.Polygon(pts...)
}

func design(seed float64) []draw.Op {
	return []draw.Op{
		&draw.Fill{Path: star(60, seed), Ink: draw.Black},
		&draw.Group{At: geom.Rotate(1).Then(geom.Scale(0.5, 0.5)), Ops: []draw.Op{&draw.Stroke{Path: star(50, seed+1), Ink: draw.Ink{R: 200}, Width: 0.2}}},
	}
}

var aForm = regexp.MustCompile(`/Subtype /Form /BBox \[([^\]]*)\]`)

// TestSharedForms: a design that comes again, made anew each time and on other
// pages, is in the file once; one that comes once costs no object.
func TestSharedForms(t *testing.T) {
	doc := func(n int, ops func(i int) []draw.Op) []byte {
		d := draw.Document{}
		for page := range 3 {
			s := &draw.Sheet{Size: geom.Size{W: 200, H: 200}}
			for i := range n {
				s.Add(draw.Colour, &draw.Group{At: geom.Rotate(float64(i)).Then(geom.Translate(10+float64(i), 20)), Ops: ops(page*n + i)})
			}
			d.Sheets = append(d.Sheets, s)
		}
		return write(t, d)
	}
	same := doc(100, func(int) []draw.Op { return design(3) })
	if n := len(aForm.FindAll(same, -1)); n != 2 { // the design and the group within it
		t.Errorf("%d forms for one design", n)
	}
	if n := strings.Count(operators(t, same), " Do\n"); n != 299+1 { // all but the first, and the inner one in the design's form
		t.Errorf("forms are shown %d times", n)
	}
	other := doc(100, func(i int) []draw.Op { return design(float64(i) / 7) })
	if n := len(aForm.FindAll(other, -1)); n != 0 {
		t.Errorf("%d forms for designs that come once", n)
	}
	if len(same) > len(other)/10 {
		t.Errorf("300 of one design take %d bytes, 300 designs %d", len(same), len(other))
	}
	if !bytes.Equal(same, doc(100, func(int) []draw.Op { return design(3) })) {
		t.Error("the same document gave other bytes")
	}
}

// TestFormsTellApart: what differs in ink, place, layer or size within is not
// the same form.
func TestFormsTellApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seeds := rapid.SliceOfN(rapid.IntRange(0, 4), 2, 12).Draw(t, "designs")
		s := &draw.Sheet{Size: geom.Size{W: 100, H: 100}}
		count := map[string]int{}
		for _, seed := range seeds {
			layer := draw.Colour
			if rapid.Bool().Draw(t, "cut") {
				layer = draw.Cut
			}
			size := rapid.SampledFrom([]float64{1, 1, 40}).Draw(t, "size")
			s.Add(layer, &draw.Group{At: geom.Scale(size, size), Ops: []draw.Op{&draw.Fill{Path: star(60, float64(seed)), Ink: draw.Black}}})
			count[strings.Join([]string{layer.String(), strconv.Itoa(seed), strconv.FormatFloat(size, 'g', -1, 64)}, " ")]++
		}
		want := 0
		for _, n := range count {
			if n > 1 {
				want++
			}
		}
		var b bytes.Buffer
		if err := Write(&b, draw.Document{Sheets: []*draw.Sheet{s}}); err != nil {
			t.Fatal(err)
		}
		if got := len(aForm.FindAll(b.Bytes(), -1)); got != want {
			t.Fatalf("%d forms of %v, want %d", got, count, want)
		}
	})
}

// TestFormBox: nothing a form draws may be clipped, mitres least of all.
func TestFormBox(t *testing.T) {
	corner := geom.Path{}
	corner.MoveTo(geom.Point{X: 40, Y: 3})
	corner.LineTo(geom.Point{})
	corner.LineTo(geom.Point{X: 40, Y: -3}) // 8.6 degrees: just beyond the limit at 11.5, so 10 widths are never passed
	box := formBox([]draw.Op{&draw.Group{At: geom.Scale(2, 2), Ops: []draw.Op{&draw.Stroke{Path: corner, Width: 1}}}})
	if box[0] > -10 || box[2] < 80 || box[1] > -7 || box[3] < 7 {
		t.Errorf("box %v of a corner 80 x 12 mm with strokes of 2 mm", box)
	}
}

// TestSheetBySheet: the streaming writer gives the same bytes, and says what it
// is told of a full disc.
func TestSheetBySheet(t *testing.T) {
	doc := document(t)
	var b bytes.Buffer
	p, err := NewWriter(&b, doc, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range doc.Sheets {
		if err := p.Sheet(s); err != nil {
			t.Fatal(err)
		}
	}
	if err := p.Close(); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), write(t, doc)) {
		t.Error("sheet by sheet gives other bytes")
	}
	full, err := NewWriter(&failing{100}, doc, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range doc.Sheets {
		err = full.Sheet(s)
	}
	if fault.ClassOf(err) != fault.Machine || fault.ClassOf(full.Close()) != fault.Machine {
		t.Errorf("a full disc gives %v", err)
	}
	if _, err := NewWriter(&failing{}, doc, Options{}); fault.ClassOf(err) != fault.Machine {
		t.Errorf("a full disc at the start gives %v", err)
	}
	none, _ := NewWriter(&bytes.Buffer{}, doc, Options{})
	if err := none.Close(); fault.ClassOf(err) != fault.Ours {
		t.Errorf("a document without sheets gives %v", err)
	}
}
