package record

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

func exported(t *testing.T, s *Store) string {
	t.Helper()
	var b bytes.Buffer
	must(t, s.Export(&b))
	return b.String()
}

func jpegOf(s *Store) func(int) ([]byte, error) {
	return func(n int) ([]byte, error) {
		p, _, err := s.Photo(n)
		return p.JPEG, err
	}
}

// full is a sample of the present schema with a setting and marks by hand.
func full(t *testing.T) *Store {
	path := filepath.Join(t.TempDir(), "workshop.db")
	copySample(t, len(migrations()), path)
	s := open(t, path)
	must(t, s.SetSetting("word", "<3>"))
	must(t, s.MoveMarks(Marks{"film-white-a4", "reed", "4 g", 2}, "by hand", day2))
	return s
}

// Exported, imported into an empty workshop and exported again it is the same,
// byte for byte, and so is what the record says.
func TestExportImportExport(t *testing.T) {
	s := full(t)
	text := exported(t, s)
	if !json.Valid([]byte(text)) || !strings.Contains(text, `"<3>"`) {
		t.Fatalf("%s", text)
	}
	fresh, _ := fresh(t)
	done, err := fresh.Import(strings.NewReader(text), jpegOf(s))
	must(t, err)
	if done.Added < 40 || done.Known != 0 {
		t.Errorf("%+v", done)
	}
	if again := exported(t, fresh); again != text {
		t.Errorf("exported again it is\n%s\nnot\n%s", again, text)
	}
	for _, of := range []Subject{{"float", "B2C3D4"}} {
		a, av, _ := s.State(of)
		b, bv, err := fresh.State(of)
		if err != nil || av != bv || fmt.Sprint(a) != fmt.Sprint(b) {
			t.Errorf("%v: %v, was %v", of, b, a)
		}
	}
	if p, ok, err := fresh.Photo(1); !ok || err != nil || string(p.JPEG) != "jpeg" {
		t.Errorf("%+v %v", p, err)
	}
	if stale, err := fresh.Stale(10); err != nil || len(stale) < 3 {
		t.Errorf("nothing that was imported would be found: %v %v", stale, err)
	}
	done, err = fresh.Import(strings.NewReader(text), jpegOf(s)) // once more
	if err != nil || done.Added != 0 || done.Known < 40 {
		t.Errorf("%+v %v", done, err)
	}
	// What came since is added to an older copy of the same workshop.
	_, err = s.Change(ChangeSet{At: day2, By: "bench", Key: "k", Changes: []Change{{Subject{"float", "B2C3D4"}, "status", json.RawMessage(`"returned"`), Unseen}}})
	must(t, err)
	if done, err = fresh.Import(strings.NewReader(exported(t, s)), jpegOf(s)); err != nil || done.Added != 2 {
		t.Errorf("%+v %v", done, err)
	}
	if a, b := exported(t, fresh), exported(t, s); a != b {
		t.Errorf("\n%s\n%s", a, b)
	}
}

// A record of any older schema is exported as it is, and imported.
func TestExportOfOldSchemas(t *testing.T) {
	for schema := 1; schema <= len(migrations()); schema++ {
		path := filepath.Join(t.TempDir(), "workshop.db")
		copySample(t, schema, path)
		old, err := OpenReadOnly(path)
		must(t, err)
		to, _ := fresh(t)
		if _, err := to.Import(strings.NewReader(exported(t, old)), jpegOf(old)); err != nil {
			t.Errorf("schema %d: %v", schema, err)
		}
		must(t, old.Close())
		if f, ok, err := to.Float("B2C3D4"); !ok || err != nil || string(f.Data) != `{"format":1,"add":0.7}` {
			t.Errorf("schema %d: %+v %v", schema, f, err)
		}
		must(t, to.Close())
	}
}

// Every table and every column is in the export, or follows from what is.
func TestExportIsWhole(t *testing.T) {
	s, _ := fresh(t)
	var missing []string
	must(t, s.each(`SELECT m.name, c.name FROM sqlite_schema m, pragma_table_info(m.name) c WHERE m.type = 'table'`, nil, func(rows *sql.Rows) error {
		var table, column string
		err := rows.Scan(&table, &column)
		t, ok := tableOf(table)
		if derived(table) || table+"."+column == "photos.jpeg" {
			return err
		}
		if !ok || !slices.ContainsFunc(t.columns, func(c exportColumn) bool { return c.name == column }) {
			missing = append(missing, table+"."+column)
		}
		return err
	}))
	if len(missing) > 0 {
		t.Errorf("not in the export: %v", missing)
	}
}

// The README names every table and the format.
func TestExportIsDocumented(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	must(t, err)
	if want := fmt.Sprintf(`"format": %d,`, ExportFormat); !bytes.Contains(text, []byte(want)) {
		t.Errorf("README.md does not say %s", want)
	}
	for _, table := range exportTables() {
		if !bytes.Contains(text, []byte("`"+table.name+"`")) {
			t.Errorf("README.md does not name the table %s", table.name)
		}
	}
}

// What differs is listed and nothing is imported.
func TestImportRefused(t *testing.T) {
	s := full(t)
	text := exported(t, s)
	other, _ := fresh(t)
	f := float(2, "Q2W3E4", `{"mine":1}`)
	must(t, other.SavePrint(job("mine"), []Float{f}))
	before := exported(t, other)
	_, err := other.Import(strings.NewReader(text), jpegOf(s))
	class(t, err, fault.Input)
	if all := fault.List(err); len(all) < 3 || !strings.Contains(all[0].Where, "floats, seq 1") {
		t.Errorf("%v", err)
	}
	for _, bad := range []string{"", "[]", "{", `{"tables":{}}`, `{"format":2}`, `{"format":"1"}`, `{"format":1,"tables":{"nonsense":[]}}`, text[:len(text)/2],
		`{"format":1,"tables":{"floats":[{"seq":1}]}}`, `{"format":1,"tables":{"settings":[{"name":1,"value":"v"}]}}`, `{"format":1,"tables":{"settings":[{"name":"n","value":"v","x":1}]}}`,
		`{"format":1,"tables":{"settings":[1]}}`} {
		_, err := other.Import(strings.NewReader(bad), jpegOf(s))
		class(t, err, fault.Input)
	}
	empty, _ := fresh(t)
	_, err = empty.Import(strings.NewReader(text), func(int) ([]byte, error) { return []byte("other"), nil })
	class(t, err, fault.Input)
	if after := exported(t, other); after != before {
		t.Error("something was imported")
	}
	if after := exported(t, empty); regexp.MustCompile(`"id"`).MatchString(after) {
		t.Error("something was imported")
	}
}

func FuzzImport(f *testing.F) {
	f.Add(`{"format":1,"tables":{"settings":[{"name":"n","value":"v"}],"floats":[{"seq":1,"id":"9KYA3C","batch":"b","number":1,"attempt":0}]}}`)
	f.Add(`{"format":1,"tables":{"changes":[{"seq":1,"set":1,"kind":"float","key":"k","path":"p","before":1,"after":2}]}}`)
	s, err := Open(filepath.Join(f.TempDir(), "workshop.db"))
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { s.Close() })
	f.Fuzz(func(t *testing.T, text string) {
		_, err := s.Import(strings.NewReader(text), func(int) ([]byte, error) { return nil, nil })
		for _, e := range fault.List(err) {
			if e.Class != fault.Input {
				t.Fatalf("%q: %v", text, err)
			}
		}
	})
}
