package batch

import (
	"strings"

	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// countedShot reads shot of a convention as it was hung: "3AAA+2No4". Words that
// can be cut or read in two ways are refused, not resolved: a reading is the
// ground everything printed stands on.
func countedShot(text string, c shot.Convention) ([]shot.Count, error) {
	counts, err := shot.ParseCounts(text, c)
	if err != nil {
		_, _, _, err = shot.ParseLoad(text, c) // tells whether a mass or shot was meant
		return nil, err
	}
	for part := range strings.SplitSeq(text, "+") {
		part = strings.TrimSpace(part)
		for _, k := range shot.Clashes(part, c) {
			if k.Key != c.Key && !k.Near {
				continue // the convention is named, so another's size is not meant
			}
			one, err := shot.ParseCounts(part, c)
			if err != nil {
				return nil, err
			}
			here := shot.CountsText(one)
			other := k.Text
			if k.Near {
				return nil, fault.Inputf("write \""+here+"\" or grams", "%q can also be read as the size of a pole float, %s", part, other)
			}
			return nil, fault.Inputf("write \""+here+"\" or \""+other+"\"", "%q can be %s, %s, or %s, %s", part,
				here, shot.Total(one).Text(0.001, unit.Style{}), other, k.Mass.Text(0.001, unit.Style{}))
		}
	}
	return counts, nil
}
