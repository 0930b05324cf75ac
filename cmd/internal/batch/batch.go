// Package batch reads batch files, the floats beside them in CSV, and the
// workshop file, and turns them into the model of package label.
//
// A batch file is TOML, read strictly: whatever the file says is either
// understood or told, with its line, its column and what to change, and all
// findings are told at once. Quantities with a unit are text ("0.85 g"); keys
// ending in _mm and _c are plain numbers of millimetres and degrees Celsius.
//
// The package touches no disc and knows no clock: its callers hand it bytes.
// It works out no figures: whether readings and ratings agree is the business
// of package loading.
package batch

import (
	_ "embed"
	"slices"

	"floatmark/label"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/tank"
)

const (
	format = 1 // of batch and workshop files

	// maxFloats is the most floats one batch may have: a drying board of 2,000
	// is nobody's, and printing that many would keep a small machine busy for
	// minutes before the first mistake shows.
	maxFloats = 2000

	// maxSource is the largest file read, 4 MiB: 2,000 floats written out at
	// length take about a tenth of it.
	maxSource = 4 << 20
)

// File is a batch file, read and checked.
type File struct {
	Batch    *label.Batch  // floats in the order of their numbers, without identities
	Film     string        // key of the stock the marks are printed on
	Stocks   []stock.Stock // the maker's own
	Card     string        // key of the stock of the cards
	CardSize [2]float64    // width and height of a card in mm; both 0 for the card's own
	Cards    Cards         // how cards are made up
	Printer  string        // name of a calibrated printer; "" for one as it comes
	Tight    bool          // sheets are filled wherever there is room, not as a strip from one edge
	Together bool          // a float\'s pieces share a sheet
	Boxes    string        // key of the stock of stickers for boxes and tubes; "" for none
	Board    float64       // from one number of the drying board to the next, mm; 0 for the usual pitch
	Ahead    int           // unnumbered marks printed beyond the batch, for every set of figures
	CodeHeld int           // 0: a code may have to be held square to the phone; 1: it must read anyhow
	Spares   int           // spare marks for every set of figures
	Feed     int           // the edge of a sheet that goes into the printer first: top, right, bottom, left
	DPI      float64       // dots per inch of the printer, DefaultDPI unless given
	Overlap  float64       // of the seam in mm, negative leaves a gap; DefaultOverlap unless given, DefaultGap on thick film
	Floor    float64       // least height of capitals on the floats, mm; 0 for the usual one
	OwnMark  geom.Path     // the maker's own mark, in units of its own, y down; nil for none
	Stretch  float64       // what the film bears, 0.02 is 2 %; 0 when the file does not say

	Tank Tank // how readings are taken, for those noted elsewhere

	Path   string // as it was handed to Parse
	Source []byte // the file as it was read, to be kept with what is printed
	Floats []byte // the CSV file the batch file names; nil when it names none
}

const (
	// DefaultDPI is what most office printers set by themselves. Common
	// practice, no source.
	DefaultDPI = 600.0
	// DefaultOverlap is the seam's overlap in mm: a hand lays film to about
	// half a millimetre. Estimate.
	DefaultOverlap = 1.0
	// DefaultGap is the gap in mm that thick films leave, whose overlap would be
	// a ridge of twice their thickness. Common practice, no source.
	DefaultGap = 1.0
)

// Parse reads a batch file. path only names it in messages. open reads the CSV
// file that the key floats names, by the name as written; it may be nil where
// there is no folder to read from. The keys set in workshop, which may be nil,
// win over the maker of the batch file.
//
// The error joins one Input fault for each finding, in the order of the file.
func Parse(path string, src []byte, open func(name string) ([]byte, error), workshop *Workshop) (*File, error) {
	r, err := newReader(path)
	if err != nil {
		return nil, err
	}
	r.open = open
	root := r.tree(src)
	if root == nil || !r.format(root) {
		return nil, r.err()
	}
	r.known(root, "", topKeys)
	if workshop != nil {
		r.own, r.ownStock = workshop.Own, workshop.Stocks
	}
	r.ownStock = append(slices.Clone(r.ownStock), r.ownStocks(root)...)
	f := &File{Batch: &label.Batch{}, Path: path, Source: slices.Clone(src), Stocks: r.ownStock}
	b := f.Batch
	b.Name = r.text(root, "", "name", needed)
	b.Date = r.date(root)
	m := r.maker(root, workshop)
	b.Maker = m.Maker
	r.print(root, f, workshop)
	how := r.tank(root, b)
	f.Tank = how.exported()
	b.Ratings = r.ratings(root, m)
	patterns := r.patterns(root)
	b.Patterns = patterns.list
	f.Tank.toCome = map[string]*tank.Allowance{}
	for key, p := range patterns.byKey {
		f.Tank.toCome[key] = p.toCome
	}
	if b.Ring == 0 {
		b.Ring = label.RingFor(nominals(b.Ratings))
	}
	rows, csv := r.rows(root, open)
	f.Floats = csv
	b.Floats = r.floats(rows, b, patterns, how)
	r.cards(root, f)
	r.articles(root, b)
	if err := r.err(); err != nil {
		return nil, err
	}
	return f, nil
}

//go:embed demo.toml
var demo []byte

// Demo returns the batch file of the demonstration: 26 floats of an invented
// maker, commented so that a maker can start from a copy.
func Demo() []byte { return slices.Clone(demo) }
