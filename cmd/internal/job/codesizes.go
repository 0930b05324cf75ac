package job

import (
	"context"
	"encoding/json"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"floatmark/label/record"
	"floatmark/layouts/legible"
	"floatmark/layouts/stock"
	"floatmark/layouts/testsheet"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// codeSizesFormat is the version of storedCodeSizes that is written.
const codeSizesFormat = 1

// storedCodeSizes is the stored shape of an answer to the code-size test sheet.
type storedCodeSizes struct {
	Format  int        `json:"format"`
	DPI     float64    `json:"dpi"`
	Printer string     `json:"printer,omitempty"`
	Read    []ReadSize `json:"read"`
}

// ReadSize is down to which dowel one size of code was read.
type ReadSize struct {
	Size     string  `json:"size"`      // as on the sheet: "7", or "7f" for one made square from the front
	Dots     int     `json:"dots"`      // printer dots to a square
	Module   float64 `json:"module_mm"` // side of a square
	Front    bool    `json:"front"`
	Smallest float64 `json:"smallest_mm"` // the thinnest dowel that was read; 0 for none
}

// CodeAnswer is which codes a maker's own phones read, and what follows.
type CodeAnswer struct {
	Made    string     `json:"made"` // when it was noted, UTC, RFC 3339
	DPI     float64    `json:"dpi"`  // of the printer of the sheet
	Printer string     `json:"printer,omitempty"`
	Read    []ReadSize `json:"read"`
	// Plain and Front are how far rows may bow, in squares: legible.Limits. 0 where
	// nothing was read, so that the model's hold.
	Plain   float64  `json:"plain_limit"`
	Front   float64  `json:"front_limit"`
	Follows []string `json:"follows"` // what is made of it, in words
}

// CodesRead is what a maker types from the code-size test sheet.
type CodesRead struct {
	Reads   string  // "8=12 7=10 6=none 7f=8", or "none"
	Printer string  // the calibrated one that printed it; "" for any
	DPI     float64 // dots an inch; 0 is the printer's own, else 600
}

// SetCodeSizes stores which codes were read on which dowels; it counts from now
// on in place of what was stored before. Errors are Input for readings that cannot
// be, NotFound for a printer without a profile, and Machine; nothing is stored
// then.
func (w *Workshop) SetCodeSizes(ctx context.Context, c CodesRead) (CodeAnswer, error) {
	none := CodeAnswer{}
	dpi, err := w.dotsOf(c.Printer, c.DPI)
	if err != nil {
		return none, err
	}
	read, err := parseReads(c.Reads, dpi)
	if err != nil {
		return none, fault.At("--reads", err)
	}
	data, err := json.Marshal(storedCodeSizes{codeSizesFormat, dpi, c.Printer, read})
	if err != nil {
		return none, err
	}
	if err := ctx.Err(); err != nil {
		return none, err
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		return none, err
	}
	defer s.Close()
	r := record.CodeSizes{Made: time.Now().UTC().Format(time.RFC3339), Data: data}
	if err := s.SetCodeSizes(r); err != nil {
		return none, err
	}
	return answerOf(r)
}

// dotsOf is the resolution of a calibrated printer, or the one that was given.
func (w *Workshop) dotsOf(printer string, dpi float64) (float64, error) {
	p := stock.Plain()
	if printer != "" {
		m, err := w.known(printer)
		if err != nil {
			return 0, err
		}
		p = m.printer()
		if dpi != 0 && dpi != p.DPI {
			return 0, fault.New(fault.Input, "--dpi", "the profile of "+printer+" is for "+unit.Number(p.DPI, 0.01, unit.Style{})+" dpi", "leave --dpi out")
		}
	} else if dpi != 0 {
		p.DPI = dpi
	}
	return p.DPI, p.Sound()
}

// CodeSizes returns the present answer; ok is false when there is none. It makes
// no workshop.
func (w *Workshop) CodeSizes() (a CodeAnswer, ok bool, err error) {
	s, err := w.records()
	if err != nil || s == nil {
		return a, false, err
	}
	defer s.Close()
	r, ok, err := s.CodeSizes()
	if err != nil || !ok {
		return a, false, err
	}
	a, err = answerOf(r)
	return a, err == nil, err
}

func answerOf(r record.CodeSizes) (CodeAnswer, error) {
	const where = "readable code sizes"
	var c storedCodeSizes
	if err := json.Unmarshal(r.Data, &c); err != nil || c.Format < 1 {
		return CodeAnswer{}, fault.New(fault.Ours, where, "they are stored in a shape that is not known", "", err)
	}
	if c.Format > codeSizesFormat {
		return CodeAnswer{}, fault.New(fault.Input, where, "they were noted with a newer floatmark", "use the newer floatmark, or note them again")
	}
	var seen []legible.Seen
	for _, z := range c.Read {
		seen = append(seen, legible.Seen{Dots: z.Dots, Module: z.Module, Front: z.Front, Smallest: z.Smallest})
	}
	l := legible.LimitsOf(seen)
	return CodeAnswer{Made: r.Made, DPI: c.DPI, Printer: c.Printer, Read: c.Read, Plain: l.Plain, Front: l.Front, Follows: legible.Follows(seen)}, nil
}

// codeLimits returns how far rows of codes may bow for this workshop, and where
// that comes from: "" for the model.
func (w *Workshop) codeLimits() (limits legible.Limits, from string, err error) {
	a, ok, err := w.CodeSizes()
	if err != nil || !ok || a.Plain == 0 && a.Front == 0 {
		return limits, "", err
	}
	return legible.Limits{Plain: a.Plain, Front: a.Front}, "your own phones, " + day(a.Made), nil
}

// day is the date of a time in RFC 3339.
func day(made string) string {
	date, _, _ := strings.Cut(made, "T")
	return date
}

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
