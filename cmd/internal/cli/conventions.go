package cli

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

func (a *app) conventions() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "conventions",
		Short: "List the shot conventions, show one with its sources, compare two",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			own, err := a.own()
			if err != nil {
				return err
			}
			all := job.Conventions(own)
			if a.json {
				return a.writeJSON(all)
			}
			t := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
			for _, c := range all {
				fmt.Fprintf(t, "%s\t%s\trevision %d\t%s\t%s\n", c.Key, c.Name, c.Revision, metalOf(c), sizesOf(c))
			}
			return t.Flush()
		},
	}
	cmd.AddCommand(&cobra.Command{
		Use:   "show KEY",
		Short: "Show the sizes of a convention, or of a .toml or .csv file of your own",
		Args:  exactly(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			found, err := a.find(args)
			if err != nil {
				return err
			}
			sheet := job.ShowConvention(found[0])
			if a.json {
				return a.writeJSON(sheet)
			}
			return showConvention(a.out, sheet)
		},
	}, &cobra.Command{
		Use:   "compare A B",
		Short: "Set two conventions side by side: what the same name weighs and pulls",
		Args:  exactly(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			found, err := a.find(args)
			if err != nil {
				return err
			}
			sheet := job.CompareConventions(found[0], found[1])
			if a.json {
				return a.writeJSON(sheet)
			}
			return compareConventions(a.out, sheet)
		},
	})
	return cmd
}

// own returns the maker's own sets of the workshop.
func (a *app) own() ([]shot.Convention, error) {
	shop, err := a.open()
	if err != nil {
		return nil, err
	}
	return shop.Own(), nil
}

// find returns the conventions of those keys or files.
func (a *app) find(names []string) ([]shot.Convention, error) {
	own, err := a.own()
	if err != nil {
		return nil, err
	}
	var found []shot.Convention
	for _, n := range names {
		c, err := job.FindConvention(n, own)
		if err != nil {
			return nil, err
		}
		found = append(found, c)
	}
	return found, nil
}

func metalOf(c job.ConventionLine) string {
	return c.Metal + " " + unit.Number(c.Density, 0.01, unit.Style{}) + " g/cm³"
}

// sizesOf says in a few words what a convention holds.
func sizesOf(c job.ConventionLine) string {
	if c.Unit != "" {
		return "plain mass in " + c.Unit
	}
	text := fmt.Sprintf("%d sizes, %s to %s", c.Sizes, c.Heaviest.Text(0.001, unit.Style{}), c.Lightest.Text(0.001, unit.Style{}))
	if c.Unverified > 0 {
		text += fmt.Sprintf("; %d unverified: weigh before use", c.Unverified)
	}
	if c.Own {
		text += "; your own"
	}
	return text
}

func showConvention(w io.Writer, c job.ConventionSheet) error {
	fmt.Fprintf(w, "%s: %s, revision %d, %s\n%s\n\n", c.Key, c.Name, c.Revision, metalOf(c.ConventionLine), sizesOf(c.ConventionLine))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	if len(c.List) > 0 {
		fmt.Fprintln(t, "size\tmass\trounding\tsource\t")
	}
	for _, s := range c.List {
		mass, rounding := s.Mass.Text(0.0001, unit.Style{}), ""
		if strings.HasSuffix(s.Printed, " oz") {
			mass = s.Printed + ", " + mass
		}
		if s.Rounding > 0 {
			rounding = fmt.Sprintf("±%s (%s %%)", s.Rounding.Text(0.0001, unit.Style{}), unit.Number(100*float64(s.Rounding/s.Mass), 1, unit.Style{}))
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", s.Name, mass, rounding, s.Source, sizeNote(s))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if len(c.Disagreements) > 0 {
		fmt.Fprintln(w, "\nPages disagree:")
	}
	for _, d := range c.Disagreements {
		var parts []string
		for _, r := range d.Readings {
			text := r.Where
			if r.Mass > 0 {
				text = r.Mass.Text(0.0001, unit.Style{}) + " " + r.Where
			}
			parts = append(parts, text+" ["+r.Source+"]")
		}
		line := "  " + d.Item
		if d.Spread > 0 {
			line += ", up to " + unit.Number(100*d.Spread, 1, unit.Style{}) + " %"
		}
		line += ": " + strings.Join(parts, "; ")
		if d.Remark != "" {
			line += ". " + strings.ToUpper(d.Remark[:1]) + d.Remark[1:]
		}
		fmt.Fprintln(w, line)
	}
	if len(c.Sources) > 0 {
		fmt.Fprintln(w, "\nSources:")
	}
	for _, s := range c.Sources {
		fmt.Fprintf(w, "  %s (%s): %s\n", s.Key, s.Kind, s.What)
	}
	return nil
}

// sizeNote is what has to be known of a size beside its mass.
func sizeNote(s job.SizeLine) string {
	w := s.Weighed
	if w == nil {
		return s.Caution
	}
	text := fmt.Sprintf("%d weighed", w.N)
	if w.Times > 1 {
		text += fmt.Sprintf(" in %d goes, spread %s from shot to shot", w.Times, w.Spread.Text(0.0001, unit.Style{}))
	} else {
		text += " at once: the spread is not known"
	}
	if w.U > 0 {
		text += ", standard uncertainty of the mean " + w.U.Text(0.0001, unit.Style{})
	}
	if w.Date != "" {
		text += ", " + w.Date
	}
	return text
}

func compareConventions(w io.Writer, c job.ComparisonSheet) error {
	fmt.Fprintf(w, "A  %s: %s, revision %d, %s\nB  %s: %s, revision %d, %s\nB against A; pull in %s\n\n",
		c.A.Key, c.A.Name, c.A.Revision, metalOf(c.A), c.B.Key, c.B.Name, c.B.Revision, metalOf(c.B), c.Water)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	if len(c.Pairs) == 0 {
		fmt.Fprintln(t, "no name is in both")
	} else {
		fmt.Fprintln(t, "size\tA\tB\tmass\tpull\t")
	}
	for _, p := range c.Pairs {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\n", p.Name, p.A.Text(0.001, unit.Style{}), p.B.Text(0.001, unit.Style{}), percent(p.Mass), percent(p.Pull), p.Caution)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, only := range []struct {
		key   string
		names []string
	}{{c.A.Key, c.OnlyA}, {c.B.Key, c.OnlyB}} {
		if len(only.names) > 0 {
			fmt.Fprintf(w, "only in %s: %s\n", only.key, strings.Join(only.names, " "))
		}
	}
	return nil
}

// percent writes a share with its sign: "+18 %".
func percent(share float64) string {
	text := unit.Number(100*share, 0.1, unit.Style{})
	if text != "0" && text[0] != '-' {
		text = "+" + text
	}
	return text + " %"
}
