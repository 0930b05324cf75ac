package cli

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/loading/unit"
)

// buildResult is the JSON of build.
type buildResult struct {
	label.Builds
	History []job.BuildPast  `json:"history"`
	Prints  []job.FloatPrint `json:"prints"`
}

func (a *app) build() *cobra.Command {
	return &cobra.Command{
		Use:   "build ID",
		Short: "Show how a float was made, what became of it, what was printed on it and every change",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			own, err := shop.BuildOf(label.Subject{Kind: label.KindFloat, Key: args[0]})
			if err != nil {
				return err
			}
			var r buildResult
			if r.Builds, _, err = shop.Build(own.Subject.Key); err != nil {
				return err
			}
			if r.History, err = shop.BuildHistory(own.Subject); err != nil {
				return err
			}
			if r.Prints, err = shop.FloatPrints(own.Subject.Key); err != nil {
				return err
			}
			if a.json {
				r.History = append([]job.BuildPast{}, r.History...)
				r.Prints = append([]job.FloatPrint{}, r.Prints...)
				return a.writeJSON(r)
			}
			return a.buildTable(r)
		},
	}
}

func (a *app) buildTable(r buildResult) error {
	b := r.All()
	t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	row := func(name, group string, from string, parts ...string) {
		var full []string
		for _, p := range parts {
			if p != "" {
				full = append(full, p)
			}
		}
		if len(full) == 0 {
			return
		}
		public := "kept"
		if b.Publish[group] {
			public = "published"
		}
		if from != "" && from != label.KindFloat {
			name += " of the " + from
		}
		fmt.Fprintf(t, "%s\t%s\t%s\n", name, strings.Join(full, ", "), public)
	}
	row("status", label.GroupStatus, "", string(b.Status))
	row("made", label.GroupDates, "", b.Made)
	for _, m := range b.Materials {
		mass := ""
		if m.Value.Mass > 0 {
			mass = m.Value.Mass.Text(massStep, unit.Style{})
		}
		row(m.Path, label.GroupMaterials, m.From, m.Value.Part, m.Value.What, mass, m.Value.Note)
	}
	for _, c := range b.Coats {
		row(c.Path, label.GroupCoats, c.From, c.Value.Date, c.Value.Product, c.Value.Note)
	}
	for _, p := range b.Photos {
		row(p.Path, label.GroupPhotos, p.From, p.Value.Date, p.Value.Caption, fmt.Sprintf("%d by %d points", p.Value.Width, p.Value.Height))
	}
	for _, f := range b.Fields {
		row(f.Path, label.GroupFields, f.From, f.Value.Name, f.Value.Text)
	}
	for _, n := range b.Notes {
		row(n.Path, label.GroupNotes, n.From, n.Value.Date, strings.ReplaceAll(n.Value.Text, "\n", " "))
	}
	row("care", label.GroupCare, "", strings.ReplaceAll(b.Care, "\n", " "))
	row("price", label.GroupPrice, "", b.Price)
	row("buyer", label.GroupBuyer, "", b.Buyer)
	if err := t.Flush(); err != nil {
		return err
	}
	for _, p := range r.Prints {
		more := ""
		if len(p.Sheets) > 0 {
			more += "; sheet " + numbers(p.Sheets)
		}
		if p.Proof != nil {
			more += "; code on the " + p.Proof.On
			if p.Proof.Reads != "" {
				more += ", reads " + p.Proof.Reads
			}
		}
		fmt.Fprintf(a.out, "print %d, %s, %s: %s; shot %s, revision %d%s\n", p.Number, p.State, when(p.Made), strings.Join(p.Lines, ", "), p.Convention, p.Revision, more)
	}
	for _, c := range r.History {
		fmt.Fprintf(a.out, "%s, by %s: %s, %s\n", when(c.At), c.By, c.Path, became(c))
	}
	return nil
}

// became says what a change did.
func became(c job.BuildPast) string {
	const nothing = "null"
	switch {
	case string(c.Before) == nothing:
		return "now " + string(c.After)
	case string(c.After) == nothing:
		return "taken out, was " + string(c.Before)
	}
	return "now " + string(c.After) + ", was " + string(c.Before)
}

// massStep is fine enough for what any scale in a workshop tells.
const massStep unit.Gram = 0.001

func (a *app) search() *cobra.Command {
	limit := 50
	cmd := &cobra.Command{
		Use:   "search TEXT...",
		Short: "Find floats by anything: id, batch, pattern, status, figures, products, notes",
		Args:  args(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			r, err := shop.Search(cmd.Context(), strings.Join(args, " "), limit)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(r)
			}
			err = list(a, r.Found, "nothing was found", "what\tkey\tbatch\tno.\tpattern\trating\tadd\tstatus", func(f job.Found) string {
				number := ""
				if f.Number > 0 {
					number = fmt.Sprint(f.Number)
				}
				return strings.Join([]string{f.Kind, f.Key, f.Batch, number, f.Pattern, f.Rating, f.Add, string(f.Status)}, "\t")
			})
			if r.More && err == nil {
				fmt.Fprintln(a.out, "and more: say more words, or ask for more with --limit")
			}
			return err
		},
	}
	cmd.Flags().IntVar(&limit, "limit", limit, "the most that is shown")
	return cmd
}
