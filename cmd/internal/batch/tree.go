package batch

import (
	"bytes"
	"errors"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// node is a value of the file with its place.
type node struct {
	kind unstable.Kind
	text string // of a single value: as written, a string without its quotes
	at   place
	list []*node // of an array, also of an array of tables
	tab  *table  // of a table
}

// table is a table of the file; its keys are in the order of the file.
type table struct {
	at   place
	keys []*entry
}

type entry struct {
	name string
	at   place
	val  *node
}

// get returns the value of a key, nil when it is not there; nil tables have
// no keys.
func (t *table) get(name string) *entry {
	if t == nil {
		return nil
	}
	for _, e := range t.keys {
		if e.name == name {
			return e
		}
	}
	return nil
}

var byteOrderMark = []byte("\xef\xbb\xbf")

// tree reads TOML into tables with places; nil and a finding when it is none.
//
// The library's decoder says whether the text is TOML at all (also that no key
// stands twice); its parser then gives the places, which the decoder keeps for
// its own errors only.
func (r *reader) tree(src []byte) *table {
	first := place{line: 1, col: 1}
	if len(src) > maxSource {
		r.add(first, "split the batch", "the file is larger than 4 MiB")
		return nil
	}
	src = bytes.TrimPrefix(src, byteOrderMark)
	if !utf8.Valid(src) {
		r.add(first, "save it as UTF-8", "the file is not UTF-8 text")
		return nil
	}
	var any map[string]any
	if err := toml.Unmarshal(src, &any); err != nil {
		at := first
		var d *toml.DecodeError
		if errors.As(err, &d) {
			line, col := d.Position()
			at = place{line: line, col: col}
		}
		r.add(at, `mend this line: text and quantities stand in quotation marks, as in "0.83 g", and each key once in its table`, "%s", plainError(err))
		return nil
	}
	b := builder{src: src, root: &table{at: first}}
	b.lines = append(b.lines, 0)
	for i, c := range src {
		if c == '\n' {
			b.lines = append(b.lines, i+1)
		}
	}
	b.current = b.root
	p := unstable.Parser{}
	p.Reset(src)
	for p.NextExpression() {
		b.expression(p.Expression())
	}
	return b.root
}

// plainError drops the name of the library, which means nothing to a maker.
func plainError(err error) string {
	return string(bytes.TrimPrefix([]byte(err.Error()), []byte("toml: ")))
}

type builder struct {
	src           []byte
	lines         []int // offset of each line's first byte
	root, current *table
}

func (b *builder) place(offset int) place {
	lo, hi := 0, len(b.lines)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; b.lines[mid] <= offset {
			lo = mid
		} else {
			hi = mid
		}
	}
	return place{line: lo + 1, col: utf8.RuneCount(b.src[b.lines[lo]:offset]) + 1}
}

func (b *builder) expression(n *unstable.Node) {
	switch n.Kind {
	case unstable.Table, unstable.ArrayTable:
		parts, _ := b.parts(n.Key())
		last := parts[len(parts)-1]
		parent := b.walk(b.root, parts[:len(parts)-1])
		if n.Kind == unstable.Table {
			b.current = b.walk(parent, []entry{last})
			return
		}
		e := parent.get(last.name)
		if e == nil {
			e = &entry{last.name, last.at, &node{kind: unstable.Array, at: last.at}}
			parent.keys = append(parent.keys, e)
		}
		b.current = &table{at: last.at}
		e.val.list = append(e.val.list, &node{kind: unstable.InlineTable, at: last.at, tab: b.current})
	case unstable.KeyValue:
		b.keyValue(b.current, n)
	}
}

func (b *builder) keyValue(t *table, n *unstable.Node) {
	parts, end := b.parts(n.Key())
	last := parts[len(parts)-1]
	t = b.walk(t, parts[:len(parts)-1])
	v := b.value(n.Value(), b.place(b.valueOffset(end)))
	t.keys = append(t.keys, &entry{last.name, last.at, v})
}

// valueOffset finds the value behind a key that ends at offset end.
func (b *builder) valueOffset(end int) int {
	for end < len(b.src) && (b.src[end] == ' ' || b.src[end] == '\t' || b.src[end] == '=') {
		end++
	}
	return end
}

// parts returns the parts of a dotted key and the offset of its end.
func (b *builder) parts(it unstable.Iterator) ([]entry, int) {
	var all []entry
	end := 0
	for it.Next() {
		k := it.Node()
		all = append(all, entry{name: string(k.Data), at: b.place(int(k.Raw.Offset))})
		end = int(k.Raw.Offset + k.Raw.Length)
	}
	return all, end
}

// walk goes down from t by the parts of a key, making tables on the way; of an
// array of tables the last one counts, as TOML has it.
func (b *builder) walk(t *table, parts []entry) *table {
	for _, p := range parts {
		e := t.get(p.name)
		if e == nil {
			e = &entry{p.name, p.at, &node{kind: unstable.InlineTable, at: p.at, tab: &table{at: p.at}}}
			t.keys = append(t.keys, e)
		}
		switch v := e.val; {
		case v.tab != nil:
			t = v.tab
		case len(v.list) > 0 && v.list[len(v.list)-1].tab != nil:
			t = v.list[len(v.list)-1].tab
		default:
			t = &table{at: p.at} // cannot be: the decoder has refused it
		}
	}
	return t
}

// value copies a value out of the parser, which reuses its memory.
func (b *builder) value(n *unstable.Node, at place) *node {
	v := &node{kind: n.Kind, text: string(n.Data), at: at}
	switch n.Kind {
	case unstable.Array:
		it := n.Children()
		for it.Next() {
			c := it.Node()
			v.list = append(v.list, b.value(c, b.element(c, at)))
		}
	case unstable.InlineTable:
		v.tab = &table{at: at}
		it := n.Children()
		for it.Next() {
			if c := it.Node(); c.Kind == unstable.KeyValue {
				b.keyValue(v.tab, c)
			}
		}
	}
	return v
}

// element returns the place of an array's element. The parser gives none to an
// inner array: it begins at the bracket before its first element.
func (b *builder) element(n *unstable.Node, outer place) place {
	if n.Raw.Length > 0 {
		return b.place(int(n.Raw.Offset))
	}
	c := n.Child()
	if n.Kind != unstable.Array || c == nil || c.Raw.Length == 0 {
		return outer
	}
	if i := bytes.LastIndexByte(b.src[:c.Raw.Offset], '['); i >= 0 {
		return b.place(i)
	}
	return outer
}
