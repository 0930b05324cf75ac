package bench

import (
	"fmt"
	"strconv"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// weightSays is what cannot be right of a weight built in, told where it is typed: at
// the tank it would be too late. at is the float, "float/3/", or its set-up. Nothing
// is said of what stood there before.
func weightSays(d *batch.Doc, at, key string, was any) error {
	v, _ := d.Get(at + "built_in")
	if v == nil || v == was {
		return nil
	}
	m, err := unit.ParseGram(fmt.Sprint(v))
	if err != nil {
		return fault.Inputf("write a number and its unit, as in "+strconv.Quote("7.2 g"), "%q is not %s", fmt.Sprint(v), "a mass")
	}
	if m == 0 {
		return fault.Inputf("give a built-in weight above 0 and up to 500 g", "a built-in weight of %s is none", m.Text(weighedStep, unit.Style{}))
	}
	if kind := patternText(d, key, "kind"); kind == "unloaded" {
		return fault.Inputf(fmt.Sprintf("remove built_in, or write kind = \"loaded\" in the pattern %q", key), "the pattern %q is unloaded, and this float has a weight built in", key)
	}
	return aboveRating(d, at, key)
}

// weighedStep is how finely a mass is written back, g.
const weighedStep = unit.Gram(0.001)

// aboveRating tells a weight that is more than the float's rating. One outside the
// body is lifted by the water, so that it may be.
func aboveRating(d *batch.Doc, at, key string) error {
	built, err := unit.ParseGram(d.Text(at + "built_in"))
	rating, err2 := unit.ParseGram(d.Text(at + "rating"))
	if err != nil || err2 != nil || float64(built-rating) < sameGrams || patternText(d, key, "weight") == "outside" {
		return nil // what is no mass is told by the reader of the file
	}
	return fault.Inputf("check both figures: one of them is mistyped", "what is built in, %s, is more than the rating of %s",
		built.Text(weighedStep, unit.Style{}), rating.Text(weighedStep, unit.Style{}))
}

// patternText is what a pattern says under a key of its table; "" for nothing.
func patternText(d *batch.Doc, pattern, key string) string {
	for i := range d.Len("pattern") {
		if d.Text(fmt.Sprintf("pattern/%d/key", i)) == pattern {
			return d.Text(fmt.Sprintf("pattern/%d/%s", i, key))
		}
	}
	return ""
}
