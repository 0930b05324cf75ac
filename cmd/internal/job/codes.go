package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
	"floatmark/layouts/proof"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// CodeReport is how the code of some floats is printed and why.
type CodeReport struct {
	Floats []int  `json:"floats"` // numbers of those it is said of
	On     string `json:"on"`     // "float" or "card"
	// Reads is "anyhow" (however the phone is held), "square" (held square to the
	// float) or "" for a code on the card.
	Reads   string   `json:"reads,omitempty"`
	Version int      `json:"version,omitempty"`
	Level   string   `json:"level,omitempty"`
	Dots    int      `json:"dots,omitempty"`      // printer dots to a square
	Module  float64  `json:"module_mm,omitempty"` // side of a square
	Widened bool     `json:"widened,omitempty"`   // so as to look square from the front
	Quiet   int      `json:"quiet,omitempty"`     // squares of pale edge
	Why     []string `json:"why"`                 // what was chosen and why, in order
	Model   string   `json:"model,omitempty"`     // what the pictures were made with
	// Expected is the contrast to expect of a code on the float.
	Expected CodeContrast `json:"expected_contrast,omitzero"`
}

// CodeContrast is how far the colours that are planned for a code stand apart,
// with the grades that a verifier gives for that one figure. Nothing is measured:
// a verifier looks at the print, and grades by the worst of several figures.
type CodeContrast struct {
	Symbol      float64 `json:"symbol_percent"` // symbol contrast, ISO/IEC 15415
	SymbolGrade string  `json:"symbol_grade"`   // A to F
	Cells       float64 `json:"cell_percent"`   // cell contrast, ISO/IEC 29158
	CellGrade   string  `json:"cell_grade"`
}

// contrastOf is the contrast to expect of a code on what it is seen on: black is
// printed, and on clear film the paint shows.
func (p *Plan) contrastOf(fp *FloatPlan) CodeContrast {
	const step = 0.1 // percent: colours are known no better
	light, dark := fp.Decal.Code.Ground, legible.Printed(draw.Black, p.film.Colour, p.film.Clear, draw.Ink(fp.Float.Pattern.Ground))
	symbol, cells := unit.Round(legible.SymbolContrast(dark, light), step), unit.Round(legible.CellContrast(dark, light), step)
	return CodeContrast{symbol, legible.GradeOfSymbolContrast(symbol).String(), cells, legible.GradeOfCellContrast(cells).String()}
}

// Text says it in a line; "" for a code that is not on the float.
func (c CodeContrast) Text() string {
	if c == (CodeContrast{}) {
		return ""
	}
	percent := func(v float64) string { return unit.Number(v, 1, unit.Style{}) + " %" }
	return fmt.Sprintf("contrast to expect of these colours, not measured: %s, by that alone grade %s of ISO/IEC 15415; as a share of the ground %s, grade %s of ISO/IEC 29158",
		percent(c.Symbol), c.SymbolGrade, percent(c.Cells), c.CellGrade)
}

// Reads is a grade in a word: how the phone may be held.
func Reads(grade string) string {
	switch grade {
	case legible.Casual:
		return "anyhow"
	case legible.Aim:
		return "square"
	}
	return ""
}

// CodeReports says of all floats that ask for a code how it is printed and why,
// those of which the same holds together.
func (p *Plan) CodeReports() []CodeReport {
	var all []CodeReport
	at := map[string]int{}
	for _, fp := range p.Floats {
		r, ok := p.codeReport(&fp)
		if !ok {
			continue
		}
		key := fmt.Sprintf("%+v", r)
		i, seen := at[key]
		if !seen {
			i = len(all)
			at[key] = i
			all = append(all, r)
		}
		all[i].Floats = append(all[i].Floats, fp.Float.Number)
	}
	return all
}

func (p *Plan) codeReport(fp *FloatPlan) (CodeReport, bool) {
	if fp.Mark.Code == "" {
		return CodeReport{}, false
	}
	if c := fp.Decal.Code; c != nil {
		why := slices.Concat(c.Reasons, c.Proved)
		return CodeReport{On: "float", Reads: Reads(c.Grade), Version: c.Matrix.Version, Level: c.Matrix.Level.String(), Dots: c.Dots, Module: c.Module,
			Widened: c.Front(), Quiet: c.Quiet, Why: why, Model: proof.Model, Expected: p.contrastOf(fp)}, true
	}
	why := "its pattern shows none on the float"
	for _, n := range fp.Decal.Notices {
		if n.Code == decal.OnCard {
			why = n.Text
		}
	}
	return CodeReport{On: "card", Why: []string{why}}, true
}

// Line says it in a line.
func (r CodeReport) Line() string {
	if r.On == "card" {
		return "on the card"
	}
	held := "read when the phone is held square to them"
	if r.Reads == "anyhow" {
		held = "read however the phone is held"
	}
	size := unit.Millimetre(r.Module).Text(0.01, unit.Style{})
	if r.Widened {
		size += ", widened to look square from the front"
	}
	return fmt.Sprintf("on the float, version %d-%s, squares of %s: %s", r.Version, r.Level, size, held)
}

// HostCost is what a host costs in body: the thinnest one that its code goes on.
type HostCost struct {
	Name    string `json:"name"` // the host, or what it is compared with
	Letters int    `json:"letters"`
	Version int    `json:"version"`
	Level   string `json:"level"`
	// Diameters by the closed form, mm, in the printer's middle size of squares.
	Module unit.Millimetre `json:"module_mm"`
	Square unit.Millimetre `json:"square_mm"` // the phone held square to the float
	Anyhow unit.Millimetre `json:"anyhow_mm"` // held as it comes
}

// hostSteps are the lengths of host up to which a code has one size: links have
// 15 letters beside the host, and a version 1 holds 20 at M and 25 at L, a version
// 2 38 at M and 47 at L (ISO/IEC 18004, table of capacities).
var hostSteps = []int{5, 10, 23, 32}

// DefaultDPI is the dots an inch of a printer of which nothing is said.
const DefaultDPI = batch.DefaultDPI

// HostCosts tells what a host costs, and for comparison hosts of the lengths at
// which the cost changes; dpi is the printer's.
func HostCosts(host string, dpi float64) ([]HostCost, error) {
	host, err := batch.HostName(host)
	if err != nil {
		return nil, err
	}
	one, err := hostCost(host, dpi)
	if err != nil {
		return nil, err
	}
	all := []HostCost{one}
	for _, n := range hostSteps {
		other, err := hostCost(strings.Repeat("x", n), dpi)
		if err != nil {
			return nil, err
		}
		other.Name = "any up to"
		all = append(all, other)
	}
	return all, nil
}

func hostCost(host string, dpi float64) (HostCost, error) {
	c := HostCost{Name: host, Letters: len(host)}
	m, err := symbol.QR(label.Link(label.Maker{Host: host}, sampleID, loading.Rating{}))
	if err != nil {
		return c, err
	}
	rungs := legible.Ladder(dpi)
	if len(rungs) == 0 {
		return c, fault.Inputf("give a printer's dots an inch, usually 600", "no code can be made of %s dots an inch", unit.Number(dpi, 1, unit.Style{}))
	}
	r := rungs[len(rungs)/2]
	c.Version, c.Level, c.Module = m.Version, m.Level.String(), unit.Millimetre(r.Module)
	from := func(tilt float64) unit.Millimetre {
		plain := legible.Form{N: m.N, Level: m.Level, Module: r.Module}
		front := plain
		front.Front = true
		return unit.Millimetre(math.Min(plain.MinDiameter(tilt), front.MinDiameter(tilt)))
	}
	c.Square, c.Anyhow = from(legible.AimTilt), from(legible.CasualTilt)
	return c, nil
}

// sampleID is an id of the usual length.
const sampleID = "9KYA3C"

// hostNotice tells what a long host costs; nothing where the code is as small as
// codes get.
func (p *Plan) hostNotice() []Notice {
	host := p.File.Batch.Maker.Host
	if host == "" || !slices.ContainsFunc(p.Floats, func(fp FloatPlan) bool { return fp.Mark.Code != "" }) {
		return nil
	}
	mine, err := hostCost(host, p.print.DPI)
	if err != nil || mine.Version == 1 {
		return nil
	}
	short, err := hostCost(strings.Repeat("x", hostSteps[1]), p.print.DPI)
	if err != nil {
		return nil
	}
	const step = 0.5
	return []Notice{{0, "host", fmt.Sprintf("the host %s costs thickness: its codes want a body of about %s, and with a host of %d letters or fewer %s would do (held square to the phone)",
		host, p.words.Millimetre(mine.Square, step), hostSteps[1], p.words.Millimetre(short.Square, step))}}
}
