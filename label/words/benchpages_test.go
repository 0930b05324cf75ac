package words

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// verb is what a sentence leaves open: a printf verb, or %1 for a script.
var verb = regexp.MustCompile(`%(?:\[\d\])?(?:\.\d)?[a-zA-Z%]|%\d`)

// verbs are what a sentence leaves open, in order. A per cent sign before a
// bracket, a comma or a space stands for itself in what is never formatted.
func verbs(s string) []string { return verb.FindAllString(s, -1) }

// The table is whole: every sentence has each language, leaves the same open in
// each, and stands once, in order.
func TestBenchTable(t *testing.T) {
	last, n := "", 0
	for line := range strings.Lines(benchTable) {
		line = strings.TrimSuffix(line, "\n")
		n++
		parts := strings.Split(line, "\t")
		if len(parts) != 5 {
			t.Errorf("line %d has %d fields: %s", n, len(parts), line)
			continue
		}
		if parts[0] <= last {
			t.Errorf("line %d: %q after %q", n, parts[0], last)
		}
		last = parts[0]
		for i, one := range parts {
			if one == "" || strings.TrimSpace(one) != one {
				t.Errorf("line %d: field %d is %q", n, i, one)
			}
			if !slices.Equal(verbs(one), verbs(parts[0])) {
				t.Errorf("line %d: %q leaves other things open than %q", n, one, parts[0])
			}
		}
	}
	if n < 800 { // the pages have more; the file was cut
		t.Errorf("%d sentences", n)
	}
	if len(benchSentences()) != n {
		t.Errorf("%d of %d lines are read", len(benchSentences()), n)
	}
}

// A sentence of the table is said in each language; any other stays English.
func TestBench(t *testing.T) {
	for language, want := range map[string]string{"de": "Pose 7", "fr": "flotteur 7", "it": "galleggiante 7", "pl": "spławik 7", "en": "float 7", "": "float 7", "nl": "float 7"} {
		say := Bench(language)
		if got := fmt.Sprintf(say("float %d"), 7); got != want {
			t.Errorf("%s: %q, want %q", language, got, want)
		}
		if got := say("no such sentence"); got != "no such sentence" {
			t.Errorf("%s: %q", language, got)
		}
	}
}
