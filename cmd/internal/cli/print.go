package cli

import (
	"context"
	"fmt"
	"path/filepath"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (a *app) demo() *cobra.Command {
	var out string
	var coarse bool
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Print the marks of an invented batch of 26 floats",
		Long: "Writes the batch file of an invented maker into a folder, with a workshop of its own,\n" +
			"and prints its decals, backers and job sheet there. Edit the file and print it again.",
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, path, err := job.Demo(out)
			if err != nil {
				return err
			}
			shop.Preview = coarse
			if err := a.printBatch(cmd.Context(), shop, path, out); err != nil {
				return err
			}
			if !a.json {
				fmt.Fprintf(a.out, "\nEdit %s and print it again:\n  floatmark print %s --out %s --workshop %s\n"+
					"Answer its codes on this machine:\n  floatmark serve --workshop %s\n", path, path, out, shop.Dir, shop.Dir)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&out, "out", "floatmark-demo", "folder to write to")
	cmd.Flags().BoolVar(&coarse, "coarse", false, coarsely)
	return cmd
}

const coarsely = "nest and draw coarsely: quicker, for a few per cent more film"

func (a *app) print() *cobra.Command {
	var out, cut string
	var forShop, again, coarse bool
	var only []int
	cmd := &cobra.Command{
		Use:   "print BATCH.toml …",
		Short: "Print a batch: decals, backers, job sheet and records",
		Long: "Prints a batch. Several batch files are printed one after the other, each into a folder of its name,\n" +
			"and their marks together on common sheets of film.",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			shop.Again, shop.Preview, shop.Only = again, coarse, only
			if forShop || cut != "" {
				shop.Shop = &job.ForShop{CutName: cut}
			}
			if len(args) > 1 {
				return a.printSeveral(cmd.Context(), shop, args, out)
			}
			return a.printBatch(cmd.Context(), shop, args[0], out)
		},
	}
	cmd.Flags().StringVar(&out, "out", ".", "folder to write to")
	cmd.Flags().BoolVar(&forShop, "for-shop", false, "add a folder for a print shop: press files with bleed and cut path, an order note")
	cmd.Flags().BoolVar(&coarse, "coarse", false, coarsely)
	cmd.Flags().IntSliceVar(&only, "only", nil, "print the marks of these floats alone, as in 7,12: one that was spoilt, on what is left of the film")
	cmd.Flags().BoolVar(&again, "again", false, "print once more what was printed and came out right")
	cmd.Flags().StringVar(&cut, "cut-name", "", "name of the cut path's spot colour, as the shop wants it")
	return cmd
}

func (a *app) check() *cobra.Command {
	var pictures string
	cmd := &cobra.Command{
		Use:   "check BATCH.toml",
		Short: "Say everything print would say, and print nothing",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			if job.IsBare(args[0]) {
				list, err := shop.Figures(args[0])
				if err != nil {
					return err
				}
				return a.figures(list)
			}
			shop.Preview, shop.Pictures = true, pictures != ""
			plan, err := a.plan(cmd.Context(), shop, args[0])
			if err != nil {
				return err
			}
			var kept []job.Output
			if pictures != "" {
				if kept, err = plan.SaveCodePictures(pictures); err != nil {
					return err
				}
			}
			if a.json {
				return a.writeJSON(result(plan, kept, pictures))
			}
			summary(a.out, plan, true)
			if pictures != "" {
				fmt.Fprintf(a.out, "\n%d pictures on which a code did not read: %s\n", len(kept), pictures)
			}
			if plan.Provisional {
				fmt.Fprintln(a.out, "\nThis workshop has printed nothing yet: ids are given at its first print.")
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&pictures, "pictures", "", "folder for the simulated phone pictures on which a code did not read")
	return cmd
}

func (a *app) plan(ctx context.Context, shop *job.Workshop, path string) (*job.Plan, error) {
	progress, done := a.progress()
	defer done()
	return shop.Plan(ctx, path, progress)
}

// printBatch is what demo and print share.
func (a *app) printBatch(ctx context.Context, shop *job.Workshop, path, out string) error {
	progress, done := a.progress()
	plan, files, err := shop.PrintFile(ctx, path, out, progress)
	done()
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(result(plan, files, out))
	}
	summary(a.out, plan, false)
	fmt.Fprintln(a.out)
	for _, f := range files {
		fmt.Fprintln(a.out, filepath.Join(out, f.Name))
	}
	if lines := plan.SheetLines(); len(lines) > 0 {
		fmt.Fprintln(a.out)
		for _, l := range lines {
			fmt.Fprintln(a.out, "decals.pdf, "+l)
		}
	}
	if plan.Number > 0 {
		fmt.Fprintf(a.out, "Then say how it came out: floatmark prints confirm %d, or floatmark prints cancel %d\n", plan.Number, plan.Number)
	}
	return nil
}

// printSeveral prints batches on common sheets.
func (a *app) printSeveral(ctx context.Context, shop *job.Workshop, paths []string, out string) error {
	if shop.Shop != nil {
		return fault.New(fault.Input, "--for-shop", "several batches are for the bench's own printer", "order them at the shop one by one")
	}
	progress, done := a.progress()
	all, err := shop.PrintSeveral(ctx, paths, out, progress)
	done()
	if err != nil {
		return err
	}
	var results []any
	for i, p := range all.Plans {
		dir := filepath.Join(out, p.File.Batch.Name)
		if a.json {
			results = append(results, result(p, all.Files[i], dir))
			continue
		}
		summary(a.out, p, false)
		fmt.Fprintf(a.out, "its files: %s\nprint %d\n\n", dir, p.Number)
	}
	if a.json {
		return a.writeJSON(results)
	}
	for i, n := range all.Pages {
		fmt.Fprintf(a.out, "%s, page %d: sheet %d\n", filepath.Join(out, all.Common.Name), i+1, n)
	}
	fmt.Fprintln(a.out, "Then say of each print how it came out: floatmark prints confirm N, or floatmark prints cancel N")
	return nil
}

// progress shows a bar on a terminal and nothing in a pipe.
func (a *app) progress() (job.Progress, func()) {
	if !isTerminal(a.err) {
		return nil, func() {}
	}
	bar := progressbar.NewOptions(1, progressbar.OptionSetWriter(a.err), progressbar.OptionClearOnFinish(),
		progressbar.OptionSetWidth(30), progressbar.OptionShowCount())
	return func(stage string, done, total int) {
		bar.Describe(stage)
		bar.ChangeMax(max(total, 1))
		_ = bar.Set(done) // a bar that cannot be drawn stops no work
	}, func() { _ = bar.Clear() }
}
