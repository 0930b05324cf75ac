package batch

import (
	"floatmark/label"
	"floatmark/loading/fault"
)

// PatternOf reads one pattern of a document, by its place from 0, as Parse would
// read it, whatever the rest of the document says; path names it in messages and
// open reads the files it names. The error joins one Input fault for each
// finding.
func PatternOf(d *Doc, i int, path string, open func(name string) ([]byte, error)) (*label.Pattern, error) {
	one, ok := d.at("pattern", i)
	if !ok {
		return nil, fault.New(fault.NotFound, path, "there is no such pattern", "choose one of the list")
	}
	root := map[string]any{"format": int64(format), "pattern": []any{one}}
	if mark, ok := d.Get("print/own_mark"); ok {
		root["print"] = map[string]any{"own_mark": mark}
	}
	r, err := newReader(path)
	if err != nil {
		return nil, err
	}
	r.open = open
	tree := r.tree((&Doc{root}).Source())
	if tree == nil {
		return nil, r.err()
	}
	if t := r.sub(tree, "print", printKeys); t != nil {
		r.marked = r.ownMark(t, "[print]") != nil
	}
	all := r.patterns(tree)
	if err := r.err(); err != nil {
		return nil, err
	}
	return all.list[0], nil
}

// at returns an item of a list of tables.
func (d *Doc) at(list string, i int) (any, bool) {
	v, _ := d.Get(list)
	all, _ := v.([]any)
	if i < 0 || i >= len(all) {
		return nil, false
	}
	return all[i], true
}

// OnlyPattern is the document with one of its patterns, by its place from 0, and
// of the floats those of that pattern; floats that lie in a spreadsheet are left
// to it. A batch can so be looked at pattern by pattern while others of it are
// still being written.
func (d *Doc) OnlyPattern(i int) (*Doc, error) {
	one, ok := d.at("pattern", i)
	if !ok {
		return nil, fault.New(fault.NotFound, "", "there is no such pattern", "choose one of the list")
	}
	out := d.Clone()
	out.root["pattern"] = []any{clone(one)}
	key, _ := one.(map[string]any)["key"].(string)
	list, _ := out.root["float"].([]any)
	var own []any
	for _, f := range list {
		if in, ok := f.(map[string]any); ok && in["pattern"] == key {
			own = append(own, f)
		}
	}
	delete(out.root, "float")
	if len(own) > 0 {
		out.root["float"] = own
	}
	return out, nil
}
