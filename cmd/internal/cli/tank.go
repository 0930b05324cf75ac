package cli

import (
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

func (a *app) tank() *cobra.Command {
	cmd := &cobra.Command{Use: "tank", Short: "Keep what the test tank said, and combine it"}
	cmd.AddCommand(a.tankAdd(), a.tankImport(), a.tankShow())
	return cmd
}

func (a *app) tankAdd() *cobra.Command {
	var n job.Noted
	var key string
	cmd := &cobra.Command{
		Use:   "add (BATCH.toml NUMBER | ID) READING",
		Short: "Store a reading of one float: 0.85g, or 3AAA+2No4 as hung",
		Long: "Stores a reading in the workshop's records; readings are only ever added. What the flags do\n" +
			"not say is taken from [tank] of the batch file. A float named by the id it bears is read in\n" +
			"the water its figures hold for; say its stage and the metal that hung.",
		Args: args(cobra.RangeArgs(2, 3)),
		RunE: func(cmd *cobra.Command, args []string) error {
			path := ""
			if n.Reading = args[len(args)-1]; len(args) == 3 {
				path, n.Number = args[0], args[1]
			} else {
				n.ID = args[0]
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			added, err := shop.AddReading(path, n, key)
			if err != nil {
				return err
			}
			return a.tankAdded(added)
		},
	}
	f := cmd.Flags()
	f.StringVar(&n.Stage, "stage", "", "how far it was made: bare, beneath (weight hung beneath it), fitted, varnished")
	f.StringVar(&n.Metal, "metal", "", `metal that hung, as in lead, tin or "putty:9.0"`)
	f.StringVar(&n.Tip, "tip", "", "dry, wet or washed (a drop of washing-up liquid)")
	f.StringVar(&n.TipDiameter, "tip-mm", "", "diameter of the tip at its mark, mm")
	f.StringVar(&n.Above, "above-mm", "", "how far the tip stood above its mark, mm; below it is negative")
	f.StringVar(&n.ReadTo, "read-to-mm", "", "how near the tip was read, mm")
	f.StringVar(&n.Scale, "scale", "", `last digit of the scale, as in "0.01 g"`)
	f.StringVar(&n.With, "with", "", `what hung with the shot for the test, as in "swivel 0.3 g brass"`)
	f.StringVar(&n.Water, "water", "", "water temperature, degrees Celsius")
	f.StringVar(&n.Salinity, "salinity", "", "salinity; 0 is fresh water, 35 the open sea")
	f.StringVar(&n.Date, "date", "", "day of the test (default: today)")
	f.StringVar(&n.By, "by", "", "who read it")
	f.StringVar(&n.Note, "note", "", "anything worth knowing")
	f.StringVar(&key, "key", "", "store the reading once under this key, however often this is run")
	return cmd
}

func (a *app) tankImport() *cobra.Command {
	return &cobra.Command{
		Use:   "import READINGS.csv [BATCH.toml]",
		Short: "Store the readings of a spreadsheet; importing it again adds nothing",
		Long: "Columns: number (with BATCH.toml) or id, reading, and as needed stage, metal, water_c, salinity,\n" +
			"tip, tip_mm, above_mm, read_to_mm, scale, with, date, by, note. Lines that say the same are repeats.",
		Args: args(cobra.RangeArgs(1, 2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			path := ""
			if len(args) == 2 {
				path = args[1]
			}
			added, err := shop.ImportReadings(args[0], path)
			if err != nil {
				return err
			}
			return a.tankAdded(added)
		},
	}
}

func (a *app) tankShow() *cobra.Command {
	return &cobra.Command{
		Use:   "show [ID | BATCH]",
		Short: "Show stored readings, repeats combined: of a float, of a batch by name or file, or all",
		Args:  args(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			what := ""
			if len(args) == 1 {
				what = args[0]
			}
			r, err := shop.Tank(what)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(r)
			}
			return a.tankTable(r)
		},
	}
}

func (a *app) tankAdded(t job.TankAdded) error {
	if a.json {
		return a.writeJSON(t)
	}
	fmt.Fprintf(a.out, "%d stored, %d known before\n\n", t.Added, t.Known)
	return a.tankTable(job.TankReport{Floats: t.Floats})
}

// tankTable writes a line for each float and stage, its readings below it when
// there are several, and what is to be told.
func (a *app) tankTable(r job.TankReport) error {
	const step = unit.Gram(0.001) // finer than any scale at a tank
	gram := func(m unit.Gram) string { return m.FixedText(step, unit.Style{}) }
	t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "batch\tno.\tid\tstage\treadings\tload\tgive or take\tmetal and water")
	for _, f := range r.Floats {
		load, u := f.Mass.Apart(f.U, step, unit.Style{})
		fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%d\t%s\t%s\t%s, %s\n", f.Batch, f.Number, f.ID, f.Stage, len(f.Readings), load, u, f.Metal, f.Water)
		for i, one := range f.Readings {
			if len(f.Readings) > 1 {
				fmt.Fprintf(t, "\t\t\t\t%d: %s\tpulls %s\toff %s\t%s %s %s\n", i+1, one.Noted, gram(one.Pull), gram(one.Off), one.Date, one.By, one.Note)
			}
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, f := range r.Floats {
		for _, told := range f.Told {
			fmt.Fprintf(a.out, "float %d of %s, %s: %s\n", f.Number, f.Batch, f.Stage, told)
		}
	}
	for _, l := range r.Allowances {
		pull, u := l.Pull.Apart(l.U, step, unit.Style{})
		fmt.Fprintf(a.out, "finishing a %s takes %s of its load, give or take %s (%s); in its [[pattern]]: allowance = \"%s\"\n",
			l.Pattern, pull, u, l.From, l.Pull.Sure(l.U, step, unit.Style{}))
	}
	return nil
}
