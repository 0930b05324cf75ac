package readback

import (
	"image"
	"image/color"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
	"floatmark/cmd/internal/web"
	"floatmark/label/symbol/scan"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/view"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// printedCode is a code as PDFium draws its sheet.
type printedCode struct {
	page picture
	at   geom.Affine // from the code's own top left corner to the sheet, mm
}

// scanBack goes the whole way of a float's code: the printed sheet as PDFium
// draws it, laid round the float, seen by a phone that is not held square, read,
// and its link asked of the server, whose page must show that very float.
func (p printed) scanBack(t *testing.T) {
	shop, err := job.Open(p.shop)
	if err != nil {
		t.Fatal(err)
	}
	shelf := shop.Shelf()
	defer shelf.Close()
	server := web.New(shelf, web.Options{Hosts: []string{"f.example"}})
	codes := p.printedCodes(t)
	seen := map[string]bool{}
	for _, fp := range p.plan.Floats {
		if !fp.Decal.CodeOn || seen[fp.Float.Pattern.Key] {
			continue
		}
		seen[fp.Float.Pattern.Key] = true
		code, ok := codes[fp.Mark.Code]
		if !ok {
			t.Errorf("float %d: its code is on no sheet", fp.Float.Number)
			continue
		}
		text, err := scan.QR(photograph(fp.Float.Shape(), *fp.Decal.Code, code))
		if err != nil || text != fp.Mark.Code {
			t.Errorf("float %d: the phone reads %q, %v; want %q", fp.Float.Number, text, err, fp.Mark.Code)
			continue
		}
		link, err := url.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		r := httptest.NewRequest(http.MethodGet, link.Path, nil)
		r.Host = link.Host
		w := httptest.NewRecorder()
		server.ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			t.Errorf("%s answers %d", text, w.Code)
		}
		for _, want := range []string{fp.Card.ID, fp.Float.Pattern.Name, strings.TrimSuffix(fp.Card.Rating, " g")} {
			if !strings.Contains(w.Body.String(), want) {
				t.Errorf("the page of float %d does not show %q", fp.Float.Number, want)
			}
		}
	}
	if len(seen) < 3 {
		t.Errorf("only %d patterns bear codes", len(seen))
	}
}

// printedCodes finds the codes of the decal sheets by what they say.
func (p printed) printedCodes(t *testing.T) map[string]printedCode {
	pdf := p.open(t, "decals.pdf")
	found := map[string]printedCode{}
	for i, s := range p.plan.Decals {
		page := pdf.render(i, 600)
		draw.Walk(s.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
			f, ok := o.(*draw.Fill)
			if !ok || !rigid {
				return
			}
			if text, err := scan.QR(crop(page, f.Path.Transform(at).Bounds().Inset(-1.5))); err == nil {
				found[text] = printedCode{page, at}
			}
		})
	}
	return found
}

// photograph is a phone's picture of the sheet laid round the body: from 100 mm,
// walked round it by 8 degrees, tipped by 6 and turned by 25.
func photograph(p body.Profile, c decal.Code, on printedCode) image.Image {
	const (
		degree = math.Pi / 180
		half   = 130 // picture points
		finer  = 3   // looks within a point, each way
		about  = 14  // mm of the body beyond the code's middle
	)
	z := view.NewSkin(p, c.Flat.From, c.Flat.To).Height(c.S)
	skin := view.NewSkin(p, z-unit.Millimetre(about), z+unit.Millimetre(about))
	foot := skin.Slant(z) - c.S
	sight := view.Phone{Yaw: 8 * degree, Pitch: -6 * degree, Roll: 25 * degree, Distance: 100, Focal: 1440}.Aim(skin, z)
	home, _ := c.Flat.Frame(c.Theta, c.S).Inverse()
	corner := geom.Translate(c.Wide(c.Matrix.N)/2, float64(c.Matrix.N)*c.Module/2)
	img := image.NewGray(image.Rect(0, 0, 2*half, 2*half))
	for y := range 2 * half {
		for x := range 2 * half {
			sum := 0
			for j := range finer * finer {
				u, v := float64(x-half)+(float64(j%finer)+0.5)/finer, float64(y-half)+(float64(j/finer)+0.5)/finer
				h, ok := sight.Hit(u, v, math.NaN())
				if !ok {
					sum += 0x60 // the table behind
					continue
				}
				q := on.at.Apply(corner.Apply(home.Apply(c.Flat.At(c.Theta+h.Phi, h.S-foot))))
				px, py := int(q.X*on.page.kx), int(q.Y*on.page.ky)
				sum += int(color.GrayModel.Convert(on.page.At(px, py)).(color.Gray).Y)
			}
			img.SetGray(x, y, color.Gray{Y: uint8(sum / (finer * finer))})
		}
	}
	return img
}
