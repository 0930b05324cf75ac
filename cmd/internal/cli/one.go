package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

// oneResult is the JSON of one.
type oneResult struct {
	Rating  unit.Gram    `json:"rating_g"`
	BuiltIn unit.Gram    `json:"built_in_g"`
	Add     unit.Gram    `json:"add_g"`
	Metal   string       `json:"metal"`
	U       unit.Gram    `json:"uncertainty_g"`
	Step    unit.Gram    `json:"step_g"`
	Shot    string       `json:"shot,omitempty"`
	Tip     float64      `json:"tip_shift_mm"`
	ID      string       `json:"id,omitempty"`
	Code    string       `json:"code,omitempty"`
	Printed []string     `json:"printed"`
	Placed  string       `json:"placed"`
	Notices []job.Notice `json:"notices"`
	Out     string       `json:"out"`
	Files   []job.Output `json:"files"`
}

func (a *app) one() *cobra.Command {
	var s job.Single
	var out string
	cmd := &cobra.Command{
		Use:   "one LOAD --diameter MM",
		Short: "Print the mark of a single float, without a batch file",
		Long: "LOAD is what was hung on the float with its weight fitted: 0.8g, 1/8oz, 3AAA+2No4. Figures, steps\n" +
			"and uncertainty are worked out as for a batch. Nothing is recorded, so the mark bears no id and no\n" +
			"code, unless --record keeps the float or --id names the one it has.",
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			s.Load = args[0]
			shop, err := a.open()
			if err != nil {
				return err
			}
			progress, done := a.progress()
			m, err := shop.PlanOne(cmd.Context(), s, progress)
			var files []job.Output
			if err == nil {
				files, err = shop.PrintOne(cmd.Context(), m, out, progress)
			}
			done()
			if err != nil {
				return err
			}
			return a.writeOne(m, files, out)
		},
	}
	f := cmd.Flags()
	f.StringVar(&s.Diameter, "diameter", "", "of the body over its last colour coat, mm, at the lower edge of the mark")
	f.StringVar(&s.ToDiameter, "to-diameter", "", "of the body at the upper edge, mm (default: a parallel body)")
	f.StringVar(&s.Height, "height", "", "of the mark along the axis, mm (default 25)")
	f.StringVar(&s.From, "from", "", "lower edge of the mark over the base end, mm: told on the sheet (default 1)")
	f.StringVar(&s.TipAcross, "tip-diameter", "", "at the waterline, mm (default 3, or the body where that is thinner)")
	f.StringVar(&s.BuiltIn, "built-in", "", `weight built in, as in "7.2 g"`)
	f.StringVar(&s.Metal, "metal", "brass", "of the weight built in")
	f.BoolVar(&s.Outside, "outside", false, "the weight sits outside, in the water")
	f.StringVar(&s.Rating, "rating", "", "declared rating (default: what the figures come to)")
	f.StringVar(&s.Convention, "convention", "", "of the shot on the mark (default: the workshop's)")
	f.StringVar(&s.Hung, "hung", "", "metal of the shot hung, for a LOAD in grams (default: the convention's)")
	f.Float64Var(&s.TempC, "water", 15, "water temperature, degrees Celsius")
	f.Float64Var(&s.Salinity, "salinity", 0, "salinity; 0 is fresh water, 35 the open sea")
	f.StringVar(&s.Tip, "tip", "", "how the tip was wetted in the test: wet, dry, washed or unknown")
	f.StringVar(&s.Scale, "scale", "", `last digit of the scale, as in "0.01 g"`)
	f.StringVar(&s.Style, "mark", "full", "least or full")
	f.StringVar(&s.Line, "line", "", `how the line is fixed, as in "bottom end"`)
	f.StringVar(&s.Ring, "ring", "", `what a thin ring stands for, as in "0.5 g" (default: by the rating)`)
	f.StringVar(&s.Film, "film", "", "stock to print on: floatmark stocks")
	f.StringVar(&s.Maker, "maker", "", "name in the sheet's margin (default: the workshop's)")
	f.StringVar(&s.ID, "id", "none", "id the float has already, or none")
	f.StringVar(&s.Date, "date", "", "year-month-day (default: today)")
	f.BoolVar(&s.Record, "record", false, "keep a record and give an id, as a batch of one; see --name")
	f.StringVar(&s.Name, "name", "", "of the batch of one that --record keeps")
	f.StringVar(&out, "out", ".", "folder to write to")
	return cmd
}

func (a *app) writeOne(m *job.SingleMark, files []job.Output, out string) error {
	fp := m.Float
	r := oneResult{Rating: fp.Rating.Printed, BuiltIn: fp.Rating.BuiltIn, Add: fp.Rating.Add, Metal: fp.Rating.Metal.Name, U: fp.Rating.U,
		Step: fp.Rating.Step, ID: string(fp.Float.ID), Placed: fp.Placed(), Notices: m.Plan.Notices, Out: out, Files: files}
	if fp.Shot != nil {
		r.Shot, r.Tip = fp.Shot.Text(), float64(fp.Shot.TipShift)
	}
	if fp.Decal.CodeOn {
		r.Code = fp.Mark.Code
	}
	for _, l := range fp.Decal.Printed {
		r.Printed = append(r.Printed, l.Text)
	}
	if a.json {
		return a.writeJSON(r)
	}
	for _, l := range r.Printed {
		fmt.Fprintln(a.out, l)
	}
	fmt.Fprintf(a.out, "\nuncertainty %s, printed in steps of %s; %s\n", r.U.Text(0.001, unit.Style{}), r.Step.Text(0.001, unit.Style{}), r.Placed)
	if ring := m.Plan.File.Batch.Ring; ring > 0 {
		fmt.Fprintf(a.out, "thick ring %s, thin ring %s\n", (5*ring).Text(ring/10, unit.Style{}), ring.Text(ring/10, unit.Style{}))
	}
	for _, g := range grouped(r.Notices) {
		fmt.Fprintln(a.out, "  "+g)
	}
	fmt.Fprintln(a.out)
	for _, f := range files {
		fmt.Fprintln(a.out, filepath.Join(out, f.Name))
	}
	return nil
}
