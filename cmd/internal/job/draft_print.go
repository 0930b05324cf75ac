package job

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"floatmark/label/record"
)

// printsFolder of a workshop holds the files of what was printed from the
// browser: a folder for each batch, in it one for each print by its number.
const printsFolder = "prints"

// PrintOrder says what of a draft is printed and how.
type PrintOrder struct {
	Only   []int    // Workshop.Only
	Again  bool     // Workshop.Again
	Coarse bool     // Workshop.Preview
	Shop   *ForShop // Workshop.Shop
}

// DraftPrint is a print that was made of a draft.
type DraftPrint struct {
	Number int
	Dir    string
	Files  []Output
}

// PrintDraft prints a batch file that is kept in the records, as PrintFile prints
// one on the disc, into a folder of the workshop. When it fails there is no new
// file and no change. Errors are those of PlanDraft and Print.
func (w *Workshop) PrintDraft(ctx context.Context, d Draft, o PrintOrder, progress Progress) (DraftPrint, error) {
	_, done, err := w.printDraft(ctx, d, o, progress)
	return done, err
}

// printDraft is PrintDraft with the plan that was printed.
func (w *Workshop) printDraft(ctx context.Context, d Draft, o PrintOrder, progress Progress) (*Plan, DraftPrint, error) {
	if d.Err != nil {
		return nil, DraftPrint{}, d.Err
	}
	shop := *w
	shop.Only, shop.Again, shop.Preview, shop.Shop = o.Only, o.Again, o.Coarse, o.Shop
	dir := w.printsOf(d.Name)
	made, err := makeDirs(dir)
	if err != nil {
		return nil, DraftPrint{}, err
	}
	// Its number is known when it is stored: until then its files lie beside.
	making, err := os.MkdirTemp(dir, ".making-*")
	if err != nil {
		removeDirs(made)
		return nil, DraftPrint{}, machine(dir, "nothing can be written there", err)
	}
	defer func() {
		_ = os.RemoveAll(making) // best effort: its name says what it is
		removeDirs(made)         // one with a print in it stays
	}()
	var p *Plan
	var outs []Output
	for again := false; ; again = true {
		if p, err = shop.PlanDraft(ctx, d, progress); err != nil {
			return nil, DraftPrint{}, err
		}
		if outs, err = shop.Print(ctx, p, making, progress); err == nil {
			break
		}
		if again || !errors.Is(err, record.ErrMeanwhile) {
			return nil, DraftPrint{}, err
		}
	}
	done := DraftPrint{Number: p.Number, Dir: w.PrintDir(d.Name, p.Number), Files: outs}
	return p, done, settleIn(making, done.Dir, outs)
}

// settleIn puts the files of a print into its own folder. One that is there holds
// the same print, made before.
func settleIn(making, dir string, outs []Output) error {
	if os.Rename(making, dir) == nil {
		return os.Chmod(dir, 0o755) // a folder made for a moment is for its maker alone
	}
	const lost = "cannot be put in place; the print is recorded as pending, print it again"
	for _, o := range outs {
		to := filepath.Join(dir, o.Name)
		err := os.MkdirAll(filepath.Dir(to), 0o755)
		if err == nil {
			err = os.Rename(filepath.Join(making, o.Name), to)
		}
		if err != nil {
			return machine(to, lost, err)
		}
	}
	return nil
}

// PrintDir is the folder of a print that was made in the browser.
func (w *Workshop) PrintDir(batch string, number int) string {
	return filepath.Join(w.printsOf(batch), strconv.Itoa(number))
}

func (w *Workshop) printsOf(batch string) string {
	return filepath.Join(w.Dir, printsFolder, FolderName(batch))
}

// FolderName turns a batch's name into one that every disc takes for a folder or
// a file, and people still read. Numbers of prints are the workshop's, so that two
// batches may share a folder.
func FolderName(batch string) string {
	name := strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`+"\x7f", r) {
			return '_'
		}
		return r
	}, batch)
	name = strings.Trim(name, " .") // hidden, or dropped by some discs
	if name == "" {
		return "batch"
	}
	return name
}
