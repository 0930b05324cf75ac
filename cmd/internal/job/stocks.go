package job

import (
	"slices"

	"floatmark/layouts/draw"
	"floatmark/layouts/stock"
	"floatmark/layouts/wrap"
)

// Stocks returns every stock a batch of the workshop can name, the maker's own
// first.
func (w *Workshop) Stocks() []stock.Stock {
	if w.settings == nil {
		return stock.Stocks()
	}
	return append(slices.Clone(w.settings.Stocks), stock.Stocks()...)
}

// stock finds a stock by its key, the maker's own first.
func (w *Workshop) stock(key string) (stock.Stock, bool) {
	if w.settings != nil {
		return w.settings.Stock(key)
	}
	return stock.ByKey(key)
}

// Formats returns the sizes in which any material can be named.
func Formats() []string { return stock.Formats() }

// OddFormat is one of Formats that the list of stocks does not show.
const OddFormat = "b5"

// Estimate is what StockLine says of a limit nobody measured.
const Estimate = wrap.Estimate

// StockLine is a stock as a list shows it.
type StockLine struct {
	stock.Stock
	Own     bool    // the maker's own, of workshop.toml
	Limit   float64 // strain it bears round a body, 0.02 is 2 %; 0 where nothing of it goes round one
	LimitBy string  // "measured on a ball", or Estimate
}

// White reports whether the unprinted stock is white.
func (l StockLine) White() bool { return l.Colour == draw.White }

// StockLines returns every stock a batch of the workshop can name, the maker's own
// first, with the strain that each was found or is taken to bear.
func (w *Workshop) StockLines() ([]StockLine, error) {
	measured, err := w.FilmLimits()
	if err != nil {
		return nil, err
	}
	found := map[string]float64{}
	for _, m := range measured {
		found[m.Film] = m.Limit
	}
	var lines []StockLine
	for _, s := range w.Stocks() {
		l := StockLine{Stock: s}
		_, built := stock.ByKey(s.Key)
		l.Own = !built
		if _, known := wrap.LimitOf(s.Bears); known {
			b := bearsOf(s, 0, found[s.Key])
			l.Limit, l.LimitBy = b.limit, b.by
		}
		lines = append(lines, l)
	}
	return lines, nil
}
