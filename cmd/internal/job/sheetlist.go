package job

import (
	"encoding/json"
	"math"
	"slices"

	"floatmark/label/record"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// SheetLine is one sheet in a list.
type SheetLine struct {
	Number int            `json:"sheet"`
	Stock  string         `json:"stock"`              // its key
	Feed   string         `json:"feed"`               // edge that goes into the printer first
	State  string         `json:"state"`              // "open", "used up", "written off", or "blank": it bears nothing, so it has not got its number yet
	Note   string         `json:"note"`               // what was last said of it by hand
	Made   string         `json:"made"`               // when its first print was saved, UTC, RFC 3339
	Prints []int          `json:"prints"`             // numbers of the prints on it
	Spent  float64        `json:"spent_share"`        // 0 to 1 of the whole sheet, margins included
	Taken  [][][2]float64 `json:"taken_mm,omitempty"` // rings of what is spent; in the detail of one sheet
}

// blank is what a list calls an open sheet that bears nothing.
const blank = "blank"

// sheetSize returns the size of a sheet as it was noted, else that of its stock, as
// of sheets that were printed on before sizes were noted.
func (w *Workshop) sheetSize(sh record.Sheet) geom.Size {
	if size := sizeOf(sh.Parts); size != (geom.Size{}) {
		return size
	}
	s, _ := w.stock(sh.Stock)
	return s.Size
}

func (w *Workshop) sheetLine(sh record.Sheet) (SheetLine, []geom.Path, error) {
	l := SheetLine{Number: sh.Number, Stock: sh.Stock, Feed: sh.Feed, State: sh.State, Note: sh.Note, Made: sh.Made, Prints: []int{}}
	if sh.Blank() {
		l.State = blank
	}
	for _, p := range sh.Parts {
		if p.Print > 0 && !slices.Contains(l.Prints, p.Print) {
			l.Prints = append(l.Prints, p.Print)
		}
	}
	taken, err := takenOf(sh.Parts)
	if err != nil {
		return SheetLine{}, nil, fault.At(sheetName(sh.Number), err)
	}
	if size := w.sheetSize(sh); size != (geom.Size{}) {
		l.Spent = spentShare(taken, size)
	}
	return l, taken, nil
}

// Sheets returns every sheet of the workshop, by number.
func (w *Workshop) Sheets() ([]SheetLine, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.Sheets()
	if err != nil {
		return nil, err
	}
	var out []SheetLine
	for _, sh := range all {
		l, _, err := w.sheetLine(sh)
		if err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, nil
}

// SheetChange is one thing that became of a sheet.
type SheetChange struct {
	At    string `json:"at"`              // UTC, RFC 3339
	What  string `json:"what"`            // "printed", "cancelled", "taken", "freed", "open", "used up" or "written off"
	Print int    `json:"print,omitempty"` // number of the print
	Note  string `json:"note,omitempty"`
}

// SheetDetail is one sheet with all that became of it, oldest first.
type SheetDetail struct {
	SheetLine
	History []SheetChange `json:"history"`

	size geom.Size // nothing where it was not noted and the stock is not known any more
}

// Sheet returns the sheet of that number; NotFound for an unknown one.
func (w *Workshop) Sheet(number int) (SheetDetail, error) {
	unknown := fault.New(fault.NotFound, sheetName(number), "there is no sheet of that number", "see the list: floatmark sheets")
	s, err := w.records()
	if err != nil {
		return SheetDetail{}, err
	}
	if s == nil {
		return SheetDetail{}, unknown
	}
	defer s.Close()
	sh, events, ok, err := s.Sheet(number)
	if err != nil {
		return SheetDetail{}, err
	}
	if !ok {
		return SheetDetail{}, unknown
	}
	l, taken, err := w.sheetLine(sh)
	if err != nil {
		return SheetDetail{}, err
	}
	l.Taken = numbers(taken)
	d := SheetDetail{SheetLine: l}
	d.size = w.sheetSize(sh)
	for _, e := range events {
		d.History = append(d.History, SheetChange{e.At, e.What, e.Print, e.Note})
	}
	return d, nil
}

// spentShare returns how much of a sheet is spent, 0 to 1, counted on lines half
// a millimetre apart.
func spentShare(taken []geom.Path, size geom.Size) float64 {
	const step = 0.5 // mm; the share is shown in whole per cent
	sum, n := 0.0, 0
	for y := step / 2; y < size.H; y += step {
		n++
		for _, s := range spansAt(taken, y, size.W) {
			sum += s[1] - s[0]
		}
	}
	if n == 0 {
		return 0
	}
	return sum / (float64(n) * size.W)
}

// spansAt returns where a level line lies in what is taken, from 0 to width,
// joined and in order.
func spansAt(taken []geom.Path, y, width float64) [][2]float64 {
	var spans [][2]float64
	for _, p := range taken {
		for _, ring := range p.Flatten(ringTolerance) {
			var xs []float64
			for i, a := range ring {
				b := ring[(i+1)%len(ring)]
				if (a.Y <= y) != (b.Y <= y) {
					xs = append(xs, a.X+float64((y-a.Y)/(b.Y-a.Y)*(b.X-a.X)))
				}
			}
			slices.Sort(xs)
			for i := 0; i+1 < len(xs); i += 2 {
				if a, b := max(0, xs[i]), min(width, xs[i+1]); a < b {
					spans = append(spans, [2]float64{a, b})
				}
			}
		}
	}
	slices.SortFunc(spans, func(a, b [2]float64) int {
		if a[0] < b[0] {
			return -1
		}
		return 1
	})
	var out [][2]float64
	for _, s := range spans {
		if n := len(out); n > 0 && s[0] <= out[n-1][1] {
			out[n-1][1] = math.Max(out[n-1][1], s[1])
			continue
		}
		out = append(out, s)
	}
	return out
}

// PrintLine is one print in a list.
type PrintLine struct {
	Number  int    `json:"print"`
	Batch   string `json:"batch"`
	State   string `json:"state"`             // "pending", "confirmed" or "cancelled"
	Made    string `json:"made"`              // UTC, RFC 3339
	Settled string `json:"settled,omitempty"` // when it was confirmed or cancelled, UTC, RFC 3339
	Floats  int    `json:"floats"`
	Spares  int    `json:"spares"`
	Sheets  []int  `json:"sheets"` // numbers of the sheets it lies on, or lay on if it was cancelled
}

// Prints returns every print of the workshop, by number.
func (w *Workshop) Prints() ([]PrintLine, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.AllPrints()
	if err != nil {
		return nil, err
	}
	spares, err := s.SparesPrinted()
	if err != nil {
		return nil, err
	}
	var out []PrintLine
	for _, p := range all {
		l := PrintLine{Number: p.Number, Batch: p.Batch, State: p.State, Made: p.Made, Settled: p.Settled, Spares: spares[p.Number], Sheets: []int{}}
		for _, r := range p.Regions {
			if r.Number > 0 {
				l.Sheets = append(l.Sheets, r.Number)
			}
		}
		var data struct {
			Floats []struct{} `json:"floats"`
		}
		if len(p.Data) > 0 {
			if err := json.Unmarshal(p.Data, &data); err != nil {
				return nil, fault.New(fault.Ours, printName(p.Number), "what it printed cannot be read: "+err.Error(), "", err)
			}
		}
		l.Floats = len(data.Floats)
		out = append(out, l)
	}
	return out, nil
}

// SpareLine is one spare in a list.
type SpareLine struct {
	ID      string `json:"id"`
	Batch   string `json:"batch"`
	Number  int    `json:"spare"` // which of its batch
	Pattern string `json:"pattern"`
	Figures string `json:"figures"` // what is printed on it
	State   string `json:"state"`   // "unclaimed", "claimed", "pending" while its print is, "void" when that was cancelled
	Print   int    `json:"print"`
	OnBatch string `json:"on_batch,omitempty"` // of the float it is on
	OnFloat int    `json:"on_float,omitempty"`
	OnID    string `json:"on_id,omitempty"`
	Claimed string `json:"claimed,omitempty"` // when, UTC, RFC 3339
	SparePlace
}

// SpareList returns every spare of the workshop, by batch and number.
func (w *Workshop) SpareList() ([]SpareLine, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.Spares()
	var out []SpareLine
	for _, sp := range all {
		out = append(out, SpareLine{sp.ID, sp.Batch, sp.Number, sp.Pattern, figuresText(sp.Figures), sp.State, sp.Print,
			sp.ClaimBatch, sp.ClaimFloat, sp.ClaimID, sp.ClaimedAt, placeOf(sp)})
	}
	return out, err
}
