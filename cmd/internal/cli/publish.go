package cli

import (
	"fmt"
	"text/tabwriter"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/cmd/internal/web"
	"floatmark/loading/fault"
)

// barEvery is how often a bar is drawn: floats come faster than a terminal shows.
const barEvery = 100 * time.Millisecond

func (a *app) publish() *cobra.Command {
	var language string
	var compare bool
	cmd := &cobra.Command{
		Use:   "publish DIR",
		Short: "Write the public pages of every float as plain files, to be uploaded to any web host",
		Long: `Write the public pages of every float as plain files, to be uploaded to any web
host: a folder for each id in capitals and in small letters, an entrance, 404.html,
and under files/ what pages share. Only what changed is written; what is no longer
published is removed if it is as it was written. Of a record stands there what you
publish and nothing else (floatmark build ID shows it).
Codes on floats go on working as long as the host answers: check with
floatmark check-links DIR before the upload, and with --url after it.`,
		Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			tongue := shop.Language()
			if cmd.Flags().Changed("language") {
				tongue = language
			}
			pages, err := web.NewPlain(shop.Own(), tongue)
			if err != nil {
				return err
			}
			o := job.Publishing{Compare: compare}
			if isTerminal(a.err) {
				bar := progressbar.NewOptions(-1, progressbar.OptionSetWriter(a.err), progressbar.OptionClearOnFinish(),
					progressbar.OptionShowCount(), progressbar.OptionThrottle(barEvery))
				defer bar.Finish()
				o.Progress = func(done int) { _ = bar.Set(done) }
			}
			done, err := shop.Publish(cmd.Context(), args[0], pages, o)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(done)
			}
			fmt.Fprintf(a.out, "%s: pages of %d floats", done.Dir, done.Floats)
			if done.Spares > 0 {
				fmt.Fprintf(a.out, " and %d spares on them", done.Spares)
			}
			fmt.Fprintf(a.out, "; %d files written, %d unchanged, %d removed, %d bytes in all\n", done.Written, done.Same, done.Removed, done.Bytes)
			if !done.BothCases {
				fmt.Fprintln(a.out, "this disc takes capitals and small letters for the same: each id stands there once")
			}
			for _, id := range done.Left {
				fmt.Fprintf(a.out, "left where it is: %s, a page of a float that this workshop does not know\n", id)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&language, "language", "", "language of the page at the id itself: en, de, fr, it, pl (default: the workshop's, else that of the mark)")
	cmd.Flags().BoolVar(&compare, "compare", false, "read every file that is there and mend what is not as it was written")
	return cmd
}

func (a *app) checkLinks() *cobra.Command {
	var at string
	cmd := &cobra.Command{
		Use:   "check-links DIR | --url http://HOST",
		Short: "Look whether every code ever printed leads to its float",
		Long: `Look whether every code ever printed leads to the page of its float: in a
published folder, or on a running server or a host. What is missing is listed, and
the exit code is then 3.`,
		Example: "  floatmark check-links site\n  floatmark check-links --url http://127.0.0.1:8017",
		Args:    args(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if (at == "") == (len(args) == 0) {
				return fault.New(fault.Input, "", "where are the pages?", "name a folder, or a host with --url; one of the two")
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			var all job.LinkCheck
			if at != "" {
				all, err = shop.CheckServer(cmd.Context(), at)
			} else {
				all, err = shop.CheckFolder(cmd.Context(), args[0])
			}
			if err != nil {
				return err
			}
			if a.json {
				if err := a.writeJSON(all); err != nil {
					return err
				}
				return all.Err()
			}
			if len(all.Bad) > 0 {
				t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
				fmt.Fprintln(t, "id\tprint\tcode\tlooked for at\tthere is")
				for _, c := range all.Bad {
					fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%s\n", c.ID, c.Print, c.Code, c.Where, c.Why)
				}
				if err := t.Flush(); err != nil {
					return err
				}
			}
			fmt.Fprintf(a.out, "%d codes and ids were printed, %d lead to their float", all.Codes, all.Found)
			if n := len(all.Spare); n > 0 {
				fmt.Fprintf(a.out, ", %d are of spares that are on no float", n)
			}
			fmt.Fprintln(a.out)
			for _, h := range all.Hosts {
				if h.Host != "" {
					fmt.Fprintf(a.out, "%s must go on answering: %d codes name it\n", h.Host, h.Codes)
				}
			}
			return all.Err()
		},
	}
	cmd.Flags().StringVar(&at, "url", "", "address of a running server or a host")
	return cmd
}
