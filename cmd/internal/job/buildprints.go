package job

import (
	"encoding/json"
	"slices"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// FloatPrint is one print that a float's mark was on.
type FloatPrint struct {
	Number     int      `json:"print"`
	Batch      string   `json:"batch"`
	State      string   `json:"state"`             // "pending", "confirmed" or "cancelled"
	Made       string   `json:"made"`              // UTC, RFC 3339
	Settled    string   `json:"settled,omitempty"` // when it was confirmed or cancelled
	Lines      []string `json:"lines"`             // what was printed on the mark
	Code       string   `json:"code,omitempty"`    // what its code says, when the mark bears one
	Placed     string   `json:"placed,omitempty"`
	Convention string   `json:"convention"` // key
	Revision   int      `json:"convention_revision"`
	Metal      string   `json:"convention_metal"`
	Film       string   `json:"film"`
	// FilmName and ConventionName are what people call those; the key where nobody
	// knows it any more.
	FilmName       string `json:"-"`
	ConventionName string `json:"-"`

	Sheets []int       `json:"sheets"`          // numbers of the sheets the print lies on
	Ready  bool        `json:"ready,omitempty"` // the mark lay ready and was not printed then
	Spare  string      `json:"spare,omitempty"` // id of the spare, when it is a spare's mark
	Proof  *CodeReport `json:"proof,omitempty"` // how its code was chosen and what the pictures said; nil where nothing was proved
}

// FloatPrints returns the prints that the marks of a float were on, its own and
// those of spares claimed for it, by number. An unknown id has none.
func (w *Workshop) FloatPrints(id string) ([]FloatPrint, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	f, ok, err := s.FloatOf(id)
	if err != nil || !ok {
		return nil, err
	}
	all, err := s.Prints(f.Batch)
	if err != nil {
		return nil, err
	}
	var out []FloatPrint
	for _, p := range all {
		one, on, err := floatPrint(p, f.ID)
		if err != nil {
			return nil, err
		}
		if on {
			out = append(out, one)
		}
	}
	spares, err := s.SparesOf(f.ID)
	if err != nil {
		return nil, err
	}
	for _, id := range spares {
		sp, _, err := s.Spare(id)
		if err != nil {
			return nil, err
		}
		p, _, err := s.PrintByNumber(sp.Print)
		if err != nil {
			return nil, err
		}
		one, _, err := floatPrint(p, sp.ID)
		if err != nil {
			return nil, err
		}
		one.Spare = sp.ID
		if len(one.Lines) == 0 {
			one.Lines = []string{figuresText(sp.Figures), sp.ID}
		}
		out = append(out, one)
	}
	slices.SortStableFunc(out, func(a, b FloatPrint) int { return a.Number - b.Number })
	for i := range out {
		one := &out[i]
		one.FilmName, one.ConventionName = one.Film, one.Convention
		for _, known := range w.Stocks() {
			if known.Key == one.Film && known.Name != "" {
				one.FilmName = known.Name
			}
		}
		if c, err := FindConvention(one.Convention, w.Own()); err == nil {
			one.ConventionName = c.Name
		}
	}
	return out, nil
}

// floatPrint reads what a print says of one id; false when it is not on it.
func floatPrint(p record.Print, id string) (FloatPrint, bool, error) {
	out := FloatPrint{Number: p.Number, Batch: p.Batch, State: p.State, Made: p.Made, Settled: p.Settled, Lines: []string{}, Sheets: []int{}}
	for _, r := range p.Regions {
		if r.Number > 0 {
			out.Sheets = append(out.Sheets, r.Number)
		}
	}
	if len(p.Data) == 0 {
		return out, false, nil
	}
	var data struct {
		Convention string         `json:"convention"`
		Revision   int            `json:"convention_revision"`
		Metal      string         `json:"convention_metal"`
		Film       string         `json:"film"`
		FromReady  []int          `json:"from_ready"`
		Only       []int          `json:"only"`
		Floats     []printedFloat `json:"floats"`
		Codes      []CodeReport   `json:"codes"`
	}
	if err := json.Unmarshal(p.Data, &data); err != nil {
		return out, false, fault.New(fault.Ours, printName(p.Number), "what it printed cannot be read: "+err.Error(), "", err)
	}
	out.Convention, out.Revision, out.Metal, out.Film = data.Convention, data.Revision, data.Metal, data.Film
	for _, f := range data.Floats {
		if f.ID == id && len(data.Only) > 0 && !slices.Contains(data.Only, f.Number) {
			break // some floats were printed, and this one was not among them
		}
		if f.ID == id {
			out.Lines, out.Code, out.Placed = f.Lines, f.Code, f.Turn
			out.Ready = slices.Contains(data.FromReady, f.Number)
			for _, c := range data.Codes {
				if slices.Contains(c.Floats, f.Number) {
					c.Floats = []int{f.Number}
					out.Proof = &c
				}
			}
			return out, true, nil
		}
	}
	return out, false, nil
}
