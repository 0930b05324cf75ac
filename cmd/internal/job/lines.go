package job

import (
	"floatmark/layouts/legible"
)

// LineReport is how well one printed line reads, as the first float that has it
// in its pattern shows it.
type LineReport struct {
	Float    int      `json:"float"`
	Pattern  string   `json:"pattern"`
	Text     string   `json:"text"`
	Cap      float64  `json:"capitals_mm"`
	Stroke   float64  `json:"stroke_mm"`
	Dots     float64  `json:"stroke_dots,omitempty"` // 0 where no printer makes it
	Contrast float64  `json:"contrast"`
	Edge     float64  `json:"edge_share"` // how wide letters at its ends look, a share of their width
	Grade    string   `json:"grade"`      // "ok", "warn" or "fail"
	Why      []string `json:"why,omitempty"`
	line     legible.Line
}

// Line says it in a line.
func (r LineReport) Line() string { return r.line.String() }

// LineReports judges every printed line of the first float of each pattern, the
// worst first.
func (p *Plan) LineReports() []LineReport {
	var all []LineReport
	for _, fp := range p.firsts() {
		for _, piece := range fp.Decal.Pieces {
			for _, l := range piece.Lines {
				all = append(all, LineReport{fp.Float.Number, fp.Float.Pattern.Key, l.Text, l.Cap, l.Stroke, l.Dots, l.Contrast, l.Edge, l.Grade.String(), l.Why, l})
			}
		}
	}
	return all
}
