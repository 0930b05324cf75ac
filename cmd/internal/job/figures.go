package job

import (
	"path/filepath"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading"
	"floatmark/loading/shot"
)

// FigureList is the figures of a batch without any layout.
type FigureList struct {
	Batch   *label.Batch
	Floats  []FloatFigures
	Notices []Notice
	Words   words.Words
}

// FloatFigures is one float's figures.
type FloatFigures struct {
	Float  *label.Float
	Rating loading.Rating
	Shot   *shot.Equivalent // nil when none makes the add
}

// IsBare reports whether a batch is nothing but a CSV file.
func IsBare(path string) bool { return strings.EqualFold(filepath.Ext(path), ".csv") }

// Figures works out the figures of a batch that is nothing but a CSV file. It
// writes nothing.
func (w *Workshop) Figures(path string) (*FigureList, error) {
	src, err := readBatch(path)
	if err != nil {
		return nil, err
	}
	b, err := batch.ParseCSV(path, src, w.settings)
	if err != nil {
		return nil, err
	}
	ratings, notices, err := rate(b)
	if err != nil {
		return nil, err
	}
	said, err := words.For(b.Maker.Language)
	if err != nil {
		return nil, err
	}
	list := &FigureList{Batch: b, Notices: notices, Words: said}
	for i := range b.Floats {
		f := &b.Floats[i]
		list.Floats = append(list.Floats, FloatFigures{f, ratings[i].Rating,
			shotFor(ratings[i].Rating, f, b, []shot.Convention{b.Convention})[0]})
	}
	return list, nil
}
