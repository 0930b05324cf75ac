package shot

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Source says where masses were read.
type Source struct {
	Key  string // "polish-list"
	Kind string // "trade page", "angling site", "memory"
	What string // one or two sentences: what it is and what it is worth
}

//go:embed conventions.csv
var conventionsCSV string

//go:embed sizes.csv
var sizesCSV string

//go:embed sources.csv
var sourcesCSV string

// Sources returns the sources of all conventions, in the order of the table.
func Sources() []Source {
	var all []Source
	for _, r := range rows(sourcesCSV) {
		all = append(all, Source{r[0], r[1], r[2]})
	}
	return all
}

// Conventions returns the built-in conventions, the default of the British
// trade today first. The tables are part of the program: a broken one is a
// fault of ours that no input can cause, and stops it at once.
func Conventions() []Convention {
	var all []Convention
	sizes := rows(sizesCSV)
	for _, r := range rows(conventionsCSV) {
		c := Convention{Key: r[0], Name: r[1], Revision: must(strconv.Atoi(r[2])), Unit: r[4]}
		metal, ok := water.MetalByKey(r[3])
		if !ok {
			panic("conventions.csv: unknown metal " + r[3])
		}
		c.Metal = metal
		for _, s := range sizes {
			if s[0] != c.Key {
				continue
			}
			if s[3] != r[3] {
				panic(fmt.Sprintf("sizes.csv: %s %s is not of %s", s[0], s[1], r[3]))
			}
			c.Sizes = append(c.Sizes, printedSize(s[1], s[2], s[4], s[5] == "yes"))
		}
		all = append(all, c)
	}
	return all
}

// printedSize makes a size of a mass as printed, which must read.
func printedSize(name, mass, source string, verified bool) Size {
	s := Size{Name: name, Mass: must(unit.ParseGram(mass)), Printed: mass, Source: source, Verified: verified}
	if s.Mass <= SmallShot {
		s.Rounding = lastDigit(mass) / 2
	}
	return s
}

// lastDigit returns the worth in grams of the last printed digit of a mass in
// grams, "0.04 g" is 0.01 g; 0 for fractions and other units, which say nothing
// of it.
func lastDigit(mass string) unit.Gram {
	number, isGram := strings.CutSuffix(strings.ToLower(strings.TrimSpace(mass)), "g")
	number = strings.TrimSpace(number)
	if !isGram || strings.ContainsFunc(number, func(r rune) bool { return !unicode.IsDigit(r) && r != '.' && r != ',' }) {
		return 0
	}
	point := strings.IndexAny(number, ".,")
	if point < 0 {
		return 1
	}
	return unit.Gram(math.Pow10(point + 1 - len(number)))
}

// ByKey returns the built-in convention of that key.
func ByKey(key string) (Convention, bool) {
	all := Conventions()
	i := slices.IndexFunc(all, func(c Convention) bool { return c.Key == strings.ToLower(strings.TrimSpace(key)) })
	if i < 0 {
		return Convention{}, false
	}
	return all[i], true
}

func rows(table string) [][]string {
	return must(csv.NewReader(strings.NewReader(table)).ReadAll())[1:]
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
