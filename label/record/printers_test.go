package record

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"testing"

	"floatmark/loading/fault"
)

func printer(name, made, data string) Printer {
	return Printer{Name: name, Made: made, Data: json.RawMessage(data)}
}

// The latest profile counts, by the order of noting and not by its date; the
// earlier ones stay in the file.
func TestTheLatestPrinterCounts(t *testing.T) {
	s, path := fresh(t)
	if _, ok, err := s.Printer("office"); ok || err != nil {
		t.Fatal(ok, err)
	}
	first, later := printer("office", day2, `{"format":1,"dpi":600}`), printer("office", day1, `{"format":1,"dpi":1200}`)
	other := printer("attic", day1, `{"format":1,"dpi":300}`)
	add := func(p Printer, after int) Printer {
		t.Helper()
		n, err := s.AddPrinter(p, after)
		if err != nil || n != after+1 {
			t.Fatal(n, err)
		}
		p.Number = n
		return p
	}
	add(first, 0)
	other = add(other, 0)
	later = add(later, 1)
	for _, after := range []int{0, 1, 3} { // worked out from a profile that is not the present one
		n, err := s.AddPrinter(first, after)
		class(t, err, fault.Input)
		if n != 0 {
			t.Errorf("number %d for what was refused", n)
		}
	}
	must(t, s.Close())
	r, err := OpenReadOnly(path)
	must(t, err)
	defer r.Close()
	if got, ok, err := r.Printer("office"); !ok || err != nil || !reflect.DeepEqual(got, later) {
		t.Errorf("%+v %v %v, want %+v", got, ok, err, later)
	}
	if all, err := r.Printers(); err != nil || !reflect.DeepEqual(all, []Printer{other, later}) {
		t.Errorf("%+v %v", all, err)
	}
	var n int
	if _, err := r.one("SELECT count(*) FROM printers", nil, &n); n != 3 || err != nil {
		t.Errorf("%d profiles are kept (%v), want all 3", n, err)
	}
	if _, err := r.AddPrinter(first, 2); fault.ClassOf(err) != fault.Ours || err == nil {
		t.Errorf("a store opened for reading takes one: %v", err)
	}
}

func TestPrinterRefuses(t *testing.T) {
	s, _ := fresh(t)
	for _, bad := range []Printer{{}, printer("", day1, `{}`), printer("office", "", `{}`),
		printer("office", day1, `{`), {Name: "office", Made: day1}} {
		_, err := s.AddPrinter(bad, 0)
		class(t, err, fault.Ours)
	}
	if all, err := s.Printers(); len(all) != 0 || err != nil {
		t.Errorf("%+v %v, want none", all, err)
	}
}

// A record from before there were printers takes the step at the first one, and
// keeps a copy of what it was.
func TestAnOldRecordTakesAPrinter(t *testing.T) {
	path := filepath.Join(t.TempDir(), "workshop.db")
	copySample(t, 3, path)
	s := open(t, path)
	if n, err := s.AddPrinter(printer("office", day1, `{"format":1}`), 0); n != 1 || err != nil {
		t.Fatal(n, err)
	}
	if _, ok, err := s.Printer("office"); !ok || err != nil {
		t.Error(ok, err)
	}
	before, err := OpenReadOnly(path + ".schema3")
	must(t, err)
	defer before.Close()
	if l, err := before.FilmLimits(); len(l) != 1 || err != nil {
		t.Errorf("the copy holds %d limits (%v), want 1", len(l), err)
	}
	if all, err := before.Printers(); len(all) != 0 || err != nil {
		t.Errorf("the copy holds printers: %v %v", all, err)
	}
}
