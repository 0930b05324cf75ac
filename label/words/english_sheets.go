package words

func englishSteps() Steps {
	const (
		board   = " Check the number against the board."
		varnish = "Try the varnish on a spare piece first: solvent lifts some inks and films. First a mist coat, then two thin coats, satin or matt over a code."
		mirror  = "Print on plain paper, then on the film, at actual size. The sheet is laid out mirrored: do not mirror it again in the printer's window."
		close   = "Cut close round the mark, on the line at the seam."
	)
	return Steps{
		Test:   "Tank test and grade first: body sealed, built-in weight fixed, tip or a dummy of its weight in place.",
		Rings:  "Where this sheet lists ground rings, spray them now, and let them dry.",
		Pencil: "Pencil the lower edge on the body: measure along the axis from the base end. Turn the float in a V-block.",
		Retest: "Retest one float of each rating, then card them. Film and varnish take about 0.01 g of load; a paint scheme after the test takes 0.05 g and more.",
		Waterslide: []string{
			"Print on plain paper, hold it to a float, then print on the film's shiny side at actual size. Ink-jet: cut the unprinted part of the sheet off, let the print dry for 30 minutes or more, then seal it with 2 to 3 light clear coats, 15 to 30 minutes apart. Laser: only film made for laser printers. A part-used sheet goes in clean, square edge first.",
			"Cut 0.5 to 1 mm outside the mark on the free edges, and on the line at the seam; white film on the line all round.",
			"Soak for 20 to 60 seconds, until the film moves. Wet the body, slide the film on with its seam opposite the code, push the water out from the middle; film softener on tight curves." + board,
			"Let it dry overnight. " + varnish,
		},
		Vinyl: []string{
			"Print on plain paper, hold it to a float, then print on the labels at actual size, and let the ink dry. A part-used sheet goes in with a clean, square edge first.",
			"Cut on the line. A part wrap leaves a gap at the seam: thick film laid over itself lifts, and so does any sticker on a thin stem.",
			"Wipe the body clean, peel, lay the middle on the pencil line with the gap opposite the code, and press from the middle to the edges." + board,
			varnish + " The varnish must cover the edges: it seals them.",
		},
		Tissue: []string{
			"Tape the tissue by its leading edge to plain paper and print at actual size; let it dry. Wet a scrap with the varnish first: the ink must not run.",
			"Cut close round the mark; a torn or feathered edge shows least.",
			"Brush a thin coat of varnish on the body, lay the tissue on it with the seam opposite the code, and press it down from the middle with the brush until it is clear and flat." + board,
			"Let it dry hard. " + varnish,
		},
		RubOn: []string{
			mirror + " Let the ink dry, then lay its glue on as the film's data sheet says.",
			close,
			"Lay the film face down on the pencil line, seam opposite the code, and rub it down from the middle with a blunt, smooth tool. Lift the carrier slowly: where the ink comes with it, lay back and rub again." + board,
			"Rub it down once more through its backing paper. " + varnish,
		},
		SkinTransfer: []string{
			mirror + " Let the ink dry, then lay the sheet of glue on it without bubbles, as the film's data sheet says.",
			close,
			"Peel the cover, lay the film face down on the pencil line, seam opposite the code, wet its back with a sponge until the paper slides, about half a minute, slide the paper off and press the film down." + board,
			"Let it dry overnight. " + varnish,
		},
		ByHand: []string{
			"Print the jigs on plain paper at actual size, measure their check lines, and cut them out.",
			"Wrap the jig round the body with its arrows towards the base end, tape its seam, and mark rings and letters through with a soft pencil or a needle point.",
			"Take the jig off and letter the words that the jig's sheet lists for this float." + board,
			"Let the lettering dry overnight. " + varnish,
		},
	}
}

func englishOrder() Order {
	return Order{
		Head: "ORDER FOR THE PRINT SHOP", Ask: "Anything that does not suit your machines: please ask before you change it.",
		QuantityDecals: "quantity, decals", QuantityCards: "quantity, cards", StockDecals: "stock, decals", StockCards: "stock, cards",
		DecalSheets: "%s sheets, each once: every page differs (decals-press.pdf; decals-black.pdf is the same in black alone)",
		CardSheets:  "%s sheets, each once: every card differs (backers-press.pdf)",
		Grain:       "; grain along the long side",
		Size:        "size", Trim: "trim", OtherForms: "other forms", Machine: "cutting machine", Bleed: "bleed", Black: "black", Mirrored: "mirrored", White: "white",
		SizeWant:     "Print at 100 %, no fitting and no shrinking: a line on each sheet must measure what it says.",
		TrimWant:     "Pieces are cut along the spot colour %q, which is not printed. It is a path of its own on the layer cut.",
		FormsWant:    "decals-1.svg and on: each page in mm with named layers; decals-1.png and on: the same in black and white alone, a dot for a dot of the press.",
		MachineWant:  "cut-1.svg and on hold the cut path of each page alone, in mm, with three registration marks that the page bears too.",
		BleedWant:    "Colour that meets the cut goes %s beyond it; nothing else bleeds.",
		BlackWant:    "Text and codes are black alone (K 100 %%), overprinting nothing. Codes are made of whole dots of %s dots per inch: do not scale, smooth or re-screen them.",
		MirroredWant: "The sheets are laid out mirrored already: do not mirror them again.",
		WhiteWant:    "No white ink: what is white is the stock.",
	}
}

func englishTests() Tests {
	const (
		round  = "round the middle of a table tennis ball of 40 mm, the end on the thick cross line"
		print  = "Print at actual size (100 %) on what codes are printed on, with the same settings"
		smooth = ". Press it down from the middle to its edges and "
	)
	return Tests{
		AsMade: "%s on %s, as the printer makes it", Corrected: "%s on %s, corrected by profile %s of %s",
		StoreNamed: "Store it; %s is what you call this printer:", StoreIt: "Store it:", Dots: Counted{"dot", "dots", "dots"},

		Ruler:      "Ruler",
		RulerPrint: "Print at actual size (100 %), not fitted to the page, with the tray and the settings that marks are printed with.",
		RulerMeasure: "Measure with a steel rule to a quarter of a millimetre, always from the middle of one line to the middle of the other: " +
			"x along the top, y down the left side, d1 from top left to bottom right, d2 from bottom left to top right.",
		RulerTrue:      "True to scale are x %s, y %s, d1 and d2 %s.",
		RulerCorrected: "So they should now be, within %s. If they are, nothing is to be done; if not:",
		RulerOff:       "Your printer will be off by a little. If it is off by 3 % or more, the page was fitted to the paper: print it again.",
		RulerMargin:    "Margin: lines stand 1 to 10 mm from each edge of the sheet. Note the lowest number whose line is whole at all four edges.",

		Gain: "Ink gain on %s", GainMadeUp: "Made up for the ink that profile %s of %s says, %s %s: here, every slot should be open.",
		GainPrint:  print + ", and let it dry.",
		GainLook:   "Ink spreads past every edge and closes pale slots. Those at the top are 1 to 6 dots wide. Look through a glass: which is the narrowest that is open from end to end?",
		GainDiffer: "Where the slots that run down and those that run across differ, take the larger number. If none is open, use less ink or another paper and print the sheet again.",
		GainThen:   "Codes are then drawn thinner by as many dots as the ink adds.",

		Codes: "Code sizes on %s", CodesCompare: "To compare: the same strips as they are drawn, with nothing off for the ink.",
		CodesPrint:  print + ".",
		CodesCut:    "Cut the strips out. Wrap each round a dowel, a drill's shank or a float of the diameter it names, the ends behind, and hold them with tape.",
		CodesHold:   "Hold the phone 12 cm away, straight in front of the code, then 2 cm higher, lower and to either side, turned towards it. It reads if each time it says within two seconds what the strip says. Try every phone your customers are likely to have.",
		CodesNote:   "For each size of squares, note the thinnest dowel that every phone reads; none if there is none. Do so for plain strips and, apart, for those that say front: their codes are widened to look square from there.",
		CodesMadeUp: "These strips are made up for the ink by profile %s of %s, %s %s off, as marks are. Those to compare should read no better: if they do, read the gain test again: %s",
		CodesClosed: "If the largest squares do not read on 12 mm and more, ink closes them. Find out how many dots it takes, then print this sheet again: %s",
		CodesType:   "Type what you found; codes are then chosen by it. %s=10 says that plain squares of %s dots read down to 10 mm, %sf=8 that those that say front read down to 8 mm:",
		StripPlain:  "plain", StripFront: "front", StripOn: "on %s", StripOff: "%s off",

		Duplex: "Front and back", OfBack: "%s of the back",
		Top: "top", Bottom: "bottom", Up: "up", Down: "down", Left: "left", Right: "right",
		DuplexPrint:   "Print both pages at actual size (100 %) on the two sides of one sheet, turned over the long edge.",
		DuplexHold:    "Hold the sheet against a lamp or a window, this side towards you and upright. Card lets no light through: prick it with a needle through the middle of both crosses on the back.",
		DuplexRead:    "Both crosses of the back show on the scales here, whose ticks are %s apart. How far off is each middle, to a quarter of a millimetre, and which way? Read it as you see it from this side.",
		DuplexAgain:   "If the back is off by more than 5 mm, it was not turned over the long edge or one side was fitted to the page: print it again.",
		DuplexExample: "here, the upper one is %s to the right and %s up, the lower one %s to the left and neither up nor down. Write your own.",

		Proof:      "Proof on plain paper",
		ProofPrint: "Print this on plain paper at actual size (100 %), with the settings that the marks will be printed with.",
		ProofMeasure: "Measure the check lines with a steel rule: each must be as long as it says, within %s. " +
			"On the rules along the edges any length can be measured, both ways.",
		ProofLabels:   "Lay it on a sheet of labels and hold both against the light: every mark must lie within its label.",
		ProofMirrored: "Cut a mark out and hold it round its float, printed side to the float as the film will be: its ends must meet as planned.",
		ProofCut:      "Cut a mark out and hold it round its float: its ends must meet as planned.",
		ProofThen:     "Then print the marks themselves: they lie at the same places. If a line is too long or too short, calibrate the printer first:",

		Stretch:         "Stretch test: %s",
		StretchPrint:    "Print at actual size (100 %): the check lines are then 100 mm long.",
		StretchCut:      "Cut on the dashed lines.",
		StretchLook:     "Look along both edges: a crease, a tuck or a lifted edge is too much.",
		StretchLimit:    "The tallest band that lies flat without a crease is your film's limit. Where two trials differ, take the lower.",
		StretchStore:    "Store it. Where %s is the tallest:",
		LayWaterslide:   "Soak each band, with the softener you use for marks, and lay it " + round + smooth + "let it dry.",
		LayVinyl:        "Peel each band and lay it " + round + smooth + "leave it for a day.",
		LayTissue:       "Stick each band down with the varnish you use, " + round + smooth + "let it dry.",
		LayRubOn:        "Lay each band, printed side to the ball, " + round + ". Rub it down from the middle to its edges and take the carrier off.",
		LaySkinTransfer: "Peel each band and lay it, printed side to the ball, " + round + ". Wet it from behind, slide the paper off and let it dry.",
	}
}
