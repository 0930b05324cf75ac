package words

import (
	"reflect"
	"strings"
	"testing"
)

// Every language has every phrase of the bench, and each asks for what it asks for
// in English; no two languages share one that is more than a word.
func TestBenchSheets(t *testing.T) {
	english := reflect.ValueOf(BenchSheetFor("en"))
	seen := map[string]string{}
	for _, tag := range Tags() {
		b := BenchSheetFor(tag)
		if b.Language != tag {
			t.Errorf("%s leads to %s", tag, b.Language)
		}
		var check func(name string, v, en reflect.Value)
		check = func(name string, v, en reflect.Value) {
			if v.Kind() == reflect.Struct {
				for i := range v.NumField() {
					check(name+"."+v.Type().Field(i).Name, v.Field(i), en.Field(i))
				}
				return
			}
			text := v.String()
			if text == "" || strings.Count(text, "%s") != strings.Count(en.String(), "%s") || strings.Count(text, "%") != strings.Count(text, "%s") {
				t.Errorf("%s%s: %q beside %q", tag, name, text, en)
			}
			if other, ok := seen[name+text]; ok && strings.Count(text, " ") > 1 {
				t.Errorf("%s%s is that of %s: %q", tag, name, other, text)
			}
			seen[name+text] = tag
		}
		check("", reflect.ValueOf(b), english)
	}
	if got := BenchSheetFor("xx").Language; got != "en" {
		t.Errorf("a language that is not there leads to %q", got)
	}
	if got := BenchSheetFor("pl").Floats.Of(22); got != "%s spławiki" {
		t.Errorf("22 in Polish: %q", got)
	}
}
