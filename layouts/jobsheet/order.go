package jobsheet

import (
	"strings"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"

	"floatmark/layouts/geom"
)

// Asked is one thing that a print shop is told: what it is about, and what is
// wanted.
type Asked struct{ About, Want string }

// OrderSpec is the note that goes with the files to a print shop.
type OrderSpec struct {
	Maker, Contact, Batch, Date string
	Asked                       []Asked // in order
	Fonts                       fonts.Set
	Words                       words.Words
	Stock                       stock.Stock // paper of the note, portrait
}

// Measures of the note, mm. Own choices.
const (
	orderCap   = 2.3
	orderKey   = 34.0 // column of what it is about
	orderGap   = 3.2  // between two rows
	orderSmall = 1.9
)

// Order draws the one-page order note. Text that does not fit on one page is a
// NoFit error.
func Order(s OrderSpec) (*draw.Sheet, error) {
	m := margin(s.Stock)
	left, right := m, s.Stock.Size.W-m
	sheet := &draw.Sheet{Name: "order note", Size: s.Stock.Size}
	put := func(text string, f typeset.Font, x, y, width float64, a typeset.Align) error {
		l, err := typeset.Fit(text, f, width, floorCap)
		if err == nil {
			sheet.Add(draw.Colour, l.Straight(geom.Translate(x, y), a, draw.Black)...)
		}
		return err
	}
	y := m + 3
	wide := right - left
	for _, h := range []struct {
		text string
		f    typeset.Font
		x    float64
		dy   float64
		a    typeset.Align
	}{
		{s.Words.Order.Head, typeset.Bold(s.Fonts, 2.2), left, 0, typeset.Left},
		{s.Date, typeset.Regular(s.Fonts, 2.4), right, 0, typeset.Right},
		{s.Batch, typeset.Bold(s.Fonts, 4.6), left, 8, typeset.Left},
		{strings.TrimSuffix(s.Maker+dot+s.Contact, dot), typeset.Regular(s.Fonts, 2.4), right, 8, typeset.Right},
	} {
		if err := put(h.text, h.f, h.x, y+h.dy, wide*0.6, h.a); err != nil {
			return nil, fault.At("order note", err)
		}
	}
	y += 11.2
	sheet.Add(draw.Colour, bar(left, y, wide, 0.7))
	y += 6
	for _, a := range s.Asked {
		key, err := flow(a.About, typeset.Bold(s.Fonts, orderCap), orderKey-3)
		if err != nil {
			return nil, fault.At("order note", err)
		}
		want, err := flow(a.Want, typeset.Regular(s.Fonts, orderCap), wide-orderKey)
		if err != nil {
			return nil, fault.At("order note", err)
		}
		sheet.Add(draw.Colour, key.draw(left, y, typeset.Left)...)
		sheet.Add(draw.Colour, want.draw(left+orderKey, y, typeset.Left)...)
		y += max(key.h(), want.h()) + orderGap
		sheet.Add(draw.Colour, bar(left, y-orderGap/2, wide, hair))
	}
	if err := put(s.Words.Order.Ask, typeset.Regular(s.Fonts, orderSmall), left, y+4, wide, typeset.Left); err != nil {
		return nil, fault.At("order note", err)
	}
	if y+6 > s.Stock.Size.H-m {
		return nil, fault.New(fault.NoFit, "order note", "it does not fit on one page", "shorten the maker's contact or the batch's name")
	}
	return sheet, nil
}
