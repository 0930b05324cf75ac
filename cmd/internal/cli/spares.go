package cli

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/label/ident"
	"floatmark/loading/fault"
)

func (a *app) spares() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "spares",
		Short: "List spare marks; put one on a float whose mark tore",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return listed(a, (*job.Workshop).SpareList, "no spares were printed yet; a batch file asks for them under [print] with: spares = 1",
				"id\tbatch\tspare\tpattern\tfigures\tstate\tprint\ton float", func(s job.SpareLine) string {
					on := "-"
					if s.OnFloat != 0 || s.OnID != "" {
						on = fmt.Sprintf("%s/%d, %s", s.OnBatch, s.OnFloat, s.OnID)
					}
					return fmt.Sprintf("%s\t%s\t%d\t%s\t%s\t%s\t%d\t%s", s.ID, s.Batch, s.Number, s.Pattern, s.Figures, s.State, s.Print, on)
				})
		},
	}
	cmd.AddCommand(a.claim(), a.ready())
	return cmd
}

func (a *app) ready() *cobra.Command {
	return &cobra.Command{
		Use:   "ready",
		Short: "List the unnumbered marks that were printed ahead",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return listed(a, (*job.Workshop).ReadyList, "none lie ready; a batch file prints them under [print] with: ahead = 20",
				"count\tpattern\tfigures\tstock", func(m job.ReadyLine) string {
					return fmt.Sprintf("%d\t%s\t%s\t%s", m.Count, m.Pattern, m.Figures, m.Stock)
				})
		},
	}
}

func (a *app) claim() *cobra.Command {
	var float string
	cmd := &cobra.Command{
		Use:   "claim ID",
		Short: "Bind a spare to the float it goes on, which bears the same figures",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			batch, number, err := floatNamed(float)
			if err != nil {
				return fault.At("--float", err)
			}
			id, err := ident.Parse(args[0])
			if err != nil {
				return err
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			if err := shop.ClaimSpare(cmd.Context(), string(id), batch, number); err != nil {
				return err
			}
			if !a.json {
				fmt.Fprintf(a.out, "spare %s is on float %d of %s from now on; its code leads there\n", id, number, batch)
				return nil
			}
			list, err := shop.SpareList()
			if err != nil {
				return err
			}
			for _, s := range list {
				if s.ID == string(id) {
					return a.writeJSON(s)
				}
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&float, "float", "", "the float, as BATCH/NUMBER")
	return cmd
}

// floatNamed reads BATCH/NUMBER; the name of a batch may have strokes in it.
func floatNamed(text string) (batch string, number int, err error) {
	i := strings.LastIndex(text, "/")
	if i > 0 {
		number, err = strconv.Atoi(strings.TrimSpace(text[i+1:]))
	}
	if i <= 0 || err != nil {
		return "", 0, fault.Inputf("write it as BATCH/NUMBER, as in 26-11/7", "%q names no float", text)
	}
	return text[:i], number, nil
}
