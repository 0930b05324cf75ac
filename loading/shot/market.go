package shot

import (
	"strings"

	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Rule is what was read about lead weights in one market. Laws change, and
// this is no legal advice: the words of the rule and its date are the reader's
// to look up.
type Rule struct {
	Market     string
	Over, UpTo unit.Gram // lead above Over and up to UpTo is not used
	Text       string    // one line to show
	Source     string    // the rule and where it was read
}

// Rules returns the markets whose rule on lead shot is known here.
func Rules() []Rule {
	return []Rule{{
		Market: "GB",
		Over:   0.06, // "0.06 g or less"; lead No.8 by its pellet count, 0.063 g, lies on the line
		UpTo:   28.35,
		Text:   "Great Britain: lead weights over 0.06 g and up to 28.35 g are left out; rules change, look them up",
		Source: "Control of Pollution (Anglers' Lead Weights) Regulations 1986, SI 1986/1992, regulation 4 (supply; the other regulations not read); " +
			"freshwater rod fishing rules, tackle you can use (use in England and Wales; read in a copy of the official page)",
	}}
}

// RuleFor returns the rule of a market, in any case of letters; false when
// none is known here, which does not mean that there is none.
func RuleFor(market string) (Rule, bool) {
	for _, r := range Rules() {
		if strings.EqualFold(strings.TrimSpace(market), r.Market) {
			return r, true
		}
	}
	return Rule{}, false
}

// Usable reports whether shot of that mass and metal is kept in a market's
// equivalents. Only lead is ever left out; a market without a known rule, or
// "", leaves nothing out.
func Usable(m unit.Gram, metal water.Metal, market string) bool {
	r, ok := RuleFor(market)
	return !ok || !metal.Lead || m <= r.Over || m > r.UpTo
}
