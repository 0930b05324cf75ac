package symbol

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/loading/fault"
)

// Worked check digits of GS1 offices' own pages: 629104150021 by GS1 Hong Kong
// ("How is the check digit calculated?", sum 57, digit 3; the example of the
// General Specifications, 7.9.1, from memory), 730001100001 by GS1 Sweden,
// 890400021003 by GS1 India.
func TestEANCheckDigits(t *testing.T) {
	for _, c := range []struct {
		twelve string
		want   byte
	}{{"629104150021", '3'}, {"730001100001", '7'}, {"890400021003", '7'}, {"000000000000", '0'}} {
		if got, err := EANCheck(c.twelve); err != nil || got != c.want {
			t.Errorf("%s: %c, %v, want %c", c.twelve, got, err, c.want)
		}
		if _, err := EAN13(c.twelve + string(c.want)); err != nil {
			t.Error(err)
		}
	}
}

// decodeEAN is a plain reader by the tables of ISO/IEC 15420 as every text on
// the symbol prints them (from memory): the left digits' sets by the first one.
func decodeEAN(b Bars) string {
	const l = "0001101 0011001 0010011 0111101 0100011 0110001 0101111 0111011 0110111 0001011"
	sets := strings.Fields(l)
	flip := func(s string, turn bool) string { // R is L inverted, G is R read backwards
		out := []byte(s)
		for i := range s {
			out[i] = '0' + '1' - s[i]
		}
		if turn {
			for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
				out[i], out[j] = out[j], out[i]
			}
		}
		return string(out)
	}
	at := func(from int) string {
		s := ""
		for i := from; i < from+7; i++ {
			if b.Dark(i) {
				s += "1"
			} else {
				s += "0"
			}
		}
		return s
	}
	first := strings.Fields("LLLLLL LLGLGG LLGGLG LLGGGL LGLLGG LGGLLG LGGGLL LGLGLG LGLGGL LGGLGL")
	parity, text := "", ""
	find := func(s string, form func(string) string) (string, bool) {
		for d, set := range sets {
			if form(set) == s {
				return string(rune('0' + d)), true
			}
		}
		return "?", false
	}
	for i := range 6 {
		s := at(3 + 7*i)
		if d, ok := find(s, func(x string) string { return x }); ok {
			parity, text = parity+"L", text+d
			continue
		}
		d, _ := find(s, func(x string) string { return flip(x, true) })
		parity, text = parity+"G", text+d
	}
	for i := range 6 {
		d, _ := find(at(50+7*i), func(x string) string { return flip(x, false) })
		text += d
	}
	for d, p := range first {
		if p == parity {
			return string(rune('0'+d)) + text
		}
	}
	return "?" + text
}

// Every number reads back by the plain reader; any one digit changed is refused.
func TestEANReadsBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		twelve := rapid.StringMatching(`[0-9]{12}`).Draw(r, "twelve")
		check, err := EANCheck(twelve)
		if err != nil {
			r.Fatal(err)
		}
		number := twelve + string(check)
		b, err := EAN13(number)
		if err != nil {
			r.Fatal(err)
		}
		if got := decodeEAN(b); got != number || b.Text != number {
			r.Fatalf("%s reads %s", number, got)
		}
		for _, i := range []int{0, 2, 45, 47, 49 - 2, 92, 94} {
			if b.Guard(i) != true {
				r.Fatalf("module %d is no guard", i)
			}
		}
		if !b.Dark(0) || b.Dark(1) || !b.Dark(2) || b.Dark(-1) || b.Dark(EANModules) || b.Guard(3) || b.Guard(50) || b.Guard(-1) {
			r.Fatal("guard bars are not where they belong")
		}
		wrong := []byte(number)
		i := rapid.IntRange(0, 12).Draw(r, "place")
		wrong[i] = '0' + (wrong[i]-'0'+byte(rapid.IntRange(1, 9).Draw(r, "off")))%10
		if _, err := EAN13(string(wrong)); fault.ClassOf(err) != fault.Input {
			r.Fatalf("%s is taken for %s", wrong, number)
		}
	})
}

func TestEANRefused(t *testing.T) {
	for _, c := range []struct{ number, want string }{
		{"", "no EAN-13"}, {"629104150021", "no EAN-13"}, {"62910415002134", "no EAN-13"}, {"6291O41500213", "no EAN-13"},
		{"6291041500212", "the last one is 3"}, {"6-291041-500213 ", ""}, {"٦٢٩١٠٤١٥٠٠٢١٣", "no EAN-13"},
	} {
		_, err := EAN13(c.number)
		if (c.want == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.number, err, c.want)
		}
	}
}
