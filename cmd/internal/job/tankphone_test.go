package job

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// phoneShop is a workshop whose demonstration batch was opened and nothing printed.
func phoneShop(t *testing.T) *Workshop {
	t.Helper()
	shop, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	name, err := shop.OpenTankSource(t.Context(), "demo.toml", batch.Demo(), nil, ByPhone)
	if err != nil || name != "26-11" {
		t.Fatalf("%q %v", name, err)
	}
	return shop
}

func send(t *testing.T, shop *Workshop, all ...TankEntry) TankStored {
	t.Helper()
	out, err := shop.AddTankReadings(t.Context(), "26-11", all)
	if err != nil || len(out.Readings) != len(all) {
		t.Fatalf("%+v %v", out, err)
	}
	return out
}

// A reading is stored once by its key, however often and in whatever company it
// is sent; what is wrong with one does not hold the others up.
func TestTankReadingsOnce(t *testing.T) {
	shop := phoneShop(t)
	three := TankEntry{Key: "a1", Number: 3, Set: "gb-traditional", Shot: []TankShot{{"AAA", 2}, {"BB", 1}}, Above: "-0.5", Date: "2020-11-20"}
	four := TankEntry{Key: "A2-_z", Number: 4, Set: "gb-traditional", Reading: "2,43", Stage: "varnished"}
	bad := TankEntry{Key: "a3", Number: 5, Set: "gb-traditional", Reading: "2.43 kg of lead"}
	first := send(t, shop, three, four, bad)
	// 2 AAA and 1 BB are 2 x 0.81 g and 0.4 g of lead, as the set's table has it.
	if a := first.Readings[0]; a.State != TankIsStored || a.Noted != "2 AAA + 1 BB" || a.Hung < 2.0199 || a.Hung > 2.0201 || a.Metal != "lead" || a.Above != -0.5 || a.Date != "2020-11-20" {
		t.Errorf("%+v", a)
	}
	if a := first.Readings[1]; a.State != TankIsStored || a.Noted != "2,43 g" || a.Stage != "varnished" || a.Hung != 2.43 {
		t.Errorf("%+v", a)
	}
	if a := first.Readings[2]; a.State != TankRefused || a.What == "" || a.Do == "" || a.Key != "a3" || a.Number != 5 {
		t.Errorf("%+v", a)
	}
	if len(first.Floats) != 2 {
		t.Errorf("%+v", first.Floats)
	}
	// The batch file is opened anew with other water: what was stored stays so.
	if _, err := shop.OpenTankSource(t.Context(), "demo.toml", bytes.Replace(batch.Demo(), []byte("water_c = 15.0"), []byte("water_c = 4.0"), 1), nil, ByPhone); err != nil {
		t.Fatal(err)
	}
	again := send(t, shop, four, three, three)
	for _, a := range again.Readings {
		if a.State != TankIsKnown {
			t.Errorf("%+v", a)
		}
	}
	other := three
	other.Above = "1"
	elsewhere := three
	elsewhere.Number = 6
	for _, a := range send(t, shop, other, elsewhere).Readings {
		if a.State != TankRefused || !strings.Contains(a.What, "already stands") {
			t.Errorf("%+v", a)
		}
	}
	s, err := shop.records()
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if all, err := s.Readings("26-11"); err != nil || len(all) != 2 {
		t.Errorf("%d readings, %v", len(all), err)
	}
}

// What cannot be a reading is refused with words on it, and stores nothing.
func TestTankRefuses(t *testing.T) {
	shop := phoneShop(t)
	good := TankEntry{Key: "k", Number: 1, Set: "gb-traditional", Shot: []TankShot{{"AAA", 1}}}
	for name, change := range map[string]func(*TankEntry){
		"no key":           func(e *TankEntry) { e.Key = "" },
		"a long key":       func(e *TankEntry) { e.Key = strings.Repeat("k", mostTankKey+1) },
		"a key of others":  func(e *TankEntry) { e.Key = "given k" },
		"no float":         func(e *TankEntry) { e.Number = 99 },
		"no set":           func(e *TankEntry) { e.Set = "nothing" },
		"no size":          func(e *TankEntry) { e.Shot[0].Size = "XXXL" },
		"shot taken away":  func(e *TankEntry) { e.Shot[0].N = -1 },
		"shot by the ton":  func(e *TankEntry) { e.Shot[0].N = mostTankShot + 1 },
		"both":             func(e *TankEntry) { e.Reading = "1 g" },
		"no stage":         func(e *TankEntry) { e.Stage = "half done" },
		"no height":        func(e *TankEntry) { e.Above = "high" },
		"far off its mark": func(e *TankEntry) { e.Above = "400" },
		"no day":           func(e *TankEntry) { e.Date = "1999-13-01" },
		"nothing hung":     func(e *TankEntry) { e.Shot, e.Stage = nil, "bare" },
	} {
		e := good
		e.Shot = append([]TankShot(nil), good.Shot...)
		change(&e)
		if a := send(t, shop, e).Readings[0]; a.State != TankRefused || a.What == "" || a.Do == "" {
			t.Errorf("%s: %+v", name, a)
		}
	}
	if _, err := shop.AddTankReadings(t.Context(), "26-11", make([]TankEntry, MostTankEntries+1)); fault.ClassOf(err) != fault.Input {
		t.Errorf("too many: %v", err)
	}
	if _, err := shop.AddTankReadings(t.Context(), "another", []TankEntry{good}); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("an unknown batch: %v", err)
	}
	sheet, err := shop.TankSheet("26-11")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range sheet.Floats {
		if len(f.Done) > 0 {
			t.Errorf("%+v", f)
		}
	}
}

// A batch is known by its opened file before anything is printed, and by prints
// and readings after; files beside it are kept with it.
func TestTankKnowsBatches(t *testing.T) {
	dir := t.TempDir()
	shop, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if all, err := shop.TankBatches(); err != nil || len(all) != 0 {
		t.Errorf("%v %v", all, err)
	}
	if _, err := shop.TankSheet("26-11"); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("an unknown batch: %v", err)
	}
	src := string(batch.Demo())
	at := strings.Index(src, "[[pattern]]\nkey = \"sedge\"")
	shape := strings.Index(src[at:], "stations_mm = [") + at
	end := shape + strings.Index(src[shape:], "\n]\n") + 3
	stations := "0;3,4\n9;4,4\n12;7\n20;14\n27;16\n54;13,4\n62;12\n70;4,6\n149;4,2\n150;3\n174;3\n"
	src = src[:shape] + "stations = \"sedge.csv\"\n" + src[end:]
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("mine.toml", src)
	write("workshop.toml", "")
	if names, err := shop.TankFiles(); err != nil || len(names) != 1 || names[0] != "mine.toml" {
		t.Errorf("%v %v", names, err)
	}
	if _, err := shop.OpenTankFile(t.Context(), "mine.toml", ByPhone); fault.ClassOf(err) != fault.Input {
		t.Errorf("without the file it names: %v", err)
	}
	if s, err := shop.records(); s != nil || err != nil {
		t.Error("what was refused left a record")
	}
	write("sedge.csv", "height;diameter\n"+stations)
	for _, name := range []string{"../mine.toml", "workshop.toml", "nothing.toml", filepath.Join(dir, "mine.toml")} {
		if _, err := shop.OpenTankFile(t.Context(), name, ByPhone); fault.ClassOf(err) != fault.NotFound {
			t.Errorf("%s: %v", name, err)
		}
	}
	if name, err := shop.OpenTankFile(t.Context(), "mine.toml", ByPhone); err != nil || name != "26-11" {
		t.Fatalf("%s %v", name, err)
	}
	for _, name := range []string{"mine.toml", "sedge.csv"} {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	sheet, err := shop.TankSheet("26-11")
	if err != nil || len(sheet.Floats) != 26 {
		t.Fatalf("%d floats, %v", len(sheet.Floats), err)
	}
	// Lead hung, says the file; its marks are in tin, its cards in lead too.
	if s := sheet.Sets[0]; s.Key != "gb-traditional" || s.Metal.Key != "lead" {
		t.Errorf("%+v", s)
	}
	for i, f := range sheet.Floats {
		if f.Number != i+1 || f.Pattern == "" || len(f.Stages) < 2 || (f.BuiltIn > 0) != (f.Stage == "fitted") && !f.Setups {
			t.Errorf("%+v", f)
		}
	}
	if all, err := shop.TankBatches(); err != nil || len(all) != 1 || all[0].Known != "opened" {
		t.Errorf("%v %v", all, err)
	}
}

// Opened files are in an export and come back by an import.
func TestTankFilesAreExported(t *testing.T) {
	shop := phoneShop(t)
	send(t, shop, TankEntry{Key: "a1", Number: 3, Set: "", Reading: "1 g"})
	s, err := shop.records()
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var first, second bytes.Buffer
	if err := s.Export(&first); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), recordsFile)
	to, err := record.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer to.Close()
	if _, err := to.Import(bytes.NewReader(first.Bytes()), nil); err != nil {
		t.Fatal(err)
	}
	if err := to.Export(&second); err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Errorf("the export differs: %v", err)
	}
	moved, err := Open(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	a, err1 := shop.TankSheet("26-11")
	b, err2 := moved.TankSheet("26-11")
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	if err1 != nil || err2 != nil || !bytes.Equal(x, y) {
		t.Errorf("%v %v", err1, err2)
	}
}

// A batch file that is being written is not whole now and then: the floats beside
// the tank are read by what it was before.
func TestTankReadsTheLastWholeFile(t *testing.T) {
	shop := phoneShop(t)
	d, err := shop.Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	if d, err = shop.EditDraft(t.Context(), "26-11", d.Version, "a slip", ByBench, setTo("tank.tip", "damp")); err != nil || d.Err == nil {
		t.Fatalf("%v, findings %v", err, d.Err)
	}
	sheet, err := shop.TankSheet("26-11")
	if err != nil || !sheet.Earlier || len(sheet.Floats) != 26 {
		t.Fatalf("%v %v %d floats", err, sheet.Earlier, len(sheet.Floats))
	}
	if a := send(t, shop, TankEntry{Key: "k", Number: 3, Reading: "0.9"}).Readings[0]; a.State != TankIsStored {
		t.Errorf("%+v", a)
	}
	if _, err := shop.UndoDraft(t.Context(), "26-11", d.Version, ByBench); err != nil {
		t.Fatal(err)
	}
	if sheet, err = shop.TankSheet("26-11"); err != nil || sheet.Earlier || len(sheet.Floats[2].Done) != 1 {
		t.Errorf("%v %+v", err, sheet)
	}
}
