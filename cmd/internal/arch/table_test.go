package arch

import (
	"fmt"
	"slices"
	"strings"
)

// tableFile is the page with the table, tableHeading the line above it.
const (
	tableFile    = "DEVELOPERS.md"
	tableHeading = "## Import table"
)

// row is one line of the table.
type row struct {
	path           string
	imports, tests []string
}

// table writes the table as the code has it.
func (t *tree) table() string {
	var b strings.Builder
	b.WriteString(tableHeading + "\n\n| package | may import | tests also |\n| --- | --- | --- |\n")
	cell := func(imports []string) string {
		var quoted []string
		for _, im := range t.listed(imports) {
			quoted = append(quoted, "`"+im+"`")
		}
		return strings.Join(quoted, ", ")
	}
	for _, p := range t.pkgs {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", p.path, cell(p.imports), cell(p.testImports))
	}
	return b.String()
}

// parseTable reads the rows under the heading, up to the next heading.
func parseTable(doc string) (rows []row, findings []string) {
	_, after, ok := strings.Cut("\n"+doc, "\n"+tableHeading+"\n")
	if !ok {
		return nil, []string{tableFile + " has no heading " + tableHeading}
	}
	seen := 0 // the first two lines are the head and its rule
	for line := range strings.Lines(after) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "#") {
			break
		}
		if !strings.HasPrefix(line, "|") {
			continue
		}
		if seen++; seen <= 2 {
			continue
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		r := row{path: strings.Trim(strings.TrimSpace(cells[0]), "`")}
		if len(cells) > 1 {
			r.imports = list(cells[1])
		}
		if len(cells) > 2 {
			r.tests = list(cells[2])
		}
		if slices.ContainsFunc(rows, func(o row) bool { return o.path == r.path }) {
			findings = append(findings, fmt.Sprintf("%s lists %s twice", tableFile, r.path))
			continue
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		findings = append(findings, fmt.Sprintf("%s has no table under %s", tableFile, tableHeading))
	}
	return rows, findings
}

// list reads a cell: names between commas, in backticks or not; a dash is none.
func list(cell string) []string {
	var all []string
	for _, one := range strings.Split(cell, ",") {
		if one = strings.Trim(strings.TrimSpace(one), "`"); one != "" && one != "-" {
			all = append(all, one)
		}
	}
	return all
}

// checkTable compares the table in the text of the page with the code.
func checkTable(t *tree, doc string) []string {
	rows, findings := parseTable(doc)
	if len(rows) == 0 {
		return findings
	}
	tell := func(format string, args ...any) { findings = append(findings, fmt.Sprintf(format, args...)) }
	for _, p := range t.pkgs {
		i := slices.IndexFunc(rows, func(r row) bool { return r.path == p.path })
		if i < 0 {
			tell("%s is a package that %s does not list", p.path, tableFile)
			continue
		}
		compare(tell, p.path, "may import", t.listed(p.imports), rows[i].imports)
		compare(tell, p.path, "tests also", t.listed(p.testImports), rows[i].tests)
	}
	for _, r := range rows {
		if !slices.ContainsFunc(t.pkgs, func(p *pkg) bool { return p.path == r.path }) {
			tell("%s lists %s, which does not exist", tableFile, r.path)
		}
	}
	return findings
}

func compare(tell func(string, ...any), path, column string, code, table []string) {
	for _, im := range code {
		if !slices.Contains(table, im) {
			tell("%s imports %s, which %s does not list under %q", path, im, tableFile, column)
		}
	}
	for _, im := range table {
		if !slices.Contains(code, im) {
			tell("%s does not import %s, which %s lists under %q", path, im, tableFile, column)
		}
	}
}
