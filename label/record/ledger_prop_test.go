package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"floatmark/loading/fault"
)

// oracle is the ledger kept plainly in memory: what is on each sheet now, and
// when something was last taken of it, instead of a list of what became of it.
type oracle struct {
	sheets []*oracleSheet // by number from 1
	prints []*oraclePrint // by number from 1
	spares map[string]*oracleSpare
	floats map[int]string // what was last printed on each, by prints in their order
	marks  map[string]int // by hand
}

type oracleSheet struct {
	stock, feed, state string
	parts              []Part
	version, lastTaken int
}

type oraclePrint struct {
	state  string
	sheets []int
	marks  map[string]int
	floats map[int]string
}

type oracleSpare struct {
	number int
	prints map[int]string // print -> figures
	float  int            // bound to, 0 for none
}

func (o *oracleSheet) blank() bool {
	for _, p := range o.parts {
		if !p.Freed {
			return false
		}
	}
	return o.state == "open"
}

func (o *oracle) next() int {
	n := len(o.sheets)
	for n > 0 && o.sheets[n-1].blank() {
		n--
	}
	return n + 1
}

func (o *oracle) ready(figures string) int {
	n := o.marks[figures]
	for _, p := range o.prints {
		if m := p.marks[figures]; p.state == Confirmed || p.state == Pending && m < 0 {
			n += m
		}
	}
	return n
}

// figures is what lies on a spare, and the state it is in.
func (o *oracle) spare(id string) (state, figures string) {
	sp := o.spares[id]
	rank := -1
	for n, p := range o.prints {
		f, ok := sp.prints[n+1]
		if r := slices.Index([]string{Cancelled, Pending, Confirmed}, p.state); ok && r >= rank {
			rank, figures = r, f
		}
	}
	if sp.float > 0 {
		return Claimed, figures
	}
	return []string{Void, Pending, Unclaimed}[rank], figures
}

func (o *oracle) floatFigures(number int) string {
	for _, p := range slices.Backward(o.prints) {
		if f := p.floats[number]; f != "" && p.state != Cancelled {
			return f
		}
	}
	return ""
}

// planned is the ledger as a plan saw it, which may be old when it is saved.
type planned struct {
	versions map[int]int
	next     int
}

var stocks = []string{"film", "card"}

func (o *oracle) plan(stock string) planned {
	p := planned{map[int]int{}, o.next()}
	for i, s := range o.sheets {
		if s.stock == stock && s.state == "open" && !s.blank() {
			p.versions[i+1] = s.version
		}
	}
	return p
}

// Whatever is printed, confirmed, cancelled, corrected, written off, claimed and
// counted, by plans fresh and stale, the record holds what a plain list holds,
// and refuses what it refuses.
func TestLedgerAgainstAPlainList(t *testing.T) {
	dir, run := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		run++
		s, err := Open(filepath.Join(dir, fmt.Sprint(run), "workshop.db"))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		o := &oracle{spares: map[string]*oracleSpare{}, floats: map[int]string{}, marks: map[string]int{}}
		plans := map[string][]planned{}
		for step := range rapid.IntRange(1, 14).Draw(t, "steps") {
			stock := rapid.SampledFrom(stocks).Draw(t, "stock")
			what := rapid.SampledFrom([]string{"plan", "print", "print", "print", "confirm", "cancel", "correct", "set", "claim", "marks"}).Draw(t, "what")
			switch what {
			case "plan":
				plans[stock] = append(plans[stock], o.plan(stock))
			case "print":
				o.print(t, s, step, stock, append([]planned{o.plan(stock)}, plans[stock]...))
			case "confirm", "cancel":
				o.settle(t, s, what)
			case "correct", "set":
				o.correct(t, s, what)
			case "claim":
				o.claim(t, s)
			case "marks":
				f := rapid.SampledFrom([]string{"6 g", "8 g"}).Draw(t, "figures")
				n := rapid.IntRange(-4, 4).Draw(t, "count")
				err := s.MoveMarks(Marks{"film", "p", f, n}, "", day1)
				if ok := n >= 0 || o.ready(f)+n >= 0; ok != (err == nil) {
					t.Fatalf("%d marks moved of %d: %v", n, o.ready(f), err)
				} else if ok {
					o.marks[f] += n
				}
			}
			o.compare(t, s)
		}
	})
}

// print saves a print as one of the plans saw the ledger.
func (o *oracle) print(t *rapid.T, s *Store, step int, stock string, plans []planned) {
	plan := rapid.SampledFrom(plans).Draw(t, "plan")
	p := Print{Key: fmt.Sprint("k", step), Batch: "autumn", Made: day1}
	ok := true
	for n := range len(o.sheets) + 1 {
		if v := plan.versions[n]; v > 0 && rapid.Bool().Draw(t, "on the sheet") {
			p.Regions = append(p.Regions, Region{Number: n, Version: v, Stock: stock, Data: json.RawMessage(fmt.Sprint(step))})
			sh := o.sheets[n-1]
			ok = ok && sh.lastTaken <= v && sh.stock == stock
		}
	}
	fresh := rapid.IntRange(0, 2).Draw(t, "fresh")
	for i := range fresh {
		p.Regions = append(p.Regions, Region{Number: plan.next + i, Stock: stock, Feed: "top", Data: json.RawMessage(fmt.Sprint(step))})
	}
	ok = ok && (fresh == 0 || plan.next >= o.next())
	mine := &oraclePrint{state: Pending, marks: map[string]int{}, floats: map[int]string{}}
	f := float(rapid.IntRange(1, 3).Draw(t, "float"), "", fmt.Sprint(step))
	f.ID, f.Figures = fmt.Sprint("F", f.Number), rapid.SampledFrom([]string{"", "6 g", "8 g"}).Draw(t, "float figures")
	mine.floats[f.Number] = f.Figures
	m := Marks{"film", "p", rapid.SampledFrom([]string{"6 g", "8 g"}).Draw(t, "figures"), rapid.IntRange(-3, 3).Draw(t, "marks")}
	p.Marks, mine.marks[m.Figures] = []Marks{m}, m.Count
	ok = ok && (m.Count >= 0 || o.ready(m.Figures)+m.Count >= 0)
	sp := Spare{Number: rapid.IntRange(0, 2).Draw(t, "spare"), Batch: "autumn", Pattern: f.Pattern, Figures: rapid.SampledFrom([]string{"6 g", "8 g"}).Draw(t, "spare figures")}
	sp.ID = fmt.Sprint("S", sp.Number)
	have := o.spares[sp.ID]
	if sp.Number > 0 {
		p.Spares = []Spare{sp}
		if have != nil {
			ok = ok && have.float == 0
			for n, f := range have.prints {
				ok = ok && (o.prints[n-1].state == Cancelled || f == sp.Figures)
			}
		}
	}
	err := s.SavePrint(p, []Float{f})
	if ok != (err == nil) {
		t.Fatalf("print %+v by %+v: %v, want allowed %v", p, plan, err, ok)
	}
	if err != nil {
		if !errors.Is(err, ErrMeanwhile) && !errors.Is(err, ErrTaken) {
			t.Fatalf("refused with %v of class %v", err, fault.ClassOf(err))
		}
		return
	}
	number := len(o.prints) + 1
	for _, r := range p.Regions {
		if r.Number > len(o.sheets) {
			o.sheets = append(o.sheets, &oracleSheet{state: "open"})
		}
		sh := o.sheets[r.Number-1]
		if r.Version == 0 {
			sh.stock, sh.feed = stock, "top"
		}
		sh.version++
		sh.lastTaken = sh.version
		sh.parts = append(sh.parts, Part{Print: number, Data: r.Data})
		mine.sheets = append(mine.sheets, r.Number)
	}
	o.prints = append(o.prints, mine)
	if sp.Number > 0 {
		if have == nil {
			have = &oracleSpare{number: sp.Number, prints: map[int]string{}}
			o.spares[sp.ID] = have
		}
		have.prints[number] = sp.Figures
	}
}

func (o *oracle) settle(t *rapid.T, s *Store, what string) {
	n := rapid.IntRange(1, len(o.prints)+1).Draw(t, "print")
	var p *oraclePrint
	if n <= len(o.prints) {
		p = o.prints[n-1]
	}
	if what == "confirm" {
		err := s.ConfirmPrint(n, day2)
		if ok := p != nil && p.state == Pending; ok != (err == nil) {
			t.Fatalf("confirming %d: %v, want allowed %v", n, err, ok)
		} else if ok {
			p.state = Confirmed
		}
		return
	}
	lost := rapid.SliceOfN(rapid.IntRange(1, len(o.sheets)+1), 0, 2).Draw(t, "lost")
	ok := p != nil && p.state == Pending
	for _, l := range lost {
		ok = ok && slices.Contains(p.sheets, l)
	}
	if err := s.CancelPrint(n, lost, day2); ok != (err == nil) {
		t.Fatalf("cancelling %d, lost %v: %v, want allowed %v", n, lost, err, ok)
	}
	if !ok {
		return
	}
	p.state = Cancelled
	for _, l := range p.sheets {
		sh := o.sheets[l-1]
		sh.version++
		sh.parts = slices.DeleteFunc(sh.parts, func(q Part) bool { return q.Print == n })
		if slices.Contains(lost, l) && sh.state != "written off" {
			sh.state = "written off"
			sh.version++
			sh.lastTaken = sh.version
		}
	}
}

func (o *oracle) correct(t *rapid.T, s *Store, what string) {
	n := rapid.IntRange(1, len(o.sheets)+1).Draw(t, "sheet")
	var sh *oracleSheet
	if n <= len(o.sheets) {
		sh = o.sheets[n-1]
	}
	if what == "set" {
		state := rapid.SampledFrom([]string{SheetOpen, SheetUsedUp, SheetWrittenOff}).Draw(t, "state")
		if err := s.SetSheet(n, state, "", day2); (sh != nil) != (err == nil) {
			t.Fatalf("sheet %d: %v", n, err)
		} else if sh != nil && sh.state != state {
			sh.state = state
			if sh.version++; state != SheetOpen {
				sh.lastTaken = sh.version
			}
		}
		return
	}
	free := rapid.Bool().Draw(t, "freed")
	data := json.RawMessage(fmt.Sprint(1000 + n))
	version := rapid.IntRange(0, 3).Draw(t, "version")
	ok := sh != nil && sh.state == SheetOpen && (version == 0 || version == sh.version)
	if err := s.CorrectSheet(n, version, free, data, "", day2); ok != (err == nil) {
		t.Fatalf("sheet %d: %v, want allowed %v", n, err, ok)
	}
	if ok {
		sh.parts = append(sh.parts, Part{Freed: free, Data: data})
		if sh.version++; !free {
			sh.lastTaken = sh.version
		}
	}
}

func (o *oracle) claim(t *rapid.T, s *Store) {
	id := fmt.Sprint("S", rapid.IntRange(1, 3).Draw(t, "spare"))
	number := rapid.IntRange(1, 3).Draw(t, "float")
	sp := o.spares[id]
	ok := false
	if sp != nil {
		state, figures := o.spare(id)
		ok = state == Claimed && sp.float == number || state == Unclaimed && figures == o.floatFigures(number)
	}
	if err := s.ClaimSpare(id, "autumn", number, day2); ok != (err == nil) {
		t.Fatalf("claiming %s for %d: %v, want allowed %v", id, number, err, ok)
	}
	if ok {
		sp.float = number
	}
}

func (o *oracle) compare(t *rapid.T, s *Store) {
	sheets, err := s.Sheets()
	if err != nil || len(sheets) != len(o.sheets) {
		t.Fatalf("%d sheets (%v), want %d", len(sheets), err, len(o.sheets))
	}
	open := 0
	for i, sh := range sheets {
		want := o.sheets[i]
		if sh.Number != i+1 || sh.Stock != want.stock || sh.State != want.state || sh.Version != want.version || sh.Feed != want.feed ||
			len(sh.Parts) != len(want.parts) || len(sh.Parts) > 0 && !reflect.DeepEqual(sh.Parts, want.parts) {
			t.Fatalf("sheet\n%+v, want\n%+v", sh, want)
		}
		if want.stock == "film" && want.state == "open" && !want.blank() {
			open++
		}
	}
	list, next, err := s.Ledger("film")
	if err != nil || len(list) != open || next != o.next() {
		t.Fatalf("%d open sheets, next %d (%v), want %d, %d", len(list), next, err, open, o.next())
	}
	if same, err := s.OpenSheets("film"); err != nil || !reflect.DeepEqual(same, list) && len(list) > 0 {
		t.Fatalf("open sheets\n%+v (%v), by the ledger\n%+v", same, err, list)
	}
	for i, p := range o.prints {
		got, ok, err := s.PrintByNumber(i + 1)
		if err != nil || !ok || got.State != p.state || (got.Settled == "") != (p.state == Pending) {
			t.Fatalf("print %d: %+v %v %v, want %s", i+1, got, ok, err, p.state)
		}
	}
	if all, err := s.AllPrints(); err != nil || len(all) != len(o.prints) {
		t.Fatalf("%d prints (%v), want %d", len(all), err, len(o.prints))
	}
	spares, err := s.Spares()
	if err != nil || len(spares) != len(o.spares) {
		t.Fatalf("%d spares (%v), want %d", len(spares), err, len(o.spares))
	}
	for _, sp := range spares {
		state, figures := o.spare(sp.ID)
		if sp.State != state || sp.Figures != figures || sp.ClaimFloat != o.spares[sp.ID].float {
			t.Fatalf("spare %+v, want %s %s %d", sp, state, figures, o.spares[sp.ID].float)
		}
	}
	marks, err := s.MarksReady()
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]int{}
	for _, m := range marks {
		got[m.Figures] = m.Count
	}
	for _, f := range []string{"6 g", "8 g"} {
		if got[f] != o.ready(f) {
			t.Fatalf("%d marks of %s ready, want %d", got[f], f, o.ready(f))
		}
	}
}
