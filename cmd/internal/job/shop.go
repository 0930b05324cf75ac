package job

import (
	"bytes"
	"context"
	"fmt"
	"path"
	"strconv"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/jobsheet"
	"floatmark/layouts/pdf"
	"floatmark/layouts/png"
	"floatmark/layouts/stock"
	"floatmark/layouts/svg"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// ForShop is what a print shop wants of its files.
type ForShop struct {
	CutName string // of the cut lines' spot colour; "" for pdf.DefaultCut
}

const (
	shopFolder = "shop"
	// shopBleed is how far colour that meets the cut goes beyond it, mm: half the
	// gap between pieces, so that no piece is printed on another.
	shopBleed = 1.0
)

// shopFiles makes the folder for a print shop: press files without the bench's
// captions, one in colour and one in black alone, the cards, and the order note.
func (p *Plan) shopFiles(ctx context.Context) ([]Output, error) {
	b := p.File.Batch
	var out []Output
	add := func(name string, doc draw.Document, o pdf.Options) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		doc.Title, doc.Author, doc.Date, doc.Subject = fmt.Sprintf("%s, %s %s", doc.Title, p.words.Batch, b.Name), b.Maker.Name, b.Date, p.words.ActualSize
		var buf bytes.Buffer
		if err := pdf.WriteWith(&buf, doc, o); err != nil {
			return fault.At(path.Join(shopFolder, name), err)
		}
		out = append(out, output(path.Join(shopFolder, name), buf.Bytes()))
		return nil
	}
	note, err := p.orderNote()
	if err != nil {
		return nil, err
	}
	laid := make([]*draw.Sheet, len(p.Laid))
	for i, l := range p.Laid {
		laid[i] = l.Sheet
	}
	decals, err := p.pressed(laid)
	if err != nil {
		return nil, err
	}
	for _, s := range decals {
		s.Add(draw.Guide, svg.DefaultRegistration.Marks(s.Size)...)
	}
	press := pdf.Options{CutName: p.forShop.CutName, CutCMYK: [4]float64{0, 1, 0, 0}}
	black := press
	black.BlackOnly = true
	if len(p.Decals) > 0 {
		if err := add("decals-press.pdf", draw.Document{Title: p.words.Files.PressDecals, Sheets: decals}, press); err != nil {
			return nil, err
		}
		if err := add("decals-black.pdf", draw.Document{Title: p.words.Files.BlackDecals, Sheets: decals}, black); err != nil {
			return nil, err
		}
	}
	for i, s := range decals {
		for _, f := range []struct {
			name  string
			write func(*bytes.Buffer) error
		}{
			{"decals-%d.svg", func(buf *bytes.Buffer) error { return svg.Write(buf, s) }},
			{"decals-%d.png", func(buf *bytes.Buffer) error { return png.WriteBilevel(buf, s, p.print.DPI) }},
			{"cut-%d.svg", func(buf *bytes.Buffer) error { return svg.WriteCut(buf, s, svg.DefaultRegistration) }},
		} {
			if strings.HasPrefix(f.name, "cut") && len(s.Layers[draw.Cut]) == 0 {
				continue // labels that are cut already
			}
			var buf bytes.Buffer
			name := path.Join(shopFolder, fmt.Sprintf(f.name, i+1))
			if err := f.write(&buf); err != nil {
				return nil, fault.At(name, err)
			}
			out = append(out, output(name, buf.Bytes()))
		}
	}
	if err := p.pressCards(add, press); err != nil {
		return nil, err
	}
	return out, add("order.pdf", draw.Document{Title: p.words.Files.OrderForShop, Sheets: []*draw.Sheet{note}}, pdf.Options{})
}

// pressed are sheets for another printer than the maker's: true to size, codes on
// whole dots, and nothing of his printer's errors made up for.
func (p *Plan) pressed(sheets []*draw.Sheet) ([]*draw.Sheet, error) {
	press := stock.Plain()
	press.DPI = p.print.DPI
	return calibrated(sheets, press)
}

func (p *Plan) orderNote() (*draw.Sheet, error) {
	b := p.File.Batch
	cut := p.forShop.CutName
	if cut == "" {
		cut = pdf.DefaultCut
	}
	w := p.words.Order
	var asked []jobsheet.Asked
	tell := func(about, want string) { asked = append(asked, jobsheet.Asked{About: about, Want: want}) }
	if len(p.Decals) > 0 {
		tell(w.QuantityDecals, fmt.Sprintf(w.DecalSheets, strconv.Itoa(len(p.Decals))))
		tell(w.StockDecals, p.words.Name(p.film.Name)+", "+p.sizeText(p.film)+p.grainText())
	}
	tell(w.QuantityCards, fmt.Sprintf(w.CardSheets, strconv.Itoa(p.CardSheets())))
	tell(w.StockCards, p.words.Name(p.card.Name)+", "+p.sizeText(p.card))
	tell(w.Size, w.SizeWant)
	tell(w.Trim, fmt.Sprintf(w.TrimWant, cut))
	tell(w.OtherForms, w.FormsWant)
	tell(w.Machine, w.MachineWant)
	tell(w.Bleed, fmt.Sprintf(w.BleedWant, p.words.Millimetre(shopBleed, 1)))
	tell(w.Black, fmt.Sprintf(w.BlackWant, unit.Number(p.print.DPI, 1, p.words.Number)))
	if p.film.Medium.Mirrored() {
		tell(w.Mirrored, w.MirroredWant)
	}
	tell(w.White, w.WhiteWant)
	return jobsheet.Order(jobsheet.OrderSpec{Maker: b.Maker.Name, Contact: b.Maker.Contact, Batch: p.words.Batch + " " + b.Name, Date: b.Date,
		Asked: asked, Fonts: p.fonts, Words: p.words, Stock: p.paper})
}

func (p *Plan) sizeText(s stock.Stock) string {
	return unit.Number(s.Size.W, 0.1, p.words.Number) + " x " + p.words.Millimetre(unit.Millimetre(s.Size.H), 0.1)
}

// grainText is what matters of the grain: labels bend round a float along it.
func (p *Plan) grainText() string {
	if p.film.Kind == stock.Sticker {
		return p.words.Order.Grain
	}
	return ""
}
