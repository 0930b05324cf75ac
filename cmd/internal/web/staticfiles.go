package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

func shared(name, ext string, data []byte) job.SiteFile {
	return job.SiteFile{Name: job.SharedName(sharedFolder+name, ext, data), Data: data}
}

// addsFile is the table of adds as a script, in the short form that adds.js writes
// out: values that come again and again stand once.
func addsFile(table string) []byte {
	var values, lines []string
	place := map[string]string{}
	for line := range strings.SplitSeq(strings.TrimSuffix(table, "\n"), "\n") {
		fields := strings.Split(line, "|")
		for i, f := range fields {
			if i == shotField {
				continue
			}
			if _, ok := place[f]; !ok {
				const digits = 36
				place[f] = strconv.FormatInt(int64(len(values)), digits)
				values = append(values, f)
			}
			fields[i] = place[f]
		}
		lines = append(lines, strings.Join(fields, "|"))
	}
	// JSON of strings cannot fail, and escapes <, > and & so that it is a script's text.
	data, _ := json.Marshal([]string{strings.Join(values, "|"), strings.Join(lines, "\n")})
	return append(append([]byte("window.floatAdds="), data...), ";\n"...)
}

// shotField is the field of a line of adds that differs from line to line.
const shotField = 3

// spare leaves out what a script is read by people for.
func spare(script string) string {
	var b strings.Builder
	for line := range strings.Lines(script) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "//") {
			b.WriteString(line + "\n")
		}
	}
	return b.String()
}

// appendFacts writes facts as the template of that name does.
func appendFacts(page []byte, facts []fact) []byte {
	for _, f := range facts {
		page = fmt.Appendf(page, "<div><dt>%s</dt><dd>%s</dd></div>\n", escaped(f.Name), escaped(f.Text))
	}
	return page
}

// escaped writes a text for a page in the way of html/template.
func escaped(text string) string {
	return strings.ReplaceAll(template.HTMLEscapeString(text), "+", "&#43;")
}

// sitePart is a page of the site in one language.
type sitePart struct {
	Said       words.Page
	First      bool
	Head, Lead string
	ByHand     string
}

// sitePage is one page in every language, the maker's first.
func (p *Plain) sitePage(up string, missing bool) ([]byte, error) {
	main := words.PageFor(p.language).Language
	var f struct {
		frame
		Parts   []sitePart
		Missing bool
	}
	f.frame = frame{Lang: main, Title: first(words.PageFor(main).Find), Policy: plainPolicy(true), Sheet: up + p.style.Name, Script: up + p.entrance.Name}
	f.Missing = missing
	for _, own := range []bool{true, false} {
		for _, t := range p.said {
			if (t.page.Language == main) != own {
				continue
			}
			part := sitePart{Said: t.page, First: own, Head: t.page.Find, Lead: t.page.FindLead}
			if missing {
				part.Head, part.Lead = t.page.NoFloat, t.page.NoFloatDo
			}
			part.ByHand = fmt.Sprintf(words.SiteFor(t.page.Language).ByHand, "/9KYA3C/")
			f.Parts = append(f.Parts, part)
		}
	}
	var buf bytes.Buffer
	err := sitePages.ExecuteTemplate(&buf, "site", f)
	return buf.Bytes(), err
}
