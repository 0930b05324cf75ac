package cli

import (
	"fmt"
	"text/tabwriter"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// list shows rows as a table under its head, or as JSON; none is said where there
// are no rows.
func list[T any](a *app, rows []T, none, head string, row func(T) string) error {
	if a.json {
		return a.writeJSON(append([]T{}, rows...))
	}
	if len(rows) == 0 {
		fmt.Fprintln(a.out, none)
		return nil
	}
	t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, head)
	for _, r := range rows {
		fmt.Fprintln(t, row(r))
	}
	return t.Flush()
}

// listed is list for what the workshop knows.
func listed[T any](a *app, get func(*job.Workshop) ([]T, error), none, head string, row func(T) string) error {
	shop, err := a.open()
	if err != nil {
		return err
	}
	rows, err := get(shop)
	if err != nil {
		return err
	}
	return list(a, rows, none, head, row)
}

// toFile has a sheet written to out and names it.
func (a *app) toFile(out, as string, write func(*job.Workshop) (job.Output, error)) error {
	if out == "" {
		return fault.New(fault.Input, "--out", "the file has no name", "name one, as in "+as)
	}
	shop, err := a.open()
	if err != nil {
		return err
	}
	file, err := write(shop)
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(file)
	}
	fmt.Fprintln(a.out, out)
	return nil
}
