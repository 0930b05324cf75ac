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
	Market     string    // "GB"; a state of the US as "US-NY"
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
	}, {
		Market: "US-NH",
		UpTo:   unit.GramsPerOunce,
		Text:   "New Hampshire: lead sinkers of 1 oz and less are left out; rules change, look them up",
		Source: "RSA 339:77 (sale); RSA 211:13-b (use; read in a copy of the law)",
	}, {
		Market: "US-NY",
		UpTo:   unit.GramsPerOunce / 2,
		Text:   "New York: lead sinkers of 1/2 oz and less are left out; rules change, look them up",
		Source: "Environmental Conservation Law 11-0308 (sale)",
	}, {
		Market: "US-MA",
		UpTo:   belowOunce,
		Text:   "Massachusetts, inland waters: lead sinkers under 1 oz are left out; rules change, look them up",
		Source: "321 CMR 4.01 (use), as quoted in 2011; the regulation itself not read",
	}, {
		Market: "US-ME",
		UpTo:   unit.GramsPerOunce,
		Text:   "Maine: lead sinkers of 1 oz and less are left out; rules change, look them up",
		Source: "12 MRS 12663-B as amended by PL 2025 c. 132 (seen in part; the limit from a table of states)",
	}, {
		Market: "US-VT",
		UpTo:   belowHalfOunce,
		Text:   "Vermont: lead sinkers under 1/2 oz are left out; rules change, look them up",
		Source: "10 VSA 4615, from a table of states of 2026; the law itself not read",
	}}
}

// Where a rule says "under" its limit, the last milligram below it.
const (
	belowOunce     unit.Gram = 28.349
	belowHalfOunce unit.Gram = 14.174
)

// The European Union has adopted a restriction on sale that was still in
// scrutiny when it was read about (2026), and Denmark's ban is known at second
// hand only: neither is a rule here.

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
