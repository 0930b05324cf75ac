package jobsheet

import "floatmark/layouts/stock"

// The steps that every marking day begins and ends with. All steps here are
// common practice, no source, and so are their figures; the sheet says so in
// their heading, and that the products' data sheets win.
const (
	stepTest   = "Tank test and grade first: body sealed, built-in weight fixed, tip or a dummy of its weight in place."
	stepRings  = "Where this sheet lists ground rings, spray them now, and let them dry."
	stepPencil = "Pencil the lower edge on the body: measure along the axis from the base end. Turn the float in a V-block."
	stepRetest = "Retest one float of each rating, then card them. Film and varnish take about 0.01 g of load; a paint scheme after the test takes 0.05 g and more."
	// A mirror highlight across a code defeats readers, hence satin or matt.
	stepVarnish = "Try the varnish on a spare piece first: solvent lifts some inks and films. First a mist coat, then two thin coats, satin or matt over a code."
	stepBoard   = "Check the number against the board."
	stepMirror  = "Print on plain paper, then on the film, at actual size. The sheet is laid out mirrored: do not mirror it again in the printer's window."
)

// Steps returns the order of the day for a medium, for Spec.Steps. It is nil
// for stock of which nothing goes on a float. All of it is common practice, no
// source.
func Steps(m stock.Medium) []string {
	own := mediumSteps(m)
	if own == nil {
		return nil
	}
	// What is printed is printed before the rings are sprayed, to dry meanwhile.
	steps := []string{stepTest, own[0], stepRings, stepPencil}
	return append(append(steps, own[1:]...), stepRetest)
}

// mediumSteps returns how a medium is printed, then how it is put on.
func mediumSteps(m stock.Medium) []string {
	switch m {
	case stock.Waterslide:
		return []string{
			"Print on plain paper, hold it to a float, then print on the film's shiny side at actual size. Ink-jet: cut the unprinted part of the sheet off, let the print dry for 30 minutes or more, then seal it with 2 to 3 light clear coats, 15 to 30 minutes apart. Laser: only film made for laser printers. A part-used sheet goes in clean, square edge first.",
			"Cut 0.5 to 1 mm outside the mark on the free edges, and on the line at the seam; white film on the line all round.",
			"Soak for 20 to 60 seconds, until the film moves. Wet the body, slide the film on with its seam opposite the code, push the water out from the middle; film softener on tight curves. " + stepBoard,
			"Let it dry overnight. " + stepVarnish,
		}
	case stock.Vinyl:
		return []string{
			"Print on plain paper, hold it to a float, then print on the labels at actual size, and let the ink dry. A part-used sheet goes in with a clean, square edge first.",
			"Cut on the line. A part wrap leaves a gap at the seam: thick film laid over itself lifts, and so does any sticker on a thin stem.",
			"Wipe the body clean, peel, lay the middle on the pencil line with the gap opposite the code, and press from the middle to the edges. " + stepBoard,
			stepVarnish + " The varnish must cover the edges: it seals them.",
		}
	case stock.Tissue:
		return []string{
			"Tape the tissue by its leading edge to plain paper and print at actual size; let it dry. Wet a scrap with the varnish first: the ink must not run.",
			"Cut close round the mark; a torn or feathered edge shows least.",
			"Brush a thin coat of varnish on the body, lay the tissue on it with the seam opposite the code, and press it down from the middle with the brush until it is clear and flat. " + stepBoard,
			"Let it dry hard. " + stepVarnish,
		}
	case stock.RubOn:
		return []string{
			stepMirror + " Let the ink dry, then lay its glue on as the film's data sheet says.",
			"Cut close round the mark, on the line at the seam.",
			"Lay the film face down on the pencil line, seam opposite the code, and rub it down from the middle with a blunt, smooth tool. Lift the carrier slowly: where the ink comes with it, lay back and rub again. " + stepBoard,
			"Rub it down once more through its backing paper. " + stepVarnish,
		}
	case stock.SkinTransfer:
		return []string{
			stepMirror + " Let the ink dry, then lay the sheet of glue on it without bubbles, as the film's data sheet says.",
			"Cut close round the mark, on the line at the seam.",
			"Peel the cover, lay the film face down on the pencil line, seam opposite the code, wet its back with a sponge until the paper slides, about half a minute, slide the paper off and press the film down. " + stepBoard,
			"Let it dry overnight. " + stepVarnish,
		}
	case stock.ByHand:
		return []string{
			"Print the jigs on plain paper at actual size, measure their check lines, and cut them out.",
			"Wrap the jig round the body with its arrows towards the base end, tape its seam, and mark rings and letters through with a soft pencil or a needle point.",
			"Take the jig off and letter the words that the jig's sheet lists for this float. " + stepBoard,
			"Let the lettering dry overnight. " + stepVarnish,
		}
	}
	return nil
}
