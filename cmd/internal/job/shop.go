package job

import (
	"bytes"
	"context"
	"fmt"
	"path"
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
	cards, err := p.pressed(p.cards)
	if err != nil {
		return nil, err
	}
	press := pdf.Options{CutName: p.forShop.CutName, CutCMYK: [4]float64{0, 1, 0, 0}}
	black := press
	black.BlackOnly = true
	if len(p.Decals) > 0 {
		if err := add("decals-press.pdf", draw.Document{Title: "decals for the press", Sheets: decals}, press); err != nil {
			return nil, err
		}
		if err := add("decals-black.pdf", draw.Document{Title: "decals in black alone", Sheets: decals}, black); err != nil {
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
	if err := add("backers-press.pdf", draw.Document{Title: "backers for the press", Sheets: cards}, press); err != nil {
		return nil, err
	}
	return out, add("order.pdf", draw.Document{Title: "order for the print shop", Sheets: []*draw.Sheet{note}}, pdf.Options{})
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
	count := func(n int, what string) string { return fmt.Sprintf("%d %s", n, what) }
	var asked []jobsheet.Asked
	tell := func(about, want string) { asked = append(asked, jobsheet.Asked{About: about, Want: want}) }
	if len(p.Decals) > 0 {
		tell("quantity, decals", count(len(p.Decals), "sheets, each once: every page differs")+" (decals-press.pdf; decals-black.pdf is the same in black alone)")
		tell("stock, decals", p.film.Name+", "+sizeText(p.film.Size.W, p.film.Size.H)+grainText(string(p.film.Kind.String())))
	}
	tell("quantity, cards", count(len(p.Backers), "sheets, each once: every card differs")+" (backers-press.pdf)")
	tell("stock, cards", p.card.Name+", "+sizeText(p.card.Size.W, p.card.Size.H))
	tell("size", "Print at 100 %, no fitting and no shrinking: a line on each sheet must measure what it says.")
	tell("trim", fmt.Sprintf("Pieces are cut along the spot colour %q, which is not printed. It is a path of its own on the layer cut.", cut))
	tell("other forms", "decals-1.svg and on: each page in mm with named layers; decals-1.png and on: the same in black and white alone, a dot for a dot of the press.")
	tell("cutting machine", "cut-1.svg and on hold the cut path of each page alone, in mm, with three registration marks that the page bears too.")
	tell("bleed", "Colour that meets the cut goes "+unit.Millimetre(shopBleed).Text(1, unit.Style{})+" beyond it; nothing else bleeds.")
	tell("black", "Text and codes are black alone (K 100 %), overprinting nothing. Codes are made of whole dots of "+
		unit.Number(p.print.DPI, 1, unit.Style{})+" dots per inch: do not scale, smooth or re-screen them.")
	if p.film.Medium.Mirrored() {
		tell("mirrored", "The sheets are laid out mirrored already: do not mirror them again.")
	}
	tell("white", "No white ink: what is white is the stock.")
	return jobsheet.Order(jobsheet.OrderSpec{Maker: b.Maker.Name, Contact: b.Maker.Contact, Batch: p.words.Batch + " " + b.Name, Date: b.Date,
		Asked: asked, Fonts: p.fonts, Stock: p.paper})
}

func sizeText(w, h float64) string {
	return unit.Number(w, 0.1, unit.Style{}) + " x " + unit.Millimetre(h).Text(0.1, unit.Style{})
}

// grainText is what matters of the grain: labels bend round a float along it.
func grainText(kind string) string {
	if strings.EqualFold(kind, "sticker") {
		return "; grain along the long side"
	}
	return ""
}
