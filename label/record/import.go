package record

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"

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
