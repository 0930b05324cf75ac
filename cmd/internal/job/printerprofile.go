package job

import (
	"encoding/json"
	"math"

	"floatmark/label/record"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// printerFormat is the version of storedPrinter that is written.
const printerFormat = 1

// storedPrinter is the stored shape of a printer: its profile, and the readings
// it was worked out from.
type storedPrinter struct {
	Format  int             `json:"format"`
	Profile PrinterProfile  `json:"profile"`
	From    printerReadings `json:"from"`
}

type printerReadings struct {
	Measured    string  `json:"measured"`
	Paper       string  `json:"paper"`
	ReadTo      float64 `json:"read_to_mm,omitempty"`
	CorrectedBy int     `json:"corrected_by,omitempty"`
}

// PrinterProfile is stock.Printer as JSON: scales are printed over nominal, an
// uncertainty is a standard one and 0 for what was not measured.
type PrinterProfile struct {
	DPI        float64 `json:"dpi"`
	ScaleX     float64 `json:"scale_x"`
	ScaleY     float64 `json:"scale_y"`
	Shear      float64 `json:"shear_rad"`
	Margin     float64 `json:"margin_mm"`
	Gain       float64 `json:"gain_mm"`
	WhiteInk   bool    `json:"white_ink"`
	BackX      float64 `json:"back_x_mm"`
	BackY      float64 `json:"back_y_mm"`
	BackTurn   float64 `json:"back_turn_rad"`
	Calibrated string  `json:"calibrated"`
	UScaleX    float64 `json:"u_scale_x"`
	UScaleY    float64 `json:"u_scale_y"`
	UShear     float64 `json:"u_shear_rad"`
	UGain      float64 `json:"u_gain_mm"`
	UBack      float64 `json:"u_back_mm"`
	UTurn      float64 `json:"u_back_turn_rad"`
}

// MeasuredPrinter is a printer as a maker calibrated it.
type MeasuredPrinter struct {
	Name    string         `json:"name"`
	Number  int            `json:"number"` // which profile of the name it is, from 1
	Made    string         `json:"made"`   // when it was noted, UTC, RFC 3339
	Profile PrinterProfile `json:"profile"`
	Closing *float64       `json:"closing_mm,omitempty"` // by how much sides and diagonals disagree, if they were just read
	Left    []string       `json:"left"`                 // what is made up for and what is left, in words
}

func profileOf(p stock.Printer) PrinterProfile {
	return PrinterProfile{DPI: p.DPI, ScaleX: p.ScaleX, ScaleY: p.ScaleY, Shear: p.Shear, Margin: p.Margin, Gain: p.Gain, WhiteInk: p.WhiteInk,
		BackX: p.Duplex.X, BackY: p.Duplex.Y, BackTurn: p.Duplex.Turn, Calibrated: p.Calibrated,
		UScaleX: p.U.ScaleX, UScaleY: p.U.ScaleY, UShear: p.U.Shear, UGain: p.U.Gain, UBack: p.U.Duplex, UTurn: p.U.Turn}
}

func (m MeasuredPrinter) printer() stock.Printer {
	p := m.Profile
	return stock.Printer{Name: m.Name, DPI: p.DPI, ScaleX: p.ScaleX, ScaleY: p.ScaleY, Shear: p.Shear, Margin: p.Margin, Gain: p.Gain, WhiteInk: p.WhiteInk,
		Duplex: stock.Offset{X: p.BackX, Y: p.BackY, Turn: p.BackTurn}, Calibrated: p.Calibrated,
		U: stock.Uncertainty{ScaleX: p.UScaleX, ScaleY: p.UScaleY, Shear: p.UShear, Gain: p.UGain, Duplex: p.UBack, Turn: p.UTurn}}
}

func printerOf(r record.Printer) (MeasuredPrinter, error) {
	var p storedPrinter
	if err := json.Unmarshal(r.Data, &p); err != nil || p.Format < 1 {
		return MeasuredPrinter{}, fault.New(fault.Ours, "printer "+r.Name, "it is stored in a shape that is not known", "", err)
	}
	if p.Format > printerFormat {
		return MeasuredPrinter{}, fault.New(fault.Input, "printer "+r.Name, "it was calibrated with a newer floatmark", "use the newer floatmark, or calibrate it again")
	}
	m := MeasuredPrinter{Name: r.Name, Number: r.Number, Made: r.Made, Profile: p.Profile}
	m.Left = leftOf(m.printer())
	return m, m.printer().Sound()
}

const (
	// wrapLength is what is told of errors: a mark that goes round a large body, mm.
	wrapLength = 60.0
	// aim is what a calibrated printer should be off on wrapLength, mm. It is
	// ours: an overlap takes it up unseen.
	aim = 0.15
	// backLength is from the middle of A4 to the middle of its shorter edges, mm.
	backLength = 148.5
	// gainShare is the gain at an edge that a code's square bears: of pictures of
	// codes of 21 and 25 squares with such a gain all were read, of those with
	// twice as much not all.
	gainShare = 0.10
)

// leftOf says what is known of a printer, what is made up for and what is left.
func leftOf(p stock.Printer) []string {
	mm := func(v float64) string { return unit.Millimetre(v).Text(0.01, unit.Style{}) }
	number := func(v, step float64) string { return unit.Number(v, step, unit.Style{}) }
	l := p.Left(wrapLength)
	var out []string
	say := func(s string) { out = append(out, s) }
	if p.U.ScaleX == 0 {
		say("Scale: not measured, taken as true; measure it with: floatmark testsheet ruler --out ruler.pdf")
	} else {
		say("Scale: it prints " + percent(p.ScaleX) + " across and " + percent(p.ScaleY) + " down, and " + leanOf(p.Shear) + "; sheets are drawn to make up for it.")
		say("Left on a mark of " + mm(wrapLength) + ", 19 times in 20: " + mm(l.X) + " across, " + mm(l.Y) + " down, " + mm(l.Shear) + " by the lean.")
		if worst := max(l.X, l.Y, l.Shear); worst > aim {
			say("That is more than the " + mm(aim) + " to aim at: read the ruler nearer, and say so with --read-to-mm.")
		}
		// A table of dimensional stability of bond paper: 0.1 to 0.2 % with the
		// grain, 0.2 to 0.4 % across it.
		say("Paper itself grows and shrinks by 0.1 to 0.4 % with the damp of the air: nearer than that no sheet stays.")
	}
	if p.U.Gain == 0 {
		say("Ink gain: not measured, codes are drawn as they are; measure it with: floatmark testsheet gain --out gain.pdf")
	} else {
		n := p.Reduction()
		least := math.Ceil(l.Gain/(gainShare*p.Dot()) - 1e-9)
		say("Ink gain: " + unit.Millimetre(p.Gain).Text(0.001, unit.Style{}) + " an edge; " + number(float64(n), 1) + plural(n, " dot", " dots") + " off every dark run of a code. At most " +
			unit.Millimetre(l.Gain).Text(0.001, unit.Style{}) + " an edge is left, which squares of " + number(least, 1) + " dots and more bear.")
	}
	if p.U.Duplex == 0 {
		say("Front and back: not measured; if you print both sides: floatmark testsheet duplex --out duplex.pdf")
	} else {
		say("Front and back: the back comes out " + way(p.Duplex.X, "right", "left") + " and " + way(p.Duplex.Y, "down", "up") + ", turned by " + number(p.Duplex.Turn*180/math.Pi, 0.01) +
			" degrees; backs are drawn to make up for it. Left, 19 times in 20: " + mm(p.Left(0).Back) + " in the middle of the sheet, " + mm(p.Left(backLength).Back) + " at the ends of A4.")
	}
	return out
}

// percent says a scale in words: "0.6 % too large".
func percent(k float64) string {
	const step = 0.01 // per cent
	switch v := unit.Round(100*(k-1), step); {
	case v > 0:
		return unit.Number(v, step, unit.Style{}) + " % too large"
	case v < 0:
		return unit.Number(-v, step, unit.Style{}) + " % too small"
	}
	return "true to scale"
}

// leanOf says a shear in words.
func leanOf(shear float64) string {
	const step = 0.01 // degrees
	v := unit.Round(shear*180/math.Pi, step)
	to := " degrees, the bottom to the right"
	if v < 0 {
		v, to = -v, " degrees, the bottom to the left"
	}
	if v == 0 {
		return "does not lean"
	}
	return "leans by " + unit.Number(v, step, unit.Style{}) + to
}

func way(v float64, more, less string) string {
	if v < 0 {
		v, more = -v, less
	}
	return unit.Millimetre(v).Text(0.01, unit.Style{}) + " " + more
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
