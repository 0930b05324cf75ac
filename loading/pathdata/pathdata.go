// Package pathdata reads the numbers of SVG path data, for those who read the
// path: the outline of a body, and a maker's own mark.
package pathdata

import (
	"strconv"
	"strings"
)

// Scanner stands in path data (the grammar of SVG 1.1, 8.3, from memory).
type Scanner struct {
	Text string
	At   int // of the next byte
}

// Blanks passes blanks, and the characters of also.
func (s *Scanner) Blanks(also string) {
	for s.At < len(s.Text) && strings.IndexByte(" \t\r\n\f"+also, s.Text[s.At]) >= 0 {
		s.At++
	}
}

// Number reads one number that begins here; ok is false, and nothing is passed,
// where none does. Numbers may follow each other as SVG allows: "1.5.5" is 1.5
// and .5, "1-2" is 1 and -2. One beyond what a float64 holds is infinite.
func (s *Scanner) Number() (v float64, ok bool) {
	from := s.At
	digits := func() {
		for s.At < len(s.Text) && s.Text[s.At] >= '0' && s.Text[s.At] <= '9' {
			s.At++
		}
	}
	skip := func(set string) bool {
		if s.At < len(s.Text) && strings.IndexByte(set, s.Text[s.At]) >= 0 {
			s.At++
			return true
		}
		return false
	}
	skip("+-")
	digits()
	if skip(".") {
		digits()
	}
	if whole := s.At; whole > from && skip("eE") {
		skip("+-")
		power := s.At
		if digits(); s.At == power {
			s.At = whole
		}
	}
	v, err := strconv.ParseFloat(s.Text[from:s.At], 64)
	if e, is := err.(*strconv.NumError); err != nil && (!is || e.Err != strconv.ErrRange) {
		s.At = from
		return 0, false
	}
	return v, true
}
