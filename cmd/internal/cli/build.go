package cli

import (
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// about names whose build record a command changes: a float by the id it bears,
// or, by a flag, its whole batch or pattern.
type about struct{ batch, pattern string }

// on makes a command that takes ID and more, and --batch and --pattern in the
// place of ID; f gets the subject and the rest.
func (a *app) on(use, short string, more int, flags func(*cobra.Command), f func(*cobra.Command, label.Subject, []string) error) *cobra.Command {
	var of about
	cmd := &cobra.Command{
		Use:   use,
		Short: short,
		Args: args(func(cmd *cobra.Command, list []string) error {
			if of.batch != "" || of.pattern != "" {
				return cobra.ExactArgs(more)(cmd, list)
			}
			return cobra.ExactArgs(more+1)(cmd, list)
		}),
		RunE: func(cmd *cobra.Command, list []string) error {
			switch {
			case of.batch != "" && of.pattern != "":
				return fault.New(fault.Input, "--batch and --pattern", "a change is made on one of them", "leave one out")
			case of.batch != "":
				return f(cmd, label.Subject{Kind: label.KindBatch, Key: of.batch}, list)
			case of.pattern != "":
				return f(cmd, label.Subject{Kind: label.KindPattern, Key: of.pattern}, list)
			}
			return f(cmd, float(list[0]), list[1:])
		},
	}
	cmd.Flags().StringVar(&of.batch, "batch", "", "of a whole batch, by its name, in the place of ID")
	cmd.Flags().StringVar(&of.pattern, "pattern", "", "of a pattern, by its key, in the place of ID")
	if flags != nil {
		flags(cmd)
	}
	return cmd
}

// float names a float by an id as it was typed; one that is none is refused where
// it is looked up.
func float(typed string) label.Subject {
	if id, err := ident.Parse(typed); err == nil {
		typed = string(id)
	}
	return label.Subject{Kind: label.KindFloat, Key: typed}
}

// set changes one field and says so.
func (a *app) set(cmd *cobra.Command, of label.Subject, path string, value any, key string) error {
	shop, err := a.open()
	if err != nil {
		return err
	}
	c, err := job.Set(of, path, value, job.Unseen)
	if err != nil {
		return err
	}
	done, err := shop.Change(cmd.Context(), []job.BuildChange{c}, job.ByCommand, key)
	if err != nil {
		return err
	}
	return a.changed(of, done)
}

func (a *app) changed(of label.Subject, done job.BuildChanged) error {
	if a.json {
		return a.writeJSON(done)
	}
	said := ""
	if done.Known {
		said = " (noted before)"
	}
	fmt.Fprintf(a.out, "%s: %s%s\n", of, strings.Join(done.Paths, ", "), said)
	return nil
}

// keyFlag is the flag of an idempotency key.
func keyFlag(cmd *cobra.Command, key *string) {
	cmd.Flags().StringVar(key, "key", "", "make the change once under this key, however often this is run")
}

func today() string { return time.Now().Format(time.DateOnly) }

func (a *app) note() *cobra.Command {
	var date, key string
	return a.on("note ID TEXT", "Add a note to the record of a float, a batch or a pattern", 1, func(cmd *cobra.Command) {
		cmd.Flags().StringVar(&date, "date", "", "day of the note (default: today)")
		keyFlag(cmd, &key)
	}, func(cmd *cobra.Command, of label.Subject, rest []string) error {
		if date == "" {
			date = today()
		}
		return a.set(cmd, of, label.Adding(label.ListNotes), label.Note{Date: date, Text: rest[0]}, key)
	})
}

func (a *app) coat() *cobra.Command {
	var date, note, key string
	return a.on("coat ID PRODUCT", "Add a coat of paint, sealer or varnish, the product as you call it", 1, func(cmd *cobra.Command) {
		cmd.Flags().StringVar(&date, "date", "", "day of the coat (default: today)")
		cmd.Flags().StringVar(&note, "note", "", "anything worth knowing")
		keyFlag(cmd, &key)
	}, func(cmd *cobra.Command, of label.Subject, rest []string) error {
		if date == "" {
			date = today()
		}
		return a.set(cmd, of, label.Adding(label.ListCoats), label.Coat{Date: date, Product: rest[0], Note: note}, key)
	})
}

func (a *app) material() *cobra.Command {
	var m label.Material
	var mass, key string
	return a.on("material ID PART", "Add a part and what it is made of", 1, func(cmd *cobra.Command) {
		cmd.Flags().StringVar(&m.What, "of", "", `what it is made of, as in "balsa"`)
		cmd.Flags().StringVar(&mass, "mass", "", `its mass, as in "3.2 g"`)
		cmd.Flags().StringVar(&m.Note, "note", "", "anything worth knowing")
		keyFlag(cmd, &key)
	}, func(cmd *cobra.Command, of label.Subject, rest []string) error {
		m.Part = rest[0]
		if mass != "" {
			var err error
			if m.Mass, err = unit.ParseGram(mass); err != nil {
				return fault.At("--mass", err)
			}
		}
		return a.set(cmd, of, label.Adding(label.ListMaterials), m, key)
	})
}

func (a *app) field() *cobra.Command {
	var key string
	return a.on("field ID NAME TEXT", "Add a field of your own to a record", 2, func(cmd *cobra.Command) { keyFlag(cmd, &key) },
		func(cmd *cobra.Command, of label.Subject, rest []string) error {
			return a.set(cmd, of, label.Adding(label.ListFields), label.Field{Name: rest[0], Text: rest[1]}, key)
		})
}

func (a *app) status() *cobra.Command {
	return &cobra.Command{
		Use:   `status ID ("in work" | finished | sold | returned | retired)`,
		Short: "Say where a float is in its life; a retired one keeps its id for ever",
		Args:  exactly(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.set(cmd, float(args[0]), label.PathStatus, args[1], "")
		},
	}
}

func (a *app) photo() *cobra.Command {
	var caption, date, key string
	return a.on("photo ID FILE", "Add a photograph, JPEG or PNG; it is kept as 300 kB at most, without place or camera", 1, func(cmd *cobra.Command) {
		cmd.Flags().StringVar(&caption, "caption", "", "what is to be seen")
		cmd.Flags().StringVar(&date, "date", "", "day it was taken (default: not said)")
		keyFlag(cmd, &key)
	}, func(cmd *cobra.Command, of label.Subject, rest []string) error {
		file, err := os.Open(rest[0])
		if err != nil {
			return fault.New(fault.NotFound, rest[0], "the photograph cannot be opened", "name a JPEG or PNG file", err)
		}
		defer file.Close()
		shop, err := a.open()
		if err != nil {
			return err
		}
		done, err := shop.AddPhoto(cmd.Context(), of, file, caption, date, job.ByCommand, key)
		if err != nil {
			return fault.At(rest[0], err)
		}
		return a.changed(of, done)
	})
}

// settable are the fields that stand alone and have no command of their own.
const settable = "made, care, price, buyer, or publish/GROUP with yes or no"

func (a *app) edit() *cobra.Command {
	return a.on("edit ID FIELD TEXT", "Set a field that stands alone: "+settable, 2, func(cmd *cobra.Command) {
		cmd.Long = "Sets a field of a record that stands alone: made (a date), care, price, buyer. What is published\n" +
			"on a float's page is chosen by publish/GROUP, with yes, no, or an empty text for the wider choice,\n" +
			"of one float, a batch, a pattern, or the whole workshop (ID is then: workshop).\nGroups, and what holds if nothing is chosen: " + groups() + "."
	}, func(cmd *cobra.Command, of label.Subject, rest []string) error {
		if of.Kind == label.KindFloat && of.Key == label.KindWorkshop {
			of = label.Subject{Kind: label.KindWorkshop}
		}
		var value any = rest[1]
		switch {
		case rest[1] == "":
			value = nil
		case strings.HasPrefix(rest[0], label.Publishing("")):
			if rest[1] != "yes" && rest[1] != "no" {
				return fault.New(fault.Input, rest[0], fmt.Sprintf("%q is no choice", rest[1]), "say yes or no")
			}
			value = rest[1] == "yes"
		case strings.Contains(rest[0], "/"):
			return fault.New(fault.Input, rest[0], "an item of a list is not changed here", "take it out (floatmark remove) and add the right one")
		}
		return a.set(cmd, of, rest[0], value, "")
	})
}

func groups() string {
	var all []string
	for _, c := range label.Choices() {
		said := "no"
		if c.Default {
			said = "yes"
		}
		all = append(all, c.Group+" "+said)
	}
	return strings.Join(all, ", ")
}

func (a *app) remove() *cobra.Command {
	return a.on("remove ID ITEM", `Take an item out of a record, as in "coats/2"; the history keeps it`, 1, nil,
		func(cmd *cobra.Command, of label.Subject, rest []string) error {
			return a.set(cmd, of, rest[0], nil, "")
		})
}
