package cli

import (
	"fmt"
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
			near := ""
			if c.Near {
				near = "near "
			}
			fmt.Fprintf(a.out, "%s%s of %s, %s: pulls %s under water\n", near, c.Gram.Text(0.001, unit.Style{}), c.Metal, c.Water,
				c.Pull.Text(0.001, unit.Style{}))
			for _, n := range c.Notices {
				fmt.Fprintln(a.out, "  "+n)
			}
			fmt.Fprintln(a.out)
			t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
			fmt.Fprintln(t, "convention\tgrams\tshot\tis off by\t")
			for _, row := range c.Rows {
				for i, e := range row.Equivalents {
					name, gram := row.Name, row.Gram.Text(0.01, unit.Style{})
					if i > 0 {
						name, gram = "", ""
					}
					fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", name, gram, e.Shot, e.Off, e.Note)
				}
				if len(row.Equivalents) == 0 {
					fmt.Fprintf(t, "%s\t%s\t%s\t\t\n", row.Name, row.Gram.Text(0.01, unit.Style{}), "no shot makes it")
				}
			}
			return t.Flush()
		},
	}
	cmd.Flags().StringVar(&q.Convention, "of", "gb-modern", "convention that a load in shot is written in, or a .toml or .csv file of your own")
	cmd.Flags().StringVar(&q.Metal, "metal", "", "metal of a load in grams (default: the convention's)")
	cmd.Flags().Float64Var(&q.TempC, "water", 15, "water temperature, degrees Celsius")
	cmd.Flags().Float64Var(&q.Salinity, "salinity", 0, "salinity; 0 is fresh water, 35 the open sea")
	cmd.Flags().StringVar(&q.Tip, "tip", "", `diameter at the waterline, as in "3 mm": tells how far the tip stands from its mark`)
	cmd.Flags().StringVar(&q.Market, "market", "", "leave out lead that may not be used there: GB, or a state as in US-NY")
	return cmd
}
