package words

import (
	"strings"
	"testing"
)

// Every language of the page has its own phrases for a site of plain files.
func TestSiteInEveryLanguage(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Pages() {
		s := SiteFor(p.Language)
		if s.Language != p.Language || strings.Count(s.ByHand, "%s") != 1 || seen[s.ByHand] {
			t.Errorf("%s: %+v", p.Language, s)
		}
		seen[s.ByHand] = true
	}
	if SiteFor("xx").Language != "en" {
		t.Error("a language without words is not told in English")
	}
}
