package arch

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// pkg is what the files of one folder say, tests apart.
type pkg struct {
	path        string   // relative to the module: "loading/shot"
	name        string   // of the package clause, without _test
	doc         string   // package comment, "" when there is none
	imports     []string // sorted, standard library included
	testImports []string // what only the tests import
	uses        []use
	inits       []string // where an init function stands
}

// use is one selection from an imported package outside tests: time.Now.
type use struct{ path, name, where string }

// tree is the module as its files have it.
type tree struct {
	module string
	pkgs   []*pkg // by path
}

// readTree parses every Go file under root, whatever its build tags.
func readTree(root string) (*tree, error) {
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return nil, err
	}
	t := &tree{}
	for line := range strings.Lines(string(mod)) {
		if f := strings.Fields(line); len(f) == 2 && f[0] == "module" {
			t.module = f[1]
		}
	}
	if t.module == "" {
		return nil, fmt.Errorf("go.mod names no module")
	}
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			// The folders the go command passes over too.
			if n := d.Name(); path != root && (n == "testdata" || strings.HasPrefix(n, ".") || strings.HasPrefix(n, "_")) {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		return t.add(path, filepath.ToSlash(rel))
	})
	if err != nil {
		return nil, err
	}
	slices.SortFunc(t.pkgs, func(a, b *pkg) int { return strings.Compare(a.path, b.path) })
	for _, p := range t.pkgs {
		slices.Sort(p.imports)
		p.imports = slices.Compact(p.imports)
		p.testImports = slices.DeleteFunc(p.testImports, func(s string) bool {
			return slices.Contains(p.imports, s) || s == t.module+"/"+p.path
		})
		slices.Sort(p.testImports)
		p.testImports = slices.Compact(p.testImports)
	}
	return t, nil
}

// add reads one file into its package.
func (t *tree) add(path, rel string) error {
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, path, nil, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	test := strings.HasSuffix(rel, "_test.go")
	p := t.at(rel[:max(strings.LastIndexByte(rel, '/'), 0)])
	p.name = strings.TrimSuffix(f.Name.Name, "_test")
	if f.Doc != nil && f.Doc.Text() != "" {
		p.doc = f.Doc.Text()
	}
	where := func(n ast.Node) string { return rel + ":" + strconv.Itoa(fset.Position(n.Pos()).Line) }
	local := map[string]string{} // name in this file -> import path
	for _, im := range f.Imports {
		path, err := strconv.Unquote(im.Path.Value)
		if err != nil {
			return err
		}
		name := path[strings.LastIndexByte(path, '/')+1:]
		if im.Name != nil {
			name = im.Name.Name
		} else if name == "v2" { // math/rand/v2, the one of the standard library
			name = "rand"
		}
		local[name] = path
		if test {
			p.testImports = append(p.testImports, path)
			continue
		}
		p.imports = append(p.imports, path)
		p.uses = append(p.uses, use{path, "", where(im)})
	}
	for _, d := range f.Decls {
		if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv == nil && fn.Name.Name == "init" {
			p.inits = append(p.inits, where(fn))
		}
	}
	if test {
		return nil
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := sel.X.(*ast.Ident); ok && local[x.Name] != "" {
				p.uses = append(p.uses, use{local[x.Name], sel.Sel.Name, where(sel)})
			}
		}
		return true
	})
	return nil
}

// at returns the package of a folder, a new one when there is none.
func (t *tree) at(path string) *pkg {
	for _, p := range t.pkgs {
		if p.path == path {
			return p
		}
	}
	p := &pkg{path: path}
	t.pkgs = append(t.pkgs, p)
	return p
}

// listed keeps what the table lists: packages of the module by their path in
// it, and those of other modules. The standard library is free.
func (t *tree) listed(imports []string) []string {
	var own, other []string
	for _, im := range imports {
		first, _, _ := strings.Cut(im, "/")
		switch in, ok := strings.CutPrefix(im, t.module+"/"); {
		case ok:
			own = append(own, in)
		case strings.Contains(first, "."):
			other = append(other, im)
		}
	}
	return append(own, other...)
}
