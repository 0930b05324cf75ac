package job

import (
	"context"
	"os"
	"path/filepath"

	"floatmark/layouts/testsheet"
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// PrinterSheetPDF makes the test sheet that WritePrinterSheet writes.
func (w *Workshop) PrinterSheetPDF(ctx context.Context, o SheetOrder) ([]byte, error) {
	dir, err := os.MkdirTemp("", "floatmark-sheet-*")
	if err != nil {
		return nil, fault.New(fault.Machine, "", "there is no room for the sheet: "+reason(err), "make room on the disc", err)
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "sheet.pdf")
	if _, err := w.WritePrinterSheet(ctx, o, file); err != nil {
		return nil, err
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, machine(file, "cannot be read", err)
	}
	return data, nil
}

// RulerTrue is what the ruler on the stock of that key measures when a printer is
// true to scale: its sides, mm. Errors are Input for an unknown stock and NoFit for
// one that is too small for a ruler.
func (w *Workshop) RulerTrue(paper string) (x, y unit.Millimetre, err error) {
	s, err := w.paperOf(paper)
	if err != nil {
		return 0, 0, err
	}
	size := testsheet.RulerSize(s)
	if size.W == 0 {
		return 0, 0, fault.New(fault.NoFit, "", "no ruler goes on "+s.Key, "choose a larger paper, usually A4")
	}
	return unit.Millimetre(size.W), unit.Millimetre(size.H), nil
}

// CodeSize is one size of code on the test sheet of codes, as it is answered.
type CodeSize struct {
	Name   string // "7", or "7f" for one made square from the front
	Dots   int    // printer dots to a square
	Front  bool
	Dowels []unit.Millimetre // diameters that there are strips for
}

// CodeSizeChoices lists the sizes on the test sheet of codes for a calibrated
// printer, or for one of that many dots an inch; 0 is the printer's own, else 600.
// Errors are NotFound for a printer without a profile, and Input.
func (w *Workshop) CodeSizeChoices(printer string, dpi float64) ([]CodeSize, error) {
	dpi, err := w.dotsOf(printer, dpi)
	if err != nil {
		return nil, err
	}
	var all []CodeSize
	for _, z := range testsheet.Sizes(dpi) {
		one := CodeSize{Name: z.Name(), Dots: z.Dots, Front: z.Front}
		for _, d := range testsheet.Dowels() {
			if z.On(d, unit.MillimetresPerInch/dpi) {
				one.Dowels = append(one.Dowels, d)
			}
		}
		all = append(all, one)
	}
	return all, nil
}

// StretchBand is a band of the stretch test sheet: its height, and how far the film
// stretches where it lies flat on the ball, 0.02 is 2 %.
type StretchBand struct {
	Height unit.Millimetre
	Strain float64
}

// StretchBands lists the bands of the stretch test sheet, the lowest first.
func StretchBands() []StretchBand {
	var all []StretchBand
	for _, h := range testsheet.Bands() {
		all = append(all, StretchBand{h, wrap.BallStrain(wrap.BallDiameter, float64(h))})
	}
	return all
}
