package ident

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// mostSuggestions is one for each swap and each place.
const mostSuggestions = Length + body

// slip is one way of writing an id wrongly.
type slip struct{ kind, text string }

// slips lists every way: each character replaced by each of the 36 and by one
// that stands nowhere, each pair of neighbours changed, each left out, each twice.
func slips(id ID) []slip {
	var all []slip
	for i := range Length {
		for _, c := range all36 + "_é" {
			all = append(all, slip{"wrong", string(id[:i]) + string(c) + string(id[i+1:])})
		}
		if i+1 < Length {
			all = append(all, slip{"swap", string(id[:i]) + string(id[i+1]) + string(id[i]) + string(id[i+2:])})
		}
		all = append(all, slip{"left out", string(id[:i] + id[i+1:])}, slip{"twice", string(id[:i+1] + id[i:])})
	}
	return all
}

// Of every slip the true id is among the suggestions, unless folding makes it
// right again; swaps have it first or after other swaps.
func TestSuggestEverySlip(t *testing.T) {
	tried := map[string]int{}
	for n := range 300 {
		id := Make(key, "slips", n, 0)
		for _, s := range slips(id) {
			if got, err := Parse(s.text); err == nil {
				if got != id {
					t.Fatalf("%s read as %s for %s", s.text, got, id)
				}
				continue
			}
			tried[s.kind]++
			r := []rune(s.text)
			got := Suggest(strings.ToLower(string(r[:3])) + "-" + string(r[3:]))
			at := slices.Index(got, id)
			if at < 0 || len(got) > mostSuggestions {
				t.Fatalf("%s of %s, %s: %v", s.text, id, s.kind, got)
			}
			if s.kind == "swap" && at >= body {
				t.Fatalf("%s of %s: a swap comes at place %d of %v", s.text, id, at, got)
			}
		}
	}
	if tried["wrong"] < 300*Length*35 || tried["swap"] < 300*4 || tried["left out"] < 300*Length || tried["twice"] < 300*Length {
		t.Errorf("tried only %v", tried)
	}
}

// Look-alikes come before other wrong characters. The pairs are the usual ones of
// handwriting, both ways.
func TestSuggestLookAlikesFirst(t *testing.T) {
	for _, pair := range []string{"0D", "0Q", "DQ", "17", "2Z", "5S", "8B", "6G", "VY", "MN"} {
		found := 0
		for n := 0; n < 4000 && found < 20; n++ {
			id := Make(key, "alike", n, 0)
			for _, p := range []string{pair, pair[1:] + pair[:1]} {
				i := strings.IndexByte(string(id), p[0])
				if i < 0 {
					continue
				}
				found++
				wrote := string(id[:i]) + p[1:] + string(id[i+1:])
				got := Suggest(wrote)
				for _, before := range got[:max(0, slices.Index(got, id))] {
					at, what := differ(wrote, string(before))
					if at == 1 && !lookAlike(what[0], what[1]) {
						t.Errorf("%s for %s: %s comes before it", wrote, id, before)
					}
				}
			}
		}
		if found < 20 {
			t.Errorf("%s: only %d ids", pair, found)
		}
	}
}

// differ counts the places in which two texts of one length differ, and says how
// in the last of them.
func differ(a, b string) (n int, what string) {
	for i := range len(a) {
		if a[i] != b[i] {
			n, what = n+1, a[i:i+1]+b[i:i+1]
		}
	}
	return n, what
}

// Whatever is written, what is suggested are ids, each once, and no more than the
// bound; for an id and for what is nothing like one there are none.
func TestSuggestIsSoundAndBounded(t *testing.T) {
	for _, s := range []string{"", "9", "9KYA3C", "9kya 3c", "ZZZZZZZZ", "____3C", strings.Repeat("9", 1<<16), "éééééé", "\xff\xfe"} {
		if got := Suggest(s); len(got) != 0 {
			t.Errorf("Suggest(%.20q) = %v", s, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.StringMatching(`[0-9A-Za-z _-]{4,9}`), rapid.String()).Draw(t, "s")
		got := Suggest(s)
		if len(got) > mostSuggestions {
			t.Fatalf("%d for %q", len(got), s)
		}
		for i, id := range got {
			if back, err := Parse(string(id)); err != nil || back != id || slices.Contains(got[:i], id) {
				t.Fatalf("Suggest(%q) = %v", s, got)
			}
		}
	})
}

func FuzzSuggest(f *testing.F) {
	for _, s := range []string{"9KYA3D", "9KY3AC", "9KYA3", "9KKYA3C", "\xff9KYA3", "ıſKKYA"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, id := range Suggest(s) {
			if !slowValid(string(id)) {
				t.Fatalf("%s for %q", id, s)
			}
		}
	})
}

func ExampleSuggest() {
	fmt.Println(slices.Contains(Suggest("9KYA3D"), "9KYA3C"))
	// Output: true
}
