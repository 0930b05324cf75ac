package readback

import (
	"image"
	"math"
	"slices"
	"testing"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/oned"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/backer"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// cardTo is how near front and back, boxes and holes must be, mm.
const cardTo = 0.02

// card is a card of a waggler of 174 mm with everything on it.
func card(t testing.TB, style backer.Style) backer.Spec {
	t.Helper()
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	at := func(z, d float64) body.Station {
		return body.Station{Z: unit.Millimetre(z), D: unit.Millimetre(d), Corner: true}
	}
	p, err := body.New([]body.Station{at(0, 3.4), at(10, 4), at(16, 7), at(30, 16), at(52, 13), at(58, 12), at(66, 4.5), at(146, 4.5), at(148, 2.2), at(174, 2.2)})
	if err != nil {
		t.Fatal(err)
	}
	c := label.Card{
		Maker:   label.Maker{Name: "Withy Sluice Floats", Address: []string{"1 Weir Lane", "Exampleton EX1 1EX"}, Contact: "bench@withysluice.example"},
		Pattern: &label.Pattern{Name: "Sedge waggler", Waterline: 158, TipFrom: 161, Profile: p, Body: label.Colour{R: 38, G: 38, B: 43}, Zones: []label.Zone{{Show: label.LeastShow(), From: 30, Height: 22}}},
		Kind:    "loaded", Length: "174 mm long", Diameter: "16 mm body", Rating: "8 g", BuiltIn: "7.2 g", Add: "0.8 g", Water: "fresh water",
		Rows: []label.Row{{Convention: "British present-day, tin", Shot: "1 AAA", Gram: "0.8 g"}},
		ID:   "9KYA3C", Code: "HTTPS://F.EXAMPLE/9KYA3C", Batch: "26-11", Number: 7, Price: "£6.50", EAN: "6291041500213", Mass: 10.4, Ballast: 7.2,
		Cautions: []string{"built-in weight: brass, no lead"}, Band: label.Colour{R: 200, G: 64, B: 47},
	}
	return backer.Spec{Card: c, Fonts: set, Printer: stock.Plain(), Words: w, Style: style}
}

func laid(t testing.TB, s backer.Spec) backer.Laid {
	t.Helper()
	l, err := backer.Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func nearBox(a, b geom.Rect) bool {
	return a.Min.Sub(b.Min).Len() <= cardTo && a.Max.Sub(b.Max).Len() <= cardTo
}

func middle(r geom.Rect) geom.Point { return r.Min.Add(r.Max).Scale(0.5) }

// A card's own pages: the trim box is the finished size, the bleed box 3 mm beyond
// it, the media box holds both and the marks; the ground goes to the bleed and no
// further; crop marks begin 3 mm or more outside the trim, are 6 mm long and
// 0.25 pt thin; fold marks lie on the fold; the hole is of 6 mm, 12 mm deep.
func TestCardPages(t *testing.T) {
	paper := draw.Ink{R: 243, G: 239, B: 228}
	for _, c := range []struct {
		name  string
		style backer.Style
		size  geom.Size
		flat  geom.Size
		pages int
	}{
		{"bank", backer.Style{Sides: 2}, backer.ThirdA4, backer.ThirdA4, 2},
		{"stream", backer.Style{Arrangement: backer.Stream, Sides: 2}, backer.ThirdA4, backer.ThirdA4, 2},
		{"pennant", backer.Style{Arrangement: backer.Pennant}, geom.Size{W: 105, H: 250}, geom.Size{W: 105, H: 250}, 1},
		{"narrow", backer.Style{Sides: 2}, geom.Size{W: 65, H: 297}, geom.Size{W: 65, H: 297}, 2},
		{"fold", backer.Style{Kind: backer.Fold}, backer.ThirdA4, geom.Size{W: 198, H: 210}, 1},
		{"header", backer.Style{Kind: backer.Header}, geom.Size{W: 99, H: 95}, geom.Size{W: 99, H: 190}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.style.Ground = &paper
			s := card(t, c.style)
			s.Size = c.size
			l := laid(t, s)
			f := writeAndOpen(t, l.Single()...)
			if f.pages() != c.pages {
				t.Fatalf("%d pages, want %d", f.pages(), c.pages)
			}
			for page := range c.pages {
				trim := f.trimBox(page)
				if math.Abs(trim.W()-c.flat.W) > cardTo || math.Abs(trim.H()-c.flat.H) > cardTo {
					t.Errorf("page %d: the trim box is %v, want %v", page, trim, c.flat)
				}
				bleed := trim.Inset(-3)
				if got := f.bleedBox(page); !nearBox(got, bleed) {
					t.Errorf("page %d: the bleed box is %v, want %v", page, got, bleed)
				}
				whole := f.size(page)
				if !geom.XYWH(0, 0, whole.W, whole.H).Contains(bleed) {
					t.Errorf("page %d of %v does not hold its bleed", page, whole)
				}
				grounds := layerBoxes(f, page, "ground")
				if len(grounds) == 0 {
					t.Fatal("no ground")
				}
				var all geom.Rect
				for _, g := range grounds {
					all = all.Union(g)
				}
				if !nearBox(all, bleed) {
					t.Errorf("page %d: the grounds reach %v, want %v", page, all, bleed)
				}
				marks := 0
				for _, m := range append(layerBoxes(f, page, "cut"), layerBoxes(f, page, "crease")...) {
					if trim.Inset(-0.1).Contains(m) {
						continue // a hold
					}
					marks++
					if m.Overlaps(trim.Inset(-2.9)) {
						t.Errorf("mark %v comes nearer to the trim %v than the bleed", m, trim)
					}
					// PDFium's box of a stroke is larger by its width on every side.
					const hair = 0.25 * 25.4 / 72
					if long, thin := max(m.W(), m.H())-2*hair, min(m.W(), m.H())/2; math.Abs(long-6) > cardTo || math.Abs(thin-hair) > cardTo {
						t.Errorf("mark %v is not 6 mm by 0.25 pt", m)
					}
				}
				if want := 8 + 2*len(l.Folds); page == 0 && marks != want || page > 0 && marks != 0 {
					t.Errorf("page %d has %d marks outside the trim, want %d on the front and none on the back", page, marks, want)
				}
				if page > 0 {
					continue
				}
				for _, m := range layerBoxes(f, 0, "crease") {
					if c.name == "fold" && math.Abs(middle(m).X-trim.Min.X-99) > cardTo || c.name == "header" && math.Abs(middle(m).Y-trim.Min.Y-95) > cardTo {
						t.Errorf("fold mark at %v", m)
					}
				}
				front := trim.Min
				switch c.name {
				case "fold":
					front.X += 99
				case "header":
					front.Y += 95
				}
				want := front.Add(l.Hung)
				found := false
				for _, h := range layerBoxes(f, 0, "guide") {
					found = found || middle(h).Sub(want).Len() <= cardTo && math.Abs(h.W()-backer.Hole) < 0.25 && math.Abs(h.H()-backer.Hole) < 0.25
				}
				if !found || math.Abs(l.Hung.Y-12) > 1e-9 {
					t.Errorf("no hole of 6 mm about %v in %v", want, layerBoxes(f, 0, "guide"))
				}
			}
		})
	}
}

// layerBoxes returns the boxes of the paths of one layer.
func layerBoxes(f *pdfFile, page int, layer string) []geom.Rect {
	var all []geom.Rect
	for _, o := range f.objects(page) {
		if o.kind == enums.FPDF_PAGEOBJ_PATH && o.layer == layer {
			all = append(all, f.bounds(page, o))
		}
	}
	return all
}

// Holds as PDFium sees them: slits at least d²/2 long, elastic's holes d + 2 mm
// apart, none of them on the tip.
func TestHoldsOnTheCard(t *testing.T) {
	s := card(t, backer.Style{})
	l := laid(t, s)
	f := writeAndOpen(t, l.Single()...)
	trim := f.trimBox(0)
	slits, holes := 0, 0
	var elastic []geom.Rect
	for _, b := range layerBoxes(f, 0, "cut") {
		switch {
		case !trim.Contains(b):
		case b.W() > 3 && b.H() < 0.35: // a line, with its width on every side
			slits++
			if b.W() > 8 && b.W()-0.3+1.5 < 4.5*4.5/2-cardTo { // round ends of 1.5 mm are part of it
				t.Errorf("slit %v is too short for a stem of 4.5 mm", b)
			}
		case math.Abs(b.W()-2.3) < 0.1:
			holes++
			elastic = append(elastic, b)
		}
	}
	if slits != 3 || holes != 2 { // a strap's two and a pocket's
		t.Fatalf("%d slits, %d holes", slits, holes)
	}
	for _, h := range l.Holds {
		if h.Kind == backer.Elastic {
			if got := middle(elastic[1]).X - middle(elastic[0]).X; math.Abs(got-h.D-2) > cardTo {
				t.Errorf("elastic's holes are %.3f mm apart round %.3f mm", got, h.D)
			}
		}
	}
}

// Front and back lie behind each other on a printer whose back is known to come
// out off: each ground of the back, where the printer puts it and seen through
// the sheet, has its middle on that of the front to 0.02 mm. Two cards to a sheet,
// and one on the second, so that a mirrored order would show.
func TestFrontAndBackMeet(t *testing.T) {
	a4, ok := stock.ByKey("a4-card")
	if !ok {
		t.Fatal("no A4 card")
	}
	paper := draw.Ink{R: 243, G: 239, B: 228}
	s := card(t, backer.Style{Sides: 2, Ground: &paper})
	var cards []backer.Laid
	for range 3 {
		cards = append(cards, laid(t, s))
	}
	sheets, err := backer.Impose(cards, backer.Imposition{Stock: a4, Fonts: s.Fonts, Words: s.Words})
	if err != nil {
		t.Fatal(err)
	}
	for _, off := range []stock.Offset{{}, {X: 1.3, Y: -0.7}, {X: -2.25, Y: 0.5, Turn: 0.006}, {Turn: -0.01}} {
		p := stock.Plain()
		p.Duplex = off
		var pages []*draw.Sheet
		for _, one := range sheets {
			front, err := stock.Calibrate(one.Front, p)
			if err != nil {
				t.Fatal(err)
			}
			back, err := stock.CalibrateBack(one.Back, p)
			if err != nil {
				t.Fatal(err)
			}
			pages = append(pages, front, back)
		}
		f := writeAndOpen(t, pages...)
		sin, cos := math.Sincos(off.Turn)
		for i := range sheets {
			var fronts, backs []geom.Point
			for _, g := range layerBoxes(f, 2*i, "ground") {
				fronts = append(fronts, middle(g))
			}
			for _, g := range layerBoxes(f, 2*i+1, "ground") {
				m := middle(g)
				// The printer turns and moves what it prints, as seen from the front.
				x, y := a4.Size.W-m.X-a4.Size.W/2, m.Y-a4.Size.H/2
				backs = append(backs, geom.Point{X: a4.Size.W/2 + x*cos - y*sin + off.X, Y: a4.Size.H/2 + x*sin + y*cos + off.Y})
			}
			byX := func(a, b geom.Point) int {
				if a.X < b.X {
					return -1
				}
				return 1
			}
			slices.SortFunc(fronts, byX)
			slices.SortFunc(backs, byX)
			if want := []int{2, 1}[i]; len(fronts) != want || len(backs) != want {
				t.Fatalf("sheet %d: %d fronts and %d backs, want %d", i, len(fronts), len(backs), want)
			}
			for k := range fronts {
				if d := fronts[k].Sub(backs[k]).Len(); d > cardTo {
					t.Errorf("offset %+v, sheet %d, card %d: back %v lies %.3f mm off its front %v", off, i, k, backs[k], d, fronts[k])
				}
			}
		}
	}
}

// An EAN-13 as PDFium paints it is read by an independent reader, in every
// arrangement and at printers of 300 to 1200 dots; its bars are 95 modules wide,
// a module being 80 to 200 % of 0.330 mm in whole dots, and 11 and 7 modules
// beside it are white.
func TestEANReads(t *testing.T) {
	for _, c := range []struct {
		style backer.Style
		dpi   float64
		page  int
	}{
		{backer.Style{}, 600, 0}, {backer.Style{Sides: 2}, 300, 1}, {backer.Style{Arrangement: backer.Stream, Sides: 2}, 600, 1},
		{backer.Style{Arrangement: backer.Pennant, Sides: 2}, 1200, 1}, {backer.Style{Arrangement: backer.Stream}, 600, 0},
	} {
		s := card(t, c.style)
		s.Printer.DPI = c.dpi
		l := laid(t, s)
		f := writeAndOpen(t, l.Single()...)
		img := f.render(c.page, 300)
		reads := ""
		for _, turned := range []bool{false, true} {
			src := gozxing.NewLuminanceSourceFromImage(img)
			if turned {
				src = gozxing.NewLuminanceSourceFromImage(quarterTurned(img))
			}
			bits, err := gozxing.NewBinaryBitmap(gozxing.NewHybridBinarizer(src))
			if err != nil {
				t.Fatal(err)
			}
			if r, err := oned.NewEAN13Reader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true}); err == nil {
				reads = r.GetText()
			}
		}
		if reads != s.Card.EAN {
			t.Errorf("%+v at %v dpi: read %q, want %q", c.style, c.dpi, reads, s.Card.EAN)
		}
		eanGeometry(t, f, c.page, c.dpi)
	}
}

// eanGeometry measures the bars as PDFium sees them.
func eanGeometry(t *testing.T, f *pdfFile, page int, dpi float64) {
	t.Helper()
	const modules = 95
	trim := f.trimBox(page)
	found := false
	for _, o := range f.objects(page) {
		if o.kind != enums.FPDF_PAGEOBJ_PATH || o.layer != "colour" {
			continue
		}
		b := f.bounds(page, o)
		long, high := b.W(), b.H()
		if high > long {
			long, high = high, long
		}
		x := long / modules
		dots := x * dpi / 25.4
		if x < 0.264-1e-3 || x > 0.66 || math.Abs(dots-math.Round(dots)) > 0.02 || high < 18.28-0.1 || math.Abs(high/x-(22.85/0.33+5)) > 0.2 {
			continue
		}
		found = true
		if b.Min.X-trim.Min.X < 5+7*x-0.1 {
			t.Errorf("bars %v stand %.2f mm from the trim", b, b.Min.X-trim.Min.X)
		}
	}
	if !found {
		t.Errorf("no bars of %d modules on page %d", modules, page)
	}
}

// quarterTurned returns the picture on its side, for bars that stand so.
func quarterTurned(p picture) image.Image {
	b := p.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dy(), b.Dx()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			out.Set(y, b.Dx()-1-x, p.At(b.Min.X+x, b.Min.Y+y))
		}
	}
	return out
}
