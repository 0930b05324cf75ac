package words

import (
	"encoding/json"
	"os"
	"testing"

	"floatmark/loading/unit"
)

// TestMoneyForPeers writes, where MONEY names a file, how amounts and figures are
// written in each language and some of its countries, for a program that reads
// Unicode's CLDR itself to compare. Without it, a few that CLDR prints.
func TestMoneyForPeers(t *testing.T) {
	type money struct{ Locale, Amount, Code, Text string }
	type figure struct {
		Locale string
		Value  float64
		Text   string
	}
	var out struct {
		Money   []money
		Figures []figure
	}
	texts := map[string]string{}
	for _, tag := range []string{"en-GB", "en-US", "en-IE", "de-DE", "de-AT", "de-CH", "fr-FR", "fr-BE", "fr-CH", "it-IT", "it-CH", "pl-PL"} {
		w, err := For(tag)
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range []string{"GBP", "EUR", "USD", "PLN", "CHF", "SEK", "CZK", "JPY"} {
			for _, amount := range []string{"0.50", "6.50", "12", "999.99", "1234.50", "98765.43", "1234567.89"} {
				if code == "JPY" && amount != "12" {
					continue // it has no hundredths
				}
				text, err := w.Price(amount, code)
				if err != nil {
					t.Fatalf("%s %s %s: %v", tag, amount, code, err)
				}
				out.Money = append(out.Money, money{tag, amount, code, text})
				texts[tag+" "+amount+" "+code] = text
			}
		}
		for _, v := range []float64{0.5, 7.22, 12.55, 100} {
			out.Figures = append(out.Figures, figure{tag, v, unit.Number(v, 0.01, w.Number)})
		}
	}
	for key, want := range map[string]string{"en-GB 6.50 GBP": "£6.50", "de-DE 6.50 EUR": "6,50\u00a0€", "pl-PL 12 PLN": "12,00\u00a0zł", "fr-FR 1234.50 EUR": "1\u00a0234,50\u00a0€"} {
		if texts[key] != want {
			t.Errorf("%s is written %q, want %q", key, texts[key], want)
		}
	}
	if path := os.Getenv("MONEY"); path != "" {
		text, err := json.Marshal(out)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
