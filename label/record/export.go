package record

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"floatmark/loading/fault"
)

// Export writes all that was ever recorded as one JSON object, but for the
// bytes of photographs:
//
//	{"format": 1, "schema": 7, "tables": {"settings": [{"name": ..., "value": ...}, ...], "floats": [...], ...}}
//
// Tables come in the order of exportTables, rows by their keys, a row on a line.
// What was JSON stands in it as JSON, without blanks. Equal records give equal
// bytes. It is read in one go: what others save meanwhile is in it whole or not at
// all.
func (s *Store) Export(w io.Writer) error {
	schema := s.has
	if schema == 0 {
		schema = len(migrations())
	}
	tx, err := s.read.BeginTx(context.Background(), &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return s.machine(err)
	}
	defer tx.Rollback()
	out := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintf(out, "{\n\"format\": %d,\n\"schema\": %d,\n\"tables\": {", ExportFormat, schema)
	first := true
	for _, t := range exportTables() {
		var there int
		if err := tx.QueryRow("SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = ?", t.name).Scan(&there); err != nil {
			return s.machine(err)
		}
		if there == 0 {
			continue // of an older schema
		}
		if !first {
			out.WriteString(",")
		}
		first = false
		fmt.Fprintf(out, "\n%q: [", t.name)
		if err := t.export(tx, out); err != nil {
			return s.machine(err)
		}
		out.WriteString("\n]")
	}
	out.WriteString("\n}\n}\n")
	return out.Flush()
}

func (t exportTable) names() string {
	var quoted []string
	for _, c := range t.columns {
		quoted = append(quoted, `"`+c.name+`"`)
	}
	return strings.Join(quoted, ", ")
}

func (t exportTable) export(tx *sql.Tx, out *bufio.Writer) error {
	query := "SELECT " + t.names() + " FROM " + t.name
	var keys []string
	for _, c := range t.columns[:t.keys] {
		keys = append(keys, c.name)
	}
	rows, err := tx.Query(query + " ORDER BY " + strings.Join(keys, ", "))
	if err != nil {
		return err
	}
	defer rows.Close()
	values := make([]sql.NullString, len(t.columns))
	into := make([]any, len(values))
	for i := range values {
		into[i] = &values[i]
	}
	for n := 0; rows.Next(); n++ {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		if n > 0 {
			out.WriteByte(',')
		}
		line, err := t.line(values)
		if err != nil {
			return fault.At(t.name, err)
		}
		out.WriteString("\n")
		if _, err := out.Write(line); err != nil {
			return err
		}
	}
	return rows.Err()
}

// line writes a row as a JSON object.
func (t exportTable) line(values []sql.NullString) ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, c := range t.columns {
		v := values[i]
		if c.kind == jsonColumn && v.String == "" || c.orNone() && !v.Valid {
			continue
		}
		if b.Len() > 1 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "%q:", c.name)
		switch {
		case c.kind == jsonColumn:
			if err := json.Compact(&b, []byte(v.String)); err != nil {
				return nil, err
			}
		case c.isNumber():
			b.WriteString(v.String)
		default:
			writeString(&b, v.String)
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// writeString writes a text as JSON, its letters as they are.
func writeString(b *bytes.Buffer, s string) {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	_ = e.Encode(s) // of a string into memory: it cannot fail
	b.Truncate(b.Len() - 1)
}

// PhotoNumbers returns the numbers of all photographs.
func (s *Store) PhotoNumbers() ([]int, error) {
	if s.has > 0 && s.has < changesFrom {
		return nil, nil
	}
	var out []int
	err := s.each("SELECT seq FROM photos ORDER BY seq", nil, func(rows *sql.Rows) error {
		var n int
		err := rows.Scan(&n)
		out = append(out, n)
		return err
	})
	return out, err
}

// rowName names a row in messages.
func (t exportTable) rowName(values []any) string {
	var parts []string
	for i, c := range t.columns[:t.keys] {
		part := fmt.Sprint(values[i])
		if c.kind == textColumn {
			part = strconv.Quote(part)
		}
		parts = append(parts, c.name+" "+part)
	}
	return t.name + ", " + strings.Join(parts, ", ")
}
