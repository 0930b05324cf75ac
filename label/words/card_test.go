package words

import (
	"reflect"
	"strings"
	"testing"
)

// Every language has every phrase of a card, none of them left in English but
// where the trade's word is the same, and a country's card is its language's.
func TestCardPhrases(t *testing.T) {
	english := CardFor("en")
	if len(Cards()) != len(Tags()) {
		t.Fatalf("%d cards of %d languages", len(Cards()), len(Tags()))
	}
	for i, c := range Cards() {
		if c.Language != Tags()[i] || CardFor(c.Language+"-XX") != c {
			t.Errorf("card %d is of %q", i, c.Language)
		}
		v := reflect.ValueOf(c)
		for f := range v.NumField() {
			text, name := v.Field(f).String(), v.Type().Field(f).Name
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s has no %s", c.Language, name)
			}
			if i > 0 && name != "Stop" && text == reflect.ValueOf(english).Field(f).String() {
				t.Errorf("%s: %s is English: %q", c.Language, name, text)
			}
		}
		if strings.Count(c.Set, "%s") != 1 {
			t.Errorf("%s: %q has no place for the count", c.Language, c.Set)
		}
		if c.Own != PageFor(c.Language).Own {
			t.Errorf("%s calls itself %q here and %q on the page", c.Language, c.Own, PageFor(c.Language).Own)
		}
	}
	if CardFor("xx") != english {
		t.Error("an unknown language is not English")
	}
}
