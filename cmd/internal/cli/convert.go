package cli

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

func (a *app) convert() *cobra.Command {
	var q job.Question
	cmd := &cobra.Command{
		Use:   "convert LOAD",
		Short: "What makes a load in each convention: 4.2g, 1/8oz, 3AAA, 3AAA+2No4",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			q.Load = args[0]
			var err error
			if q.Own, err = a.own(); err != nil {
				return err
			}
			c, err := job.Convert(q)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(c)
			}
			if err := writeConversion(a.out, c); err != nil || q.Tip != "" {
				return err
			}
			_, err = fmt.Fprintln(a.out, "\nHow far the tip then stands from its mark is told with its diameter: --tip \"3 mm\".")
			return err
		},
	}
	cmd.Flags().StringVar(&q.Convention, "of", "gb-modern", "convention that a load in shot is written in, or a .toml or .csv file of your own")
	cmd.Flags().StringVar(&q.Metal, "metal", "", "metal of a load in grams (default: the convention's)")
	cmd.Flags().Float64Var(&q.TempC, "water", 15, "water temperature, degrees Celsius")
	cmd.Flags().Float64Var(&q.Salinity, "salinity", 0, "salinity; 0 is fresh water, 35 the open sea")
	cmd.Flags().StringVar(&q.Tip, "tip", "", `diameter at the waterline, as in "3 mm": tells how far the tip stands from its mark`)
	cmd.Flags().StringVar(&q.Market, "market", "", "leave out lead that may not be used there: GB, or a state as in US-NY")
	cmd.Flags().StringVar(&q.To, "to", "", "answer in this convention only (a key or a file)")
	cmd.Flags().StringVar(&q.Have, "have", "", `the shot there is, as in "AAA:4, BB:6, No.8" (any number of No.8), of --to or else --of`)
	cmd.Flags().StringVar(&q.Without, "without", "", `sizes to leave out, as in "No.3, No.5", of --to or else --of`)
	cmd.Flags().StringVar(&q.Fixed, "fixed", "", `how the line is fixed: "bottom end", "top and bottom" or "sliding"; arranges the shot on the line`)
	cmd.Flags().StringVar(&q.Shift, "shift", "", `how far the tip may stand from its mark (default "3 mm", with --tip)`)
	cmd.Flags().StringVar(&q.Tolerance, "tolerance", "", `what the total may miss by without --tip (default "0.02 g")`)
	cmd.Flags().IntVar(&q.MaxShots, "shots", 0, "the most shot (default 15)")
	cmd.Flags().BoolVar(&q.Unverified, "unverified", false, "use also sizes whose mass was not found in print")
	cmd.Flags().BoolVar(&q.Fine, "fine", false, "use the finest sizes freely, not only when nothing else is near enough")
	return cmd
}

// farOff is the part of a load from which on what comes nearest says nothing any
// more. Estimate.
const farOff = 0.2

// writeConversion writes the table, and below it, once, what was not used.
func writeConversion(w io.Writer, c job.Conversion) error {
	near := ""
	if c.Near {
		near = "near "
	}
	fmt.Fprintf(w, "%s%s of %s, %s: pulls %s under water\n", near, c.Gram.Text(0.001, unit.Style{}), c.Metal, c.Water,
		c.Pull.Text(0.001, unit.Style{}))
	for _, n := range c.Notices {
		fmt.Fprintln(w, "  "+n)
	}
	fmt.Fprintln(w)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "convention\tgrams\tshot\tis off by\tin one size\t")
	for _, row := range c.Rows {
		lines := row.Equivalents
		if len(lines) == 0 {
			none := job.ConversionChoice{Shot: "no shot makes it"}
			if row.Nearest != nil && math.Abs(float64(row.Nearest.Rest)) < farOff*float64(row.Gram) {
				none = job.ConversionChoice{Shot: "nearest: " + row.Nearest.Shot, Off: row.Nearest.Off, Note: row.Nearest.Note}
			}
			lines = []job.ConversionChoice{none}
		}
		name, gram, one := row.Name, row.Gram.Text(0.01, unit.Style{}), row.OneSize
		for _, e := range lines {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\n", name, gram, e.Shot, e.Off, one, e.Note)
			name, gram, one = "", "", ""
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	arranged(w, c.Rows)
	leftOut(w, c.Rows)
	if c.UpTo != nil {
		fmt.Fprint(w, "\nto\n\n")
		return writeConversion(w, *c.UpTo)
	}
	return nil
}

// arranged writes where the shot goes on the line.
func arranged(w io.Writer, rows []job.ConversionRow) {
	for _, row := range rows {
		if len(row.Arrangements) == 0 {
			continue
		}
		fmt.Fprintf(w, "\nOn the line, %s:\n", row.Name)
		for _, a := range row.Arrangements {
			share := ""
			if a.Share > 0 {
				share = fmt.Sprintf("; %s %% of it together", unit.Number(100*a.Share, 1, unit.Style{}))
			}
			fmt.Fprintf(w, "  %s (off by %s%s; after %s)\n", a.Text, a.Off, share, strings.Join(a.After, ", "))
		}
	}
}

// leftOut writes each reason once, with the sizes it holds for.
func leftOut(w io.Writer, rows []job.ConversionRow) {
	var order []string
	sizes := map[string][]string{}
	for _, row := range rows {
		for _, l := range row.LeftOut {
			if len(sizes[l.Because]) == 0 {
				order = append(order, l.Because)
			}
			sizes[l.Because] = append(sizes[l.Because], row.Name+" "+strings.Join(l.Sizes, " "))
		}
		for _, b := range row.Bounds {
			fmt.Fprintf(w, "\n%s: %s.\n", row.Name, b)
		}
	}
	if len(order) > 0 {
		fmt.Fprintln(w, "\nLeft out:")
	}
	for _, because := range order {
		fmt.Fprintf(w, "  %s\n    %s\n", because, strings.Join(sizes[because], "; "))
	}
}
