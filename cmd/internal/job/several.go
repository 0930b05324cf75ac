package job

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"floatmark/layouts/draw"
	"floatmark/layouts/pdf"
	"floatmark/loading/fault"
)

// Several is batches printed together: each in a folder of its own below, and one
// file with their marks on common sheets.
type Several struct {
	Plans  []*Plan
	Files  [][]Output // of each batch, below the folder of its name
	Common Output     // decals.pdf: a page for each sheet of film, whatever batches are on it
	Pages  []int      // numbers of those sheets
}

// PrintSeveral prints batch files one after the other, each on what the one
// before left of its sheets, and puts the marks of each sheet on one page, so that
// it goes through the printer once. The batches must name one film and printer.
// Where a later batch fails, the earlier ones are printed and recorded; their
// files are whole, and the common one is not written.
func (w *Workshop) PrintSeveral(ctx context.Context, paths []string, dir string, progress Progress) (Several, error) {
	var all Several
	seen := map[string]string{}
	for _, path := range paths {
		p, err := w.Plan(ctx, path, progress)
		if err != nil {
			return all, err
		}
		name := p.File.Batch.Name
		switch {
		case seen[name] != "":
			return all, fault.New(fault.Input, path, fmt.Sprintf("it is the batch %q, as %s is", name, seen[name]), "name each batch once")
		case name != filepath.Base(name) || name == "." || name == "..":
			return all, fault.New(fault.Input, path, fmt.Sprintf("the batch %q cannot be the name of a folder", name), "give it a name without / and \\")
		case len(all.Plans) > 0 && !p.sharesFilm(all.Plans[0]):
			return all, fault.New(fault.Input, path, "it is not for the film and printer of "+paths[0], "print it by itself")
		}
		seen[name] = path
		p, outs, err := w.PrintFile(ctx, path, filepath.Join(dir, name), progress)
		if err != nil {
			return all, err
		}
		all.Plans, all.Files = append(all.Plans, p), append(all.Files, outs)
	}
	return all, all.writeCommon(dir)
}

// sharesFilm reports whether two plans can go on the same sheets in one printer.
func (p *Plan) sharesFilm(with *Plan) bool {
	return p.film.Key == with.film.Key && p.film.Size == with.film.Size && p.print == with.print && !p.film.Sheetless()
}

// writeCommon puts what the batches have on each sheet on one page of one file in
// dir. Where every mark lies ready there is none.
func (all *Several) writeCommon(dir string) error {
	sheets := map[int]*draw.Sheet{}
	for _, p := range all.Plans {
		for i, l := range p.Laid {
			common := sheets[l.Number]
			if common == nil {
				common = &draw.Sheet{Name: p.Decals[i].Name, Size: p.Decals[i].Size}
				sheets[l.Number] = common
				all.Pages = append(all.Pages, l.Number)
			}
			for _, layer := range draw.Layers() {
				common.Layers[layer] = append(common.Layers[layer], p.Decals[i].Layers[layer]...)
			}
		}
	}
	if len(all.Pages) == 0 {
		return nil
	}
	slices.Sort(all.Pages)
	b := all.Plans[0].File.Batch
	doc := draw.Document{Title: "decals of several batches", Author: b.Maker.Name, Subject: all.Plans[0].words.ActualSize, Date: b.Date}
	for _, n := range all.Pages {
		doc.Sheets = append(doc.Sheets, sheets[n])
	}
	var buf bytes.Buffer
	if err := pdf.Write(&buf, doc); err != nil {
		return err
	}
	all.Common = output("decals.pdf", buf.Bytes())
	temp, err := writeTemp(dir, all.Common)
	if err == nil {
		err = os.Rename(temp, filepath.Join(dir, all.Common.Name))
	}
	if err != nil {
		if temp != "" {
			_ = os.Remove(temp) // best effort: the first error is the one to tell
		}
		return machine(filepath.Join(dir, all.Common.Name), "cannot be written; each batch's own files are whole", err)
	}
	return nil
}
