package web

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"slices"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/water"
)

//go:embed plain.js
var plainSource string

// PlainScript returns the one script of pages that are published as plain files,
// and a name for it that changes with what it holds, so that it may be kept for
// ever. It lets the reader choose and keeps the choice on his phone; without it
// the page shows the add of the mark and a table of every set.
func PlainScript() (name string, script []byte) {
	sum := sha256.Sum256([]byte(plainSource))
	const enough = 6 // bytes: scripts that ever were are few
	return "page-" + hex.EncodeToString(sum[:enough]) + ".js", []byte(plainSource)
}

// plainPolicy is the content policy that a plain file bears itself; its style
// sheet is a file of its own, or stands in it.
func plainPolicy(file bool) string {
	style := styleHash(styleSource)
	if file {
		style = "'self'"
	}
	return "default-src 'none'; style-src " + style + "; script-src 'self'; img-src 'self' data:; form-action 'none'; base-uri 'none'"
}

// every works the add out for all that can be chosen: rows of set, metal, water,
// shot, mass, tip and the letters of remarks, parted by "|", a line each; beside it
// the table of every set in its own metal, and the remarks.
func every(e label.Entry, v View, p words.Page) (rows []label.Row, notes []note, table string, err error) {
	sets, metals := job.AnglerSets(v.Own)
	answers := v.answers
	if answers == nil {
		answers = func(c job.Choice) (job.Angler, error) { return job.ForAngler(e, c, v.Own) }
	}
	var b strings.Builder
	for _, set := range sets {
		own := p.MetalName(set.Metal.Key, set.Metal.Name)
		for _, metal := range append([]water.Metal{{}}, metals...) {
			if metal.Key == set.Metal.Key {
				continue
			}
			for _, in := range []option{{Key: job.FreshWater, Name: p.Fresh}, {Key: job.SeaWater, Name: p.Sea}} {
				a, err := answers(job.Choice{Convention: set.Key, Metal: metal.Key, Water: in.Key})
				if err != nil {
					if fault.ClassOf(err) == fault.NoFit {
						continue // the shape is not known, so this water is not
					}
					return nil, nil, "", err
				}
				one := answer(e, a, p)
				var letters []string
				for _, n := range one.Notes {
					if n.Letter == "" {
						continue // differs from row to row; the server's own pages tell it
					}
					letters = append(letters, n.Letter)
					if !slices.Contains(notes, n) {
						notes = append(notes, n)
					}
				}
				b.WriteString(strings.Join([]string{set.Key, metal.Key, in.Key, one.Shot, one.Gram, one.Tip, strings.Join(letters, " ")}, "|") + "\n")
				if metal.Key == "" {
					rows = append(rows, label.Row{Convention: p.ConventionName(set.Key, set.Name) + ", " + own, Shot: fixed(one.Shot), Gram: one.Gram,
						Tip: join(" · ", in.Name, one.Tip)})
				}
			}
		}
	}
	return rows, notes, b.String(), nil
}
