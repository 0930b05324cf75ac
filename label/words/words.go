// Package words holds what is printed and shown in words, per language: the
// names of figures, cautions and steps, and how numbers and money are written.
//
// It holds no layout and decides nothing: a caller asks for a phrase by name.
package words

import (
	"strings"

	"github.com/bojanz/currency"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Words are the phrases of one language. Fields in lower case as they stand in
// the middle of a line; a layout changes no letter but for a heading's capitals.
type Words struct {
	Language string // BCP 47, "en"
	Number   unit.Style

	// The figures of a mark.
	BuiltIn, Add, About, NothingToAdd, Fresh, Sea string
	// A card.
	ToAddAsShot, EachInItsMetal, ScanForRecord, Batch, Float, Long, Body                                               string
	BuiltInWeight, NoLead, ContainsLead, Nothing, Waterline, Rings, RingIs                                             string
	Loaded, Unloaded, SelfCocking, Exchangeable, Setups, With, CodeOnCard, CodeOnFloat, WeighBeforeUse, NoShotPossible string
	Regraded, MeasuredSum, Tip, High, Low, ByRounding                                                                  string
	Toy, SmallParts, Children, NeverBite, WashHands                                                                    string
	// A sheet.
	ActualSize, Sheet, Of, LowerEdge, FromBase, ThisEdgeDown, CheckLine, ThisLineIs, Spare, MarkReady string
	UpperEdge, FromTip                                                                                string
	// The job sheet.
	JobSheet, Number1, ID, Rating, Printed, Where, Cut, Applied, Varnished, Retested, Cautions string
	DayCautions                                                                                []string
	// A card, beside the picture and the code.
	LifeSize, LineAt, ScanForFigures string
	// The job sheet's further headings, and the order of a marking day.
	Date, Maker, Pattern, Code, Note, OrderOfDay, CommonPractice string
	DaySteps                                                     []string
}

// For returns the words of a language by its BCP 47 tag. A language that is
// not there is an Input error that lists those that are.
func For(tag string) (Words, error) {
	base, _, _ := strings.Cut(strings.ToLower(tag), "-")
	switch base {
	case "", "en":
		return english(), nil
	}
	return Words{}, fault.Inputf(`use one of: "en"`, "there are no words for the language %q", tag)
}

// Price writes an amount of money as a reader of the language expects it:
// "£6.50". The amount is a plain decimal number, the currency its ISO 4217
// code. Anything else is an Input error.
func (w Words) Price(amount, code string) (string, error) {
	a, err := currency.NewAmount(strings.Replace(amount, ",", ".", 1), code)
	if err != nil || a.IsNegative() {
		return "", fault.Inputf(`write the price as a number, as in "6.50", and the currency as three letters, as in "GBP"`,
			"%q %q is no price", amount, code)
	}
	f := currency.NewFormatter(currency.NewLocale(w.Language + "-GB"))
	return f.Format(a), nil
}

// Gram writes a mass rounded to step: "0.85 g".
func (w Words) Gram(g, step unit.Gram) string { return g.Text(step, w.Number) }

// Millimetre writes a length rounded to step: "16 mm".
func (w Words) Millimetre(m, step unit.Millimetre) string { return m.Text(step, w.Number) }

func english() Words {
	return Words{
		Language: "en",
		BuiltIn:  "built in", Add: "add", About: "about", NothingToAdd: "nothing to add", Fresh: "fresh water", Sea: "sea water",
		ToAddAsShot: "to add, as shot", EachInItsMetal: "each row in its own metal", ScanForRecord: "scan for its record",
		Batch: "batch", Float: "float", Long: "long", Body: "body",
		BuiltInWeight: "built-in weight", NoLead: "no lead", ContainsLead: "contains lead", Nothing: "none", Waterline: "waterline",
		Rings: "rings", RingIs: "thick ring %s, thin ring %s",
		Loaded: "loaded", Unloaded: "unloaded", SelfCocking: "self-cocking", Exchangeable: "exchangeable", Setups: "set-ups", With: "with",
		CodeOnCard: "code on the card", CodeOnFloat: "code on the float", Regraded: "regraded", MeasuredSum: "measured sum", Tip: "tip", High: "high", Low: "low", ByRounding: "by rounding", WeighBeforeUse: "unverified: weigh before use", NoShotPossible: "no shot allowed here makes it",
		Toy: "not a toy", SmallParts: "small parts, sharp points", Children: "keep away from children under 3",
		NeverBite: "never bite shot", WashHands: "wash hands after handling",
		ActualSize: "print at actual size (100 %), no fitting to the page", Sheet: "sheet", Of: "of",
		LowerEdge: "lower edge", FromBase: "from base", UpperEdge: "upper edge", FromTip: "from tip", ThisEdgeDown: "this edge down", CheckLine: "this line is 100 mm", ThisLineIs: "this line is %s", Spare: "spare", MarkReady: "mark lies ready",
		JobSheet: "job sheet", Number1: "no.", ID: "id", Rating: "rating", Printed: "printed", Where: "where it sits",
		Cut: "cut", Applied: "applied", Varnished: "varnished", Retested: "retested", Cautions: "cautions",
		// Common practice, no single source; product data sheets win.
		DayCautions: []string{
			"Sprays and solvents: outdoors or with extraction, the mask that the product's data sheet names, no flame or spark.",
			"Two-pack sprays: only with the protection and the licensed practice that their data sheet asks for.",
			"Epoxy: gloves and fresh air; it can make skin sensitive for life; mix small, it heats as it gels.",
			"Lead: no dry sanding or grinding, gloves, wash hands, keep its dust and shot from children; never bite shot.",
			"Blades and cut wire: cut away from the body, cover ends that fly, wear eye protection.",
			"Local rules and product data sheets come before this list.",
		},
		LifeSize: "drawn life size", LineAt: "line", ScanForFigures: "scan for its figures",
		Date: "date", Maker: "maker", Pattern: "pattern", Code: "code", Note: "note", OrderOfDay: "order of the day",
		CommonPractice: "common practice; product data sheets win",
		// Common practice, no source; product data sheets win.
		DaySteps: []string{
			"Tank test and grade first: body sealed, built-in weight fixed, tip or a dummy of its weight in place.",
			"Print on plain paper, hold it to a float, then print on film. Ink-jet: let it dry, then seal it with thin clear coats. Laser: use film made for laser printers.",
			"Where the body is dark, spray a pale ground ring between two tapes; pull the tape before the paint is hard.",
			"Pencil the lower edge on the body: measure along the axis from the base end. Turn the float in a V-block.",
			"Cut 0.5 to 1 mm outside the mark on the free edges, and on the line at the seam.",
			"Soak until the film moves, slide it on, seam opposite the code, and push the water out from the middle. Check the number against the board.",
			"Let it dry overnight. Try the varnish on a spare piece; first a mist coat, then two thin coats, satin or matt over a code.",
			"Retest one float of each rating, then card them. Film and varnish take about 0.01 g of load; a paint scheme after the test takes 0.05 g and more.",
		},
	}
}
