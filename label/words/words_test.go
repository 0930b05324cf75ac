package words

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// all returns the words of every language, English first.
func all(t *testing.T) []Words {
	t.Helper()
	var out []Words
	for _, tag := range Tags() {
		w, err := For(tag)
		if err != nil {
			t.Fatal(err)
		}
		if w.Language != tag {
			t.Errorf("%q gives the words of %q", tag, w.Language)
		}
		out = append(out, w)
	}
	return out
}

// phrases lists every phrase of a value by its path in it.
func phrases(v reflect.Value, path string, into map[string]string) {
	switch v.Kind() {
	case reflect.String:
		into[path] = v.String()
	case reflect.Struct:
		for i := range v.NumField() {
			phrases(v.Field(i), path+"."+v.Type().Field(i).Name, into)
		}
	case reflect.Slice:
		for i := range v.Len() {
			phrases(v.Index(i), fmt.Sprintf("%s[%d]", path, i), into)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			phrases(v.MapIndex(k), path+"["+k.String()+"]", into)
		}
	}
}

// alike are phrases that are the same word in two languages.
func alike() map[string][]string {
	return map[string][]string{
		".Colon":            {"de", "it", "pl"},
		".Tests.StripFront": {"de", "fr", "it", "pl"}, // what the code itself says
		".Code":             {"de", "fr"}, ".Date": {"fr"}, ".Of": {"it"},
		".Names[zinc]": {"fr"}, ".Names[bismuth]": {"fr"}, ".Names[Olivettes]": {"fr"},
	}
}

// A language is whole or not there: no phrase is empty or left in English, and
// each is filled in with what the English one is, in the same order.
func TestEveryPhraseIsThere(t *testing.T) {
	verb := regexp.MustCompile(`%(\[\d+\])?[sdvqxf%]`)
	english := map[string]string{}
	for i, w := range all(t) {
		got := map[string]string{}
		phrases(reflect.ValueOf(w), "", got)
		if i == 0 {
			english = got
		}
		for path, text := range got {
			en, ok := english[path]
			switch {
			case strings.TrimSpace(text) == "":
				t.Errorf("%s: %s is empty", w.Language, path)
			case !ok:
				t.Errorf("%s: %s is not in English", w.Language, path)
			case i > 0 && text == en && !strings.Contains(strings.Join(alike()[path], " "), w.Language):
				t.Errorf("%s: %s is English: %q", w.Language, path, text)
			case fmt.Sprint(verb.FindAllString(text, -1)) != fmt.Sprint(verb.FindAllString(en, -1)):
				t.Errorf("%s: %s takes other values: %q, in English %q", w.Language, path, text, en)
			case path != ".Colon" && (strings.Contains(text, "  ") || strings.TrimSpace(text) != text):
				t.Errorf("%s: blanks in %s: %q", w.Language, path, text)
			}
		}
		for path := range english {
			if _, ok := got[path]; !ok {
				t.Errorf("%s: %s is missing", w.Language, path)
			}
		}
	}
	if len(english) < 200 {
		t.Errorf("only %d phrases were compared", len(english))
	}
}

// What stands on a thin body is short in every language: no longer than half as
// much again as the English, or three letters.
func TestMarksAreShort(t *testing.T) {
	words := all(t)
	mark := func(w Words) []string { return []string{w.BuiltIn, w.Add, w.About, w.NothingToAdd, w.Fresh, w.Sea} }
	for _, w := range words[1:] {
		for i, text := range mark(w) {
			en := mark(words[0])[i]
			if n, most := len([]rune(text)), max(3*len(en)/2, len(en)+5); n > most {
				t.Errorf("%s: %q has %d letters where %q has %d", w.Language, text, n, en, len(en))
			}
		}
	}
}

// Figures that are safety text or instructions stand in every language as they
// do in English: 0.01 g, 30 minutes, under 3 years.
func TestFiguresAreTheSame(t *testing.T) {
	figure := regexp.MustCompile(`\d+(?:[.,]\d+)?`)
	figures := func(text string) map[string]int {
		n := map[string]int{}
		for _, f := range figure.FindAllString(text, -1) {
			n[strings.ReplaceAll(f, ",", ".")]++
		}
		return n
	}
	words := all(t)
	english := map[string]string{}
	phrases(reflect.ValueOf(words[0]), "", english)
	for _, w := range words[1:] {
		got := map[string]string{}
		phrases(reflect.ValueOf(w), "", got)
		for path, text := range got {
			if a, b := figures(text), figures(english[path]); !reflect.DeepEqual(a, b) {
				t.Errorf("%s: %s has the figures %v, in English %v: %q", w.Language, path, a, b, text)
			}
		}
	}
}

func TestFor(t *testing.T) {
	for tag, want := range map[string]string{"": "en GB", "en": "en GB", "en-US": "en US", "EN_gb": "en GB", "de": "de DE", "de-AT": "de AT", "de-CH": "de CH",
		"fr-CA": "fr CA", "en-AU": "en AU", "fr-CH": "fr CH", "it-CH": "it CH", "en-u-nu-arab": "en GB", "it": "it IT", "pl-PL": "pl PL", "de-Latn": "de DE", "fr-419": "fr FR"} {
		if w, err := For(tag); err != nil || w.Language+" "+w.Region != want {
			t.Errorf("%q: %q, %v; want %q", tag, w.Language+" "+w.Region, err, want)
		}
	}
	for _, tag := range []string{"xx", "ja", "nl", "tlh", "cy", "br", "csb", "co", "gsw", "es-MX", "zh-Hant", "no such", "-", "e", strings.Repeat("de-", 200), "\x00", "und"} {
		_, err := For(tag)
		if fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %v, want an input error", tag, err)
			continue
		}
		if do := fmt.Sprint(fault.List(err)[0].Do); !strings.Contains(do, `"en", "de", "fr", "it", "pl"`) {
			t.Errorf("%q: %s does not list the languages", tag, do)
		}
	}
}

func FuzzFor(f *testing.F) {
	for _, tag := range append(Tags(), "", "de-CH", "x-y", "en-u-co-phonebk", "i-klingon") {
		f.Add(tag)
	}
	f.Fuzz(func(t *testing.T, tag string) {
		w, err := For(tag)
		if err != nil && fault.ClassOf(err) != fault.Input || err == nil && (w.Language == "" || w.Region == "") {
			t.Errorf("%q: %q %q, %v", tag, w.Language, w.Region, err)
		}
	})
}

// The decimal sign is that of Unicode's CLDR, as golang.org/x/text has it.
func TestDecimalSign(t *testing.T) {
	for _, tag := range []string{"en", "en-GB", "en-US", "en-IE", "de", "de-AT", "de-CH", "de-LI", "fr", "fr-BE", "fr-CA", "fr-CH", "it", "it-CH", "pl"} {
		w, err := For(tag)
		if err != nil {
			t.Fatal(err)
		}
		want := message.NewPrinter(language.MustParse(tag)).Sprint(number.Decimal(0.8)) + " g"
		if got := w.Gram(0.8, 0.05); got != want {
			t.Errorf("%s writes %q, want %q", tag, got, want)
		}
	}
}

// Money as CLDR has it; blanks in it do not break.
func TestPrice(t *testing.T) {
	for _, c := range []struct{ tag, amount, code, want string }{
		{"en", "6.50", "GBP", "£6.50"}, {"en", "6,5", "GBP", "£6.50"}, {"en", "12", "EUR", "€12.00"}, {"en", "900", "JPY", "JP¥900"},
		{"en-US", "6.5", "USD", "$6.50"}, {"en-IE", "6.5", "EUR", "€6.50"},
		{"de", "6.50", "EUR", "6,50 €"}, {"de-AT", "6.50", "EUR", "€ 6,50"}, {"de-CH", "6.50", "CHF", "CHF 6.50"}, {"de", "1234.5", "EUR", "1.234,50 €"},
		{"fr", "6.50", "EUR", "6,50 €"}, {"fr", "1234.5", "EUR", "1 234,50 €"}, {"it", "6.50", "EUR", "6,50 €"},
		{"pl", "27", "PLN", "27,00 zł"}, {"pl", "6.50", "EUR", "6,50 €"}, {"pl", "12345.6", "PLN", "12 345,60 zł"}, {"fr", "6.5", "GBP", "6,50 £GB"},
	} {
		w, err := For(c.tag)
		if err != nil {
			t.Fatal(err)
		}
		got, err := w.Price(c.amount, c.code)
		if strings.Contains(got, " ") || strings.Contains(got, "\u202f") {
			t.Errorf("%s: %q may break, or wants a rare blank", c.tag, got)
		}
		if got = strings.ReplaceAll(got, "\u00a0", " "); err != nil || got != c.want {
			t.Errorf("%s: Price(%q, %q) = %q, %v; want %q", c.tag, c.amount, c.code, got, err, c.want)
		}
	}
	w := all(t)[0]
	for _, bad := range [][2]string{{"", "GBP"}, {"six", "GBP"}, {"-1", "GBP"}, {"1", "pound"}, {"1", ""}} {
		if got, err := w.Price(bad[0], bad[1]); fault.ClassOf(err) != fault.Input {
			t.Errorf("Price(%q) = %q, %v", bad, got, err)
		}
	}
}

func TestQuantities(t *testing.T) {
	for tag, want := range map[string]string{"en": "0.8 g, 16 mm, 1.25 g", "de": "0,8 g, 16 mm, 1,25 g", "pl": "0,8 g, 16 mm, 1,25 g"} {
		w, err := For(tag)
		if err != nil {
			t.Fatal(err)
		}
		if got := w.Gram(0.8, 0.05) + ", " + w.Millimetre(unit.Millimetre(15.96), 0.1) + ", " + w.Gram(1.25, 0.01); got != want {
			t.Errorf("%s: %q, want %q", tag, got, want)
		}
	}
}

func TestName(t *testing.T) {
	w, err := For("de")
	if err != nil {
		t.Fatal(err)
	}
	for english, want := range map[string]string{"tin": "Zinn", "hard lead": "Hartblei", "plain paper of 80 g/m², A4": "Normalpapier 80 g/m², A4",
		"British present-day": "Britisch, heutig", "Withy's own, a mix": "Withy's own, a mix", "": ""} {
		if got := w.Name(english); got != want {
			t.Errorf("%q is %q, want %q", english, got, want)
		}
	}
}

// Polish plurals by the rule of CLDR: 1; 2 to 4, 22 to 24; 0, 5 to 21.
func TestCounted(t *testing.T) {
	c := Counted{"one", "few", "many"}
	for n, want := range map[int]string{0: "many", 1: "one", 2: "few", 4: "few", 5: "many", 11: "many", 12: "many", 14: "many", 21: "many", 22: "few", 112: "many"} {
		if got := c.Of(n); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}
