package cli

import (
	"fmt"
	"math"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// printerSheet is the command that writes one test sheet for a printer.
func (a *app) printerSheet(kind string) *cobra.Command {
	short, long := aboutSheet(kind)
	o := job.SheetOrder{Kind: kind}
	var out string
	cmd := &cobra.Command{
		Use: kind, Short: short, Long: long,
		Example: "  floatmark testsheet " + kind + " --out " + kind + ".pdf\n  floatmark testsheet " + kind + " --out " + kind + ".pdf --printer office",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if cmd.Flags().Changed("printer") && o.Printer == "" {
				return fault.New(fault.Input, "--printer", "the printer has no name", "leave --printer out for a first sheet")
			}
			if cmd.Flags().Changed("dpi") && !(o.DPI > 0) {
				return fault.New(fault.Input, "--dpi", "a printer cannot have "+unit.Number(o.DPI, 0.01, unit.Style{})+" dots an inch", "give its dots an inch, usually 600")
			}
			return a.toFile(out, kind+".pdf", func(shop *job.Workshop) (job.Output, error) {
				return shop.WritePrinterSheet(cmd.Context(), o, out)
			})
		},
	}
	f := cmd.Flags()
	f.StringVar(&out, "out", "", "write the sheet to this PDF")
	f.StringVar(&o.Paper, "paper", "a4-paper", "what it is printed on, by its key in floatmark stocks")
	f.Float64Var(&o.DPI, "dpi", 600, "dots an inch of the printer")
	f.StringVar(&o.Printer, "printer", "", "a calibrated printer: the sheet shows what its profile leaves")
	// A printer's own resolution is known; the default is for those that are not.
	cmd.PreRun = func(cmd *cobra.Command, _ []string) {
		if !cmd.Flags().Changed("dpi") {
			o.DPI = 0
		}
	}
	return cmd
}

func aboutSheet(kind string) (short, long string) {
	switch kind {
	case "ruler":
		return "Scale, lean and blank margin of a printer: a rectangle to measure",
			"Writes a rectangle of 180 x 250 mm (on A4) with ticks and diagonals, and lines near the edges of\nthe sheet. It says on itself what to measure and which command stores it."
	case "gain":
		return "How far ink spreads: pale slots that it closes",
			"Writes pale slots of 1 to 6 printer dots in black. The narrowest that stays open tells how many\ndots the ink takes from a code; codes are then drawn thinner by as many."
	case "duplex":
		return "Where the back comes out: crosses on both sides of a sheet",
			"Writes a front and a back with crosses, for a sheet turned over its long edge."
	}
	return "Which codes read on which body: strips to wrap round dowels",
		"Writes codes in every size that marks use, plain and made square from the front, on strips for\ndowels of 6 to 16 mm; for a printer whose ink gain is known with that made up for, and once more as\nthey are drawn. Type with --reads the thinnest dowel on which each size read: 7=10 for plain squares\nof 7 dots, 7f=8 for those that say front, 6=none for a size that read on none. Codes are then chosen\nby what your own phones read."
}

func (a *app) calibrate() *cobra.Command {
	var c job.Calibration
	var show, white bool
	cmd := &cobra.Command{
		Use:   "calibrate",
		Short: "Store what was measured on the test sheets of a printer, and say what is left",
		Long: "Works out a printer's profile from readings of its test sheets (ruler, gain, duplex), stores it and\n" +
			"says what is made up for and what is left. Each sheet says on itself what to type; readings can be\n" +
			"given together or sheet by sheet, and what is not given stays as it was. All four lengths of the\n" +
			"ruler go together. Lengths are in mm unless they name their unit.\n\n" +
			"  x, y      the sides of the ruler, along the top and down the left side\n" +
			"  d1, d2    its diagonals, from top left and from bottom left\n" +
			"  margin    the lowest line that is whole at all four edges\n" +
			"  gain      the narrowest slot that is open, 1 to 6\n" +
			"  top, bottom  where the crosses of the back lie, seen from the front: 0.5right/0.25up",
		Example: "  floatmark testsheet calibrate --printer office --measured x=181.08,y=248.5,d1=308.24,d2=306.71,margin=5\n" +
			"  floatmark testsheet calibrate --printer office --measured gain=2\n" +
			"  floatmark testsheet calibrate --printer office --measured top=0.5right/0.25up,bottom=0.25left/0down\n" +
			"  floatmark testsheet calibrate --show",
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			f := cmd.Flags()
			see := "see: " + cmd.CommandPath() + " --help"
			switch {
			case show && f.Changed("measured") || !show && !f.Changed("measured"):
				return fault.New(fault.Input, "", "give one of --measured and --show", see)
			case show:
				return a.showPrinters(c.Printer)
			case c.Printer == "":
				return fault.New(fault.Input, "--printer", "the printer is missing", "name it, in one word of your own, as in --printer office")
			}
			for _, name := range []string{"dpi", "read-to-mm", "corrected-by"} {
				if v := f.Lookup(name).Value.String(); f.Changed(name) && v == "0" {
					return fault.New(fault.Input, "--"+name, "it cannot be 0", "leave it out, or see: "+cmd.CommandPath()+" --help")
				}
			}
			if f.Changed("white-ink") {
				c.WhiteInk = &white
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			m, err := shop.CalibratePrinter(cmd.Context(), c)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(m)
			}
			fmt.Fprintf(a.out, "%s: profile %d stored\n", m.Name, m.Number)
			if m.Closing != nil {
				const told = 0.05 // mm: nearer than that no rule is read
				fmt.Fprintf(a.out, "Sides and diagonals of the ruler go together within %s.\n", unit.Millimetre(max(told, *m.Closing)).Text(0.01, unit.Style{}))
			}
			a.say(m.Left)
			return nil
		},
	}
	f := cmd.Flags()
	f.StringVar(&c.Printer, "printer", "", "the printer, in one word of your own")
	f.StringVar(&c.Measured, "measured", "", "the readings, as the sheet says: x=181.08,y=248.5,d1=308.24,d2=306.71")
	f.StringVar(&c.Paper, "paper", "a4-paper", "what the sheet was printed on")
	f.Float64Var(&c.DPI, "dpi", 0, "dots an inch of the printer (default: as known, else 600)")
	f.Float64Var(&c.ReadTo, "read-to-mm", 0, "how near lengths were read, give or take, mm (default: 0.25)")
	f.IntVar(&c.CorrectedBy, "corrected-by", 0, "number of the profile the sheet was corrected by, if it names one")
	f.BoolVar(&white, "white-ink", false, "the printer prints white under colours")
	f.BoolVar(&show, "show", false, "list the printers that were calibrated; with --printer, say what is left")
	return cmd
}

func (a *app) say(lines []string) {
	for _, l := range lines {
		fmt.Fprintln(a.out, l)
	}
}

func (a *app) showPrinters(name string) error {
	shop, err := a.open()
	if err != nil {
		return err
	}
	if name != "" {
		m, err := shop.OnePrinter(name)
		if err != nil {
			return err
		}
		if a.json {
			return a.writeJSON(m)
		}
		if err := a.printerTable([]job.MeasuredPrinter{m}); err != nil {
			return err
		}
		fmt.Fprintln(a.out)
		a.say(m.Left)
		return nil
	}
	all, err := shop.Printers()
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(append([]job.MeasuredPrinter{}, all...))
	}
	if len(all) == 0 {
		fmt.Fprintln(a.out, "no printer was calibrated yet; begin with: floatmark testsheet ruler --out ruler.pdf")
		return nil
	}
	return a.printerTable(all)
}

func (a *app) printerTable(all []job.MeasuredPrinter) error {
	number := func(v, step float64) string { return unit.Number(v, step, unit.Style{}) }
	t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "printer\tprofile\tcalibrated\tdpi\tscale across\tdown\tlean, degrees\tink gain\tmargin\twhite ink")
	for _, m := range all {
		p := m.Profile
		gain, white := "-", "no"
		if p.UGain > 0 {
			gain = unit.Millimetre(p.Gain).Text(0.001, unit.Style{})
		}
		if p.WhiteInk {
			white = "yes"
		}
		x, y, lean := "-", "-", "-"
		if p.UScaleX > 0 {
			x, y, lean = number(p.ScaleX, 0.0001), number(p.ScaleY, 0.0001), number(p.Shear*180/math.Pi, 0.01)
		}
		fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", m.Name, m.Number, p.Calibrated, number(p.DPI, 0.01), x, y, lean, gain, unit.Millimetre(p.Margin).Text(0.1, unit.Style{}), white)
	}
	return t.Flush()
}
