package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/web"
)

func (a *app) serve() *cobra.Command {
	var addr string
	var hosts []string
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Answer the link of a scanned code with the float's record",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			own, err := shop.Hosts()
			if err != nil {
				return err
			}
			return web.Serve(cmd.Context(), addr, web.New(shop, append(append(own, hosts...), addr)), func(at string) {
				fmt.Fprintf(a.out, "serving the records of %s at http://%s/\n", shop.Dir, at)
			})
		},
	}
	cmd.Flags().StringVar(&addr, "addr", "127.0.0.1:8017", "address and port to listen on")
	cmd.Flags().StringSliceVar(&hosts, "host", nil, "further host names that requests may name")
	return cmd
}
