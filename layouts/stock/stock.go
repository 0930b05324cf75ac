// Package stock knows what marks are printed on and with: film, stickers, card
// and paper as bought, and printers with their error of scale.
//
// Lengths are millimetres, origin top left, y down. It knows nothing of what is
// printed, and of no part-used sheet.
package stock

import (
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// Kind says what a stock is for.
type Kind int

// The kinds.
const (
	Film    Kind = iota // thin film: the mark itself, under varnish
	Sticker             // self-adhesive label
	Card                // backers
	Paper               // job sheets, test prints, jigs for marks by hand
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
	Size      geom.Size // mm, portrait: never wider than high; nothing if there is no sheet
	Margin    float64   // mm that a printer leaves blank along every edge
	Thickness float64   // mm of what goes on the float; of the whole for card and paper
	Colour    draw.Ink  // of the unprinted stock; of what lies behind it if it is clear
	Clear     bool      // the body shows through
	Source    string    // where size and thickness come from
	Medium    Medium    // how it goes on the body
	Bears     string    // key of the strain it bears among wrap.FilmLimits; "" where nothing is laid on a body
	Grain     Grain     // which way its fibres run, where that binds
	Grid      *Grid     // the labels of a die-cut sheet; nil for a sheet that is cut afterwards
}

// edge is the blank margin of an office printer: common practice, no source.
// A printer's manual gives 4 to 5 mm; the larger is taken.
const edge = 5.0

// ByKey returns the built-in stock of that key: one of Stocks, or any material in
// any format, as in "b5-film-white".
func ByKey(key string) (Stock, bool) {
	if by := byHand(); by.Key == key {
		return by, true
	}
	format, material, _ := strings.Cut(key, "-")
	return Sized(material, format)
}
