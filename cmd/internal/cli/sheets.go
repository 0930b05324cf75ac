package cli

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (a *app) sheets() *cobra.Command {
	var all bool
	cmd := &cobra.Command{
		Use:   "sheets",
		Short: "List part-used sheets of film; correct what is noted of them",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			return a.listSheets(shop, all)
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "list used up, written off and blank ones too")
	cmd.AddCommand(a.showSheet(),
		a.partOfSheet("used N", "Note that a part of a sheet is spent", "noted as spent", (*job.Workshop).UsedPart),
		a.partOfSheet("free N", "Note that a part of a sheet is blank after all", "noted as blank", (*job.Workshop).FreePart),
		a.setSheet("write-off N", "Take a sheet out of use, spoilt or lost", "written off", (*job.Workshop).WriteOff),
		a.setSheet("used-up N", "Note that nothing more goes on a sheet", "used up", (*job.Workshop).UseUp),
		a.setSheet("reopen N", "Put a sheet that was written off or used up into use again", "open again", (*job.Workshop).Reopen))
	return cmd
}

func (a *app) listSheets(shop *job.Workshop, all bool) error {
	known, err := shop.Sheets()
	if err != nil {
		return err
	}
	shown := []job.SheetLine{}
	for _, s := range known {
		if all || s.State == "open" {
			shown = append(shown, s)
		}
	}
	none := "no sheet is part-used"
	if n := len(known); n > 0 {
		none += fmt.Sprintf("; %s: floatmark sheets --all", counted(n, "other"))
	}
	return list(a, shown, none, "sheet\tstock\tstate\tspent\tprints\tfeed edge\tfirst printed\tnote", func(s job.SheetLine) string {
		return fmt.Sprintf("%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s", s.Number, s.Stock, s.State, share(s.Spent), numbers(s.Prints), s.Feed, when(s.Made), s.Note)
	})
}

func share(v float64) string { return unit.Number(100*v, 1, unit.Style{}) + " %" }

// numbers lists numbers as people do; "-" for none.
func numbers(list []int) string {
	if len(list) == 0 {
		return "-"
	}
	parts := make([]string, len(list))
	for i, n := range list {
		parts[i] = strconv.Itoa(n)
	}
	return strings.Join(parts, ", ")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// when shows a moment on the clock of this machine; as it stands if it is none.
func when(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Local().Format("2006-01-02 15:04")
}

// numberOf reads the number of a sheet or a print.
func numberOf(what, text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, fault.New(fault.Input, "", fmt.Sprintf("%q is no number of a %s", text, what), "see the list: floatmark "+what+"s")
	}
	return n, nil
}

func (a *app) showSheet() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "show N",
		Short: "Show what is spent of a sheet, and all that became of it",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			n, err := numberOf("sheet", args[0])
			if err != nil {
				return err
			}
			shop, err := a.open()
			if err != nil {
				return err
			}
			d, err := shop.Sheet(n)
			if err != nil {
				return err
			}
			if out != "" {
				if _, err := shop.WriteSheetPicture(cmd.Context(), n, out); err != nil {
					return err
				}
			}
			if a.json {
				return a.writeJSON(d)
			}
			if err := a.sheetDetail(d); err != nil {
				return err
			}
			if out != "" {
				fmt.Fprintln(a.out, "\n"+out)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "write a picture (PNG) to this file")
	return cmd
}

func (a *app) sheetDetail(d job.SheetDetail) error {
	fmt.Fprintf(a.out, "sheet %d, %s, %s, %s spent; it goes into the printer with its %s edge first\n\n", d.Number, d.Stock, d.State, share(d.Spent), d.Feed)
	lines, err := d.Plot()
	if err != nil && fault.ClassOf(err) != fault.NotFound { // of a stock that is gone the list is told alone
		return err
	}
	for _, l := range lines {
		fmt.Fprintln(a.out, "  "+l)
	}
	if len(lines) > 0 {
		fmt.Fprint(a.out, "  # spent, . free; a character is 5 × 10 mm\n\n")
	}
	t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	for _, h := range d.History {
		by := "by hand"
		if h.Print > 0 {
			by = "print " + strconv.Itoa(h.Print)
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", when(h.At), h.What, by, h.Note)
	}
	return t.Flush()
}

// partOfSheet is a command that notes something of a part of a sheet.
func (a *app) partOfSheet(use, short, said string, do func(*job.Workshop, context.Context, int, job.SheetPart, string) error) *cobra.Command {
	var p job.SheetPart
	var note string
	cmd := &cobra.Command{
		Use: use, Short: short, Args: exactly(1),
		Long: short + ".\nSides are those of the sheet as its page is drawn, whichever edge is fed.",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.onSheet(args[0], said, func(shop *job.Workshop, n int) error { return do(shop, cmd.Context(), n, p, note) })
		},
	}
	f := cmd.Flags()
	f.StringVar(&p.Top, "from-top", "", `a strip along the top edge, so deep: "60 mm"`)
	f.StringVar(&p.Bottom, "from-bottom", "", "a strip along the bottom edge")
	f.StringVar(&p.Left, "from-left", "", "a strip along the left edge")
	f.StringVar(&p.Right, "from-right", "", "a strip along the right edge")
	f.StringVar(&p.Rect, "part-mm", "", `a rectangle, mm: from the left, from the top, width, height: "10 20 50 30"`)
	f.BoolVar(&p.All, "all", false, "the whole sheet")
	f.StringVar(&note, "note", "", "why")
	return cmd
}

func (a *app) setSheet(use, short, said string, do func(*job.Workshop, context.Context, int, string) error) *cobra.Command {
	var note string
	cmd := &cobra.Command{
		Use: use, Short: short, Args: exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.onSheet(args[0], said, func(shop *job.Workshop, n int) error { return do(shop, cmd.Context(), n, note) })
		},
	}
	cmd.Flags().StringVar(&note, "note", "", "why")
	return cmd
}

// onSheet changes one sheet and tells what it is then.
func (a *app) onSheet(number, said string, change func(shop *job.Workshop, n int) error) error {
	n, err := numberOf("sheet", number)
	if err != nil {
		return err
	}
	shop, err := a.open()
	if err != nil {
		return err
	}
	if err := change(shop, n); err != nil {
		return err
	}
	d, err := shop.Sheet(n)
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(d)
	}
	fmt.Fprintf(a.out, "sheet %d: %s; %s of it is spent\n", n, said, share(d.Spent))
	return nil
}
