package cli

import (
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (a *app) testsheet() *cobra.Command {
	cmd := &cobra.Command{Use: "testsheet", Short: "Sheets to measure your own materials and printers with"}
	cmd.AddCommand(a.stretch())
	for _, kind := range job.PrinterSheets() {
		sheet := a.printerSheet(kind)
		if kind == "codes" {
			a.codesRead(sheet)
		}
		cmd.AddCommand(sheet)
	}
	cmd.AddCommand(a.calibrate())
	return cmd
}

func (a *app) stretch() *cobra.Command {
	var film, out, flat string
	var dpi float64
	var show bool
	cmd := &cobra.Command{
		Use:   "stretch",
		Short: "How far a film stretches: print the bands, lay them round a ball, store what lay flat",
		Long: "Writes a sheet of bands for a table tennis ball (40 mm). The tallest that lies flat tells how far\n" +
			"the film stretches; store it with --lies-flat, and marks that ask for more are then told of.",
		Example: "  floatmark testsheet stretch --film a4-film-white --out stretch.pdf\n" +
			"  floatmark testsheet stretch --film a4-film-white --lies-flat 10mm\n" +
			"  floatmark testsheet stretch --show",
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			f := cmd.Flags()
			see := "see: " + cmd.CommandPath() + " --help"
			does := 0
			for _, name := range []string{"out", "lies-flat", "show"} {
				if f.Changed(name) {
					does++
				}
			}
			switch {
			case does != 1:
				return fault.New(fault.Input, "", "give one of --out, --lies-flat and --show", see)
			case f.Changed("dpi") && !f.Changed("out"):
				return fault.New(fault.Input, "--dpi", "only the sheet is printed", see)
			case show:
				return a.showLimits()
			case film == "":
				return fault.New(fault.Input, "--film", "the film is missing", "name one that this lists: floatmark stocks")
			case f.Changed("lies-flat"):
				return a.liesFlat(cmd, film, flat)
			}
			return a.toFile(out, "stretch.pdf", func(shop *job.Workshop) (job.Output, error) {
				return shop.WriteStretchSheet(cmd.Context(), film, dpi, out)
			})
		},
	}
	f := cmd.Flags()
	f.StringVar(&film, "film", "", "film or sticker, by its key in floatmark stocks")
	f.StringVar(&out, "out", "", "write the sheet to this PDF")
	f.Float64Var(&dpi, "dpi", 600, "dots an inch of the printer")
	f.StringVar(&flat, "lies-flat", "", `store that this band was the tallest to lie flat, as in "10 mm"`)
	f.BoolVar(&show, "show", false, "list the limits that were stored, and the estimates used without them")
	return cmd
}

func strainText(strain float64) string { return unit.Number(100*strain, 0.01, unit.Style{}) + " %" }

func bandText(h unit.Millimetre) string { return h.Text(0.1, unit.Style{}) }

func (a *app) liesFlat(cmd *cobra.Command, film, flat string) error {
	height, err := unit.ParseMillimetre(flat)
	if err != nil {
		return fault.At("--lies-flat", err)
	}
	shop, err := a.open()
	if err != nil {
		return err
	}
	l, err := shop.SetFilmLimit(cmd.Context(), film, height)
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(l)
	}
	fmt.Fprintf(a.out, "%s lies flat up to %s of stretch: the band of %s on a 40 mm ball; stored\n", l.Film, strainText(l.Limit), bandText(l.Height))
	return nil
}

// limitsResult is the JSON of --show.
type limitsResult struct {
	Measured []job.MeasuredLimit `json:"measured"`
	Defaults []job.DefaultLimit  `json:"defaults"`
}

func (a *app) showLimits() error {
	shop, err := a.open()
	if err != nil {
		return err
	}
	r := limitsResult{Measured: []job.MeasuredLimit{}, Defaults: job.DefaultLimits()}
	found, err := shop.FilmLimits()
	if err != nil {
		return err
	}
	r.Measured = append(r.Measured, found...)
	if a.json {
		return a.writeJSON(r)
	}
	t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "film\tlies flat up to\tfrom")
	for _, l := range r.Measured {
		fmt.Fprintf(t, "%s\t%s\tmeasured, the band of %s, %s\n", l.Film, strainText(l.Limit), bandText(l.Height), l.Made)
	}
	for _, l := range r.Defaults {
		fmt.Fprintf(t, "any %s\t%s\t%s\n", l.Kind, strainText(l.Limit), l.Source)
	}
	return t.Flush()
}
