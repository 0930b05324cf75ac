package job

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"time"

	"floatmark/fonts"
	"floatmark/label/record"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/pdf"
	"floatmark/layouts/stock"
	"floatmark/layouts/testsheet"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// PrinterSheets are the test sheets for printers, by what they are called in
// commands, in the order in which they are best taken.
func PrinterSheets() []string { return []string{"ruler", "gain", "duplex", "codes"} }

func layoutOf(kind string) func(testsheet.Spec) ([]*draw.Sheet, error) {
	switch kind {
	case "ruler":
		return testsheet.Ruler
	case "gain":
		return testsheet.Gain
	case "duplex":
		return testsheet.Duplex
	case "codes":
		return testsheet.CodeSize
	}
	return nil
}

// SheetOrder asks for a test sheet for a printer.
type SheetOrder struct {
	Kind    string  // of PrinterSheets
	Paper   string  // key of the stock; "" is A4 paper
	DPI     float64 // dots an inch; 0 is the printer's own, else 600
	Printer string  // a calibrated one, to see what its profile left; "" for any
}

// WritePrinterSheet writes the test sheet to the file path, whole or not at all;
// the folder is made. The same order and profile, the same bytes. Errors are
// NotFound for a printer that has no profile, Input, NoFit and Machine.
func (w *Workshop) WritePrinterSheet(ctx context.Context, o SheetOrder, path string) (Output, error) {
	lay := layoutOf(o.Kind)
	if lay == nil {
		return Output{}, fault.New(fault.Ours, "", fmt.Sprintf("there is no test sheet %q", o.Kind), "")
	}
	paper, err := w.paperOf(o.Paper)
	if err != nil {
		return Output{}, err
	}
	s := testsheet.Spec{Stock: paper, Printer: stock.Plain()}
	if o.Printer != "" {
		m, err := w.known(o.Printer)
		if err != nil {
			return Output{}, err
		}
		s.Printer, s.Profile = m.printer(), m.Number
		if o.DPI != 0 && o.DPI != s.Printer.DPI {
			return Output{}, fault.New(fault.Input, "--dpi", "the profile of "+o.Printer+" is for "+unit.Number(s.Printer.DPI, 0.01, unit.Style{})+" dpi", "leave --dpi out")
		}
	} else if o.DPI != 0 {
		s.Printer.DPI = o.DPI
	}
	if s.Fonts, err = fonts.Default(); err != nil {
		return Output{}, err
	}
	if s.Words, err = w.words(); err != nil {
		return Output{}, err
	}
	sheets, err := lay(s)
	if err != nil {
		return Output{}, err
	}
	var buf bytes.Buffer
	if err := pdf.Write(&buf, draw.Document{Title: o.Kind + " test, " + paper.Name, Subject: s.Words.ActualSize, Sheets: sheets}); err != nil {
		return Output{}, err
	}
	return writeWhole(ctx, path, buf.Bytes())
}

func (w *Workshop) paperOf(key string) (stock.Stock, error) {
	if key == "" {
		key = paperKey
	}
	s, ok := w.stock(key)
	if !ok {
		return s, fault.New(fault.Input, "--paper", fmt.Sprintf("there is no stock %q", key), "name one that this lists: floatmark stocks")
	}
	return s, nil
}

// Calibration is what a maker gives to calibrate a printer.
type Calibration struct {
	Printer     string  // the maker's own name of it
	Measured    string  // the readings, as the test sheets say
	Paper       string  // key of the stock they were printed on; "" is A4 paper
	DPI         float64 // dots an inch; 0 is the profile's, else 600
	ReadTo      float64 // mm, how near lengths were read, give or take; 0 is stock.ReadTo
	CorrectedBy int     // number of the profile that the sheet was corrected by; 0 for a plain one
	WhiteInk    *bool   // nil leaves it as it was
}

// printerName is what a printer may be called: it is typed in commands and files.
var printerName = regexp.MustCompile(`^[\pL\pN][\pL\pN._-]{0,39}$`)

// CalibratePrinter works out the printer's profile from the readings and its
// profile so far, stores it and says what is left. Errors are Input for readings
// that cannot be, NotFound for a correction by a profile of a printer that has
// none, and Machine; nothing is stored then.
func (w *Workshop) CalibratePrinter(ctx context.Context, c Calibration) (MeasuredPrinter, error) {
	none := MeasuredPrinter{}
	if !printerName.MatchString(c.Printer) || c.Printer == stock.Plain().Name || c.Printer == "NAME" {
		return none, fault.New(fault.Input, "--printer", fmt.Sprintf("a printer cannot be called %q", c.Printer), "name it in one word of letters, figures and dashes, as in office")
	}
	paper, err := w.paperOf(c.Paper)
	if err != nil {
		return none, err
	}
	before, have, err := w.measured(c.Printer)
	switch {
	case err != nil:
		return none, err
	case c.CorrectedBy < 0:
		return none, fault.New(fault.Input, "--corrected-by", "profiles are numbered from 1", "give the number that the sheet names")
	case c.CorrectedBy > 0 && !have:
		return none, unknownPrinter(c.Printer)
	case c.CorrectedBy > 0 && c.CorrectedBy != before.Number:
		return none, fault.New(fault.Input, "--corrected-by", fmt.Sprintf("the sheet was corrected by profile %d of %s, which has profile %d now", c.CorrectedBy, c.Printer, before.Number), "print and measure the sheet again")
	}
	p := stock.Plain()
	if have {
		p = before.printer()
	}
	p.Name = c.Printer
	if c.DPI != 0 {
		p.DPI = c.DPI
	}
	r, err := parseReadings(c.Measured, paper)
	if err == nil {
		r.ReadTo, r.Corrected = c.ReadTo, c.CorrectedBy > 0
		if r.Corrected && r.Margin != 0 {
			err = fault.New(fault.Input, "margin", "a corrected sheet does not tell it", "read it on a sheet printed without --printer")
		}
	}
	if err == nil {
		p, err = p.Measured(r)
	}
	if err != nil {
		return none, fault.At("--measured", err)
	}
	if c.WhiteInk != nil {
		p.WhiteInk = *c.WhiteInk
	}
	now := time.Now().UTC()
	p.Calibrated = now.Format(time.DateOnly)
	data, err := json.Marshal(storedPrinter{printerFormat, profileOf(p), printerReadings{c.Measured, paper.Key, c.ReadTo, c.CorrectedBy}})
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
	made := now.Format(time.RFC3339)
	n, err := s.AddPrinter(record.Printer{Name: c.Printer, Made: made, Data: data}, before.Number)
	if err != nil {
		return none, err
	}
	m := MeasuredPrinter{Name: c.Printer, Number: n, Made: made, Profile: profileOf(p), Left: leftOf(p)}
	if r.Nominal != (geom.Size{}) {
		gap := unit.Round(math.Abs(stock.Closing(r.Sides, r.Falling, r.Rising)), 0.001)
		m.Closing = &gap
	}
	return m, nil
}

// Printer returns the present profile of the printer of that name; ok is false
// when it has none, or when the workshop has no records. It makes no workshop.
func (w *Workshop) Printer(name string) (p stock.Printer, ok bool, err error) {
	m, ok, err := w.measured(name)
	if err != nil || !ok {
		return stock.Printer{}, false, err
	}
	return m.printer(), true, nil
}

// Printers returns the present profile of every printer, by name. It makes no
// workshop.
func (w *Workshop) Printers() ([]MeasuredPrinter, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.Printers()
	if err != nil {
		return nil, err
	}
	var out []MeasuredPrinter
	for _, r := range all {
		m, err := printerOf(r)
		if err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// OnePrinter returns the present profile of the printer of that name, NotFound
// if it has none.
func (w *Workshop) OnePrinter(name string) (MeasuredPrinter, error) { return w.known(name) }

func (w *Workshop) known(name string) (MeasuredPrinter, error) {
	m, ok, err := w.measured(name)
	if err == nil && !ok {
		err = unknownPrinter(name)
	}
	return m, err
}

func unknownPrinter(name string) error {
	return fault.New(fault.NotFound, "", fmt.Sprintf("no printer %q was calibrated", name),
		"leave --printer out for a first sheet; those that were are listed by: floatmark testsheet calibrate --show")
}

func (w *Workshop) measured(name string) (MeasuredPrinter, bool, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return MeasuredPrinter{}, false, err
	}
	defer s.Close()
	r, ok, err := s.Printer(name)
	if err != nil || !ok {
		return MeasuredPrinter{}, false, err
	}
	m, err := printerOf(r)
	return m, err == nil, err
}
