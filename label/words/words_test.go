package words

import (
	"reflect"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// A language is whole or not there: no phrase may be empty.
func TestEveryPhraseIsThere(t *testing.T) {
	w, err := For("en-GB")
	if err != nil {
		t.Fatal(err)
	}
	v := reflect.ValueOf(w)
	for i := 0; i < v.NumField(); i++ {
		f, name := v.Field(i), v.Type().Field(i).Name
		switch f.Kind() {
		case reflect.String:
			if f.String() == "" {
				t.Errorf("%s is empty", name)
			}
		case reflect.Slice:
			if f.Len() == 0 {
				t.Errorf("%s is empty", name)
			}
		}
	}
	if _, err := For("xx"); fault.ClassOf(err) != fault.Input {
		t.Errorf("an unknown language: %v", err)
	}
}

func TestPrice(t *testing.T) {
	w, _ := For("en")
	for _, c := range []struct{ amount, code, want string }{
		{"6.50", "GBP", "£6.50"}, {"6,5", "GBP", "£6.50"}, {"12", "EUR", "€12.00"}, {"900", "JPY", "JP¥900"},
	} {
		if got, err := w.Price(c.amount, c.code); err != nil || got != c.want {
			t.Errorf("Price(%q, %q) = %q, %v; want %q", c.amount, c.code, got, err, c.want)
		}
	}
	for _, bad := range [][2]string{{"", "GBP"}, {"six", "GBP"}, {"-1", "GBP"}, {"1", "pound"}, {"1", ""}} {
		if got, err := w.Price(bad[0], bad[1]); fault.ClassOf(err) != fault.Input {
			t.Errorf("Price(%q) = %q, %v", bad, got, err)
		}
	}
}

func TestQuantities(t *testing.T) {
	w, _ := For("en")
	if got := w.Gram(0.8, 0.05) + ", " + w.Millimetre(unit.Millimetre(15.96), 0.1); got != "0.8 g, 16 mm" {
		t.Errorf("%q", got)
	}
}
