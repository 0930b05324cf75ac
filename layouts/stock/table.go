package stock

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// format is a size that sheets are sold in.
type format struct {
	key, name string
	size      geom.Size // mm, portrait
	source    string
}

const (
	isoSize  = "size: ISO 216; "
	ansiSize = "size: ANSI/ASME Y14.1; "
	pwgSize  = "size: PWG 5101.1; "
)

// formats are the sizes a stock can be had in, by which its keys begin.
func formats() []format {
	return []format{
		{"a6", "A6", geom.Size{W: 105, H: 148}, isoSize},
		{"a5", "A5", geom.Size{W: 148, H: 210}, isoSize},
		{"a4", "A4", geom.Size{W: 210, H: 297}, isoSize},
		{"a3", "A3", geom.Size{W: 297, H: 420}, isoSize},
		{"letter", "letter", geom.Size{W: 215.9, H: 279.4}, ansiSize},   // size A, 8.5 x 11 in
		{"tabloid", "tabloid", geom.Size{W: 279.4, H: 431.8}, ansiSize}, // size B, 11 x 17 in
		{"legal", "legal", geom.Size{W: 215.9, H: 355.6}, pwgSize},      // 8.5 x 14 in, as its standard name says; no size of ANSI
		{"b5", "B5", geom.Size{W: 176, H: 250}, isoSize},                // not the Japanese one of 182 x 257
		{"b4", "B4", geom.Size{W: 250, H: 353}, isoSize},
	}
}

// material is one stuff in all its sizes.
type material struct {
	key, name string
	kind      Kind
	medium    Medium
	thickness float64 // mm
	thickBy   string  // its source
	clear     bool
	bears     string   // key of wrap.FilmLimits
	formats   []string // that are listed; all others can be named
}

// Thicknesses, mm, and what they rest on. No data sheet was read: estimates
// from memory, and what a maker's own stock row is there to correct.
const (
	filmThick    = 0.02 // waterslide film
	stickerThick = 0.10 // vinyl with its glue
	labelThick   = 0.12 // paper with its glue
	tissueThick  = 0.03 // tissue of 10 to 20 g/m² with the varnish it soaks up
	rubOnThick   = 0.02 // ink between its carrier's glue and a clear coat
	skinThick    = 0.02 // ink on a film of glue
	cardThick    = 0.38 // board of 300 g/m²
	paperThick   = 0.10 // paper of 80 g/m²

	filmBy   = "thickness 0.01 to 0.03 mm: estimate, no source"
	stickBy  = "thickness 0.08 to 0.15 mm: estimate, no source"
	labelBy  = "thickness 0.10 to 0.15 mm: estimate, no source"
	tissueBy = "thickness 0.02 to 0.04 mm: estimate, no source"
	rubOnBy  = "thickness 0.01 to 0.03 mm: estimate, no source"
	skinBy   = "thickness 0.01 to 0.03 mm: estimate, no source"
	cardBy   = "thickness 0.35 to 0.40 mm: estimate, no source"
	paperBy  = "thickness about 0.1 mm: estimate, no source"
)

// materials is the table of the built-in stocks. The keys of what they bear are
// those of wrap.FilmLimits; card and paper bear nothing, since they are not laid
// on a body.
func materials() []material {
	common := []string{"a6", "a5", "a4", "a3", "letter", "tabloid"}
	small := []string{"a5", "a4", "letter"} // sold for crafts, hardly in A3
	return []material{
		{key: "film-white", name: "white waterslide film", kind: Film, medium: Waterslide,
			thickness: filmThick, thickBy: filmBy, bears: "waterslide-softener", formats: common},
		{key: "film-clear", name: "clear waterslide film", kind: Film, medium: Waterslide,
			thickness: filmThick, thickBy: filmBy, clear: true, bears: "waterslide-softener", formats: common},
		{key: "tissue", name: "tissue under varnish", kind: Film, medium: Tissue,
			thickness: tissueThick, thickBy: tissueBy, clear: true, bears: "tissue", formats: small},
		{key: "rub-on", name: "clear rub-on film", kind: Film, medium: RubOn,
			thickness: rubOnThick, thickBy: rubOnBy, clear: true, bears: "rub-on", formats: small},
		{key: "skin-transfer", name: "clear skin-transfer film", kind: Film, medium: SkinTransfer,
			thickness: skinThick, thickBy: skinBy, clear: true, bears: "skin-transfer", formats: small},
		{key: "sticker", name: "white self-adhesive vinyl", kind: Sticker, medium: Vinyl,
			thickness: stickerThick, thickBy: stickBy, bears: "vinyl-cold", formats: common},
		{key: "paper-label", name: "white self-adhesive paper", kind: Sticker, medium: Vinyl,
			thickness: labelThick, thickBy: labelBy, bears: "paper-label", formats: small},
		{key: "card", name: "white card of 300 g/m²", kind: Card, thickness: cardThick, thickBy: cardBy, formats: common},
		{key: "paper", name: "plain paper of 80 g/m²", kind: Paper, thickness: paperThick, thickBy: paperBy, formats: common},
	}
}

// byHand is the stock for makers without film: no sheet, no thickness; the
// words go straight on the body, in the maker's hand.
func byHand() Stock {
	return Stock{Key: "by-hand", Name: "no film: words by hand, with a paper jig", Kind: Paper,
		Colour: draw.White, Clear: true, Source: "no sheet", Medium: ByHand}
}

// in returns the material in one format.
func (m material) in(f format) Stock {
	return Stock{Key: f.key + "-" + m.key, Name: m.name + ", " + f.name, Kind: m.kind, Size: f.size,
		Margin: edge, Thickness: m.thickness, Colour: draw.White, Clear: m.clear, Source: f.source + m.thickBy,
		Medium: m.medium, Bears: m.bears}
}

// Materials returns the keys of the stuffs stocks are made of: "film-white".
func Materials() []string {
	var keys []string
	for _, m := range materials() {
		keys = append(keys, m.key)
	}
	return keys
}

// Formats returns the keys of the sizes they can be had in: A3 to A6, B4 and B5 by
// ISO 216, letter and tabloid by ANSI/ASME Y14.1, and legal.
func Formats() []string {
	var keys []string
	for _, f := range formats() {
		keys = append(keys, f.key)
	}
	return keys
}

// Sized returns the stock of a material in a format, whether or not Stocks lists
// it; not the stock by hand, which has no size.
func Sized(material, format string) (Stock, bool) {
	for _, m := range materials() {
		for _, f := range formats() {
			if m.key == material && f.key == format {
				return m.in(f), true
			}
		}
	}
	return Stock{}, false
}

// Stocks returns the built-in stocks in the sizes they are commonly sold in, by
// material and then by size, and by hand last. The slice is the caller's.
func Stocks() []Stock {
	var all []Stock
	for _, m := range materials() {
		for _, key := range m.formats {
			if s, ok := Sized(m.key, key); ok {
				all = append(all, s)
			}
		}
	}
	return append(all, byHand())
}
