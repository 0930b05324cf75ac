package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (a *app) tick() *cobra.Command {
	var photos []string
	var batch string
	var undo bool
	cmd := &cobra.Command{
		Use:   "tick ID...",
		Short: "Tick floats off under their varnish, by id or photograph",
		Long: `Tick floats off under their varnish: by id, by photographs of their codes (JPEG
or PNG), or line by line with "-". There every line, an id, what a scanner read or
the name of a picture, is answered at once; "undo" takes the last tick back, and
the end of input ends it. Exit code 2 or 3 says that a line was refused.

With --batch alone it lists the floats of a batch and what is missing.`,
		Example: "  floatmark tick 9KYA3C\n  floatmark tick --photo tray.jpg\n  floatmark tick -\n  floatmark tick --batch 26-11",
		RunE: func(cmd *cobra.Command, args []string) error {
			shop, err := a.open()
			if err != nil {
				return err
			}
			words := append(slices.Clone(photos), args...)
			loop := slices.Contains(words, "-")
			do := shop.Tick
			if undo {
				do = shop.Untick
			}
			switch {
			case batch != "" && (len(words) > 0 || undo):
				return fault.New(fault.Input, "--batch", "it lists a batch and ticks nothing", "leave the ids or --batch out")
			case batch != "":
				return a.listTicks(shop, batch)
			case loop && len(words) > 1:
				return fault.New(fault.Input, "-", "ids are read from the input alone", `leave the others or "-" out`)
			case loop:
				return a.tickLines(cmd, shop, do, undo)
			case len(words) == 0:
				return fault.New(fault.Input, "", "no float is named", "name ids, a picture with --photo, - to type them line by line, or --batch NAME to see what is missing")
			}
			return a.tickAll(cmd.Context(), shop, words, do, undo)
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&photos, "photo", nil, "photograph with a float's code; more may follow as arguments")
	f.StringVar(&batch, "batch", "", "list this batch: what is ticked, what is missing")
	f.BoolVar(&undo, "undo", false, "take back what was ticked")
	return cmd
}

// listTicks shows a batch in the order of the drying board.
func (a *app) listTicks(shop *job.Workshop, batch string) error {
	lines, err := shop.Ticks(batch)
	if err != nil {
		return err
	}
	at := func(step, none string) string {
		if step == "" {
			return none
		}
		return when(step)
	}
	err = list(a, lines, "", "no.\tid\tpattern\trating\tvarnished\ton its card", func(l job.TickLine) string {
		id := l.ID
		if len(l.Spares) > 0 {
			id += ", spare " + strings.Join(l.Spares, ", ")
		}
		return fmt.Sprintf("%d\t%s\t%s\t%s\t%s\t%s", l.Number, id, l.Pattern, l.Rating, at(l.Varnished, "MISSING"), at(l.Carded, "-"))
	})
	if err == nil && !a.json {
		fmt.Fprintln(a.out, "\n"+missing(batch, lines))
	}
	return err
}

// missing sums a batch up: "26-11: 24 of 26 ticked; missing: 3, 7-9".
func missing(batch string, lines []job.TickLine) string {
	var not []int
	for _, l := range job.Missing(lines) {
		not = append(not, l.Number)
	}
	text := fmt.Sprintf("%s: %d of %d ticked", batch, len(lines)-len(not), len(lines))
	if len(not) == 0 {
		return text + "; none is missing"
	}
	return text + "; missing: " + ranges(not)
}

// tickAll ticks what the arguments name, each answered, and goes on past those
// that are refused.
func (a *app) tickAll(ctx context.Context, shop *job.Workshop, words []string, do tickFunc, undo bool) error {
	answers := []job.Ticked{}
	var refused []error
	for _, word := range words {
		t, err := a.onWord(ctx, shop, word, do)
		if errors.Is(err, context.Canceled) {
			return err
		}
		if err != nil {
			refused = append(refused, err)
			continue
		}
		answers = append(answers, t)
		if !a.json {
			fmt.Fprintln(a.out, answer(t, undo))
		}
	}
	if a.json {
		if err := a.writeJSON(answers); err != nil {
			return err
		}
	}
	return errors.Join(refused...)
}

type tickFunc = func(ctx context.Context, text string) (job.Ticked, error)

func (a *app) onWord(ctx context.Context, shop *job.Workshop, word string, do tickFunc) (job.Ticked, error) {
	text, err := said(ctx, shop, word)
	if err != nil {
		return job.Ticked{}, err
	}
	t, err := do(ctx, text)
	if err != nil && text != word {
		err = fault.At(word, err)
	}
	return t, err
}

// answer says in a line what came of a tick, then the float as the drying board
// has it.
func answer(t job.Ticked, undo bool) string {
	left := fmt.Sprintf("; %d to go", t.Of-t.Done)
	if t.Done == t.Of {
		left = "; all " + fmt.Sprint(t.Of) + " of " + t.Batch + " are ticked"
	}
	switch {
	case undo && t.Already:
		return state("no tick") + described(t.Marked) + "; nothing changed"
	case undo:
		return state("undone") + described(t.Marked) + left
	case t.Already:
		return state("already") + described(t.Marked) + "; ticked " + when(t.Varnished) + ", nothing changed"
	}
	return state("ticked") + described(t.Marked) + left
}

// described is a float in a few words: "float 7 of 26-11, 9KYA3C, sedge, 8 g".
func described(m job.Marked) string {
	id := m.ID
	if m.Spare != "" {
		id = "spare " + m.Spare + " for " + m.ID
	}
	return fmt.Sprintf("%s, %s, %s, %s", m.Place(), id, m.Pattern, m.Rating)
}

// undoWord takes the last tick of the loop back. It is no id: it has four letters.
const undoWord = "undo"

// tickLines ticks line by line.
func (a *app) tickLines(cmd *cobra.Command, shop *job.Workshop, do tickFunc, undo bool) error {
	ctx := cmd.Context()
	in := newLines(ctx, cmd.InOrStdin())
	var batches []string
	var last string
	var refused refusals
	for {
		a.prompt("float: ")
		line, ok, err := in.next()
		if err != nil {
			return err
		}
		if !ok {
			break
		}
		if line == "" {
			continue
		}
		back := undo
		now := do
		if strings.EqualFold(line, undoWord) {
			if last == "" {
				a.refuse(line, refused.add(fault.Inputf("type an id", "nothing was ticked here that could be taken back")))
				continue
			}
			line, now, back, last = last, shop.Untick, true, ""
		}
		t, err := a.onWord(ctx, shop, line, now)
		switch {
		case ctx.Err() != nil:
			return a.ended(shop, batches, refused)
		case err != nil && fault.ClassOf(err) == fault.Ours:
			return err
		case err != nil:
			a.refuse(line, refused.add(err))
			continue
		}
		if !back && !t.Already {
			last = t.ID
		}
		if !slices.Contains(batches, t.Batch) {
			batches = append(batches, t.Batch)
		}
		if a.json {
			a.writeLine(t)
		} else {
			fmt.Fprintln(a.out, answer(t, back))
		}
	}
	return a.ended(shop, batches, refused)
}

// ended sums the batches up that were met.
func (a *app) ended(shop *job.Workshop, batches []string, refused refusals) error {
	if a.json {
		return refused.err()
	}
	a.prompt("\n")
	for _, b := range batches {
		lines, err := shop.Ticks(b)
		if err != nil {
			return err
		}
		fmt.Fprintln(a.out, missing(b, lines))
	}
	return refused.err()
}

// ranges lists numbers in order, neighbours drawn together: "3, 7-9".
func ranges(all []int) string {
	var parts []string
	for i := 0; i < len(all); i++ {
		j := i
		for j+1 < len(all) && all[j+1] == all[j]+1 {
			j++
		}
		if j > i+1 {
			parts = append(parts, fmt.Sprintf("%d-%d", all[i], all[j]))
			i = j
			continue
		}
		parts = append(parts, fmt.Sprint(all[i]))
	}
	return strings.Join(parts, ", ")
}
