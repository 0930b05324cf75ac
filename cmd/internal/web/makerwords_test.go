package web

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
)

// inTable reports whether a sentence of the maker's pages has its translations.
func inTable(sentence string) bool {
	return slices.ContainsFunc([]string{"de", "fr", "it", "pl"}, func(l string) bool { return words.Bench(l)(sentence) != sentence })
}

var saidSentence = regexp.MustCompile(`\.(?:Say|Of) "((?:[^"\\]|\\.)*)"`)

// Every sentence of the unlock form, of the maker's page and of what goes wrong on
// them is in the table.
func TestMakerSentences(t *testing.T) {
	all := map[string]bool{}
	for _, src := range []string{pagesSource, makerSource} {
		for _, m := range saidSentence.FindAllStringSubmatch(src, -1) {
			s, err := strconv.Unquote(`"` + m[1] + `"`)
			if err != nil {
				t.Fatal(err)
			}
			all[s] = true
		}
	}
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if strings.HasSuffix(n, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), n, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		add := func(e ast.Expr) {
			if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if s, err := strconv.Unquote(lit.Value); err == nil && s != "" {
					all[s] = true
				}
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CompositeLit:
				if of, ok := n.Type.(*ast.Ident); ok && of.Name == "failure" {
					for _, e := range n.Elts {
						if kv, ok := e.(*ast.KeyValueExpr); ok && slices.Contains([]string{"Title", "What", "Do"}, kv.Key.(*ast.Ident).Name) {
							add(kv.Value)
						}
					}
				}
			case *ast.CallExpr:
				name := ""
				switch f := n.Fun.(type) {
				case *ast.Ident:
					name = f.Name
				case *ast.SelectorExpr:
					name = f.Sel.Name
				}
				if (name == "say" || name == "Say" || name == "Of") && len(n.Args) > 0 {
					add(n.Args[0])
				}
			}
			return true
		})
	}
	for _, c := range label.Choices() {
		all[groupNames[c.Group]] = true
	}
	for _, name := range pathNames {
		all[name] = true
	}
	for _, s := range []string{job.ByBench, job.ByPhone, job.ByCommand, "pending", "confirmed", "cancelled", label.ListCoats, label.ListMaterials, label.ListNotes, label.PathStatus, label.PathPrice,
		label.PathBuyer, "Something went wrong in the program.", "Try again; if it stays, tell the maker."} {
		all[s] = true
	}
	if len(all) < 90 {
		t.Errorf("only %d sentences were found", len(all))
	}
	var missing []string
	for s := range all {
		if !inTable(s) {
			missing = append(missing, s)
		}
	}
	slices.Sort(missing)
	for _, s := range missing {
		t.Errorf("label/words/bench.tsv has no line for %q", s)
	}
}
