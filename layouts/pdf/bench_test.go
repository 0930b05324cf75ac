package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"testing"

	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// A job of codes, all different, as a layout draws them: 200 on an A4 sheet,
// modules of 0.35 mm, one compound path of the dark squares' outline each.
// .ci/pdfpeer.mjs draws the same with another library.
const (
	benchCodes = 10000
	perSheet   = 200
	perRow     = 10
	module     = 0.35 // mm
)

// matrices encodes the codes once; that is not the writer's work.
func matrices(b *testing.B) []symbol.Matrix {
	all := make([]symbol.Matrix, benchCodes)
	for i := range all {
		// Ids spread over their range, as a workshop gives them out: an odd factor
		// makes each different.
		m, err := symbol.QR(fmt.Sprintf("F.EXAMPLE/%07d", i*7654321%10000000))
		if err != nil {
			b.Fatal(err)
		}
		all[i] = m
	}
	return all
}

func codeSheet(all []symbol.Matrix, page int) *draw.Sheet {
	s := &draw.Sheet{Name: "codes", Size: geom.Size{W: 210, H: 297}}
	for i := range perSheet {
		m := all[page*perSheet+i]
		var p geom.Path
		for _, ring := range m.Contour() {
			for j, c := range ring {
				q := geom.Point{X: float64(c[0]) * module, Y: float64(c[1]) * module}
				if j == 0 {
					p.MoveTo(q)
				} else {
					p.LineTo(q)
				}
			}
			p.Close()
		}
		at := geom.Translate(12+float64(i%perRow)*18.5, 10+float64(i/perRow)*13.5)
		s.Add(draw.Colour, &draw.Group{Name: "code", Rigid: true, At: at, Ops: []draw.Op{&draw.Fill{Path: p, Ink: draw.Black}}})
	}
	return s
}

// BenchmarkCodes10000 writes them sheet by sheet.
func BenchmarkCodes10000(b *testing.B) {
	all := matrices(b)
	b.ReportAllocs()
	for b.Loop() {
		w := &counter{}
		p, err := NewWriter(w, draw.Document{Title: "codes"}, Options{})
		if err != nil {
			b.Fatal(err)
		}
		for page := range benchCodes / perSheet {
			b.StopTimer() // making the drawing list
			s := codeSheet(all, page)
			b.StartTimer()
			if err := p.Sheet(s); err != nil {
				b.Fatal(err)
			}
		}
		if err := p.Close(); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(w.n)/1e6, "MB/file")
	}
}

// BenchmarkCodes10000Packing packs the same pages' operators and does nothing
// else: the floor.
func BenchmarkCodes10000Packing(b *testing.B) {
	all := matrices(b)
	b.ReportAllocs()
	for b.Loop() {
		w := &counter{}
		z := zlib.NewWriter(w)
		text := 0
		for page := range benchCodes / perSheet {
			b.StopTimer()
			ops := pageOperators(b, codeSheet(all, page))
			text += len(ops)
			b.StartTimer()
			z.Reset(w)
			if _, err := z.Write(ops); err != nil {
				b.Fatal(err)
			}
			if err := z.Close(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(w.n)/1e6, "MB/file")
		b.ReportMetric(float64(text)/1e6, "MB/unpacked")
	}
}

// pageOperators returns what a page of its own says, unpacked.
func pageOperators(b *testing.B, s *draw.Sheet) []byte {
	var file bytes.Buffer
	p, err := NewWriter(&file, draw.Document{}, Options{})
	if err != nil {
		b.Fatal(err)
	}
	if err := p.Sheet(s); err != nil {
		b.Fatal(err)
	}
	return bytes.Clone(p.c.buf)
}

// counter takes bytes and keeps their number.
type counter struct{ n int }

func (c *counter) Write(b []byte) (int, error) { c.n += len(b); return len(b), nil }

var _ io.Writer = (*counter)(nil)
