package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (a *app) pack() *cobra.Command {
	return &cobra.Command{
		Use:   "pack FLOAT CARD",
		Short: "Put floats on their cards and refuse a wrong pair",
		Long: `Compare a float with the card it is put on, each by its id or by a photograph of
its code (JPEG or PNG), and note it. A pair that differs is refused.

With "-" pairs are read line by line, float then card; an empty line begins a pair
again.`,
		Example: "  floatmark pack 9KYA3C 9KYA3C\n  floatmark pack float.jpg card.jpg\n  floatmark pack -",
		Args: args(func(cmd *cobra.Command, list []string) error {
			if len(list) == 1 && list[0] == "-" {
				return nil
			}
			return cobra.ExactArgs(2)(cmd, list)
		}),
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			if len(args) == 1 {
				return a.packLines(cmd, shop)
			}
			pair := [2]string{}
			for i, word := range args {
				if pair[i], err = said(cmd.Context(), shop, word); err != nil {
					return err
				}
			}
			p, err := shop.Pack(cmd.Context(), pair[0], pair[1])
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(p)
			}
			a.packed(p)
			return nil
		},
	}
}

func (a *app) packed(p job.Packed) {
	if p.Already {
		fmt.Fprintln(a.out, state("already")+described(p.Marked)+"; on its card since "+when(p.Carded)+", nothing changed")
	} else {
		fmt.Fprintln(a.out, state("packed")+described(p.Marked))
	}
	if p.Unvarnished {
		fmt.Fprintln(a.out, state("")+"note: it is not ticked off under its varnish; look at it, then: floatmark tick "+p.ID)
	}
}

// packLines packs pair by pair. What names no float is told at once and asked for
// again.
func (a *app) packLines(cmd *cobra.Command, shop *job.Workshop) error {
	ctx := cmd.Context()
	in := newLines(ctx, cmd.InOrStdin())
	var refused refusals
	pair := make([]string, 0, 2)
	ask := "float: "
	for {
		a.prompt(ask)
		line, ok, err := in.next()
		if err != nil {
			return err
		}
		if !ok {
			break
		}
		if line == "" {
			pair, ask = pair[:0], "float: "
			continue
		}
		var m job.Marked
		text, err := said(ctx, shop, line)
		if err == nil {
			m, err = shop.Find(text)
		}
		if err == nil {
			if pair = append(pair, text); len(pair) < 2 {
				ask = "card of " + m.Place() + ": "
				continue
			}
			var p job.Packed
			p, err = shop.Pack(ctx, pair[0], pair[1])
			pair, ask = pair[:0], "float: "
			if err == nil && a.json {
				a.writeLine(p)
			} else if err == nil {
				a.packed(p)
			}
		}
		switch {
		case ctx.Err() != nil:
			return refused.err()
		case err != nil && fault.ClassOf(err) == fault.Ours:
			return err
		case err != nil:
			a.refuse(line, refused.add(err))
		}
	}
	a.prompt("\n")
	if len(pair) == 1 {
		a.refuse(pair[0], refused.add(fault.Inputf("give its card after it", "the last float has no card")))
	}
	return refused.err()
}
