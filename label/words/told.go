package words

import (
	"slices"
	"strings"
)

// Told returns what turns a message of the program, which is English for the
// terminal, into how the maker's pages say it in a language by its BCP 47 tag: by
// the form it has, with what is filled in told in turn. Quotations, ids and names
// of the maker's own stay as they are; figures get the language's decimal sign. A
// message of no known form stays as it is.
func Told(language string) func(string) string { return toldBy(allForms(), language) }

func toldBy(all *forms, language string) func(string) string {
	t := newTeller(all, language)
	return func(text string) string {
		said, _ := t.tell(text, deepest)
		return said
	}
}

// Named returns what turns names of the built-in tables, of films, metals and
// conventions, into how they are called in a language; names of the maker's own stay
// as they are. A key in brackets behind a name stays too.
func Named(language string) func(string) string {
	t := newTeller(allForms(), language)
	return func(name string) string {
		what, key, ok := strings.Cut(name, " (")
		if f := t.all.whole[what]; f != nil {
			what = f.said[t.at][0].text
		} else {
			what = t.words.Name(what)
		}
		if ok {
			what += " (" + key
		}
		return what
	}
}

// deepest is how often a form may be filled with a form.
const deepest = 5

type teller struct {
	all   *forms
	at    int // column of the table
	words Words
}

func newTeller(all *forms, language string) teller {
	t := teller{all: all, at: max(0, slices.Index(formLanguages, language))}
	if w, err := For(formLanguages[t.at]); err == nil { // there are words for each of them
		t.words = w
	}
	return t
}

// tell says a text by its form; or by those of its parts. ok is false where it is
// said as it was.
func (t teller) tell(text string, deep int) (said string, ok bool) {
	if text == "" || deep == 0 {
		return text, false
	}
	f, fills := t.all.find(text)
	if f == nil {
		return t.parts(text, deep)
	}
	for i := range fills {
		fills[i] = t.filling(fills[i], deep-1)
	}
	var b strings.Builder
	for _, p := range f.said[t.at] {
		b.WriteString(p.text)
		if p.place >= 0 && p.place < len(fills) {
			b.WriteString(fills[p.place])
		}
	}
	if b.Len() == 0 { // a form that leaves everything out but what is filled in, which is nothing
		return text, false
	}
	return b.String(), true
}

// parts says a text that is put together of several: a list, or what something is
// about and what is said of it.
func (t teller) parts(text string, deep int) (string, bool) {
	for _, joint := range []string{"; ", ": ", ", "} {
		list := quotedSplit(text, joint)
		if len(list) == 1 || joint == ", " && deep == deepest { // a sentence with a comma is none
			continue
		}
		if joint == ": " { // what stands before the first says of what the rest is
			list = []string{list[0], text[len(list[0])+len(joint):]}
		}
		some := false
		for i, one := range list {
			said, ok := t.part(one, deep-1)
			list[i], some = said, some || ok
		}
		if some {
			return strings.Join(list, joint), true
		}
	}
	if before, inner, ok := strings.Cut(text, " ("); ok && strings.HasSuffix(inner, ")") {
		a, ok := t.part(before, deep-1)
		b, ok2 := t.part(strings.TrimSuffix(inner, ")"), deep-1)
		return a + " (" + b + ")", ok || ok2
	}
	return text, false
}

// quotedSplit is strings.Split that leaves quotations whole.
func quotedSplit(text, joint string) []string {
	var all []string
	from := 0
	for at := 0; ; {
		i := strings.Index(text[at:], joint)
		if i < 0 {
			return append(all, text[from:])
		}
		at += i + len(joint)
		if quotesEnd(text[from : at-len(joint)]) {
			all = append(all, text[from:at-len(joint)])
			from = at
		}
	}
}

// part says one part of several: a form, a name or a figure.
func (t teller) part(text string, deep int) (string, bool) {
	said := t.filling(text, deep)
	return said, said != text
}

// filling says what is filled in.
func (t teller) filling(text string, deep int) string {
	if text == "" || len(text) > 1 && text[0] == '"' && text[len(text)-1] == '"' && !strings.Contains(text[1:len(text)-1], `"`) {
		return text
	}
	if name := t.words.Name(text); name != text {
		return name
	}
	if said, ok := t.tell(text, deep); ok {
		return said
	}
	if key, value, ok := strings.Cut(text, " = "); ok { // a line of a batch file, which the pages do not show
		if f := t.all.whole[key]; f != nil {
			return f.said[t.at][0].text + ": " + value
		}
	}
	return t.figures(text)
}

// figures gives a text that is a figure with its unit, or some of them, the decimal
// sign of the language.
func (t teller) figures(text string) string {
	if !t.words.Number.Comma || !strings.Contains(text, ".") || strings.ContainsAny(text, `"=[]/:\@`) {
		return text
	}
	var b strings.Builder
	for i, word := range strings.Split(text, " ") {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(figure(word))
	}
	return b.String()
}

// figure gives a word that is a figure a decimal comma: "±0.05" is "±0,05"; "f.1",
// "1.2.3" and "0.5mm.toml" stay.
func figure(word string) string {
	number := strings.TrimRight(strings.TrimLeft(word, "±+-−<>≤≥~("), ",;:.)%°")
	dot := strings.IndexByte(number, '.')
	if dot <= 0 || dot == len(number)-1 {
		return word
	}
	for i := range len(number) {
		if i != dot && (number[i] < '0' || number[i] > '9') {
			return word
		}
	}
	return strings.Replace(word, ".", ",", 1)
}
