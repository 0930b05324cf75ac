package readback

import (
	"context"
	"image"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
	"floatmark/label/symbol/scan"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// printed is the demo batch, planned and written once for the tests below.
type printed struct {
	plan *job.Plan
	dir  string
	shop string // the workshop's folder
}

func demo(t *testing.T) printed {
	t.Helper()
	dir := t.TempDir()
	shop, path, err := job.Demo(dir)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := shop.Plan(context.Background(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Print(context.Background(), plan, dir, nil); err != nil {
		t.Fatal(err)
	}
	return printed{plan, dir, shop.Dir}
}

func (p printed) open(t *testing.T, name string) *pdfFile {
	t.Helper()
	file, err := os.ReadFile(filepath.Join(p.dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return openPDF(t, file)
}

// TestPrintedBatch reads the demo's three files back: page sizes of ISO 216,
// check lines of their length, text that is found, code squares in mm without seams,
// and every code of every sheet decoded from PDFium's picture.
func TestPrintedBatch(t *testing.T) {
	p := demo(t)
	for _, f := range []struct {
		name   string
		sheets []*draw.Sheet
	}{{"decals.pdf", p.plan.Decals}, {"backers.pdf", p.plan.Backers}, {"jobsheet.pdf", p.plan.JobSheets}} {
		t.Run(f.name, func(t *testing.T) {
			pdf := p.open(t, f.name)
			if pdf.pages() != len(f.sheets) || len(f.sheets) == 0 {
				t.Fatalf("%d pages, %d sheets", pdf.pages(), len(f.sheets))
			}
			for i := range f.sheets {
				if s := pdf.size(i); !near(s.W, 210) || !near(s.H, 297) { // ISO 216, A4
					t.Errorf("page %d is %v, want A4", i, s)
				}
				// Film carries a short line, its proof the long ones; cards have no
				// room beside them for an upright line; of job sheets the first
				// carries the lines.
				long := 100.0
				if f.name == "decals.pdf" {
					long = 50
				}
				across, down := checkLines(pdf.paths(i), long)
				wantAcross, wantDown := f.name != "jobsheet.pdf" || i == 0, f.name == "jobsheet.pdf" && i == 0
				if wantAcross && across != 1 || wantDown && down != 1 {
					t.Errorf("page %d has %d check lines of %v mm across and %d down", i, across, long, down)
				}
			}
		})
	}
	t.Run("text", p.text)
	t.Run("codes", p.codes)
	t.Run("from a float to its page", p.scanBack)
}

func checkLines(paths []geom.Rect, long float64) (across, down int) {
	for _, b := range paths {
		if near(b.W(), long) && b.H() < 1 {
			across++
		}
		if near(b.H(), long) && b.W() < 1 {
			down++
		}
	}
	return across, down
}

// text searches for what stands on each float, as a viewer would.
func (p printed) text(t *testing.T) {
	decals, cards, sheet := p.open(t, "decals.pdf"), p.open(t, "backers.pdf"), p.open(t, "jobsheet.pdf")
	pages := map[*pdfFile][]string{}
	for _, f := range []*pdfFile{decals, cards, sheet} {
		for i := range f.pages() {
			pages[f] = append(pages[f], f.text(i))
		}
	}
	anywhere := func(f *pdfFile, text string) bool {
		for i, all := range pages[f] {
			// Of words that stand sideways PDFium may join two lines without a space
			// between: they are found as text all the same, if not as whole words.
			if strings.Contains(all, text) || f.find(i, text) > 0 {
				return true
			}
		}
		return false
	}
	for _, f := range p.plan.Floats {
		for _, l := range f.Decal.Printed {
			if !anywhere(decals, l.Text) && !strings.Contains(l.Text, ",") { // lengthwise, lines share a side
				t.Errorf("float %d: %q is not found on the decals", f.Float.Number, l.Text)
			}
		}
		for _, text := range []string{f.Card.ID, strings.TrimPrefix(f.Card.Rating, "about "), f.Card.Pattern.Name} {
			if !anywhere(cards, text) {
				t.Errorf("float %d: %q is not found on the cards", f.Float.Number, text)
			}
		}
		if !anywhere(sheet, f.Card.ID) {
			t.Errorf("float %d: its id is not found on the job sheet", f.Float.Number)
		}
	}
}

// codes finds each code's square by its path in the PDF and decodes it from the
// picture of its page.
func (p printed) codes(t *testing.T) {
	onFloat := map[string]bool{}
	onCard := map[string]bool{}
	for _, f := range p.plan.Floats {
		onCard[f.Card.Code] = true
		if f.Decal.CodeOn {
			onFloat[f.Mark.Code] = true
		}
	}
	if len(onCard) != len(p.plan.Floats) || len(onFloat) < 3 {
		t.Fatalf("%d codes on cards, %d on floats of %d", len(onCard), len(onFloat), len(p.plan.Floats))
	}
	for _, f := range []struct {
		name   string
		sheets []*draw.Sheet
		want   map[string]bool
		dpi    int // squares of a card are larger
	}{{"decals.pdf", p.plan.Decals, onFloat, 600}, {"backers.pdf", p.plan.Backers, onCard, 300}} {
		pdf := p.open(t, f.name)
		got := map[string]int{}
		for i, s := range f.sheets {
			squares := codeSquares(s)
			if len(squares) == 0 {
				continue
			}
			paths := pdf.paths(i)
			pic := pdf.render(i, f.dpi)
			for n, sq := range squares {
				if !hasBox(paths, sq) {
					t.Errorf("%s page %d: no path of the code's %v", f.name, i, sq)
				}
				text, err := scan.QR(crop(pic, sq.Inset(-1.5)))
				if err != nil {
					t.Errorf("%s page %d, code at %v: %v", f.name, i, sq, err)
					continue
				}
				got[text]++
				if n == 0 && i == 0 {
					for _, dpi := range []int{300, 600} {
						if greys := greysIn(pdf.render(i, dpi), sq); greys > 0 {
							t.Errorf("%s page %d at %d dpi: %d grey pixels inside dark modules", f.name, i, dpi, greys)
						}
					}
				}
			}
		}
		for text := range f.want {
			if got[text] != 1 {
				t.Errorf("%s: %q read %d times", f.name, text, got[text])
			}
		}
		if len(got) != len(f.want) {
			t.Errorf("%s: %d different codes read, want %d", f.name, len(got), len(f.want))
		}
	}
}

// codeSquares returns the bounds of the rigid groups of a sheet: its codes.
func codeSquares(s *draw.Sheet) []geom.Rect {
	var all []geom.Rect
	draw.Walk(s.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
		if f, ok := o.(*draw.Fill); ok && rigid {
			all = append(all, f.Path.Transform(at).Bounds())
		}
	})
	return all
}

func hasBox(paths []geom.Rect, want geom.Rect) bool {
	for _, b := range paths {
		if near(b.Min.X, want.Min.X) && near(b.Min.Y, want.Min.Y) && near(b.Max.X, want.Max.X) && near(b.Max.Y, want.Max.Y) {
			return true
		}
	}
	return false
}

// crop cuts a rectangle in mm out of a page's picture.
func crop(p picture, r geom.Rect) image.Image {
	return p.SubImage(image.Rect(int(r.Min.X*p.kx), int(r.Min.Y*p.ky), int(math.Ceil(r.Max.X*p.kx)), int(math.Ceil(r.Max.Y*p.ky))))
}

// greysIn counts pixels well inside the top left finder's ring that are not
// black: where neighbouring modules are drawn apart, they show.
func greysIn(p picture, sq geom.Rect) int {
	module := sq.W() / 21
	greys := 0
	y := int((sq.Min.Y + module/2) * p.ky)
	for x := int(math.Ceil((sq.Min.X+module*0.3)*p.kx)) + 1; x < int((sq.Min.X+module*6.7)*p.kx)-1; x++ {
		if color.GrayModel.Convert(p.At(x, y)).(color.Gray).Y > 0 {
			greys++
		}
	}
	return greys
}
