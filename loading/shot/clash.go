package shot

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Clash is another thing that the same words stand for.
type Clash struct {
	Key, Convention string // of the convention they are read in; Key "" for a pole size
	Text            string // what they then mean: "1 x 2SSG", "1 no. 4"
	Mass            unit.Gram
	Near            bool // the mass is only near, see PoleSize
}

// Clashes returns what else one part of a load, "AAA", "2SSG" or "4x10", can
// mean beside its reading in c: every other cut between count and name in c,
// whatever it weighs; a pole size; and the same size, or the same words, in every
// other built-in convention where they have another mass. Nothing when c does not know it.
func Clashes(part string, c Convention) []Clash {
	counts, err := ParseCounts(part, c)
	if err != nil || len(counts) != 1 || strings.Contains(part, "+") {
		return nil
	}
	var all []Clash
	for _, k := range cuts(part, c) {
		if k != counts[0] {
			all = append(all, Clash{c.Key, c.Name, CountsText([]Count{k}), Total([]Count{k}), false})
		}
	}
	if p, ok := ParsePoleSize(part); ok && c.Key != "styl-rising" {
		all = append(all, Clash{Text: p.Text(unit.Style{}), Mass: p.Mass(), Near: true})
	}
	for _, other := range Conventions() {
		if other.Key == c.Key {
			continue
		}
		if s, ok := other.Size(counts[0].Size.Name); ok {
			if s.Mass != counts[0].Size.Mass {
				all = append(all, Clash{other.Key, other.Name, CountsText([]Count{{s, 1}}), s.Mass, false})
			}
		} else if k, err := ParseCounts(part, other); err == nil && Total(k) != Total(counts) {
			// "2SSG" is a size here and two of SSG there.
			all = append(all, Clash{other.Key, other.Name, CountsText(k), Total(k), false})
		}
	}
	return all
}

// mostNameDigits is the most digits a name is taken to begin with; built-in
// names have two.
const mostNameDigits = 3

// cuts returns every way to cut a part without blanks into count and name:
// "32SSG" is 32 SSG, 3 of 2SSG.
func cuts(part string, c Convention) []Count {
	part = strings.TrimSpace(part)
	digits := len(part) - len(strings.TrimLeft(part, "0123456789"))
	if digits == len(part) || !joined(part) {
		return nil // a bare number is a name; a blank or an x cuts once
	}
	var all []Count
	for i := max(0, digits-mostNameDigits); i <= digits; i++ {
		n := 1
		if i > 0 {
			n, _ = strconv.Atoi(part[:i])
		}
		if s, ok := c.Size(part[i:]); ok && n >= 1 && n <= maxCount {
			all = append(all, Count{s, n})
		}
	}
	return all
}

// joined reports whether a name follows its count without anything between, so
// that the two can be one name.
func joined(part string) bool {
	rest := strings.TrimLeft(part, "0123456789")
	if rest == "" || rest == part {
		return false
	}
	first := []rune(rest)[0]
	times := strings.ContainsRune("xX×*", first)
	return !times && (first > 127 || first >= 'A' && first <= 'Z' || first >= 'a' && first <= 'z')
}

// Load is a load as read, with what has to be told of the reading.
type Load struct {
	Mass    unit.Gram
	Metal   water.Metal
	Counts  []Count // nil when it was written in grams or ounces or is a pole size
	Near    bool    // a pole size: Mass is the mean of what is in print
	Notices []string
}

// ReadLoad is ParseLoad that also takes pole sizes, and tells every other thing
// that the words can mean: the same name with another mass elsewhere, another
// cut, a pole size; and masses that no page gives, and what the rounding of
// small shot leaves open. "4x12" is a pole size unless 12 is a size of c by that very
// name: where shot is called No.12, four of them are written 4 No.12.
func ReadLoad(s string, c Convention) (Load, error) {
	if p, ok := ParsePoleSize(s); ok {
		if size, known := c.Size(p.Number); !known || size.Name != p.Number {
			return poleLoad(s, p, c)
		}
	}
	mass, metal, fromShot, err := ParseLoad(s, c)
	if err != nil {
		return Load{}, err
	}
	l := Load{Mass: mass, Metal: metal}
	if !fromShot {
		return l, nil
	}
	if l.Counts, err = ParseCounts(s, c); err != nil {
		return Load{}, err
	}
	l.Notices = doubts(l.Counts)
	for part := range strings.SplitSeq(s, "+") {
		if n := clashNotice(strings.TrimSpace(part), c); n != "" && !slices.Contains(l.Notices, n) {
			l.Notices = append(l.Notices, n)
		}
	}
	return l, nil
}

// doubts tells sizes not found in print and the rounding of small ones.
func doubts(counts []Count) []string {
	var told []string
	for _, k := range counts {
		if caution := k.Size.Caution(); caution != "" {
			told = append(told, k.Size.Name+" is "+caution)
		}
		if k.Size.Rounding > 0 {
			open := unit.Gram(float64(k.N) * float64(k.Size.Rounding))
			told = append(told, fmt.Sprintf("%s: the printed mass leaves ±%s open", CountsText([]Count{k}), open.Text(0.0001, unit.Style{})))
		}
	}
	return told
}

func poleLoad(s string, p PoleSize, c Convention) (Load, error) {
	lead, ok := water.MetalByKey("lead")
	if !ok {
		return Load{}, fault.New(fault.Ours, "", "there is no lead among the metals", "")
	}
	l := Load{Mass: p.Mass(), Metal: lead, Near: true,
		Notices: []string{p.Text(unit.Style{}) + ", of lead; pole sizes are used loosely: measure, and print grams"}}
	if counts, err := ParseCounts(s, c); err == nil {
		l.Notices = append(l.Notices, fmt.Sprintf("%q is read as the size of a pole float; %s, %s, is written %q",
			strings.TrimSpace(s), CountsText(counts), Total(counts).Text(0.001, unit.Style{}), CountsText(counts)))
	}
	return l, nil
}

// clashNotice tells the clashes of one part in a line; "" without any.
func clashNotice(part string, c Convention) string {
	counts, err := ParseCounts(part, c)
	clashes := Clashes(part, c)
	if err != nil || len(clashes) == 0 {
		return ""
	}
	var here, elsewhere, masses []string
	places := map[string][]string{}
	for _, k := range clashes {
		m := k.Mass.Text(0.001, unit.Style{})
		switch {
		case k.Near:
			here = append(here, "as the size of a pole float "+k.Text)
		case k.Key == c.Key:
			here = append(here, fmt.Sprintf("it could be %s, %s", k.Text, m))
		default:
			if len(places[m]) == 0 {
				masses = append(masses, m)
			}
			places[m] = append(places[m], k.Convention)
		}
	}
	for _, m := range masses {
		elsewhere = append(elsewhere, m+" in "+strings.Join(places[m], ", "))
	}
	one := counts[0].Size
	var parts []string
	if len(here) > 0 {
		parts = append(parts, fmt.Sprintf("%q is read as %s, %s: %s", part, CountsText(counts), Total(counts).Text(0.001, unit.Style{}), strings.Join(here, "; ")))
	}
	if len(elsewhere) > 0 {
		parts = append(parts, fmt.Sprintf("%s is %s in %s, but %s", one.Name, one.Mass.Text(0.001, unit.Style{}), c.Name, strings.Join(elsewhere, "; ")))
	}
	return strings.Join(parts, ". ")
}
