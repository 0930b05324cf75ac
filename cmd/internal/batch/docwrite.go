package batch

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Source writes the document as a batch file: keys in the order of the
// demonstration's file, unknown ones after them by name. The same document gives
// the same bytes.
func (d *Doc) Source() []byte {
	var w docWriter
	w.table(nil, "", d.root)
	return []byte(w.String())
}

// keysOf lists the keys of a table in their order, by the table's dotted name.
func keysOf(name string) []string {
	switch name {
	case "":
		return topKeys
	case "maker":
		return makerKeys
	case "print":
		return printKeys
	case "tank":
		return tankKeys
	case "rating":
		return ratingKeys
	case "pattern":
		return patternKeys
	case "pattern.mark":
		return markKeys
	case "float":
		return floatKeys
	}
	return nil
}

func ordered(name string, in map[string]any) []string {
	order := keysOf(name)
	place := func(k string) int {
		if i := slices.Index(order, k); i >= 0 {
			return i
		}
		return len(order)
	}
	return slices.SortedFunc(maps.Keys(in), func(a, b string) int {
		if d := place(a) - place(b); d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
}

type docWriter struct{ strings.Builder }

// table writes the keys of a table and then the tables in it, since TOML has all
// that follows a heading belong to it.
func (w *docWriter) table(path []string, name string, in map[string]any) {
	var below []string
	for _, k := range ordered(name, in) {
		if isTable(in[k]) || isTables(in[k]) {
			below = append(below, k)
			continue
		}
		w.WriteString(key(k) + " = " + value(in[k]) + "\n")
	}
	for _, k := range below {
		at := append(slices.Clone(path), key(k))
		under := strings.TrimPrefix(name+"."+k, ".")
		if one, ok := in[k].(map[string]any); ok {
			w.WriteString("\n[" + strings.Join(at, ".") + "]\n")
			w.table(at, under, one)
			continue
		}
		for _, one := range in[k].([]any) {
			w.WriteString("\n[[" + strings.Join(at, ".") + "]]\n")
			w.table(at, under, one.(map[string]any))
		}
	}
}

func isTable(v any) bool {
	_, ok := v.(map[string]any)
	return ok
}

// isTables reports whether v is a list of tables and nothing else.
func isTables(v any) bool {
	list, ok := v.([]any)
	return ok && len(list) > 0 && !slices.ContainsFunc(list, func(w any) bool { return !isTable(w) })
}

// key writes the name of a key, in quotation marks where TOML wants them.
func key(k string) string {
	bare := k != ""
	for _, r := range k {
		bare = bare && (r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-')
	}
	if bare {
		return k
	}
	return tomlString(k)
}

// value writes a value in one line.
func value(v any) string {
	switch v := v.(type) {
	case string:
		return tomlString(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case int:
		return strconv.Itoa(v)
	case float64:
		return float(v)
	case bool:
		return strconv.FormatBool(v)
	case []any:
		parts := make([]string, len(v))
		for i, w := range v {
			parts[i] = value(w)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case map[string]any:
		var parts []string
		for _, k := range slices.Sorted(maps.Keys(v)) {
			parts = append(parts, key(k)+" = "+value(v[k]))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case interface{ Format(layout string) string }: // a moment in time
		return v.Format("2006-01-02T15:04:05.999999999Z07:00") // RFC 3339, as TOML has it
	case interface{ String() string }: // dates and times, as TOML writes them
		return v.String()
	}
	return tomlString("") // the decoder makes nothing else
}

// float writes a number that TOML reads as no whole one.
func float(f float64) string {
	switch {
	case math.IsNaN(f):
		return "nan"
	case math.IsInf(f, 1):
		return "inf"
	case math.IsInf(f, -1):
		return "-inf"
	}
	s := strconv.FormatFloat(f, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

// tomlString writes a basic string.
func tomlString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || r == 0x7f:
			const hex = "0123456789abcdef"
			b.WriteString(`\u00` + string(hex[r>>4]) + string(hex[r&15]))
		case r == utf8.RuneError:
			b.WriteRune('\uFFFD')
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
