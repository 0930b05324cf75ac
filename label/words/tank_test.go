package words

import (
	"reflect"
	"strings"
	"testing"
)

// The page beside the tank has every phrase in every language of the other pages,
// and each asks for what it asks for in English.
func TestTankPages(t *testing.T) {
	all, pages := TankPages(), Pages()
	if len(all) != len(pages) {
		t.Fatalf("%d languages, the other pages have %d", len(all), len(pages))
	}
	english := reflect.ValueOf(all[0])
	for n, p := range all {
		if p.Language != pages[n].Language || TankPageFor(p.Language).Title != p.Title {
			t.Errorf("language %d is %s, of the other pages %s", n, p.Language, pages[n].Language)
		}
		v := reflect.ValueOf(p)
		for i := range v.NumField() {
			name, f, en := v.Type().Field(i).Name, v.Field(i), english.Field(i)
			if f.Kind() == reflect.String && (f.String() == "" || strings.Count(f.String(), "%s") != strings.Count(en.String(), "%s")) {
				t.Errorf("%s, %s: %q beside %q", p.Language, name, f, en)
			}
		}
		for _, stage := range []string{"bare", "beneath", "fitted", "varnished"} {
			if p.Stages[stage] == "" {
				t.Errorf("%s has no word for %s", p.Language, stage)
			}
		}
	}
	if got := TankPageFor("xx-YY").Language; got != "en" {
		t.Errorf("a language that is not there leads to %q", got)
	}
}
