package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

func (a *app) host() *cobra.Command {
	var dpi float64
	cmd := &cobra.Command{
		Use:   "host NAME",
		Short: "What a host for the codes costs in thickness of body",
		Long: "A code holds HTTPS://, the host and an id. A longer host makes a larger code, which needs a thicker body.\n" +
			"Diameters are by a closed form; check proves the codes of a batch on pictures.",
		Args: exactly(1),
		RunE: func(_ *cobra.Command, args []string) error {
			costs, err := job.HostCosts(args[0], dpi)
			if err != nil {
				return err
			}
			const half = 0.5
			text := func(m unit.Millimetre) string { return m.Text(half, unit.Style{}) }
			return list(a, costs, "", "host\tletters\tcode\tbody, phone held square\tbody, held anyhow", func(c job.HostCost) string {
				return fmt.Sprintf("%s\t%d\tversion %d-%s\t%s\t%s", c.Name, c.Letters, c.Version, c.Level, text(c.Square), text(c.Anyhow))
			})
		},
	}
	cmd.Flags().Float64Var(&dpi, "dpi", job.DefaultDPI, "the printer's dots an inch")
	return cmd
}
