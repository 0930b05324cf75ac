package arch

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// below says which folders at the top level a folder may import from.
var below = map[string][]string{
	"cmd":     {"cmd", "layouts", "label", "loading", "fonts"},
	"layouts": {"layouts", "label", "loading", "fonts"},
	"label":   {"label", "loading"},
	"fonts":   {"fonts", "loading"}, // the error classes
	"loading": {"loading"},
}

// upper are the packages from the one with clock and randomness upwards.
var upper = []string{"cmd/floatmark", "cmd/internal/cli", "cmd/internal/job", "cmd/internal/web", "cmd/internal/web/bench"}

// A touch is something that makes the same input give other bytes, or reaches
// outside the program. Everything below is handed such things as values.
type touch struct {
	what    string
	path    string         // of the standard library
	names   *regexp.Regexp // nil: importing it is enough
	allowed []string
}

var touches = []touch{
	{"the clock", "time", regexp.MustCompile(`^(Now|Since|Until|Sleep|After|AfterFunc|Tick|NewTimer|NewTicker)$`), upper},
	{"the machine's time zone", "time", regexp.MustCompile(`^(Local|LoadLocation)$`), upper},
	{"randomness", "math/rand", nil, nil},
	{"randomness", "math/rand/v2", nil, nil},
	{"randomness", "crypto/rand", nil, []string{"cmd/internal/job"}},
	{"the environment", "os", regexp.MustCompile(`^(Getenv|LookupEnv|Environ|ExpandEnv|Setenv|User.*Dir|Hostname|Args)$`), upper},
	// The records are a file: their package may see whether it is there, copy it
	// and say what is wrong with it.
	{"files or processes", "os", nil, append([]string{"label/record"}, upper...)},
	{"files or processes", "os/exec", nil, upper},
	{"files or processes", "path/filepath", regexp.MustCompile(`^(Abs|Walk|WalkDir|Glob|EvalSymlinks)$`), append([]string{"label/record"}, upper...)},
	{"files or processes", "syscall", nil, upper},
	{"the network", "net", nil, upper},
	{"the network", "net/http", nil, upper},
}

// checkCode checks what needs no table.
func checkCode(t *tree) []string {
	var findings []string
	tell := func(format string, args ...any) { findings = append(findings, fmt.Sprintf(format, args...)) }
	for _, p := range t.pkgs {
		top, _, _ := strings.Cut(p.path, "/")
		for _, im := range t.listed(append(slices.Clone(p.imports), p.testImports...)) {
			to, _, _ := strings.Cut(im, "/")
			if _, own := below[to]; own && !slices.Contains(below[top], to) {
				tell("%s imports %s: against the direction cmd -> layouts -> label -> loading, layouts -> fonts", p.path, im)
			}
		}
		for _, w := range p.inits {
			tell("%s: an init function; call it by name, from the one who needs it", w)
		}
		switch {
		case p.doc == "":
			tell("%s has no package comment", p.path)
		case p.name != "main" && !strings.HasPrefix(p.doc, "Package "+p.name+" "):
			tell("the package comment of %s does not begin with %q", p.path, "Package "+p.name)
		}
		for _, u := range p.uses {
			for _, c := range touches {
				if u.path != c.path || slices.Contains(c.allowed, p.path) {
					continue
				}
				if c.names == nil && u.name == "" || c.names != nil && c.names.MatchString(u.name) {
					tell("%s: %s touches %s with %s; take it as a value from above", u.where, p.path, c.what, strings.TrimSuffix(u.path+"."+u.name, "."))
				}
			}
			if u.name == "" && u.path == "unsafe" {
				tell("%s: %s imports unsafe", u.where, p.path)
			}
		}
	}
	return findings
}

// top is what may lie at the top of the repository beside hidden names.
var top = []string{"cmd", "label", "loading", "layouts", "fonts", "README.md", "DEVELOPERS.md", "go.mod", "go.sum", "LICENSE"}

// built is what a build or a demo leaves there; it is ignored, not kept.
var built = []string{"floatmark", "floatmark.exe", "floatmark-demo"}

func checkTopLevel(root string) ([]string, error) {
	names, err := os.ReadDir(root)
	if err != nil {
		return nil, err
	}
	var findings []string
	for _, n := range names {
		if s := n.Name(); !strings.HasPrefix(s, ".") && !slices.Contains(top, s) && !slices.Contains(built, s) {
			findings = append(findings, fmt.Sprintf("%s lies at the top level; allowed are %s and hidden names", s, strings.Join(top, " ")))
		}
	}
	return findings, nil
}

// houseWords are what no file of the tree says: other papers than its own, a
// machine's folders, where packages are fetched from. Each is cut in two here,
// so that this file does not say it either.
var houseWords = [][2]string{
	{"design", ".md"}, {"brief", ".md"}, {"seed ", "document"}, {"shared", "/"}, {"sub-", "helper"}, {"language ", "model"},
	{"/wo", "rk/"}, {"/ho", "me/"}, {"/ro", "ot/"}, {"/tm", "p/"},
	{"proxy.", "golang.org"}, {"registry.", "npmjs"}, {"pypi", ".org"},
}

func checkHouseWords(root string) ([]string, error) {
	var findings []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == ".git" || filepath.Dir(path) == filepath.Clean(root) && slices.Contains(built, d.Name())):
			return filepath.SkipDir
		case d.IsDir():
			return nil
		case !d.Type().IsRegular():
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil || bytes.IndexByte(text, 0) >= 0 { // a picture or a program
			return err
		}
		low := strings.ToLower(string(text))
		for _, w := range houseWords {
			if i := strings.Index(low, w[0]+w[1]); i >= 0 {
				findings = append(findings, fmt.Sprintf("%s:%d says %q", path, 1+strings.Count(low[:i], "\n"), w[0]+w[1]))
			}
		}
		return nil
	})
	return findings, err
}
