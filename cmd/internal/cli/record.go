package cli

import (
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (a *app) record() *cobra.Command {
	var photo string
	cmd := &cobra.Command{
		Use:     "record [ID]",
		Short:   "Look records up, by id or by a photograph of the code",
		Example: "  floatmark record 9KYA3C\n  floatmark record --photo float.jpg\n  floatmark record list",
		Args:    args(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case photo == "" && len(args) == 0:
				return cmd.Help()
			case photo != "" && len(args) > 0:
				return fault.New(fault.Input, "--photo", "an id is given too", "give one of the two")
			case photo == "":
				return a.showRecord(args[0])
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			text, err := shop.PhotoFile(cmd.Context(), photo)
			if err != nil {
				return err
			}
			return fault.At(photo, a.showRecord(text))
		},
	}
	cmd.Flags().StringVar(&photo, "photo", "", "find the code in this photograph (JPEG or PNG) and show its record")
	cmd.AddCommand(&cobra.Command{
		Use:   "show ID",
		Short: "Show the record of one float",
		Args:  exactly(1),
		RunE:  func(_ *cobra.Command, args []string) error { return a.showRecord(args[0]) },
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

// showRecord shows the record of the float that an id or what a code says stands for.
func (a *app) showRecord(text string) error {
	shop, err := a.open()
	if err != nil {
		return err
	}
	m, err := shop.Find(text)
	if err != nil {
		return err
	}
	e, _, err := shop.Entry(m.ID)
	if err != nil {
		return err
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
	row("measured", e.MeasuredG.Sure(e.UG, 0.01, unit.Style{})+" to add")
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
}
