package job

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"floatmark/label/record"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Together is batches worked out as they would be printed on common sheets: each
// on what the one before leaves, none of them printed yet.
type Together struct {
	Plans  []*Plan
	Sheets []CommonSheet // by number
}

// CommonSheet is a sheet of film with marks of one batch or several.
type CommonSheet struct {
	Number   int
	PartUsed bool    // from earlier prints
	Feed     string  // the edge that goes into the printer first
	Batches  []int   // which of the plans lie on it, by their place
	Before   float64 // share that is spent already, 0 to 1
	After    float64 // and with all of these batches
	pages    []int   // of each of Batches: index among its Laid
}

// PlanDrafts works batches out on common sheets, in their order, as PrintDrafts
// prints them, and writes nothing. Errors are those of PlanDraft, and Input where a
// batch stands twice or is for another film or printer than the first.
func (w *Workshop) PlanDrafts(ctx context.Context, all []Draft, progress Progress) (*Together, error) {
	if err := apart(all); err != nil {
		return nil, err
	}
	shop := *w
	shop.after, shop.Only, shop.Again, shop.Shop = nil, nil, false, nil
	out := &Together{}
	for _, d := range all {
		p, err := shop.PlanDraft(ctx, d, progress)
		if err != nil {
			return nil, fault.At(d.Name, err)
		}
		if len(out.Plans) > 0 && !p.sharesFilm(out.Plans[0]) {
			return nil, fault.New(fault.Input, d.Name, "it is not for the film and printer of "+all[0].Name, "print it by itself, or choose the same film and printer on its page of sheets")
		}
		out.Plans, shop.after = append(out.Plans, p), append(shop.after, p)
	}
	out.gather()
	return out, nil
}

// apart refuses a batch that stands twice.
func apart(all []Draft) error {
	seen := map[string]bool{}
	for _, d := range all {
		if seen[d.Name] {
			return fault.New(fault.Input, d.Name, "the batch stands twice", "name each batch once")
		}
		seen[d.Name] = true
	}
	return nil
}

// gather lists the sheets that the plans lie on.
func (t *Together) gather() {
	for n, p := range t.Plans {
		for i, l := range p.LaidSheets() {
			k := slices.IndexFunc(t.Sheets, func(s CommonSheet) bool { return s.Number == l.Number })
			if k < 0 {
				k = len(t.Sheets)
				t.Sheets = append(t.Sheets, CommonSheet{Number: l.Number, PartUsed: l.PartUsed, Feed: l.Feed, Before: l.Before})
			}
			s := &t.Sheets[k]
			s.Batches, s.pages, s.After = append(s.Batches, n), append(s.pages, i), l.After
		}
	}
	slices.SortFunc(t.Sheets, func(a, b CommonSheet) int { return a.Number - b.Number })
}

// TintCount is how many batches are told apart by colour; further ones begin anew.
const TintCount = 4

// tints lie under the marks of each batch, pale enough to read over; the page's
// list shows the same.
var tints = [TintCount]draw.Ink{{R: 0xd3, G: 0xe4, B: 0xf5}, {R: 0xf7, G: 0xdf, B: 0xc4}, {R: 0xd6, G: 0xec, B: 0xd2}, {R: 0xea, G: 0xd9, B: 0xf0}}

// SheetPNG is the picture of the common sheet at that place of the list: earlier
// prints in grey, each batch's part in its own tint. NotFound for a place that
// there is not.
func (t *Together) SheetPNG(place int, dpi float64) ([]byte, error) {
	if place < 0 || place >= len(t.Sheets) {
		return nil, fault.New(fault.NotFound, "", "there is no such sheet in this print", "")
	}
	s := t.Sheets[place]
	out, err := t.Plans[s.Batches[0]].laidPicture(s.pages[0] + 1)
	if err != nil {
		return nil, err
	}
	at := geom.Translate(airRound, airRound)
	var under []draw.Op
	for k, n := range s.Batches {
		p, page := t.Plans[n], s.pages[k]
		var part []draw.Op
		for _, spent := range p.Laid[page].Spent {
			part = append(part, &draw.Fill{Path: spent.Transform(at), Ink: tints[n%TintCount]})
		}
		under = append(part, under...) // a strip that is spent further is whole again: its earlier part lies over it
		if k > 0 {
			out.Place(p.Laid[page].Sheet, at)
		}
	}
	// Over the sheet's ground, under what was spent before and all marks.
	ground := out.Layers[draw.Ground]
	k := min(len(ground), 1)
	out.Layers[draw.Ground] = slices.Concat(ground[:k:k], under, ground[k:])
	return fewColours(out, dpi)
}

// TogetherPrint is a print of several batches on common sheets.
type TogetherPrint struct {
	Key    string      // of its folder, "5-6"
	Prints []PrintLine // number, batch, state and times alone
	Bytes  int         // of the common file; 0 where it is gone
}

// togetherFolder holds the common files of prints of several batches, in folders
// named by their numbers.
const togetherFolder = "together"

// PrintDrafts prints batches one after the other, each into its own folder as
// PrintDraft does and on what the one before left of its sheets, and puts what goes
// on each sheet on one page of one file. Where a later batch fails, or the print is
// stopped, the earlier ones are printed and recorded as by themselves. Errors are
// those of PlanDrafts and PrintDraft.
func (w *Workshop) PrintDrafts(ctx context.Context, drafts []Draft, o PrintOrder, progress Progress) (key string, err error) {
	if err := apart(drafts); err != nil {
		return "", err
	}
	for _, d := range drafts {
		if d.Err != nil {
			return "", d.Err
		}
		first := drafts[0].File
		if d.File.Film != first.Film || d.File.Printer != first.Printer || d.File.DPI != first.DPI {
			return "", fault.New(fault.Input, d.Name, "it is not for the film and printer of "+drafts[0].Name, "print it by itself, or choose the same film and printer on its page of sheets")
		}
	}
	var all Several
	var names []string
	for _, d := range drafts {
		p, done, err := w.printDraft(ctx, d, PrintOrder{Again: o.Again, Coarse: o.Coarse}, progress)
		if err != nil {
			return "", afterOthers(d.Name, names, err)
		}
		if len(all.Plans) > 0 && !p.sharesFilm(all.Plans[0]) {
			return "", afterOthers(d.Name, names, fault.New(fault.Input, d.Name, "it is not for the film and printer of "+drafts[0].Name, "its own files are whole: print them by themselves"))
		}
		all.Plans, names = append(all.Plans, p), append(names, strconv.Itoa(done.Number))
	}
	key = strings.Join(names, "-")
	dir := w.togetherDir(key)
	if _, err := makeDirs(dir); err != nil {
		return "", err
	}
	return key, all.writeCommon(dir)
}

// afterOthers tells with an error what was printed before it.
func afterOthers(name string, printed []string, err error) error {
	if len(printed) == 0 {
		return fault.At(name, err)
	}
	return fault.New(fault.ClassOf(err), name, fmt.Sprintf("%v; printed before it and kept: print %s", err, strings.Join(printed, ", ")),
		"each has its own files: print them by themselves, or give them up on their pages", err)
}

func (w *Workshop) togetherDir(key string) string {
	return filepath.Join(w.Dir, printsFolder, togetherFolder, key)
}

// TogetherPrints lists the prints of several batches, the latest first.
func (w *Workshop) TogetherPrints() ([]TogetherPrint, error) {
	folders, err := os.ReadDir(filepath.Join(w.Dir, printsFolder, togetherFolder))
	if err != nil {
		return nil, nil //nolint:nilerr // no folder, no such prints
	}
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	var out []TogetherPrint
	for _, f := range folders {
		one := TogetherPrint{Key: f.Name()}
		for part := range strings.SplitSeq(f.Name(), "-") {
			n, err := strconv.Atoi(part)
			known := false
			var p record.Print
			if err == nil {
				if p, known, err = s.PrintHead(n); err != nil {
					return nil, err
				}
			}
			if !known {
				one.Prints = nil // a batch of the name of this folder, or one of another record
				break
			}
			one.Prints = append(one.Prints, PrintLine{Number: n, Batch: p.Batch, State: p.State, Made: p.Made, Settled: p.Settled})
		}
		if len(one.Prints) < 2 {
			continue
		}
		if info, err := os.Stat(filepath.Join(w.togetherDir(one.Key), "decals.pdf")); err == nil {
			one.Bytes = int(info.Size())
		}
		out = append(out, one)
	}
	slices.SortFunc(out, func(a, b TogetherPrint) int { return b.Prints[0].Number - a.Prints[0].Number })
	return out, nil
}

// TogetherFile reads the common file of a print of several batches: NotFound where
// it is not there any more.
func (w *Workshop) TogetherFile(key string) ([]byte, error) {
	all, err := w.TogetherPrints()
	if err != nil {
		return nil, err
	}
	for _, one := range all {
		if one.Key != key {
			continue
		}
		data, err := os.ReadFile(filepath.Join(w.togetherDir(key), "decals.pdf"))
		if err == nil {
			return data, nil
		}
	}
	return nil, fault.New(fault.NotFound, "", "this file is not there any more", "print the batches together again")
}
