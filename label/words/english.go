package words

func english() Words {
	return Words{
		Language: "en", Region: "GB", Colon: ": ",
		BuiltIn: "built in", Add: "add", About: "about", NothingToAdd: "nothing to add", Fresh: "fresh water", Sea: "sea water",
		ToAddAsShot: "to add, as shot", EachInItsMetal: "each row in its own metal", ScanForRecord: "scan for its record",
		Batch: "batch", Float: "float", Long: "long", Body: "body",
		BuiltInWeight: "built-in weight", NoLead: "no lead", ContainsLead: "contains lead", Nothing: "none", Waterline: "waterline",
		Rings: "rings", RingIs: "thick ring %s, thin ring %s",
		Loaded: "loaded", Unloaded: "unloaded", SelfCocking: "self-cocking", Exchangeable: "exchangeable", Setups: "set-ups", With: "with",
		CodeOnCard: "code on the card", CodeOnFloat: "code on the float", CodeHeldSquare: "held square", Regraded: "regraded", MeasuredSum: "measured sum", Tip: "tip", High: "high", Low: "low", ByRounding: "by rounding", WeighBeforeUse: "unverified: weigh before use", NoShotPossible: "no shot allowed here makes it",
		Toy: "not a toy", SmallParts: "small parts, sharp points", Children: "keep away from children under 3",
		NeverBite: "never bite shot", WashHands: "wash hands after handling",
		ActualSize: "print at actual size (100 %), no fitting to the page", Sheet: "sheet", Of: "of",
		LowerEdge: "lower edge", FromBase: "from base", UpperEdge: "upper edge", FromTip: "from tip", ThisEdgeDown: "this edge down", CheckLine: "this line is 100 mm", ThisLineIs: "this line is %s", Spare: "spare", MarkReady: "mark lies ready",
		JobSheet: "job sheet", Number1: "no.", ID: "id", Rating: "rating", Printed: "printed", Where: "where it sits",
		Cut: "cut", Applied: "applied", Varnished: "varnished", Retested: "retested", Cautions: "cautions",
		Mirrored: "printed mirrored: it reads right when rubbed down",
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
		Ground: GroundRings{
			Head: "ground rings to paint before the marks go on",
			How: "Pale ring under the mark: mask both edges, 1 to 2 thin coats over the dry colour coat, pull the tape before the paint is hard, " +
				"let it dry as its data sheet says, and flat it lightly with fine wet abrasive so that no step shows through the film.",
			Colour: "colour", MaskAt: "mask at", Between: "%s and %s %s", Why: "why",
			Proposed: "proposed: black does not show on %s", UnderWhatShows: "under what is seen through",
		},
		Jig: Jig{
			HowTo:  "Cut out, wrap round the body with the arrows towards the base end, tape the seam, and mark through.",
			NoCode: "The code is left out: it goes on the card.", GoesOn: "words of each float", Continued: "continued",
		},
		Spread: Spread{Title: "Measured sums", Off: "off the rating", Shaded: "shaded: within %s", Bar: "bar: uncertainty, k = 2",
			Triangle: "triangle: mean, on one standard deviation", NoneTested: "none tested", OneTested: "1 tested, %s",
			Tested: "%s tested, mean %s", Deviation: "deviation %s"},
		Files: Files{Decals: "decals", Proof: "proof on plain paper", Jigs: "paper jigs", Backers: "backers", JobSheet: "job sheet",
			PressDecals: "decals for the press", BlackDecals: "decals in black alone", PressBackers: "backers for the press", OrderForShop: "order for the print shop"},
		Names: names(pageEnglish(), stuffs()),
		Steps: englishSteps(), Order: englishOrder(), Tests: englishTests(),
	}
}
