package shot

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// maxCount is the largest number of one size that is taken for meant.
const maxCount = 200

// ParseLoad reads a load as people write it: "2.43g", "2,43 g", "1/8oz",
// "3AAA", "3AAA+2No4". A load in shot is of the convention's metal and
// fromShot is true; a load in grams or ounces says nothing of its metal, and
// the convention's is returned for it as the likeliest. Input error for
// anything else, and for loads outside 0 to 500 g.
func ParseLoad(s string, c Convention) (mass unit.Gram, metal water.Metal, fromShot bool, err error) {
	mass, gramErr := unit.ParseGram(s)
	if gramErr == nil {
		if !(mass > 0 && mass <= maxLoad) {
			return 0, water.Metal{}, false, fault.Inputf("give a load above 0 and up to 500 g", "%q is no load of a float", s)
		}
		return mass, c.Metal, false, nil
	}
	counts, err := ParseCounts(s, c)
	if err != nil {
		if looksLikeMass(s) {
			err = gramErr
		}
		return 0, water.Metal{}, false, err
	}
	return Total(counts), c.Metal, true, nil
}

// looksLikeMass reports whether the writer meant a mass, so that the error
// speaks of masses: a sign, a decimal sign or a unit of mass at the end.
func looksLikeMass(s string) bool {
	t := strings.ToLower(strings.TrimSpace(s))
	if t == "" || strings.HasPrefix(t, "-") {
		return true
	}
	unitOnly := strings.TrimLeft(t, "0123456789.,/ ")
	return unitOnly != t && slices.Contains([]string{"", "g", "gr", "gram", "grams", "mg", "kg", "oz", "ounce", "ounces"}, unitOnly)
}

// ParseCounts reads counted shot, "3AAA+2No4", "AAA", "2 x 3/0", "3 no. 6", in
// the sizes of c; equal sizes are added up. A size whose name is a bare number
// needs "x" or "no." between count and name, since "24" could be either. What is
// written in one is a size of that name where there is one: "2B" is the size 2B,
// "2 B" two of B. Input error for an unknown size, naming the sizes there are.
func ParseCounts(s string, c Convention) ([]Count, error) {
	var counts []Count
	for part := range strings.SplitSeq(s, "+") {
		n, name, ok := splitCount(strings.TrimSpace(part))
		size, known := c.Size(name)
		if !ok || !known || joined(strings.TrimSpace(part)) {
			// The whole part may be the name: "3/0", "2B". Written in one it is
			// that, and "2 B" is two of B; Clashes tells the other reading.
			if whole, is := c.Size(part); is {
				size, known, n = whole, true, 1
			} else if !ok || !known {
				return nil, fault.Inputf("write shot as in "+strconv.Quote(example(c))+"; sizes: "+names(c), "%q is no size of the convention %s", strings.TrimSpace(part), c.Key)
			}
		}
		if n < 1 || n > maxCount {
			return nil, fault.Inputf("give from 1 to "+strconv.Itoa(maxCount)+" shot of a size", "%q is no count of shot", strings.TrimSpace(part))
		}
		if i := slices.IndexFunc(counts, func(k Count) bool { return k.Size.Name == size.Name }); i >= 0 {
			counts[i].N += n
		} else {
			counts = append(counts, Count{size, n})
		}
	}
	if m := Total(counts); m > maxLoad {
		return nil, fault.Inputf("give a load up to 500 g", "%q weighs %s", s, m.Text(1, unit.Style{}))
	}
	return counts, nil
}

// splitCount cuts "3AAA", "3 x AAA", "3×no. 6" into count and name. Digits
// alone are a name.
func splitCount(s string) (n int, name string, ok bool) {
	cut := strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	if cut < 0 {
		return 1, s, true
	}
	if cut == 0 {
		return 1, s, true
	}
	n, err := strconv.Atoi(s[:cut])
	if err != nil {
		return 0, "", false
	}
	rest := strings.TrimSpace(s[cut:])
	for _, times := range []string{"x", "X", "×", "*"} {
		if after, found := strings.CutPrefix(rest, times); found {
			return n, strings.TrimSpace(after), true
		}
	}
	if rest == "" || startsWithDigit(rest) || !unicode.IsLetter([]rune(rest)[0]) && rest[0] != '#' {
		return 0, "", false
	}
	return n, rest, true
}

func example(c Convention) string {
	if len(c.Sizes) == 0 {
		return "3 AAA"
	}
	return CountsText([]Count{{c.Sizes[len(c.Sizes)/2], 3}})
}

func names(c Convention) string {
	var all []string
	for _, s := range c.Sizes {
		all = append(all, s.Name)
	}
	return strings.Join(all, " ")
}
