package job

import (
	"regexp"
	"strings"

	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/testsheet"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// readingsForm is how readings of test sheets are written, for whoever slips.
const readingsForm = "write them as the test sheet says, as in x=181.08,y=248.5,d1=308.24,d2=306.71"

// named finds the name of a reading: so a comma may stand between readings and
// in their numbers.
var named = regexp.MustCompile(`(?:^|[\s,;])([A-Za-z][A-Za-z0-9-]*)\s*=`)

// parseReadings reads what was measured off test sheets on the stock paper:
// "x=181.08,y=248.5,d1=308.24,d2=306.71,margin=5,gain=2,
// top=0.5right/0.25up,bottom=0.25left/0down", all or some, apart by commas,
// semicolons or spaces. Lengths are in mm unless they name their unit. Every slip
// is an Input error that names the reading.
func parseReadings(text string, paper stock.Stock) (stock.Readings, error) {
	var r stock.Readings
	at := named.FindAllStringSubmatchIndex(text, -1)
	if len(at) == 0 || strings.TrimSpace(text[:at[0][0]]) != "" {
		return r, fault.Inputf(readingsForm, "%q holds no reading that can be told", text)
	}
	lengths := map[string]*float64{"x": &r.Sides.W, "y": &r.Sides.H, "d1": &r.Falling, "d2": &r.Rising, "margin": &r.Margin}
	crosses := map[string]*geom.Point{"top": &r.Crosses.Top, "bottom": &r.Crosses.Bottom}
	seen := map[string]bool{}
	for i, m := range at {
		end := len(text)
		if i+1 < len(at) {
			end = at[i+1][0]
		}
		name, value := strings.ToLower(text[m[2]:m[3]]), strings.Trim(text[m[1]:end], " \t\r\n,;")
		if seen[name] {
			return r, fault.New(fault.Input, name, "it is given twice", "give each reading once")
		}
		seen[name] = true
		if strings.Trim(value, "_") == "" {
			return r, fault.New(fault.Input, name, "the reading is missing", "write what you read in place of the blank, or leave "+name+" out")
		}
		var err error
		switch {
		case lengths[name] != nil:
			*lengths[name], err = readLength(value)
		case crosses[name] != nil:
			*crosses[name], err = readCross(value)
		case name == "gain":
			r.OpenSlot, err = readSlot(value)
		default:
			err = fault.Inputf("the readings are x, y, d1, d2 and margin (ruler), gain (gain), top and bottom (duplex)", "there is no such reading")
		}
		if err != nil {
			return r, fault.At(name, err)
		}
	}
	if seen["margin"] && r.Margin <= 0 {
		return r, fault.New(fault.Input, "margin", "the first line stands 1 mm from the edge", "give the lowest number whose line is whole at all four edges, as in margin=5")
	}
	if seen["top"] != seen["bottom"] {
		return r, fault.New(fault.Input, "top, bottom", "one of them is missing", "read both crosses, as in top=0.5right/0.25up,bottom=0.25left/0down")
	}
	// A zero is a reading that was not taken; one that was given is no length.
	for _, name := range []string{"x", "y", "d1", "d2"} {
		if seen[name] && *lengths[name] == 0 {
			return r, fault.New(fault.Input, name, "it cannot be nothing", "measure it on the ruler, or leave it out with all the others of the ruler")
		}
	}
	if r.Sides != (geom.Size{}) || r.Falling != 0 || r.Rising != 0 {
		if r.Nominal = testsheet.RulerSize(paper); r.Nominal == (geom.Size{}) {
			return r, fault.New(fault.NoFit, "", "no ruler goes on "+paper.Key, "name the paper it was printed on")
		}
	}
	if seen["top"] {
		if r.Crosses.Apart = testsheet.CrossesApart(paper); r.Crosses.Apart == 0 {
			return r, fault.New(fault.NoFit, "", "no crosses go on "+paper.Key, "name the paper they were printed on")
		}
	}
	return r, nil
}

// readLength reads "181.08", "181,08 mm" or "18.1cm" as mm. What is negative is
// left to whoever knows what it should be.
func readLength(value string) (float64, error) {
	if v, ok := unit.Decimal(value); ok {
		return v, nil
	}
	mm, err := unit.ParseMillimetre(value)
	return float64(mm), err
}

func readSlot(value string) (int, error) {
	v, ok := unit.Decimal(strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(value, "s"), "dot")))
	if !ok || v != float64(int(v)) || v < 1 || v > stock.MostSlot {
		return 0, fault.Inputf("give the number of the narrowest slot that is open from end to end, 1 to 6, as in gain=2; if none is, use less ink and print the sheet again",
			"%q is no slot of the sheet", value)
	}
	return int(v), nil
}

// offset is one way and how far: "0.5right", "0.25 mm up".
var offset = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?)\s*(?:mm)?\s*(right|left|up|down)[\s/,]*`)

// readCross reads where a cross of the back lies: "0.5right/0.25up"; "0" is
// right behind. The ways are words: whoever must write a sign gets one wrong.
func readCross(value string) (geom.Point, error) {
	const form = "write how far and which way, as you see it from the front, both ways: 0.5right/0.25up; 0 if it lies right behind"
	var at geom.Point
	if v, ok := unit.Decimal(value); ok && v == 0 {
		return at, nil
	}
	var across, down bool
	for rest := strings.ToLower(value); rest != ""; {
		m := offset.FindStringSubmatch(rest)
		if m == nil {
			return at, fault.Inputf(form, "%q does not tell where the cross lies", value)
		}
		v, _ := unit.Decimal(m[1])
		aside := m[2] == "right" || m[2] == "left"
		if aside && across || !aside && down {
			return at, fault.Inputf(form, "%q goes the same way twice", value)
		}
		if m[2] == "left" || m[2] == "up" {
			v = -v
		}
		if aside {
			at.X, across = v, true
		} else {
			at.Y, down = v, true
		}
		rest = rest[len(m[0]):]
	}
	if !across || !down {
		return at, fault.Inputf(form, "%q tells one way of two", value)
	}
	return at, nil
}
