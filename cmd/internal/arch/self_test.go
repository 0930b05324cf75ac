package arch

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// sound is a small tree that breaks no rule; each case below breaks one.
func sound() map[string]string {
	return map[string]string{
		"go.mod":                     "module floatmark\n\ngo 1.26\n",
		"README.md":                  "# a tree\n",
		".hidden/x":                  "x",
		"cmd/floatmark/m.go":         "// Command floatmark.\npackage main\n\nimport (\n\t\"os\"\n\n\t\"floatmark/label\"\n)\n\nfunc main() { os.Exit(label.One) }\n",
		"label/label.go":             "// Package label is one.\npackage label\n\nimport \"floatmark/loading/unit\"\n\n// One is one.\nconst One = unit.One\n",
		"label/label_test.go":        "package label_test\n\nimport (\n\t\"testing\"\n\n\t\"floatmark/label\"\n\t\"pgregory.net/rapid\"\n)\n\nfunc TestOne(t *testing.T) { rapid.Check(t, nil); _ = label.One }\n",
		"loading/unit/u.go":          "// Package unit is one.\npackage unit\n\nimport \"time\"\n\n// One is one.\nconst One = 1 + int(time.Nanosecond)\n",
		"loading/unit/testdata/x.go": "not Go",
		tableFile: "# Notes\n\n## Import table\n\nWhat may import what.\n\n| package | may import | tests also |\n| --- | --- | --- |\n" +
			"| `cmd/floatmark` | `label` | |\n| label | loading/unit | `pgregory.net/rapid` |\n| `loading/unit` | - | |\n\n## More\n\n| a | b |\n| --- | --- |\n| c | d |\n",
	}
}

// plant writes the files and reads them as a tree.
func plant(t *testing.T, files map[string]string) (*tree, string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	tr, err := readTree(dir)
	if err != nil {
		t.Fatal(err)
	}
	return tr, dir
}

func findingsOf(t *testing.T, files map[string]string) []string {
	t.Helper()
	tr, dir := plant(t, files)
	all := append(checkTable(tr, files[tableFile]), checkCode(tr)...)
	for _, check := range []func(string) ([]string, error){checkTopLevel, checkHouseWords} {
		found, err := check(dir)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, found...)
	}
	return all
}

func TestSoundTreePasses(t *testing.T) {
	if found := findingsOf(t, sound()); len(found) != 0 {
		t.Errorf("a sound tree fails:\n%s", strings.Join(found, "\n"))
	}
}

// The table that is printed is one that passes.
func TestPrintedTablePasses(t *testing.T) {
	tr, _ := plant(t, sound())
	if found := checkTable(tr, tr.table()); len(found) != 0 {
		t.Errorf("%s\nfails:\n%s", tr.table(), strings.Join(found, "\n"))
	}
	if !strings.Contains(tr.table(), "| `label` | `loading/unit` | `pgregory.net/rapid` |\n") {
		t.Errorf("the row of label is not right:\n%s", tr.table())
	}
}

// Each rule is seen to fail: a change of the sound tree, and what is then said.
func TestEachRuleFails(t *testing.T) {
	const unitFile = "loading/unit/u.go"
	unit := func(imports, body string) string {
		return "// Package unit is one.\npackage unit\n\nimport (\n" + imports + ")\n\n// One is one.\nconst One = 1\n\n" + body
	}
	extra := func(row string) func(map[string]string) {
		return func(m map[string]string) {
			m[tableFile] = strings.Replace(m[tableFile], "\n\n## More", "\n"+row+"\n\n## More", 1)
		}
	}
	in := func(file, text string) func(map[string]string) { return func(m map[string]string) { m[file] = text } }
	swap := func(file, old, new string) func(map[string]string) {
		return func(m map[string]string) { m[file] = strings.Replace(m[file], old, new, 1) }
	}
	for _, c := range []struct {
		name   string
		change func(map[string]string)
		want   string
	}{
		{"no table", swap(tableFile, "## Import table", "## Imports"), "has no heading"},
		{"empty table", in(tableFile, "## Import table\n"), "has no table"},
		{"unlisted package", swap(tableFile, "| `loading/unit` | - | |\n", ""), "loading/unit is a package that DEVELOPERS.md does not list"},
		{"unlisted import", swap(tableFile, "| label | loading/unit |", "| label | |"), `label imports loading/unit, which DEVELOPERS.md does not list under "may import"`},
		{"unlisted test import", swap(tableFile, "`pgregory.net/rapid`", ""), `label imports pgregory.net/rapid, which DEVELOPERS.md does not list under "tests also"`},
		{"unused permission", swap(tableFile, "| `loading/unit` | - |", "| `loading/unit` | label |"), "loading/unit does not import label"},
		{"listed but gone", extra("| loading/gone | | |"), "lists loading/gone, which does not exist"},
		{"listed twice", extra("| label | | |"), "lists label twice"},
		{"behind a build tag", in("loading/unit/w.go", "//go:build windows\n\npackage unit\n\nimport _ \"example.org/x\"\n"), "loading/unit imports example.org/x"},
		{"upwards", in(unitFile, unit("\t_ \"floatmark/label\"\n", "")), "loading/unit imports label: against the direction"},
		{"upwards in a test", in("loading/unit/u_test.go", "package unit\n\nimport _ \"floatmark/cmd/floatmark\"\n"), "loading/unit imports cmd/floatmark: against the direction"},
		{"stray name", in("tools/x.txt", "x"), "tools lies at the top level"},
		{"clock", in(unitFile, unit("\t\"time\"\n", "var _ = time.Now\n")), "u.go:11: loading/unit touches the clock with time.Now"},
		{"clock by another name", in(unitFile, unit("\tt \"time\"\n", "var _ = t.Since\n")), "touches the clock with time.Since"},
		{"zone", in(unitFile, unit("\t\"time\"\n", "var _ = time.Local\n")), "time zone"},
		{"randomness", in(unitFile, unit("\t_ \"math/rand\"\n", "")), "touches randomness with math/rand"},
		{"randomness 2", in(unitFile, unit("\t_ \"math/rand/v2\"\n", "")), "touches randomness with math/rand/v2"},
		{"randomness 3", in("cmd/floatmark/r.go", "package main\n\nimport _ \"crypto/rand\"\n"), "cmd/floatmark touches randomness with crypto/rand"},
		{"environment", in(unitFile, unit("\t\"os\"\n", "var _ = os.Getenv\n")), "touches the environment with os.Getenv"},
		{"files", in(unitFile, unit("\t\"os\"\n", "var _ = os.Open\n")), "touches files or processes with os"},
		{"globbing", in(unitFile, unit("\t\"path/filepath\"\n", "var _ = filepath.Glob\n")), "touches files or processes with path/filepath.Glob"},
		{"network", in(unitFile, unit("\t_ \"net/http\"\n", "")), "touches the network with net/http"},
		{"unsafe", in(unitFile, unit("\t_ \"unsafe\"\n", "")), "imports unsafe"},
		{"init", in("loading/unit/i.go", "package unit\n\nfunc init() {}\n"), "i.go:3: an init function"},
		{"no package comment", swap("label/label.go", "// Package label is one.\n", ""), "label has no package comment"},
		{"another package comment", swap("label/label.go", "// Package label is", "// This is"), `label does not begin with "Package label"`},
		{"house word", in("label/words.txt", "one\nsee De"+"sign.md\n"), "words.txt:2 says"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := sound()
			c.change(files)
			found := strings.Join(findingsOf(t, files), "\n")
			if !strings.Contains(found, c.want) {
				t.Errorf("want a finding with %q, have:\n%s", c.want, found)
			}
		})
	}
}

// What is allowed above is allowed: a clock and randomness in the job.
func TestUpperLayerMay(t *testing.T) {
	files := sound()
	files["cmd/internal/job/job.go"] = "// Package job is one.\npackage job\n\nimport (\n\t_ \"crypto/rand\"\n\t\"os\"\n\t\"time\"\n)\n\nvar _, _ = time.Now, os.Getenv\n"
	files[tableFile] = strings.Replace(files[tableFile], "| label |", "| cmd/internal/job | | |\n| label |", 1)
	if found := findingsOf(t, files); len(found) != 0 {
		t.Errorf("the job may have clock, environment and randomness:\n%s", strings.Join(found, "\n"))
	}
}
