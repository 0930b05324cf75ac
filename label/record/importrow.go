package record

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"modernc.org/sqlite"

	"floatmark/loading/fault"
)

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
