package cli

import (
	"fmt"
	"text/tabwriter"

	"floatmark/cmd/internal/job"
	"floatmark/label"
)

// csvResult is the JSON of a batch that is nothing but a CSV file.
type csvResult struct {
	Batch   string         `json:"batch"`
	Floats  []figureResult `json:"floats"`
	Notices []job.Notice   `json:"notices"`
}

// figures writes the figures of a batch without shapes.
func (a *app) figures(list *job.FigureList) error {
	res := csvResult{Batch: list.Batch.Name, Notices: list.Notices}
	for _, f := range list.Floats {
		res.Floats = append(res.Floats, figureOf(f.Float.Number, f.Float.Pattern.Name, f.Rating, f.Shot))
	}
	if a.json {
		return a.writeJSON(res)
	}
	fmt.Fprintf(a.out, "%s: figures only, for a CSV file tells no shapes\n\n", list.Batch.Name)
	t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "no.\tpattern\trating\tbuilt in\tadd\tshot")
	for i, f := range list.Floats {
		fig := label.FiguresOf(f.Rating, list.Words)
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\t%s\t%s\n", f.Float.Number, f.Float.Pattern.Name, fig.Rating, fig.BuiltIn, fig.Add, res.Floats[i].Shot)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	b := list.Batch
	fmt.Fprintf(a.out, "\nadd in %s, fresh water; shot: %s, revision %d\n", b.Convention.Metal.Name, b.Convention.Name, b.Convention.Revision)
	fmt.Fprintln(a.out, "read as lead weighed together in fresh water of 15 °C, weights inside the hull; a batch file can say otherwise")
	for i, g := range grouped(list.Notices) {
		if i == 0 {
			fmt.Fprintln(a.out, "\nTo know before printing:")
		}
		fmt.Fprintln(a.out, "  "+g)
	}
	return nil
}
