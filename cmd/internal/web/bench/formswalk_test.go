package bench

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// formRoots are the folders whose messages the pages show, from here.
var formRoots = []string{"../../../../loading", "../../../../label", "../../../../layouts", "../../batch", "../../job", "."}

// formsNot are folders and files without messages for the pages: writers of files,
// and what only the command shows.
var formsNot = []string{"loading/fault", "layouts/pdf", "layouts/png", "layouts/svg", "layouts/draw", "layouts/palette",
	"job/convert.go", "job/answer.go", "job/one.go", "job/onesource.go", "job/trim.go", "job/several.go", "job/unlock.go",
	"job/demo.go", "job/figureskey.go", "job/conventions.go", "job/angler.go", "job/buildread.go",
	"water/metal.go"}

// looseNot are those whose messages all stand in the calls that carry them: their
// other strings name pieces of drawings, sources and columns.
var looseNot = []string{"label/words", "loading/shape_budget.go", "loading/material.go", "shot/arrange.go", "label/zone.go", "label/build.go", "label/record",
	"layouts/backer", "layouts/nest", "layouts/chart", "layouts/typeset", "layouts/testsheet", "layouts/view", "layouts/jobsheet", "layouts/jig",
	"layouts/boxlabel", "layouts/stock/table.go", "layouts/geom", "layouts/proof/key.go", "batch/docwrite.go", "job/checklinks.go",
	"job/printerprofile.go", "job/tankreport.go", "web/bench", "bench"}

// looseYet are files of those that do have some.
var looseYet = []string{"backer/frame.go", "backer/piece.go", "job/checklinks.go", "job/printerprofile.go", "job/tankreport.go", "print.go"}

// saying are the calls whose arguments are messages.
var saying = []string{"New", "Inputf", "At", "add", "wrong", "bad", "input", "unopened", "machine", "svgFault", "meanwhile", "damaged", "refuse", "notExport",
	"tell", "warn", "say", "notice", "line", "part", "parseWord", "fileBeside", "stock", "Stated", "needs", "parse", "append",
	"paragraph", "heading", "texts", "bar", "fit", "wrap", "pair", "row"}

// silent are keys of values that are no messages.
var silent = []string{"Source", "Name", "name", "Key", "key", "Title", "Label", "Hint", "Says", "about"}

var (
	verb   = regexp.MustCompile(`%(\[\d+\])?[-+#0]*[\d.*]*(\[\d+\])?[a-zA-Z]`)
	wordly = regexp.MustCompile(`[A-Za-z]{2,}|\ba\b`)
	// otherwise are strings of other kinds: queries, types, markup, sources, examples.
	otherwise = regexp.MustCompile(`[<>{}\n]|\b(SELECT|INSERT|UPDATE|DELETE|PRAGMA|WHERE|ORDER|CREATE)\b|charset=|no source|^[a-z_]+ = |^\S+ = \[|\.css|^FLOAT|max-age|default-src|Accept-|identity 1`)
)

// formWalk gathers the messages of one package's files.
type formWalk struct {
	consts map[string]ast.Expr
	seen   map[ast.Node]bool
	loose  bool // strings outside of calls count
	bench  bool // the pages' own
	found  func(form string, at token.Pos)
}

// programForms are the forms of all messages of the program that the pages may
// show, with a place where each is made, and all strings there are.
func programForms(t *testing.T) (forms map[string]string, literals map[string]bool) {
	t.Helper()
	forms, literals = map[string]string{}, map[string]bool{}
	for _, root := range formRoots {
		err := filepath.WalkDir(root, func(dir string, d fs.DirEntry, err error) error {
			if err != nil || !d.IsDir() || d.Name() == "testdata" {
				return err
			}
			walkPackage(t, dir, forms, literals)
			if root == "." {
				return fs.SkipAll
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return forms, literals
}

// among reports whether a file is one of some, or lies in one of some folders.
func among(path string, list []string) bool {
	path = "/" + filepath.ToSlash(path)
	return slices.ContainsFunc(list, func(s string) bool {
		return strings.HasSuffix(path, "/"+s) || strings.Contains(path, "/"+s+"/")
	})
}

func walkPackage(t *testing.T, dir string, forms map[string]string, literals map[string]bool) {
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	fset := token.NewFileSet()
	var files []*ast.File
	consts := map[string]ast.Expr{}
	for _, n := range names {
		if strings.HasSuffix(n, "_test.go") || among(n, formsNot) {
			continue
		}
		f, err := parser.ParseFile(fset, n, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				for i, value := range v.Values {
					consts[v.Names[i].Name] = value
				}
			}
		}
	}
	for _, f := range files {
		name := fset.Position(f.Pos()).Filename
		w := &formWalk{consts: consts, seen: map[ast.Node]bool{}, loose: !among(name, looseNot) && dir != "." || among(name, looseYet), bench: dir == "."}
		w.found = func(form string, at token.Pos) {
			if _, ok := forms[form]; !ok {
				p := fset.Position(at)
				forms[form] = strings.TrimLeft(p.Filename, "./") + ":" + strconv.Itoa(p.Line)
			}
		}
		w.file(f)
		ast.Inspect(f, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if s, err := strconv.Unquote(lit.Value); err == nil {
					literals[verb.ReplaceAllString(s, "%s")] = true
				}
			}
			return true
		})
	}
}

// file walks one file from the outermost expression inwards.
func (w *formWalk) file(f *ast.File) {
	var above []ast.Node
	ast.Inspect(f, func(n ast.Node) bool {
		if n == nil {
			above = above[:len(above)-1]
			return true
		}
		if w.skips(n) {
			return false
		}
		above = append(above, n)
		e, ok := n.(ast.Expr)
		if !ok || w.seen[n] || len(above) < 2 {
			return true
		}
		switch e.(type) {
		case *ast.BasicLit, *ast.BinaryExpr, *ast.CallExpr, *ast.Ident:
		default:
			return true
		}
		said, inCall := w.said(above[len(above)-2], e)
		if !said {
			return true
		}
		if form, words := w.fold(e, 0); words && isMessage(form, inCall) {
			w.found(form, e.Pos())
		}
		return true
	})
}

// skips are parts of a file without messages: imports, tags of fields, panics and
// errors that are the program's own.
func (w *formWalk) skips(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec, *ast.CaseClause:
		if c, ok := n.(*ast.CaseClause); ok {
			for _, e := range c.List {
				w.mark(e)
			}
			return false
		}
		return true
	case *ast.Field:
		w.seen[n.Tag] = true
	case *ast.CallExpr:
		switch callee(n.Fun) {
		case "panic", "errors.New", "fmt.Errorf", "fmt.Fprintf", "http.Error", "regexp.MustCompile":
			return true
		case "fault.New":
			if s, ok := n.Args[0].(*ast.SelectorExpr); ok && s.Sel.Name == "Ours" {
				return true
			}
		}
	}
	return false
}

// mark keeps an expression and what is in it from being looked at.
func (w *formWalk) mark(e ast.Expr) {
	ast.Inspect(e, func(n ast.Node) bool { w.seen[n] = true; return true })
}

func callee(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		if x, ok := e.X.(*ast.Ident); ok {
			return x.Name + "." + e.Sel.Name
		}
		return "." + e.Sel.Name
	}
	return ""
}

// said reports whether an expression stands where messages stand, by what is about
// it, and whether that is a call that carries them.
func (w *formWalk) said(in ast.Node, e ast.Expr) (ok, inCall bool) {
	_, ident := e.(*ast.Ident)
	switch in := in.(type) {
	case *ast.CallExpr:
		name := callee(in.Fun)
		name = name[strings.LastIndex(name, ".")+1:]
		if !slices.Contains(saying, name) || w.bench && name == "say" {
			return false, false
		}
		if name == "append" {
			return w.loose && !ident, false
		}
		return slices.Contains(in.Args, e), true
	case *ast.KeyValueExpr:
		key, named := in.Key.(*ast.Ident)
		if named && e == in.Value && (key.Name == "What" || key.Name == "Do") {
			return true, true
		}
		return w.loose && !ident && e == in.Value && (!named || !slices.Contains(silent, key.Name)), false
	case *ast.AssignStmt, *ast.ReturnStmt, *ast.ValueSpec, *ast.CompositeLit:
		return w.loose && !ident, false
	}
	return false, false
}

// isMessage tells sentences and their parts from other strings.
func isMessage(form string, inCall bool) bool {
	n := len(wordly.FindAllString(strings.ReplaceAll(form, "%s", " "), -1))
	if otherwise.MatchString(form) {
		return false
	}
	if inCall && strings.Contains(form, "%s") {
		return n >= 1 && strings.Contains(form, " ")
	}
	return n >= 2 && strings.Contains(strings.TrimSpace(form), " ")
}

// fold is an expression's text with %s for each hole, and whether there are words
// in it.
func (w *formWalk) fold(e ast.Expr, depth int) (string, bool) {
	w.seen[e] = true
	switch e := e.(type) {
	case *ast.ParenExpr:
		return w.fold(e.X, depth)
	case *ast.BasicLit:
		s, err := strconv.Unquote(e.Value)
		if e.Kind != token.STRING || err != nil {
			return "%s", false
		}
		if !strings.Contains(s, "%%") && !verb.MatchString(s) {
			s = strings.ReplaceAll(s, "%", "%%")
		}
		return verb.ReplaceAllString(s, "%s"), true
	case *ast.BinaryExpr:
		if e.Op == token.ADD {
			a, ok := w.fold(e.X, depth)
			b, ok2 := w.fold(e.Y, depth)
			return a + b, ok || ok2
		}
	case *ast.Ident:
		if value, ok := w.consts[e.Name]; ok && depth < 5 && (e.Obj == nil || e.Obj.Kind == ast.Con) {
			return w.fold(value, depth+1)
		}
	case *ast.CallExpr:
		if callee(e.Fun) == "fmt.Sprintf" {
			if s, ok := w.fold(e.Args[0], depth); ok {
				return s, true
			}
		}
	}
	return "%s", false
}
