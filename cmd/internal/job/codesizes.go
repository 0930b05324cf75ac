package job

import (
	"context"
	"encoding/json"
	"path/filepath"
	"strings"
	"time"

	"floatmark/label/record"
	"floatmark/layouts/legible"
	"floatmark/layouts/stock"
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
