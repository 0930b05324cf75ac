package jobsheet

import (
	"floatmark/label/words"
	"floatmark/layouts/stock"
)

// Steps returns the order of the day for a medium, for Spec.Steps. It is nil
// for stock of which nothing goes on a float. All of it is common practice, no
// source, and so are its figures; the sheet says so in the heading, and that the
// products' data sheets win.
func Steps(m stock.Medium, w words.Words) []string {
	own := mediumSteps(m, w.Steps)
	if len(own) == 0 {
		return nil
	}
	// What is printed is printed before the rings are sprayed, to dry meanwhile.
	steps := []string{w.Steps.Test, own[0], w.Steps.Rings, w.Steps.Pencil}
	return append(append(steps, own[1:]...), w.Steps.Retest)
}

// mediumSteps returns how a medium is printed, then how it is put on.
func mediumSteps(m stock.Medium, w words.Steps) []string {
	switch m {
	case stock.Waterslide:
		return w.Waterslide
	case stock.Vinyl:
		return w.Vinyl
	case stock.Tissue:
		return w.Tissue
	case stock.RubOn:
		return w.RubOn
	case stock.SkinTransfer:
		return w.SkinTransfer
	case stock.ByHand:
		return w.ByHand
	}
	return nil
}
