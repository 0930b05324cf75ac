package cli

import (
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/label/ident"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (a *app) record() *cobra.Command {
	cmd := &cobra.Command{Use: "record", Short: "Look records up"}
	cmd.AddCommand(&cobra.Command{
		Use:   "show ID",
		Short: "Show the record of one float",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			id, err := ident.Parse(args[0])
			if err != nil {
				return err
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			e, ok, err := shop.Entry(string(id))
			if err != nil {
				return err
			}
			if !ok {
				return fault.New(fault.NotFound, "", fmt.Sprintf("no float bears the id %s in %s", id, shop.Dir), "check the id, or name another folder with --workshop DIR")
			}
			if a.json {
				return a.writeJSON(e)
			}
			t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
			row := func(name, value string) {
				if value != "" {
					fmt.Fprintf(t, "%s\t%s\n", name, value)
				}
			}
			row("float", fmt.Sprintf("%d of batch %s, %s", e.Number, e.Batch, e.Date))
			row("pattern", e.Pattern+", "+e.Kind)
			row("rating", e.Rating)
			row("built in", e.BuiltIn)
			row("add", e.Add+" of "+e.Metal+", "+e.Water)
			row("uncertainty", e.UG.Text(0.001, unit.Style{}))
			for _, s := range e.Shot {
				row(s.Convention, s.Shot+" ("+s.Gram+") "+s.Tip+s.Note)
			}
			row("weight", e.Weight)
			row("code", e.Code)
			row("note", e.Note)
			for _, n := range e.Notices {
				row("told", n)
			}
			return t.Flush()
		},
	}, &cobra.Command{
		Use:   "list",
		Short: "List every float of the workshop",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			all, err := shop.Entries()
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(all)
			}
			t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
			fmt.Fprintln(t, "id\tbatch\tno.\tpattern\trating\tadd")
			for _, e := range all {
				fmt.Fprintf(t, "%s\t%s\t%d\t%s\t%s\t%s\n", e.ID, e.Batch, e.Number, e.Pattern, e.Rating, e.Add)
			}
			return t.Flush()
		},
	})
	return cmd
}
