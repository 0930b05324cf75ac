package cli

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

func (a *app) stocks() *cobra.Command {
	return &cobra.Command{
		Use:   "stocks",
		Short: "List the film, card and paper that batch files can name",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			all, err := shop.StockLines()
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(all)
			}
			t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
			fmt.Fprintln(t, "key\tstock\tmedium\tsize\tthickness\tcolour\tgrain\tlabels\tbears\tsource")
			for _, s := range all {
				fmt.Fprintln(t, strings.Join(stockCells(s), "\t"))
			}
			if err := t.Flush(); err != nil {
				return err
			}
			fmt.Fprintf(a.out, "\nAny of these materials can be named in another size, as in %s-film-white: %s.\n", job.OddFormat, strings.Join(job.Formats(), ", "))
			return nil
		},
	}
}

// stockCells are the columns of one stock; "-" where there is nothing to say.
func stockCells(s job.StockLine) []string {
	const none = "-"
	c := struct{ medium, size, thick, colour, grain, labels, bears, source string }{none, none, none, none, none, none, none, s.Source}
	if !s.Sheetless() {
		c.size = size(s.Size.W, s.Size.H)
		c.thick = unit.Millimetre(s.Thickness).Text(0.01, unit.Style{})
		c.colour = colourName(s)
	}
	if s.ForMarks() {
		c.medium = s.Medium.String()
	}
	if s.Medium.Mirrored() {
		c.medium += ", printed mirrored"
	}
	if s.Grain.Binds() {
		c.grain = s.Grain.String()
	}
	if g := s.Grid; g != nil {
		c.labels = fmt.Sprintf("%d × %d of %s", g.Columns, g.Rows, size(g.Cell.W, g.Cell.H))
	}
	if s.Limit > 0 {
		c.bears = strainText(s.Limit) + ", " + s.LimitBy
		if s.LimitBy == job.Estimate {
			c.bears = strainText(s.Limit) + " (estimate)"
		}
	}
	return []string{s.Key, s.Name, c.medium, c.size, c.thick, c.colour, c.grain, c.labels, c.bears, c.source}
}

func size(w, h float64) string {
	return unit.Number(w, 0.1, unit.Style{}) + " × " + unit.Millimetre(h).Text(0.1, unit.Style{})
}

func colourName(s job.StockLine) string {
	switch {
	case s.Clear:
		return "clear"
	case s.White():
		return "white"
	}
	return s.Colour.String()
}
