package job

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"floatmark/label/record"
	"floatmark/layouts/decal"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/loading/fault"
)

// Ledger is what a plan knows of the sheets of one stock. A print keeps the one
// it was planned on, so that the same marks come out again byte by byte.
type Ledger struct {
	Open []PartUsed `json:"open"` // by number
	Next int        `json:"next"` // number of the next fresh sheet
}

// partUsed is the stored shape of a PartUsed: rings as regions are stored.
type partUsed struct {
	Number  int            `json:"sheet"`
	Version int            `json:"version"`
	Feed    string         `json:"feed"`
	Paths   [][][2]float64 `json:"paths"`
}

// MarshalJSON stores the sheet as regions are stored.
func (p PartUsed) MarshalJSON() ([]byte, error) {
	return json.Marshal(partUsed{p.Number, p.Version, p.Feed, numbers(p.Taken)})
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (p *PartUsed) UnmarshalJSON(data []byte) error {
	var s partUsed
	if err := json.Unmarshal(data, &s); err != nil {
		return err
	}
	*p = PartUsed{s.Number, s.Version, s.Feed, paths(s.Paths), geom.Size{}}
	return nil
}

// Ledger returns the part-used sheets of the stock of that key as they are now.
// A workshop without records has none.
func (w *Workshop) Ledger(key string) (Ledger, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return Ledger{Next: 1}, err
	}
	defer s.Close()
	sheets, next, err := s.Ledger(key)
	if err != nil {
		return Ledger{}, err
	}
	l := Ledger{Next: next}
	for _, sh := range sheets {
		taken, err := takenOf(sh.Parts)
		if err != nil {
			return Ledger{}, fault.At(fmt.Sprintf("sheet %d", sh.Number), err)
		}
		l.Open = append(l.Open, PartUsed{sh.Number, sh.Version, sh.Feed, taken, sizeOf(sh.Parts)})
	}
	return l, nil
}

// take notes what a plan will take of these sheets, as its print would: what is
// planned after it lies beside it.
func (l *Ledger) take(p *Plan) {
	if p.before != nil { // it is printed, and noted already
		return
	}
	for _, laid := range p.Laid {
		i := slices.IndexFunc(l.Open, func(o PartUsed) bool { return o.Number == laid.Number })
		if i < 0 {
			i = len(l.Open)
			l.Open = append(l.Open, PartUsed{Number: laid.Number, Feed: edgeName(laid.Feed), Size: laid.Sheet.Size})
			l.Next = max(l.Next, laid.Number+1)
		}
		l.Open[i].Taken = append(slices.Clone(l.Open[i].Taken), paths(numbers(laid.Spent))...) // as the record rounds them
	}
	slices.SortFunc(l.Open, func(a, b PartUsed) int { return a.Number - b.Number })
}

// Decal returns the part-used sheets as a layout takes them.
func (l Ledger) Decal() []decal.Open {
	out := make([]decal.Open, len(l.Open))
	for i, p := range l.Open {
		out[i] = decal.Open{Number: p.Number, Feed: edgeOf(p.Feed), Taken: p.Taken}
	}
	return out
}

// edgeOf is the edge of that name, the top one for a name that is none.
func edgeOf(name string) nest.Edge {
	for _, e := range []nest.Edge{nest.Right, nest.Bottom, nest.Left} {
		if edgeName(e) == name {
			return e
		}
	}
	return nest.Top
}

// Regions returns what a layout takes of each sheet, to be reserved as it was
// planned on this ledger.
func (l Ledger) Regions(key string, laid []decal.Laid) ([]record.Region, error) {
	out := make([]record.Region, len(laid))
	if len(laid) > 0 && laid[0].Number == 0 {
		return nil, nil
	}
	for i, s := range laid {
		data, err := encodeOn(s.Sheet.Size, s.Spent)
		if err != nil {
			return nil, err
		}
		out[i] = record.Region{Number: s.Number, Stock: key, Feed: edgeName(s.Feed), Data: data}
		if s.Open >= 0 {
			out[i].Version = l.Open[s.Open].Version
		}
	}
	return out, nil
}

// marksKey tells marks apart by what goes on floats and cards, wherever on a
// sheet it comes to lie.
func (p *Plan) marksKey() string {
	h := sha256.New()
	fmt.Fprintln(h, p.film.Key, p.card.Key, p.File.Spares, p.File.Ahead, p.only)
	for _, fp := range p.Floats {
		fmt.Fprintln(h, fp.Float.Number, fp.Float.ID, fp.Mark.Code)
		for _, piece := range fp.Decal.Pieces {
			fmt.Fprintln(h, piece.Drawing.Dump())
		}
		card, err := json.Marshal(fp.Card.Rows)
		if err != nil {
			continue // rows are text: this cannot be
		}
		fmt.Fprintf(h, "%s %s\n", card, fp.Card.Price)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// sheetsFor finds out whether these very marks were printed before, and takes the
// sheets: as that print was planned on them, so that it comes out again byte by
// byte, or as they are. What changed the marks without the batch file, such as a
// new reading, makes another print.
func (w *Workshop) sheetsFor(p *Plan) error {
	p.marksID = p.marksKey()
	if p.forShop != nil { // the shop prints on sheets of its own, which are no part of the ledger
		p.marksID += " for a shop"
	}
	s, err := w.records()
	if err != nil {
		return err
	}
	if s != nil {
		defer s.Close()
		before, err := s.Prints(p.File.Batch.Name)
		if err != nil {
			return err
		}
		for i := range before {
			one := &before[i]
			var data printed
			if one.State == record.Cancelled || json.Unmarshal(one.Data, &data) != nil || data.Marks != p.marksID || data.Ledger == nil ||
				one.State == record.Confirmed && w.Again {
				continue
			}
			p.before, p.sheets = one, *data.Ledger
		}
	}
	switch {
	case p.forShop != nil:
		p.sheets = Ledger{}
	case p.before == nil:
		p.sheets, err = w.Ledger(p.film.Key)
		for _, one := range w.after {
			p.sheets.take(one)
		}
		p.otherSizes()
	}
	return err
}

// otherSizes leaves out, and tells, the part-used sheets of another size than the
// stock of that key has now: a maker changed his own, or batch files differ in it.
func (p *Plan) otherSizes() {
	p.sheets.Open = slices.DeleteFunc(p.sheets.Open, func(s PartUsed) bool {
		if s.Is(p.film.Size) {
			return false
		}
		p.Notices = append(p.Notices, Notice{0, "other size", fmt.Sprintf("sheet %d of %s is left alone: it is %s by %s, and the stock of that key is now %s by %s",
			s.Number, p.film.Key, millimetres(s.Size.W), millimetres(s.Size.H), millimetres(p.film.Size.W), millimetres(p.film.Size.H))})
		return true
	})
}

// PrintFile plans a batch file and prints it into dir. Where another print took
// what the plan counted on, it is planned once more on what is left.
func (w *Workshop) PrintFile(ctx context.Context, path, dir string, progress Progress) (*Plan, []Output, error) {
	for again := false; ; again = true {
		p, err := w.Plan(ctx, path, progress)
		if err != nil {
			return nil, nil, err
		}
		outs, err := w.Print(ctx, p, dir, progress)
		if err == nil || again || !errors.Is(err, record.ErrMeanwhile) {
			return p, outs, err
		}
	}
}

// settled refuses to print marks once more that came out right, and a pending
// print whose sheets are not as they were.
func (p *Plan) settled(key string) error {
	if p.before == nil {
		return nil
	}
	where := fmt.Sprintf("print %d", p.before.Number)
	switch {
	case p.before.State == record.Confirmed:
		return fault.New(fault.Input, where, "these very marks were printed and came out right", "ask for them once more with --again, or print what changed")
	case p.before.Key != key:
		return fault.New(fault.Input, where, "these very marks are printed and not settled, and the sheets are not as they were then",
			fmt.Sprintf("say how it came out first: floatmark prints confirm %d, or floatmark prints cancel %d", p.before.Number, p.before.Number))
	}
	return nil
}
