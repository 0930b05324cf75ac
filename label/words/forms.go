package words

import (
	_ "embed"
	"regexp"
	"strings"
	"sync"
)

// formTable holds what the program says in English for the terminal, with %s for
// each thing that is filled in, a line each, apart by tabs: as the program says it,
// as the maker's pages say it in English ("=" where that is the same), German,
// French, Italian, Polish. "%[2]s" is the second thing that is filled in. A form
// that begins with a blank or a mark of punctuation is what another goes on with,
// one that ends in a blank what another begins with.
//
//go:embed forms.tsv
var formTable string

// formLanguages are the columns of the table after the first, in order.
var formLanguages = []string{"en", "de", "fr", "it", "pl"}

// form is a message with places where something is filled in.
type form struct {
	fixed []string // what stands between the places; one more than there are places
	size  int      // of what is fixed, bytes
	said  [][]piece
}

// piece is a part of a form as it is said: text, then what fills a place.
type piece struct {
	text  string
	place int // from 0; -1 for none
}

// hole is where something is filled in.
var hole = regexp.MustCompile(`%(?:\[(\d)\])?s|%%`)

// fill reads a form as it is said: texts and places in turn.
func fill(s string) []piece {
	var all []piece
	text, from, next := "", 0, 0
	for _, m := range hole.FindAllStringSubmatchIndex(s, -1) {
		text += s[from:m[0]]
		from = m[1]
		if s[m[0]:m[1]] == "%%" {
			text += "%"
			continue
		}
		if m[2] >= 0 {
			next = int(s[m[2]] - '1')
		}
		all = append(all, piece{text, next})
		text = ""
		next++
	}
	if text += s[from:]; text != "" || len(all) == 0 {
		all = append(all, piece{text, -1})
	}
	return all
}

// goesOn are the marks that a form begins with which another goes on with.
const goesOn = " ,;:.("

// newForm reads a row of the table; ok is false for one that is none.
func newForm(row string) (f *form, english string, ok bool) {
	columns := strings.Split(row, "\t")
	if len(columns) != 1+len(formLanguages) || columns[0] == "" {
		return nil, "", false
	}
	f = &form{}
	english = columns[0]
	for i, said := range columns {
		if said == "" || said == "=" {
			said = english
		}
		said = openEnds(english, said)
		pieces := fill(said)
		if i > 0 {
			f.said = append(f.said, pieces)
			continue
		}
		for _, p := range pieces {
			f.fixed = append(f.fixed, p.text)
			f.size += len(p.text)
		}
		if pieces[len(pieces)-1].place >= 0 {
			f.fixed = append(f.fixed, "")
		}
	}
	return f, english, true
}

// openEnds puts a place before a form that goes on with another, and after one that
// begins another.
func openEnds(english, said string) string {
	front, back := strings.ContainsRune(goesOn, rune(english[0])), strings.HasSuffix(english, " ")
	if !front && !back {
		return said
	}
	n := strings.Count(strings.ReplaceAll(english, "%%", ""), "%s")
	if front { // the place in front is the first: those of the form move on by one
		at := 0
		said = hole.ReplaceAllStringFunc(said, func(h string) string {
			switch {
			case h == "%%":
				return h
			case len(h) > 2:
				at = int(h[2]-'1') + 1
			default:
				at++
			}
			return "%[" + string(rune('1'+at)) + "]s"
		})
		said = "%[1]s" + said
		n++
	}
	if back {
		said += "%[" + string(rune('1'+n)) + "]s"
	}
	return said
}

// forms are all of the table, found by what they begin or end with.
type forms struct {
	whole  map[string]*form // without a place
	begin  *node            // by their first fixed part
	end    *node            // of those that begin with a place, by their last, from its end
	inside []*form          // with places at both ends
}

// node is a place in a tree of texts, byte by byte.
type node struct {
	next map[byte]*node
	here []*form
}

func (n *node) put(s string, back bool, f *form) {
	for i := range len(s) {
		b := s[i]
		if back {
			b = s[len(s)-1-i]
		}
		if n.next == nil {
			n.next = map[byte]*node{}
		}
		to := n.next[b]
		if to == nil {
			to = &node{}
			n.next[b] = to
		}
		n = to
	}
	n.here = append(n.here, f)
}

// each calls do with the forms whose text s begins with, or ends with.
func (n *node) each(s string, back bool, do func(*form)) {
	for i := 0; n != nil; i++ {
		for _, f := range n.here {
			do(f)
		}
		if i == len(s) {
			return
		}
		if back {
			n = n.next[s[len(s)-1-i]]
		} else {
			n = n.next[s[i]]
		}
	}
}

func (all *forms) add(f *form) {
	first, last := f.fixed[0], f.fixed[len(f.fixed)-1]
	switch {
	case len(f.fixed) == 1:
		all.whole[first] = f
	case first != "":
		all.begin.put(first, false, f)
	case last != "":
		all.end.put(last, true, f)
	default:
		all.inside = append(all.inside, f)
	}
}

// allForms is the table, read once.
var allForms = sync.OnceValue(func() *forms { return newForms(formTable) })

func newForms(table string) *forms {
	all := &forms{whole: map[string]*form{}, begin: &node{}, end: &node{}}
	for row := range strings.Lines(table) {
		if f, _, ok := newForm(strings.TrimRight(row, "\r\n")); ok {
			all.add(f)
		}
	}
	return all
}

// find returns the form that text has, the one with most fixed text of several, and
// what fills its places; nil where there is none.
func (all *forms) find(text string) (*form, []string) {
	if f := all.whole[text]; f != nil {
		return f, nil
	}
	var found *form
	var fills []string
	try := func(f *form) {
		if found != nil && f.size <= found.size || f.size == 0 || f.size > len(text) {
			return
		}
		if got, ok := f.match(text); ok {
			found, fills = f, got
		}
	}
	all.begin.each(text, false, try)
	all.end.each(text, true, try)
	for _, f := range all.inside {
		try(f)
	}
	return found, fills
}
