package job

import (
	"slices"

	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Question is a load to convert.
type Question struct {
	Load       string // "4.2g", "1/8oz", "3AAA+2No4", the pole size "4x14"
	Convention string // key of the convention a load in shot is written in, or a file, see FindConvention
	Metal      string // key of the metal of a load in grams; "" for the convention's
	TempC      float64
	Salinity   float64
	Tip        string // diameter at the waterline with its unit; "" when not known
	Market     string
	Own        []shot.Convention // the maker's own sets, answered in beside the built-in

	To         string // key of the only convention to answer in, or a file; "" for all
	Have       string // the shot there is of that one, "AAA:4, BB:6, No.8"; To is then Convention unless given
	Without    string // sizes of that one to leave out, "No.3, No.5"
	Fixed      string // how the line is fixed, "bottom end": arranges the shot; "" for no arrangement
	Tolerance  string // what the total may miss by when the tip is not known, with its unit
	Shift      string // how far the tip may stand from its mark, with its unit
	MaxShots   int    // 0 for the usual limit
	Unverified bool   // use also sizes whose mass was not found in print
	Fine       bool   // use also the finest sizes, needed or not
}

// Conversion is the answer: the load in every convention, each in its own metal.
type Conversion struct {
	Gram  unit.Gram `json:"mass_g"`
	Metal string    `json:"metal"`
	Water string    `json:"water"`
	Pull  unit.Gram `json:"pull_g"`
	Near  bool      `json:"near,omitempty"` // the load is a pole size: its mass is only near
	// Notices tell what else the words of the load can mean.
	Notices []string        `json:"notices,omitempty"`
	Rows    []ConversionRow `json:"conventions"`
	// UpTo is the heavier end of a load given as a range.
	UpTo *Conversion `json:"up_to,omitempty"`
}

// ConversionRow is the load in one convention.
type ConversionRow struct {
	Key         string             `json:"key"`
	Name        string             `json:"name"`
	Revision    int                `json:"revision"`
	Gram        unit.Gram          `json:"mass_g"`
	Equivalents []ConversionChoice `json:"equivalents"`
	Nearest     *ConversionChoice  `json:"nearest,omitempty"` // where there are none
	// OneSize and Range tell the load in one size, "8½ AAA" and "8-9 AAA": for
	// reading, never for a float.
	OneSize      string                  `json:"one_size,omitempty"`
	Range        string                  `json:"range,omitempty"`
	LeftOut      []ConversionLeftOut     `json:"left_out,omitempty"`
	Bounds       []string                `json:"bounds,omitempty"` // limits of the search that were reached
	Arrangements []ConversionArrangement `json:"arrangements,omitempty"`
}

// Barred reports whether sizes were left out that may not be used where the floats
// are sold.
func (r ConversionRow) Barred() bool {
	return slices.ContainsFunc(r.LeftOut, func(l ConversionLeftOut) bool { return l.Why == shot.ByMarket })
}

// ConversionLeftOut is sizes that were not used.
type ConversionLeftOut struct {
	Why     shot.Reason `json:"why"`
	Sizes   []string    `json:"sizes"`
	Because string      `json:"because"`
}

// ConversionArrangement is where the shot goes on the line.
type ConversionArrangement struct {
	Text    string          `json:"text"`
	Total   unit.Gram       `json:"total_g"`
	Rest    unit.Gram       `json:"rest_g"`
	Tip     unit.Millimetre `json:"tip_shift_mm,omitempty"`
	Off     string          `json:"off"`
	Share   float64         `json:"share"` // of the load that locks the float or hangs in bulk
	Sources []string        `json:"sources"`
	After   []string        `json:"after"` // what the sources are
}

// ConversionChoice is one way to make the load.
type ConversionChoice struct {
	Shot  string          `json:"shot"`
	Total unit.Gram       `json:"total_g"`
	Rest  unit.Gram       `json:"rest_g"`
	Tip   unit.Millimetre `json:"tip_shift_mm,omitempty"`
	Off   string          `json:"off"`
	Note  string          `json:"note,omitempty"`
}

// Convert works a load out in every convention. A load, metal or convention
// that cannot be read is an Input error.
func Convert(q Question) (Conversion, error) {
	from, err := FindConvention(q.Convention, q.Own)
	if err != nil {
		return Conversion{}, err
	}
	w := water.Water{TempC: q.TempC, Salinity: q.Salinity}
	if err := w.Check(); err != nil {
		return Conversion{}, err
	}
	ends, err := readEnds(q.Load, from)
	if err != nil {
		return Conversion{}, err
	}
	a, err := newAnswer(q, from, w)
	if err != nil {
		return Conversion{}, err
	}
	c, err := a.convert(ends[0])
	if err != nil || len(ends) == 1 {
		return c, err
	}
	upTo, err := a.convert(ends[1])
	c.UpTo = &upTo
	return c, err
}

// readEnds reads a load, or both ends of a range.
func readEnds(s string, c shot.Convention) ([]shot.Load, error) {
	load, err := shot.ReadLoad(s, c)
	if err == nil {
		return []shot.Load{load}, nil
	}
	if r, rangeErr := shot.ParseRange(s, c); rangeErr == nil {
		from, to := r.Mass()
		return []shot.Load{{Mass: from, Metal: c.Metal, Counts: []shot.Count{r.From}, Notices: []string{"a range is loose: both ends are worked out"}},
			{Mass: to, Metal: c.Metal, Counts: []shot.Count{r.To}}}, nil
	}
	if o, halfErr := shot.ParseOneSize(s, c); halfErr == nil {
		return []shot.Load{{Mass: o.Mass(), Metal: c.Metal, Counts: []shot.Count{{Size: o.Size, N: 1}},
			Notices: []string{o.Text() + " is a load for reading: half a shot cannot be hung"}}}, nil
	}
	return nil, err
}

func waterText(w water.Water) string {
	kind := "fresh water"
	if w.Salinity > 0 {
		kind = "sea water of salinity " + unit.Number(w.Salinity, 0.1, unit.Style{})
	}
	return kind + " at " + unit.Number(w.TempC, 0.1, unit.Style{}) + " °C"
}
