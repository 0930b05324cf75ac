package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
)

// markAt is one mark of one pattern in a document, both by their places from 0.
// A batch file writes a single ready-made mark in short, beside the pattern's own
// keys, and others as tables; what changes a mark need not know which.
type markAt struct{ pattern, zone int }

func (m markAt) path(key string) string {
	return fmt.Sprintf("pattern/%d/%s", m.pattern, key)
}

// tabled reports whether the marks of the pattern are tables.
func (m markAt) tabled(d *batch.Doc) bool {
	_, ok := d.Get(m.path("mark/0"))
	return ok
}

// key is where a key of the mark stands; the short form has keys for the turn
// and the place alone.
func (m markAt) key(d *batch.Doc, name string) string {
	if m.tabled(d) {
		return m.path(fmt.Sprintf("mark/%d/%s", m.zone, name))
	}
	switch name {
	case "at_mm":
		return m.path("mark_from_mm")
	case "height_mm":
		return m.path("mark_height_mm")
	case "turn":
		return m.path("turn")
	}
	return ""
}

// set sets a key of the mark, writing it as a table where the short form has no
// such key.
func (m markAt) set(d *batch.Doc, name string, v any) error {
	if m.key(d, name) == "" {
		if err := m.toTable(d); err != nil {
			return err
		}
	}
	return d.Set(m.key(d, name), v)
}

// toTable writes the short form as a table.
func (m markAt) toTable(d *batch.Doc) error {
	t := map[string]any{"show": "least"}
	if style := d.Text(m.path("mark")); style != "" {
		t["show"] = style
	}
	for from, to := range map[string]string{"mark_from_mm": "at_mm", "mark_height_mm": "height_mm", "turn": "turn"} {
		if v, ok := d.Get(m.path(from)); ok {
			t[to] = v
		}
		if err := d.Set(m.path(from), nil); err != nil {
			return err
		}
	}
	return d.Set(m.path("mark"), []any{t})
}

// move puts the mark at a height over the base end.
func (m markAt) move(d *batch.Doc, from, height float64) error {
	if m.tabled(d) {
		if err := d.Set(m.key(d, "from"), nil); err != nil {
			return err
		}
	}
	if err := m.set(d, "at_mm", from); err != nil {
		return err
	}
	return m.set(d, "height_mm", height)
}

// markKey names a change of the mark in requests.
func markKey(m markAt, parts ...string) string {
	return strings.Join(append([]string{strconv.Itoa(m.zone)}, parts...), ":")
}

// withoutPart writes what a mark shows, as a batch file does, without a part.
func withoutPart(s label.Show, without label.Part) []any {
	names := func(list []label.Part) (out []any) {
		for _, p := range list {
			if p != without {
				out = append(out, p.String())
			}
		}
		return out
	}
	all := slices.Concat(names(s.Top), names(s.Row))
	for _, f := range s.Faces {
		if face := names(f); len(face) > 0 {
			all = append(all, face)
		}
	}
	return append(all, names(s.Foot)...)
}
