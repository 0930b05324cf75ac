package ident

import (
	"slices"
	"strings"
)

// alike lists what is taken for one another in handwriting and in print of a
// millimetre's height, each character of a group for every other of it: common
// practice, no source. I, L and O do not stand here, for they are read as 1 and 0
// anyway; U is in no id and may be written for V.
func alike() []string {
	return []string{"0DQ", "17", "2Z", "5S", "8B", "6G", "VYU", "MN", "CG", "EF", "PR", "KX", "49", "VW", "3B", "A4", "HN"}
}

// Suggest returns the ids that somebody may have meant who wrote s, which is no
// id: those that differ from it by one swap of neighbours, by one wrong character,
// by one left out or by one too many. Swaps come first, then characters that look
// alike, then the others; none stands twice, and there are at most eleven, since
// for each place at most one character agrees with the check. Whether there is
// such a float is not known here. For an id, and for what is further off, there
// is none.
func Suggest(s string) []ID {
	six, ok := typed(s)
	if !ok || sound(six) {
		return nil
	}
	var out []ID
	try := func(c []byte) {
		if id := ID(c); sound(c) && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	switch len(six) {
	case Length:
		for i := range body {
			c := slices.Clone(six)
			c[i], c[i+1] = c[i+1], c[i]
			try(c)
		}
		swaps := len(out)
		for i := range six {
			c := slices.Clone(six)
			for j := range len(Alphabet) {
				c[i] = Alphabet[j]
				try(c)
			}
		}
		slices.SortStableFunc(out[swaps:], func(a, b ID) int { return unlike(six, a) - unlike(six, b) })
	case Length - 1:
		for i := range Length {
			for j := range len(Alphabet) {
				try(slices.Insert(slices.Clone(six), i, Alphabet[j]))
			}
		}
	case Length + 1:
		for i := range six {
			try(slices.Delete(slices.Clone(six), i, i+1))
		}
	}
	return out
}

// typed folds s as Parse does, but takes a character that no id has for a wrong
// one. What is more than one character too long is not looked at.
func typed(s string) (out []byte, ok bool) {
	for _, r := range strings.ToUpper(strings.TrimSpace(s)) {
		switch {
		case r == ' ' || r == '-':
			continue
		case r == 'O':
			r = '0'
		case r == 'I' || r == 'L':
			r = '1'
		case r > 'Z':
			r = '?' // one character, whatever it was
		}
		if len(out) > Length {
			return nil, false
		}
		out = append(out, byte(r))
	}
	return out, true
}

// unlike is 0 where what differs between two looks alike, and 1 elsewhere.
func unlike(six []byte, id ID) int {
	for i := range six {
		if six[i] != id[i] && !lookAlike(six[i], id[i]) {
			return 1
		}
	}
	return 0
}

func lookAlike(a, b byte) bool {
	for _, group := range alike() {
		if strings.IndexByte(group, a) >= 0 && strings.IndexByte(group, b) >= 0 {
			return true
		}
	}
	return false
}

// sound reports whether six characters are an id as Make gives them.
func sound(six []byte) bool {
	if len(six) != Length {
		return false
	}
	for _, c := range six {
		if strings.IndexByte(Alphabet, c) < 0 {
			return false
		}
	}
	return Check(string(six[:body])) == six[body] && issued(string(six[:body]))
}
