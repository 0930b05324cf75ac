package batch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"floatmark/loading/fault"
)

// Doc is a batch file that is being written: every key as it stands, right or
// wrong, so that a form can show and change what Parse would refuse. Comments are
// not kept. Paths name keys and, in lists of tables, places from 0:
// "maker/name", "pattern/0/stations_mm", "float/11/reading".
type Doc struct{ root map[string]any }

// ParseDoc reads a batch file for writing. What is no TOML at all is an Input
// error.
func ParseDoc(src []byte) (*Doc, error) {
	d := &Doc{root: map[string]any{}}
	if err := toml.Unmarshal(src, &d.root); err != nil {
		return nil, fault.New(fault.Input, "", plainError(err), "mend this line: text and quantities stand in quotation marks, and each key once in its table", err)
	}
	d.root, _ = plain(d.root).(map[string]any)
	return d, nil
}

// plain brings lists of tables into one shape, whatever the decoder made them.
func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k, w := range v {
			v[k] = plain(w)
		}
		return v
	case []map[string]any:
		list := make([]any, len(v))
		for i, w := range v {
			list[i] = plain(w)
		}
		return list
	case []any:
		for i, w := range v {
			v[i] = plain(w)
		}
		return v
	}
	return v
}

// Get returns what stands at a path: string, int64, float64, bool, a date as the
// decoder has it, a list []any or a table map[string]any. It is not to be changed.
func (d *Doc) Get(path string) (any, bool) {
	var at any = d.root
	for _, name := range strings.Split(path, "/") {
		switch in := at.(type) {
		case map[string]any:
			next, ok := in[name]
			if !ok {
				return nil, false
			}
			at = next
		case []any:
			i, err := strconv.Atoi(name)
			if err != nil || i < 0 || i >= len(in) {
				return nil, false
			}
			at = in[i]
		default:
			return nil, false
		}
	}
	return at, true
}

// Text returns what stands at a path as a form shows it; "" for nothing, and the
// file's own writing for lists and tables.
func (d *Doc) Text(path string) string {
	v, ok := d.Get(path)
	if !ok {
		return ""
	}
	if s, ok := v.(string); ok {
		return s
	}
	return value(v)
}

// Paths lists the paths of everything that is no table, in the order of Source;
// a list is one.
func (d *Doc) Paths() []string { return pathsOf("", "", d.root) }

func pathsOf(prefix, name string, in map[string]any) []string {
	var all []string
	for _, k := range ordered(name, in) {
		if one, ok := in[k].(map[string]any); ok {
			all = append(all, pathsOf(prefix+k+"/", strings.TrimPrefix(name+"."+k, "."), one)...)
			continue
		}
		all = append(all, prefix+k)
	}
	return all
}

// Len is the length of the list at a path; 0 where there is none.
func (d *Doc) Len(path string) int {
	v, _ := d.Get(path)
	list, _ := v.([]any)
	return len(list)
}

// Set puts a value at a path, making the tables above it; nil takes the key, or
// the item of a list, out. An index that is the list's length adds one. A path
// through something that is no table is a fault of class Ours.
func (d *Doc) Set(path string, v any) error {
	root, err := set(d.root, strings.Split(path, "/"), plain(v))
	if err != nil {
		return fault.New(fault.Ours, path, "the batch file has no such place: "+err.Error(), "")
	}
	d.root = root.(map[string]any)
	return nil
}

func set(at any, path []string, v any) (any, error) {
	if len(path) == 0 {
		return v, nil
	}
	if list, ok := at.([]any); ok {
		i, err := strconv.Atoi(path[0])
		if err != nil || i < 0 || i > len(list) {
			return nil, fmt.Errorf("%q is no place of a list of %d", path[0], len(list))
		}
		if len(path) == 1 && v == nil {
			if i == len(list) {
				return list, nil
			}
			return slices.Delete(slices.Clone(list), i, i+1), nil
		}
		list = slices.Clone(list)
		if i == len(list) {
			list = append(list, nil)
		}
		list[i], err = set(list[i], path[1:], v)
		return list, err
	}
	in, ok := at.(map[string]any)
	if at == nil {
		in, ok = map[string]any{}, true
		if _, err := strconv.Atoi(path[0]); err == nil {
			return set([]any{}, path, v)
		}
	}
	if !ok {
		return nil, fmt.Errorf("%q lies in no table", path[0])
	}
	if len(path) == 1 && v == nil {
		delete(in, path[0])
		return in, nil
	}
	next, err := set(in[path[0]], path[1:], v)
	if err != nil {
		return nil, err
	}
	in[path[0]] = next
	return in, nil
}

// Clone returns a copy that shares nothing.
func (d *Doc) Clone() *Doc { return &Doc{clone(d.root).(map[string]any)} }

func clone(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for k, w := range v {
			out[k] = clone(w)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, w := range v {
			out[i] = clone(w)
		}
		return out
	}
	return v
}
