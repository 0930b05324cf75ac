package bench

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"floatmark/label/words"
	"floatmark/loading/water"
)

// inTable reports whether a sentence has its translations.
func inTable(sentence string) bool {
	return slices.ContainsFunc([]string{"de", "fr", "it", "pl"}, func(l string) bool { return words.Bench(l)(sentence) != sentence })
}

// ownNames are what a language is called in itself, the same in all.
var ownNames = []string{"English", "Deutsch", "français", "italiano", "polski"}

var sentence = regexp.MustCompile(`\bt "((?:[^"\\]|\\.)*)"`)

// Every sentence of the templates is in the table.
func TestTemplatesTranslated(t *testing.T) {
	names, err := fs.Glob(files, "*.html")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, n := range names {
		data, err := files.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range sentence.FindAllStringSubmatch(string(data), -1) {
			if found++; !inTable(m[1]) {
				t.Errorf("%s: label/words/bench.tsv has no line for %q", n, m[1])
			}
		}
	}
	if found < 500 {
		t.Errorf("only %d sentences were found", found)
	}
}

// said are the places in Go where a sentence for the reader is written: keys of
// fields, and arguments of calls.
var (
	saidKeys  = []string{"Label", "Hint", "Title", "Says", "Name", "Text", "about"}
	saidCalls = map[string]int{"edit": 2, "editWith": 2, "batchFrame": 2, "say": 0, "says": 1, "to": 1, "placing": 2}
)

// sentences are the constant ones of a Go file.
func sentences(file *ast.File) (all []string) {
	add := func(e ast.Expr) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil && s != "" && !slices.Contains(ownNames, s) {
				all = append(all, s)
			}
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.KeyValueExpr:
			if key, ok := n.Key.(*ast.Ident); ok && slices.Contains(saidKeys, key.Name) {
				add(n.Value)
			}
		case *ast.CallExpr:
			name := ""
			switch f := n.Fun.(type) {
			case *ast.Ident:
				name = f.Name
			case *ast.SelectorExpr:
				name = f.Sel.Name
			case *ast.CallExpr: // words.Bench(language)("…")
				if of, ok := f.Fun.(*ast.SelectorExpr); ok && of.Sel.Name == "Bench" {
					name = "say"
				}
			}
			if at, ok := saidCalls[name]; ok && len(n.Args) > at {
				add(n.Args[at])
			}
		case *ast.CompositeLit:
			if of, ok := n.Type.(*ast.Ident); ok && of.Name == "link" && len(n.Elts) == 2 {
				add(n.Elts[0])
			}
			if len(n.Elts) == 3 && (n.Type == nil || isNamed(n.Type, "option")) {
				add(n.Elts[1])
			}
		}
		return true
	})
	return all
}

func isNamed(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name
}

// Every constant sentence of the pages' code, and of the remedies they offer, is
// in the table.
func TestCodeTranslated(t *testing.T) {
	found := 0
	for _, pattern := range []string{"*.go", "../../job/remedykinds.go"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			t.Fatal(pattern, err)
		}
		for _, n := range names {
			if strings.HasSuffix(n, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), n, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range sentences(file) {
				if found++; !inTable(s) {
					t.Errorf("%s: label/words/bench.tsv has no line for %q", n, s)
				}
			}
		}
	}
	if found < 200 {
		t.Errorf("only %d sentences were found", found)
	}
	for _, one := range measures {
		for _, s := range append([]string{one.Title, one.What}, one.Steps...) {
			if !inTable(s) {
				t.Errorf("label/words/bench.tsv has no line for %q", s)
			}
		}
	}
	for _, m := range water.Metals() {
		if !inTable(m.Name) {
			t.Errorf("label/words/bench.tsv has no line for the metal %q", m.Name)
		}
	}
}

// The pages are shown in each language, and say so.
func TestPagesInEachLanguage(t *testing.T) {
	a := demo(t)
	paths := []string{"", "workshop", "phone", "records", "records/publish", "records/restore", "spares", "stocks", "convert?load=8-9AAA&tip=3", "one?load=0.8g&diameter=16&built=7.2g",
		"trim?weight=7.2g&of=brass&side=inside&takes=0.5g&want=0.8g&metal=tin", "b/26-11/together", "printer", "printer/ruler", "printer/gain", "printer/duplex", "printer/codes", "printer/stretch",
		"b/26-11/", "b/26-11/patterns", "b/26-11/patterns/0", "b/26-11/floats", "b/26-11/tank", "b/26-11/tank/readings", "b/26-11/grade", "b/26-11/marks/0", "b/26-11/sheets",
		"b/26-11/print", "b/26-11/tick", "b/26-11/cards"}
	for language, home := range map[string]string{"de": "Werkstatt", "fr": "Atelier", "it": "Laboratorio", "pl": "Warsztat"} {
		for _, path := range paths {
			r := httptest.NewRequest("GET", Path+strings.TrimSuffix(path, "/"), nil)
			r.Header.Set("Accept-Language", language)
			w := a.send(r)
			body := w.Body.String()
			if w.Code != http.StatusOK || !strings.Contains(body, `<html lang="`+language+`">`) || !strings.Contains(body, home) {
				t.Errorf("%s in %s: %d %.200s", path, language, w.Code, body)
			}
			if i := strings.Index(body, "%!"); i >= 0 {
				t.Errorf("%s in %s: %.80s", path, language, body[i:])
			}
		}
	}
}
