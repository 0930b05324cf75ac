package record

import (
	"database/sql"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"floatmark/loading/fault"
)

var sample = flag.Bool("sample", false, "write the sample record of the present schema into testdata, if there is none yet")

// exec changes a database behind the store's back.
func exec(t *testing.T, path string, commands ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	must(t, err)
	defer db.Close()
	for _, c := range commands {
		_, err := db.Exec(c)
		must(t, err)
	}
}

func TestBusy(t *testing.T) {
	_, path := fresh(t)
	s := open(t, path, Busy(50*time.Millisecond))
	db, err := sql.Open("sqlite", "file:"+strings.NewReplacer("#", "%23", "?", "%3f").Replace(path)+"?_txlock=immediate")
	must(t, err)
	defer db.Close()
	tx, err := db.Begin()
	must(t, err)
	start := time.Now()
	err = s.SavePrint(job("k1"), nil)
	class(t, err, fault.Machine)
	if !strings.Contains(err.Error(), "busy") {
		t.Errorf("%q does not say busy", err)
	}
	if d := time.Since(start); d < 40*time.Millisecond || d > 4*time.Second {
		t.Errorf("it waited %v, want about 50 ms", d)
	}
	if _, err := s.Prints("autumn"); err != nil {
		t.Errorf("a reader waits for a writer: %v", err)
	}
	must(t, tx.Rollback())
	must(t, s.SavePrint(job("k1"), nil))
}

func TestDurability(t *testing.T) {
	s, _ := fresh(t)
	var mode string
	var full, keys int
	must(t, s.write.QueryRow("PRAGMA journal_mode").Scan(&mode))
	must(t, s.write.QueryRow("PRAGMA synchronous").Scan(&full))
	must(t, s.write.QueryRow("PRAGMA foreign_keys").Scan(&keys))
	if mode != "wal" || full != 2 || keys != 1 { // 2 is FULL (sqlite.org/pragma.html)
		t.Errorf("journal %s, synchronous %d, foreign keys %d", mode, full, keys)
	}
}

func TestUnusablePlaces(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	must(t, os.WriteFile(file, []byte(strings.Repeat("no database ", 100)), 0o600))
	foreign := filepath.Join(dir, "foreign.db")
	exec(t, foreign, "CREATE TABLE x (y)")
	for _, c := range []struct {
		path        string
		write, read fault.Class
	}{
		{filepath.Join(file, "workshop.db"), fault.Machine, fault.Machine}, // the folder is a file
		{dir, fault.Input, fault.Input},
		{file, fault.Input, fault.Input},
		{foreign, fault.Input, fault.Input},
	} {
		_, err := Open(c.path)
		class(t, err, c.write)
		_, err = OpenReadOnly(c.path)
		class(t, err, c.read)
	}
	none := filepath.Join(dir, "none", "workshop.db")
	_, err := OpenReadOnly(none)
	class(t, err, fault.NotFound)
	if _, err := os.Stat(filepath.Dir(none)); err == nil {
		t.Error("looking made a folder")
	}
	if b, _ := os.ReadFile(file); len(b) != 1200 {
		t.Errorf("a file that is no record was changed: %d bytes", len(b))
	}
}

func TestNewerSchemaIsRefused(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "workshop.db")
	must(t, open(t, path).Close())
	exec(t, path, "PRAGMA user_version = 99")
	for _, f := range []func(string, ...Option) (*Store, error){Open, OpenReadOnly} {
		_, err := f(path)
		class(t, err, fault.Input)
		if !strings.Contains(err.Error(), "newer") || !strings.Contains(err.Error(), "99") {
			t.Errorf("%q does not say that the record is newer", err)
		}
	}
}

// present is the end of the name of a copy that is made before a step is taken
// from today's schema.
var present = ".schema" + strconv.Itoa(len(migrations()))

// next is a schema of tomorrow: the present one and a step more.
func next(sql string) Option {
	return func(o *options) { o.migrations = append(o.migrations, migration{"a step of tomorrow", sql}) }
}

func TestMigration(t *testing.T) {
	path := filepath.Join(t.TempDir(), "workshop.db")
	s := open(t, path)
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{}`)}))
	// s stays open, as another program would: what it wrote lies in the log.
	grow := next("ALTER TABLE floats ADD COLUMN note TEXT NOT NULL DEFAULT ''")

	old, err := OpenReadOnly(path, grow) // reading waits for no step
	must(t, err)
	if f, err := old.Floats("autumn"); len(f) != 1 || err != nil {
		t.Errorf("read before the step: %v %v", f, err)
	}
	must(t, old.Close())

	_, err = Open(path, next("CREATE TABLE half (x); SELECT nonsense FROM nowhere"))
	class(t, err, fault.Ours)
	if f, err := s.Floats("autumn"); len(f) != 1 || err != nil {
		t.Fatalf("a failed step harmed the record: %v %v", f, err)
	}

	grown := open(t, path, grow)
	if f, err := grown.Floats("autumn"); len(f) != 1 || err != nil {
		t.Errorf("after the step: %v %v", f, err)
	}
	_, err = Open(path)
	class(t, err, fault.Input) // today's program on tomorrow's record
	before := open(t, path+present)
	if f, err := before.Floats("autumn"); len(f) != 1 || err != nil {
		t.Errorf("the copy holds %v (%v), want the float", f, err)
	}
	if _, err := os.Stat(path + present + ".part"); err == nil {
		t.Error("a half copy is left")
	}
}

func TestManyOpenAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "workshop.db")
	for _, opt := range []Option{Busy(busyWait), next("CREATE TABLE later (x)")} {
		var wg sync.WaitGroup
		errs := make([]error, 8)
		for i := range errs {
			wg.Go(func() {
				s, err := Open(path, opt)
				if err == nil {
					err = s.Close()
				}
				errs[i] = err
			})
		}
		wg.Wait()
		for _, err := range errs {
			if err != nil {
				t.Error(err)
			}
		}
	}
	copied := open(t, path+present) // fails if a late starter copied the new schema
	if _, err := copied.Batches(); err != nil {
		t.Error(err)
	}
}

func TestReadingLeavesTheRecordAsItIs(t *testing.T) {
	path := filepath.Join(t.TempDir(), "workshop.db")
	s := open(t, path)
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{}`)}))
	must(t, s.Close())
	before, err := os.ReadFile(path)
	must(t, err)
	r, err := OpenReadOnly(path)
	must(t, err)
	if f, err := r.Floats("autumn"); len(f) != 1 || err != nil {
		t.Errorf("%v %v", f, err)
	}
	must(t, r.Close())
	if after, _ := os.ReadFile(path); string(after) != string(before) {
		t.Error("the file changed")
	}
	left, err := filepath.Glob(path + "*")
	must(t, err)
	if len(left) != 1 {
		t.Errorf("reading left %v", left)
	}
}

// A record of every schema that was ever released opens for ever, for reading
// as it is and for writing. The files are written once, with -sample, and never
// again.
func TestSamplesOpen(t *testing.T) {
	for schema := 1; schema <= len(migrations()); schema++ {
		name := filepath.Join("testdata", "schema"+strconv.Itoa(schema)+".db")
		if _, err := os.Stat(name); *sample && os.IsNotExist(err) && schema == len(migrations()) {
			writeSample(t, name)
		}
		path := filepath.Join(t.TempDir(), "workshop.db")
		data := copySample(t, schema, path)
		r, err := OpenReadOnly(path)
		must(t, err)
		sampleHolds(t, r, schema)
		must(t, r.Close())
		if after, _ := os.ReadFile(path); string(after) != string(data) {
			t.Errorf("reading changed %s", name)
		}
		w := open(t, path)
		sampleHolds(t, w, schema)
		if n, err := w.AddReadings([]Reading{reading("k9", 1)}); n != 1 || err != nil {
			t.Errorf("%s takes no reading: %v", name, err)
		}
		if _, err := w.Change(ChangeSet{At: day2, By: "bench", Changes: []Change{{Subject{"float", "9KYA3C"}, "status", json.RawMessage(`"sold"`), 0}}}); err != nil {
			t.Errorf("%s takes no change: %v", name, err)
		}
		if stale, err := w.Stale(10); err != nil || len(stale) < 2 {
			t.Errorf("%s: floats of old are not to be found: %v %v", name, stale, err)
		}
	}
}

// copySample puts the sample of a schema at path and returns what is in it.
func copySample(t *testing.T, schema int, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "schema"+strconv.Itoa(schema)+".db"))
	must(t, err)
	must(t, os.WriteFile(path, data, 0o600))
	return data
}

func sampleHolds(t *testing.T, s *Store, schema int) {
	t.Helper()
	if v, _, err := s.Setting("key"); v != "000102030405060708090a0b0c0d0e0f" || err != nil {
		t.Errorf("setting %q %v", v, err)
	}
	f, ok, err := s.FloatByNumber("autumn", 2)
	if err != nil || !ok || f.ID != "B2C3D4" || string(f.Data) != `{"format":1,"add":0.7}` || f.Created != day2 {
		t.Errorf("float %+v %v %v", f, ok, err)
	}
	if h, err := s.History("B2C3D4"); err != nil || len(h) != 1 || string(h[0].Data) != `{"format":1,"add":0.8}` {
		t.Errorf("history %+v %v", h, err)
	}
	p, err := s.Prints("autumn")
	if err != nil || len(p) != 2 || p[0].State != Confirmed || p[1].State != Pending || p[0].Files["marks.pdf"] != "ab12" || len(p[0].Regions) != 1 {
		t.Errorf("prints %+v %v", p, err)
	}
	want := 0
	if schema >= readingsFrom {
		want = 2
	}
	got, err := s.Readings("autumn")
	if err != nil || len(got) != want {
		t.Errorf("%d readings in schema %d, want %d: %v", len(got), schema, want, err)
	}
	if b, err := s.ReadingBatches(); err != nil || len(b) != want/2 {
		t.Errorf("batches with readings in schema %d: %v %v", schema, b, err)
	}
	l, ok, err := s.FilmLimit("a4-film-white")
	if want := schema >= filmLimitsFrom; ok != want || err != nil || want && string(l.Data) != `{"format":1,"height_mm":10}` {
		t.Errorf("film limit in schema %d: %+v %v %v", schema, l, ok, err)
	}
	one, ok, err := s.Printer("office")
	if want := schema >= printersFrom; ok != want || err != nil || want && (string(one.Data) != `{"format":1,"dpi":600}` || one.Number != 1) {
		t.Errorf("printer in schema %d: %+v %v %v", schema, one, ok, err)
	}
	sampleLedger(t, s, schema)
	sampleChanges(t, s, schema)
	ticks, err := s.Ticks("B2C3D4")
	if want := schema >= ticksFrom; (len(ticks) == 1) != want || err != nil || want && ticks[0].Step != Varnished {
		t.Errorf("ticks in schema %d: %+v %v", schema, ticks, err)
	}
	if c, ok, err := s.CodeSizes(); ok != (schema >= ticksFrom) || err != nil || ok && string(c.Data) != `{"format":1,"read":[]}` {
		t.Errorf("sizes of code in schema %d: %+v %v %v", schema, c, ok, err)
	}
}

// sampleChanges is what samples since build records hold of them.
func sampleChanges(t *testing.T, s *Store, schema int) {
	t.Helper()
	want := schema >= changesFrom
	state, version, err := s.State(Subject{"float", "B2C3D4"})
	if err != nil || !want && (len(state) != 0 || version != 0) || want && (len(state) != 3 || version != 4 || string(state[1].Value) != `{"photo":1}` || string(state[2].Value) != `"sold"`) {
		t.Errorf("build record in schema %d: %+v version %d %v", schema, state, version, err)
	}
	past, err := s.Changes(Subject{"float", "B2C3D4"})
	if err != nil || want && (len(past) != 4 || string(past[3].Before) != `{"product":"satin"}` || past[3].By != "phone") || !want && len(past) != 0 {
		t.Errorf("changes in schema %d: %+v %v", schema, past, err)
	}
	p, ok, err := s.Photo(1)
	if ok != want || err != nil || want && string(p.JPEG) != "jpeg" {
		t.Errorf("photograph in schema %d: %+v %v %v", schema, p, ok, err)
	}
	found, _, err := s.Search([][]string{{"satin"}}, 5)
	if err != nil || (len(found) == 1) != want {
		t.Errorf("search in schema %d: %v %v", schema, found, err)
	}
	if subs, err := s.Subjects("float"); err != nil || (len(subs) == 1) != want {
		t.Errorf("subjects in schema %d: %v %v", schema, subs, err)
	}
}

func writeSampleChanges(t *testing.T, s *Store) {
	of := Subject{"float", "B2C3D4"}
	for _, set := range []ChangeSet{
		{At: day1, By: "bench", Key: "c1", Changes: []Change{{of, "status", json.RawMessage(`"sold"`), 0}, {of, "coats/+", json.RawMessage(`{"product":"satin"}`), 0}}},
		{At: day1, By: "phone", Photo: picture("jpeg"), Changes: []Change{{of, "photos/+", json.RawMessage(`{"photo":0}`), 0}}},
		{At: day2, By: "phone", Changes: []Change{{of, "coats/1", json.RawMessage("null"), Unseen}}},
	} {
		_, err := s.Change(set)
		must(t, err)
	}
	must(t, s.Index([]Doc{{of, "b2c3d4 satin", 0}}))
}

// sampleLedger is what samples since the ledger hold of it.
func sampleLedger(t *testing.T, s *Store, schema int) {
	t.Helper()
	want := schema >= ledgerFrom
	open, next, err := s.Ledger("film-white-a4")
	if err != nil || !want && (len(open) != 0 || next != 1) || want && (len(open) != 1 || next != 2 ||
		open[0].Feed != "left" || open[0].Version != 2 || string(open[0].Parts[0].Data) != `{"h":12}` || !open[0].Parts[1].Freed) {
		t.Errorf("ledger in schema %d: %+v, next %d, %v", schema, open, next, err)
	}
	sp, ok, err := s.Spare("W7X8Y9")
	if ok != want || err != nil || want && (sp.State != Claimed || sp.ClaimFloat != 9 || sp.Figures != "8 g") {
		t.Errorf("spare in schema %d: %+v %v %v", schema, sp, ok, err)
	}
	if m, err := s.MarksReady(); err != nil || (len(m) == 1) != want || want && m[0].Count != 5 {
		t.Errorf("marks in schema %d: %+v %v", schema, m, err)
	}
	if id, err := s.Taken("W7X8Y9"); id != want || err != nil {
		t.Errorf("the spare's id in schema %d: taken %v %v", schema, id, err)
	}
}

func writeSampleLedger(t *testing.T, s *Store) {
	f := float(9, "Z2Y3X4", `{"format":1}`)
	f.Batch, f.Figures = "winter", "8 g"
	must(t, s.SavePrint(Print{Key: "k3", Batch: "winter", Made: day2,
		Regions: []Region{{Number: 1, Stock: "film-white-a4", Feed: "left", Data: json.RawMessage(`{"h":12}`)}},
		Spares:  []Spare{{ID: "W7X8Y9", Batch: "winter", Number: 1, Pattern: f.Pattern, Figures: "8 g"}},
		Marks:   []Marks{{Stock: "film-white-a4", Pattern: f.Pattern, Figures: "6 g", Count: 5}}}, []Float{f}))
	must(t, s.ConfirmPrint(3, day2))
	must(t, s.CorrectSheet(1, 1, true, json.RawMessage(`{"h":2}`), "a corner left blank", day2))
	must(t, s.ClaimSpare("W7X8Y9", "winter", 9, day2))
}

// A step that was released is never edited: old records, brought up to date,
// have the very tables of new ones.
func TestOldAndNewRecordsHaveTheSameTables(t *testing.T) {
	old := filepath.Join(t.TempDir(), "workshop.db")
	copySample(t, 1, old)
	tables := func(s *Store) (all []string) {
		must(t, s.each("SELECT coalesce(sql, name) FROM sqlite_schema ORDER BY name", nil, func(rows *sql.Rows) error {
			var text string
			err := rows.Scan(&text)
			all = append(all, text)
			return err
		}))
		return all
	}
	s, _ := fresh(t)
	want, got := tables(s), tables(open(t, old))
	if len(want) < 7 || !slices.Equal(got, want) {
		t.Errorf("an old record has\n%s\na new one\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func writeSample(t *testing.T, name string) {
	s := open(t, name)
	must(t, s.SetSetting("key", "000102030405060708090a0b0c0d0e0f"))
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{"format":1,"add":0.4}`), float(2, "B2C3D4", `{"format":1,"add":0.8}`)}))
	must(t, s.Confirm("k1", day1))
	f := float(2, "B2C3D4", `{"format":1,"add":0.7}`)
	f.Created = day2
	p := job("k2")
	p.Made = day2
	must(t, s.SavePrint(p, []Float{f}))
	n, err := s.AddReadings([]Reading{reading("r1", 2), reading("r2", 2)})
	if n != 2 || err != nil {
		t.Fatal(n, err)
	}
	must(t, s.SetFilmLimit(limit("a4-film-white", day1, `{"format":1,"height_mm":10}`)))
	if n, err := s.AddPrinter(printer("office", day1, `{"format":1,"dpi":600}`), 0); n != 1 || err != nil {
		t.Fatal(n, err)
	}
	writeSampleLedger(t, s)
	must(t, s.AddTick(Tick{ID: "B2C3D4", Step: Varnished, At: day2}))
	must(t, s.SetCodeSizes(CodeSizes{day2, json.RawMessage(`{"format":1,"read":[]}`)}))
	writeSampleChanges(t, s)
	must(t, s.Close())
}
