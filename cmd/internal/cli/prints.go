package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (a *app) prints() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "prints",
		Short: "List prints; say how one came out",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return listed(a, (*job.Workshop).Prints, "nothing was printed yet", "print\tbatch\tstate\tprinted\tsettled\tfloats\tspares\tsheets",
				func(p job.PrintLine) string {
					settled := "-"
					if p.Settled != "" {
						settled = when(p.Settled)
					}
					return fmt.Sprintf("%d\t%s\t%s\t%s\t%s\t%d\t%d\t%s", p.Number, p.Batch, p.State, when(p.Made), settled, p.Floats, p.Spares, numbers(p.Sheets))
				})
		},
	}
	cmd.AddCommand(a.confirm(), a.cancel())
	return cmd
}

func (a *app) confirm() *cobra.Command {
	return &cobra.Command{
		Use:   "confirm N",
		Short: "Note that a print came out right",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			n, err := numberOf("print", args[0])
			if err != nil {
				return err
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			if err := shop.ConfirmPrint(cmd.Context(), n); err != nil {
				return err
			}
			return a.settled(shop, n, "")
		},
	}
}

func (a *app) cancel() *cobra.Command {
	var lost []string
	cmd := &cobra.Command{
		Use:   "cancel N",
		Short: "Give a print up: what it took of its sheets is free again",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			n, err := numberOf("print", args[0])
			if err != nil {
				return err
			}
			var sheets []int
			for _, text := range lost {
				sheet, err := numberOf("sheet", strings.TrimSpace(text))
				if err != nil {
					return fault.At("--lost", err)
				}
				sheets = append(sheets, sheet)
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			if err := shop.CancelPrint(cmd.Context(), n, sheets); err != nil {
				return err
			}
			said := "; what it took of its sheets is free again"
			if len(sheets) > 0 {
				said = "; written off: sheet " + numbers(sheets)
			}
			return a.settled(shop, n, said)
		},
	}
	cmd.Flags().StringSliceVar(&lost, "lost", nil, "numbers of the sheets that were spoilt over it, to be written off: 12,13")
	return cmd
}

func (a *app) settled(shop *job.Workshop, number int, more string) error {
	list, err := shop.Prints()
	if err != nil {
		return err
	}
	for _, p := range list {
		if p.Number != number {
			continue
		}
		if a.json {
			return a.writeJSON(p)
		}
		fmt.Fprintf(a.out, "print %d, batch %s: %s%s\n", p.Number, p.Batch, p.State, more)
	}
	return nil
}
