// Package stock knows what marks are printed on and with: film, stickers, card
// and paper as bought, and printers with their error of scale.
//
// Lengths are millimetres, origin top left, y down. It knows nothing of what is
// printed, and of no part-used sheet.
package stock

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// Kind says what a stock is for.
type Kind int

// The kinds.
const (
	Film    Kind = iota // waterslide film: the mark itself, under varnish
	Sticker             // self-adhesive label
	Card                // backers
	Paper               // job sheets, test prints
)

// String returns the kind as one plain word.
func (k Kind) String() string {
	switch k {
	case Film:
		return "film"
	case Sticker:
		return "sticker"
	case Card:
		return "card"
	case Paper:
		return "paper"
	}
	return "unknown"
}

// Stock is a material as bought, one size of it.
type Stock struct {
	Key       string    // "a4-film-white": stable, named in batch files
	Name      string    // for people
	Kind      Kind      //
	Size      geom.Size // mm, portrait: never wider than high
	Margin    float64   // mm that a printer leaves blank along every edge
	Thickness float64   // mm of what goes on the float; of the whole for card and paper
	Colour    draw.Ink  // of the unprinted stock; of what lies behind it if it is clear
	Clear     bool      // the body shows through
	Source    string    // where size and thickness come from
}

// edge is the blank margin of an office printer: common practice, no source.
// A printer's manual gives 4 to 5 mm; the larger is taken.
const edge = 5.0

// Thicknesses, mm. No data sheet was read: estimates from memory, and what a
// maker's own stock row is there to correct.
const (
	filmThick    = 0.02 // waterslide film, 0.01 to 0.03
	stickerThick = 0.10 // vinyl with its glue, 0.08 to 0.15
	cardThick    = 0.38 // board of 300 g/m², 0.35 to 0.40
	paperThick   = 0.10 // paper of 80 g/m²
)

const (
	isoSize  = "size: ISO 216; "
	ansiSize = "size: ANSI/ASME Y14.1; "
	filmBy   = "thickness 0.01 to 0.03 mm: estimate, no source"
	stickBy  = "thickness 0.08 to 0.15 mm: estimate, no source"
	cardBy   = "thickness 0.35 to 0.40 mm: estimate, no source"
	paperBy  = "thickness about 0.1 mm: estimate, no source"
)

// Stocks returns every built-in stock, by kind and then by size. The slice is
// the caller's.
func Stocks() []Stock {
	var ( // portrait
		a3     = geom.Size{W: 297, H: 420}     // ISO 216, A series
		a4     = geom.Size{W: 210, H: 297}     // ISO 216, A series
		a5     = geom.Size{W: 148, H: 210}     // ISO 216, A series
		letter = geom.Size{W: 215.9, H: 279.4} // ANSI/ASME Y14.1 size A, 8.5 x 11 in
	)
	return []Stock{
		{"a5-film-white", "white waterslide film, A5", Film, a5, edge, filmThick, draw.White, false, isoSize + filmBy},
		{"a4-film-white", "white waterslide film, A4", Film, a4, edge, filmThick, draw.White, false, isoSize + filmBy},
		{"a3-film-white", "white waterslide film, A3", Film, a3, edge, filmThick, draw.White, false, isoSize + filmBy},
		{"letter-film-white", "white waterslide film, letter", Film, letter, edge, filmThick, draw.White, false, ansiSize + filmBy},
		{"a5-film-clear", "clear waterslide film, A5", Film, a5, edge, filmThick, draw.White, true, isoSize + filmBy},
		{"a4-film-clear", "clear waterslide film, A4", Film, a4, edge, filmThick, draw.White, true, isoSize + filmBy},
		{"a3-film-clear", "clear waterslide film, A3", Film, a3, edge, filmThick, draw.White, true, isoSize + filmBy},
		{"letter-film-clear", "clear waterslide film, letter", Film, letter, edge, filmThick, draw.White, true, ansiSize + filmBy},
		{"a5-sticker", "white self-adhesive vinyl, A5", Sticker, a5, edge, stickerThick, draw.White, false, isoSize + stickBy},
		{"a4-sticker", "white self-adhesive vinyl, A4", Sticker, a4, edge, stickerThick, draw.White, false, isoSize + stickBy},
		{"a3-sticker", "white self-adhesive vinyl, A3", Sticker, a3, edge, stickerThick, draw.White, false, isoSize + stickBy},
		{"letter-sticker", "white self-adhesive vinyl, letter", Sticker, letter, edge, stickerThick, draw.White, false, ansiSize + stickBy},
		{"a5-card", "white card of 300 g/m², A5", Card, a5, edge, cardThick, draw.White, false, isoSize + cardBy},
		{"a4-card", "white card of 300 g/m², A4", Card, a4, edge, cardThick, draw.White, false, isoSize + cardBy},
		{"a3-card", "white card of 300 g/m², A3", Card, a3, edge, cardThick, draw.White, false, isoSize + cardBy},
		{"letter-card", "white card of 300 g/m², letter", Card, letter, edge, cardThick, draw.White, false, ansiSize + cardBy},
		{"a5-paper", "plain paper of 80 g/m², A5", Paper, a5, edge, paperThick, draw.White, false, isoSize + paperBy},
		{"a4-paper", "plain paper of 80 g/m², A4", Paper, a4, edge, paperThick, draw.White, false, isoSize + paperBy},
		{"a3-paper", "plain paper of 80 g/m², A3", Paper, a3, edge, paperThick, draw.White, false, isoSize + paperBy},
		{"letter-paper", "plain paper of 80 g/m², letter", Paper, letter, edge, paperThick, draw.White, false, ansiSize + paperBy},
	}
}

// ByKey returns the built-in stock of that key.
func ByKey(key string) (Stock, bool) {
	for _, s := range Stocks() {
		if s.Key == key {
			return s, true
		}
	}
	return Stock{}, false
}
