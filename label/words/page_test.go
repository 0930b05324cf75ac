package words

import (
	"reflect"
	"strings"
	"testing"
)

// Every language has every phrase, and each phrase asks for what it asks for in
// English.
func TestPages(t *testing.T) {
	all := Pages()
	english := reflect.ValueOf(all[0])
	for _, p := range all {
		v := reflect.ValueOf(p)
		for i := range v.NumField() {
			name, f, en := v.Type().Field(i).Name, v.Field(i), english.Field(i)
			switch f.Kind() {
			case reflect.String:
				if f.String() == "" || strings.Count(f.String(), "%s") != strings.Count(en.String(), "%s") || strings.Count(f.String(), "%") != strings.Count(f.String(), "%s") {
					t.Errorf("%s, %s: %q beside %q", p.Language, name, f, en)
				}
			case reflect.Slice:
				if f.Len() == 0 || f.Len() != en.Len() {
					t.Errorf("%s, %s has %d lines, English %d", p.Language, name, f.Len(), en.Len())
				}
			case reflect.Map:
				for _, k := range en.MapKeys() {
					if !f.MapIndex(k).IsValid() || f.MapIndex(k).String() == "" {
						t.Errorf("%s, %s lacks %s", p.Language, name, k)
					}
				}
				if f.Len() != en.Len() {
					t.Errorf("%s, %s has %d names, English %d", p.Language, name, f.Len(), en.Len())
				}
			}
		}
		if got := PageFor(strings.ToUpper(p.Language) + "-XX").Own; got != p.Own {
			t.Errorf("%s leads to %s", p.Language, got)
		}
	}
	if got := PageFor("xx").Language; got != "en" {
		t.Errorf("a language that is not there leads to %q", got)
	}
	de := PageFor("de")
	if got := de.Gram(0.85, 0.05) + ", " + de.Millimetre(1.5, 0.5) + ", " + de.MetalName("tin", "tin") + ", " + de.MetalName("putty:9", "putty (9 g/cm³)") + ", " +
		de.ConventionName("own", "My tin"); got != "0,85 g, 1,5 mm, Zinn, putty (9 g/cm³), My tin" {
		t.Errorf("%q", got)
	}
}
