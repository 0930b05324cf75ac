package job

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"floatmark/fonts"
	"floatmark/label/record"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/pdf"
	"floatmark/layouts/stock"
	"floatmark/layouts/testsheet"
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// StretchSheet makes the PDF of the stretch test sheet on the stock of that key,
// for a printer of dpi dots an inch, usually 600. Errors are Input for a stock of
// which nothing goes round a float and for a resolution that cannot be, NoFit for
// a stock too small.
func (w *Workshop) StretchSheet(key string, dpi float64) ([]byte, error) {
	film, err := w.filmOf(key)
	if err != nil {
		return nil, err
	}
	printer := stock.Plain()
	printer.DPI = dpi
	set, err := fonts.Default()
	if err != nil {
		return nil, err
	}
	said, err := w.words()
	if err != nil {
		return nil, err
	}
	sheets, err := testsheet.Stretch(testsheet.Spec{Stock: film, Printer: printer, Fonts: set, Words: said})
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	// No date: the same film, the same bytes.
	err = pdf.Write(&buf, draw.Document{Title: "stretch test, " + film.Name, Subject: said.ActualSize, Sheets: sheets})
	return buf.Bytes(), err
}

// words are those of the workshop's language, which its own sheets are in.
func (w *Workshop) words() (words.Words, error) {
	if w.settings == nil {
		return words.For("")
	}
	return words.For(w.settings.Maker.Language)
}

// filmOf returns the stock of that key, which goes on floats.
func (w *Workshop) filmOf(key string) (stock.Stock, error) {
	s, ok := w.stock(key)
	if !ok {
		return stock.Stock{}, fault.New(fault.Input, "", fmt.Sprintf("there is no stock %q", key), "name one that this lists: floatmark stocks")
	}
	return s, testsheet.Takes(s)
}

// WriteStretchSheet writes the sheet of StretchSheet to the file path, whole or
// not at all; the folder is made. Errors are those of StretchSheet, and Machine.
func (w *Workshop) WriteStretchSheet(ctx context.Context, key string, dpi float64, path string) (Output, error) {
	data, err := w.StretchSheet(key, dpi)
	if err != nil {
		return Output{}, err
	}
	return writeWhole(ctx, path, data)
}

// writeWhole writes a test sheet to the file path, whole or not at all; the
// folder is made. Errors are Machine.
func writeWhole(ctx context.Context, path string, data []byte) (Output, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return Output{}, fault.New(fault.Machine, path, "this is a folder, not a file", "name a file in it, as in "+filepath.Join(path, "stretch.pdf"))
	}
	out := output(filepath.Base(path), data)
	made, err := makeDirs(filepath.Dir(path))
	if err != nil {
		return Output{}, err
	}
	temp, err := writeTemp(filepath.Dir(path), out)
	if err == nil {
		err = ctx.Err()
	}
	if err == nil {
		if e := os.Rename(temp, path); e != nil {
			err = machine(path, "cannot be put in place", e)
		}
	}
	if err != nil {
		if temp != "" {
			_ = os.Remove(temp) // best effort: the first error is the one to tell
		}
		removeDirs(made)
		return Output{}, err
	}
	return out, nil
}

// filmLimitFormat is the version of filmLimit that is written.
const filmLimitFormat = 1

// limitStep is a ten-thousandth of a per cent: what is beyond it is rounding.
const limitStep = 1e-6

// filmLimit is the stored shape of a limit: the band that lay flat and the ball
// it lay on, and the strain that was made of them.
type filmLimit struct {
	Format int             `json:"format"`
	Height unit.Millimetre `json:"height_mm"`
	Ball   unit.Millimetre `json:"ball_mm"`
	Limit  float64         `json:"limit"`
}

// MeasuredLimit is a film's limit as a maker found it on the ball.
type MeasuredLimit struct {
	Film   string          `json:"film"`      // key of the stock
	Height unit.Millimetre `json:"height_mm"` // of the tallest band that lay flat
	Limit  float64         `json:"limit"`     // strain: 0.02 is 2 %
	Made   string          `json:"made"`      // when it was noted, UTC, RFC 3339
}

// SetFilmLimit stores that on the film of that key the band of this height was
// the tallest to lie flat on the ball; from now on it is the film's limit.
// Heights are from testsheet.LeastBand to testsheet.MostBand: a maker may cut
// bands of his own. Errors are Input and Machine.
func (w *Workshop) SetFilmLimit(ctx context.Context, key string, height unit.Millimetre) (MeasuredLimit, error) {
	film, err := w.filmOf(key)
	if err != nil {
		return MeasuredLimit{}, err
	}
	if !(height >= testsheet.LeastBand && height <= testsheet.MostBand) { // written so that NaN fails
		return MeasuredLimit{}, fault.New(fault.Input, "", "a band of "+height.Text(0.1, unit.Style{})+" tells no limit",
			"name the tallest that lay flat, between "+testsheet.LeastBand.Text(1, unit.Style{})+" and "+testsheet.MostBand.Text(1, unit.Style{})+", as in 10mm")
	}
	limit := unit.Round(wrap.BallStrain(wrap.BallDiameter, float64(height)), limitStep)
	l := filmLimit{filmLimitFormat, height, wrap.BallDiameter, limit}
	data, err := json.Marshal(l)
	if err != nil {
		return MeasuredLimit{}, err
	}
	if err := ctx.Err(); err != nil {
		return MeasuredLimit{}, err
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		return MeasuredLimit{}, err
	}
	defer s.Close()
	made := time.Now().UTC().Format(time.RFC3339)
	if err := s.SetFilmLimit(record.FilmLimit{Stock: film.Key, Made: made, Data: data}); err != nil {
		return MeasuredLimit{}, err
	}
	return MeasuredLimit{film.Key, height, l.Limit, made}, nil
}

// FilmLimit returns the limit that was found on the film of that key, as a
// strain, and the height of the band that told it; ok is false when none was, or
// when the workshop has no records. It makes no workshop.
func (w *Workshop) FilmLimit(key string) (limit float64, height unit.Millimetre, ok bool, err error) {
	s, err := w.records()
	if err != nil || s == nil {
		return 0, 0, false, err
	}
	defer s.Close()
	r, ok, err := s.FilmLimit(key)
	if err != nil || !ok {
		return 0, 0, false, err
	}
	m, err := limitOf(r)
	return m.Limit, m.Height, err == nil, err
}

// FilmLimits returns every film's limit that was found, by the film's key. It
// makes no workshop.
func (w *Workshop) FilmLimits() ([]MeasuredLimit, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.FilmLimits()
	if err != nil {
		return nil, err
	}
	var out []MeasuredLimit
	for _, r := range all {
		m, err := limitOf(r)
		if err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

func limitOf(r record.FilmLimit) (MeasuredLimit, error) {
	var l filmLimit
	if err := json.Unmarshal(r.Data, &l); err != nil {
		return MeasuredLimit{}, fault.New(fault.Ours, "limit of "+r.Stock, "it is stored in a shape that is not known", "", err)
	}
	return MeasuredLimit{r.Stock, l.Height, l.Limit, r.Made}, nil
}

// DefaultLimit is a limit that a kind of film has until it is measured.
type DefaultLimit struct {
	Kind   string  `json:"kind"`  // "waterslide-softener"
	Limit  float64 `json:"limit"` // strain: 0.02 is 2 %
	Source string  `json:"source"`
}

// DefaultLimits returns the limits that are used until a film is measured.
func DefaultLimits() []DefaultLimit {
	var out []DefaultLimit
	for _, l := range wrap.FilmLimits() {
		out = append(out, DefaultLimit{l.Key, l.Limit, l.Source})
	}
	return out
}
