package record

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"modernc.org/sqlite"

	"floatmark/loading/fault"
)

// Imported says what became of an import.
type Imported struct {
	Added int // rows that were not there
	Known int // rows that were there already, the same
}

// differsMost is how many rows that differ are told one by one.
const differsMost = 20

// Import reads what Export wrote, all of it or nothing. A row that is there
// already and equal is left alone; one that is there with other contents is
// refused, and so is the whole import: numbers are written on sheets and ids on
// floats, so that two workshops cannot be mixed. photo returns the bytes of a
// photograph by its number. Errors: Input for what is no such export and, joined,
// for each row that differs; those of photo.
func (s *Store) Import(r io.Reader, photo func(number int) ([]byte, error)) (Imported, error) {
	var done Imported
	err := s.commit(func(tx *sql.Tx) error {
		im := &importer{tx: tx, d: json.NewDecoder(r), photo: photo}
		im.d.UseNumber()
		if err := im.read(); err != nil {
			return err
		}
		if err := im.refused(); err != nil {
			return err
		}
		done = im.done
		if done.Added == 0 {
			return nil
		}
		_, err := tx.Exec(`INSERT INTO states (kind, key, path, value, change)
			SELECT kind, key, path, after, max(seq) FROM changes GROUP BY kind, key, path
			ON CONFLICT DO UPDATE SET value = excluded.value, change = excluded.change`)
		return err
	})
	return done, err
}

type importer struct {
	tx      *sql.Tx
	d       *json.Decoder
	photo   func(int) ([]byte, error)
	done    Imported
	differ  []error
	differs int
}

func (im *importer) refused() error {
	if im.differs == 0 {
		return nil
	}
	if im.differs > len(im.differ) {
		im.differ = append(im.differ, fault.New(fault.Input, "", fmt.Sprintf("and %d more rows", im.differs-len(im.differ)), "nothing was imported"))
	}
	return errors.Join(im.differ...)
}

func notExport(what string, cause ...error) error {
	return fault.New(fault.Input, "", "this is no export of a workshop: "+what, "name the folder that floatmark export wrote", cause...)
}

// wants reads one token and compares it.
func (im *importer) wants(want json.Token) error {
	got, err := im.d.Token()
	if err != nil {
		return notExport("it ends too soon or is no JSON: "+err.Error(), err)
	}
	if got != want {
		return notExport(fmt.Sprintf("there is %v where %v should be", got, want))
	}
	return nil
}

// read reads the whole object: format first, then the rows.
func (im *importer) read() error {
	if err := im.wants(json.Delim('{')); err != nil {
		return err
	}
	formatted := false
	for im.d.More() {
		name, err := im.d.Token()
		if err != nil {
			return notExport(err.Error(), err)
		}
		switch name {
		case "format":
			var n int
			if err := im.d.Decode(&n); err != nil {
				return notExport("its format is no number", err)
			}
			if n != ExportFormat {
				return fault.New(fault.Input, "", fmt.Sprintf("the export has format %d, this program reads %d", n, ExportFormat), "use the floatmark that wrote it, or a newer one")
			}
			formatted = true
		case "tables":
			if !formatted {
				return notExport("its format does not come first")
			}
			if err := im.tables(); err != nil {
				return err
			}
		default: // "schema" and what later ones add
			var skipped json.RawMessage
			if err := im.d.Decode(&skipped); err != nil {
				return notExport(err.Error(), err)
			}
		}
	}
	if !formatted {
		return notExport("it has no format")
	}
	return im.wants(json.Delim('}'))
}

func (im *importer) tables() error {
	if err := im.wants(json.Delim('{')); err != nil {
		return err
	}
	for im.d.More() {
		token, err := im.d.Token()
		if err != nil {
			return notExport(err.Error(), err)
		}
		t, ok := tableOf(fmt.Sprint(token))
		if !ok {
			return fault.New(fault.Input, "", fmt.Sprintf("the export has a table %v that this program does not know", token), "use the floatmark that wrote it, or a newer one")
		}
		if err := im.wants(json.Delim('[')); err != nil {
			return err
		}
		for n := 1; im.d.More(); n++ {
			var row map[string]json.RawMessage
			if err := im.d.Decode(&row); err != nil {
				return notExport(fmt.Sprintf("row %d of %s cannot be read: %v", n, t.name, err), err)
			}
			values, err := t.values(row)
			if err == nil {
				err = im.row(t, values)
			}
			if err != nil {
				return fault.At(fmt.Sprintf("row %d of %s", n, t.name), err)
			}
		}
		if err := im.wants(json.Delim(']')); err != nil {
			return err
		}
	}
	return im.wants(json.Delim('}'))
}

func tableOf(name string) (exportTable, bool) {
	for _, t := range exportTables() {
		if t.name == name {
			return t, true
		}
	}
	return exportTable{}, false
}

// values reads a row's members into what its columns hold.
func (t exportTable) values(row map[string]json.RawMessage) ([]any, error) {
	out := make([]any, len(t.columns))
	known := 0
	for i, c := range t.columns {
		raw, ok := row[c.name]
		if ok {
			known++
		}
		var err error
		switch {
		case c.kind == jsonColumn:
			var b bytes.Buffer
			if ok {
				err = json.Compact(&b, raw)
			}
			out[i] = b.String()
		case c.orNone() && !ok:
			out[i] = nil
		case !ok:
			return nil, notExport("it has no " + c.name)
		case c.isNumber():
			var n int64
			err = json.Unmarshal(raw, &n)
			out[i] = n
		default:
			var s string
			err = json.Unmarshal(raw, &s)
			out[i] = s
		}
		if err != nil {
			return nil, notExport("its "+c.name+" cannot be read", err)
		}
	}
	if known != len(row) {
		return nil, fault.Inputf("use the floatmark that wrote it, or a newer one", "it has members that this program does not know")
	}
	return out, nil
}

// row compares a row with what is there, or adds it.
func (im *importer) row(t exportTable, values []any) error {
	var where []string
	for _, c := range t.columns[:t.keys] {
		where = append(where, `"`+c.name+`" = ?`)
	}
	have := make([]sql.NullString, len(t.columns))
	into := make([]any, len(have))
	for i := range have {
		into[i] = &have[i]
	}
	err := im.tx.QueryRow("SELECT "+t.names()+" FROM "+t.name+" WHERE "+strings.Join(where, " AND "), values[:t.keys]...).Scan(into...)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return im.add(t, values)
	case err != nil:
		return err
	case !t.same(have, values):
		im.refuse(t, values, "it is there already, with other contents")
		return nil
	}
	im.done.Known++
	return nil
}

func (t exportTable) same(have []sql.NullString, values []any) bool {
	for i, c := range t.columns {
		if values[i] == nil {
			if have[i].Valid {
				return false
			}
			continue
		}
		text := have[i].String
		if c.kind == jsonColumn && text != "" {
			var b bytes.Buffer
			if json.Compact(&b, []byte(text)) == nil {
				text = b.String()
			}
		}
		if !have[i].Valid || text != fmt.Sprint(values[i]) {
			return false
		}
	}
	return true
}

func (im *importer) refuse(t exportTable, values []any, what string) {
	if im.differs++; im.differs <= differsMost {
		im.differ = append(im.differ, fault.New(fault.Input, t.rowName(values), what, "nothing was imported; import into a workshop folder of its own, or into one that this export came from"))
	}
}

// add inserts a row; one that clashes with others by its id or its place is
// refused.
func (im *importer) add(t exportTable, values []any) error {
	names := t.names()
	if t.name == "photos" {
		data, err := im.photo(int(values[0].(int64)))
		if err != nil {
			return err
		}
		if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != values[1] {
			return fault.Inputf("take it from the export again", "the file of the photograph is not the one that was exported")
		}
		names, values = names+", jpeg", append(values, data)
	}
	_, err := im.tx.Exec("INSERT INTO "+t.name+" ("+names+") VALUES (?"+strings.Repeat(", ?", len(values)-1)+")", values...)
	const codeConstraint = 19
	var e *sqlite.Error
	if errors.As(err, &e) && e.Code()&primary == codeConstraint {
		im.refuse(t, values, "it clashes with what is there: "+e.Error())
		return nil
	}
	if err == nil {
		im.done.Added++
	}
	return err
}
