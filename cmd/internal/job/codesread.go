package job

import (
	"regexp"
	"strings"

	"floatmark/layouts/testsheet"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// The dowels that a maker may name, mm: on thicker ones every size reads, on
// thinner ones none.
const leastDowel, mostDowel = 4, 40

// sized finds the size in a reading, so that a comma may stand between readings
// and in their numbers.
var sized = regexp.MustCompile(`(?:^|[\s,;])([0-9]+\s*[fF]?)\s*=`)

// parseReads reads "8=12 7=10 6=none 7f=8", apart by spaces, commas or
// semicolons, in the order of the sheet's sizes; "none" is none of any size.
// Every slip is an Input error that names the size.
func parseReads(text string, dpi float64) ([]ReadSize, error) {
	sizes := testsheet.Sizes(dpi)
	var names []string
	for _, z := range sizes {
		names = append(names, z.Name())
	}
	known := strings.Join(names, ", ")
	values := map[string]string{}
	if t := strings.ToLower(strings.TrimSpace(text)); t == noneRead {
		for _, n := range names {
			values[n] = noneRead
		}
	} else {
		at := sized.FindAllStringSubmatchIndex(text, -1)
		if len(at) == 0 || strings.TrimSpace(text[:at[0][0]]) != "" {
			return nil, fault.Inputf(`write them as the test sheet says, as in "8=12 7=10 7f=8", or none`, "%q holds no reading that can be told", text)
		}
		for i, m := range at {
			end := len(text)
			if i+1 < len(at) {
				end = at[i+1][0]
			}
			size := strings.ToLower(strings.Join(strings.Fields(text[m[2]:m[3]]), ""))
			if _, twice := values[size]; twice {
				return nil, fault.New(fault.Input, size, "it is given twice", "give each size once: the thinnest dowel that every phone reads")
			}
			values[size] = strings.Trim(text[m[1]:end], " \t\r\n,;")
		}
	}
	var out []ReadSize
	for _, z := range sizes {
		value, ok := values[z.Name()]
		if !ok {
			continue
		}
		delete(values, z.Name())
		d, err := readDowel(z, value, unit.MillimetresPerInch/dpi)
		if err != nil {
			return nil, fault.At(z.Name(), err)
		}
		out = append(out, ReadSize{z.Name(), z.Dots, z.Module, z.Front, d})
	}
	if len(values) > 0 {
		least := ""
		for v := range values { // the first by name, for the same words each time
			if least == "" || v < least {
				least = v
			}
		}
		return nil, fault.New(fault.Input, least, "the sheet for "+unit.Number(dpi, 0.01, unit.Style{})+" dpi has no such size", "its sizes are "+known+"; for another printer add --dpi or --printer")
	}
	return out, nil
}

const noneRead = "none"

// readDowel reads "10", "9,5 mm" or "none", which is 0.
func readDowel(z testsheet.Size, value string, dot float64) (float64, error) {
	const write = "write the thinnest dowel that every phone reads, in mm, or none"
	number := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(value), "mm"))
	switch {
	case strings.Trim(value, "_") == "":
		return 0, fault.Inputf(write+"; or leave the size out", "the dowel is missing")
	case number == noneRead:
		return 0, nil
	}
	d, ok := unit.Decimal(number)
	if !ok {
		return 0, fault.Inputf(write, "%q is no diameter", value)
	}
	if !(d >= leastDowel && d <= mostDowel) { // written so that NaN fails
		mm := func(v float64) string { return unit.Millimetre(v).Text(0.1, unit.Style{}) }
		return 0, fault.Inputf(write+"; dowels of "+mm(leastDowel)+" to "+mm(mostDowel)+" tell something", "a dowel of %s tells nothing", mm(d))
	}
	if !z.On(unit.Millimetre(d), dot) {
		return 0, fault.Inputf("see which strip it was; those that say front stand as 7f, the others as 7", "no code of that size can be made square from the front of %s", unit.Millimetre(d).Text(0.1, unit.Style{}))
	}
	return d, nil
}
