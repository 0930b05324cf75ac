package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

func (a *app) trim() *cobra.Command {
	var q job.TrimQuestion
	cmd := &cobra.Command{
		Use:   "trim WEIGHT",
		Short: "How much to take off a built-in weight so that the float comes to an add, never past it",
		Long: "Says what to take off and what the next weighing should show, always short by all that the\n" +
			"readings leave open. A weight inside the hull uses up more of the load than its own mass.",
		Example: "  floatmark trim 7.2g --of brass --side inside --rod 6mm --takes 0.66g --metal lead --want 0.8g",
		Args:    exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Weight = args[0]
			t, err := job.Trim(q)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(t)
			}
			const step = unit.Gram(0.01) // as pocket scales show it
			now, u := t.Now.Apart(t.NowU, step, unit.Style{})
			fmt.Fprintf(a.out, "now %s to add, known to %s; wanted %s\n%s\n", now, u, t.Want.FixedText(step, unit.Style{}), t.Text)
			if t.Take > 0 {
				fmt.Fprintf(a.out, "the weight is then %s\n", t.Leaves.FixedText(step, unit.Style{}))
			}
			return nil
		},
	}
	f := cmd.Flags()
	f.StringVar(&q.Material, "of", "brass", `metal of the weight, as in brass or "putty:9.0"`)
	f.StringVar(&q.Side, "side", "", "inside the hull, or outside in the water")
	f.StringVar(&q.Rod, "rod", "", `diameter of the rod it is cut from, as in "6 mm": tells the length too`)
	f.StringVar(&q.Bore, "bore", "", `bore of the rod, as in "1.5 mm"`)
	f.StringVar(&q.Takes, "takes", "", "what hung when the tip stood at its mark, the weight fitted, weighed together")
	f.StringVar(&q.Bare, "bare", "", "or what the bare float took, before the weight was fitted")
	f.StringVar(&q.Want, "want", "", "the add that is wanted; 0g for a self-cocking float")
	f.StringVar(&q.Metal, "metal", "tin", "metal of the shot that hung and that is wanted")
	f.StringVar(&q.Tip, "tip", "", "how it was wetted: dry, wet or washed (a drop of washing-up liquid)")
	f.StringVar(&q.TipWide, "tip-wide", "", `its diameter at the waterline, as in "3 mm"`)
	f.StringVar(&q.Scale, "scale", "", `last digit of the scale (default "0.01 g")`)
	f.Float64Var(&q.TempC, "water", 15, "water temperature, degrees Celsius")
	f.Float64Var(&q.Salinity, "salinity", 0, "salinity; 0 is fresh water, 35 the open sea")
	return cmd
}
