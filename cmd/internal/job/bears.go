package job

import (
	"floatmark/layouts/stock"
	"floatmark/layouts/testsheet"
	"floatmark/layouts/wrap"
)

// bears is the hoop strain a film bears and who says so.
type bears struct {
	limit float64 // 0.02 is 2 %
	by    string
}

func (w *Workshop) bears(p *Plan) (bears, error) {
	measured, high, ok, err := w.FilmLimit(p.film.Key)
	if err != nil {
		return bears{}, err
	}
	if ok {
		// The law of the ball is a few per cent of itself below the true strain of
		// that very band, which did lie flat.
		if f, err := testsheet.Band(high, wrap.Film{Thickness: p.film.Thickness}); err == nil {
			measured = max(measured, f.Strain)
		}
	}
	return bearsOf(p.film, p.File.Stretch, measured), nil
}

// bearsOf takes the batch file's word, else what the maker measured on a ball,
// else the estimate for the kind of film.
func bearsOf(film stock.Stock, file, measured float64) bears {
	switch {
	case file > 0:
		return bears{file, "as the batch file says"}
	case measured > 0:
		return bears{measured, "measured on a ball"}
	}
	l, ok := wrap.LimitOf(film.Bears)
	if !ok {
		l, _ = wrap.LimitOf("waterslide")
	}
	return bears{l.Limit, l.Source}
}
