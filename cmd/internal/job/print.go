package job

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"time"

	"floatmark/label/record"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/pdf"
	"floatmark/layouts/png"
	"floatmark/layouts/svg"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
)

// previewDPI is fine enough to count a code's dots on a screen.
const previewDPI = 600

// screenDPI shows a page's width on a screen, with words that can be read.
const screenDPI = 200

// Output is one file of a print.
type Output struct {
	Name   string `json:"name"`
	Bytes  int    `json:"bytes"`
	SHA256 string `json:"sha256"`
	data   []byte
}

// output is a file of a print, made.
func output(name string, data []byte) Output {
	sum := sha256.Sum256(data)
	return Output{name, len(data), hex.EncodeToString(sum[:]), data}
}

// Render writes the plan's files into memory: nothing touches the disc before
// every one of them is whole.
func (p *Plan) Render(ctx context.Context, progress Progress) ([]Output, error) {
	b := p.File.Batch
	var out []Output
	total := 4 + 2*len(p.Previews)
	if p.Spread != nil {
		total += 2
	}
	add := func(name string, write func(*bytes.Buffer) error) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		progress.tell("files", len(out), total)
		var buf bytes.Buffer
		if err := write(&buf); err != nil {
			return fault.At(name, err)
		}
		out = append(out, output(name, buf.Bytes()))
		return nil
	}
	for _, d := range []struct {
		name, title string
		sheets      []*draw.Sheet
	}{{"decals.pdf", p.words.Files.Decals, p.Decals}, {"proof.pdf", p.words.Files.Proof, p.Proof}, {"jig.pdf", p.words.Files.Jigs, p.Jigs},
		{"backers.pdf", p.words.Files.Backers, p.Backers}, {"jobsheet.pdf", p.words.Files.JobSheet, p.JobSheets},
		{"boxes.pdf", words.BenchSheetFor(p.words.Language).BoxLabels, p.Boxes}} {
		if d.sheets == nil {
			continue // marks by hand need no film, and film no jigs
		}
		err := add(d.name, func(buf *bytes.Buffer) error {
			return pdf.Write(buf, draw.Document{Title: fmt.Sprintf("%s, %s %s", d.title, p.words.Batch, b.Name),
				Author: b.Maker.Name, Subject: p.words.ActualSize, Date: b.Date, Sheets: d.sheets})
		})
		if err != nil {
			return nil, err
		}
	}
	for _, v := range p.Previews {
		err := add("decal-"+v.Pattern+".png", func(buf *bytes.Buffer) error { return png.Write(buf, v.Sheet, previewDPI) })
		if err != nil {
			return nil, err
		}
	}
	for _, v := range p.pictures() {
		err := add(v.name, func(buf *bytes.Buffer) error {
			buf.Write(v.data)
			return v.err
		})
		if err != nil {
			return nil, err
		}
	}
	if p.Spread != nil {
		sheet := framed(p.Spread)
		if err := add("spread.svg", func(buf *bytes.Buffer) error { return svg.Write(buf, sheet) }); err != nil {
			return nil, err
		}
		if err := add("spread.png", func(buf *bytes.Buffer) error { return png.Write(buf, sheet, screenDPI) }); err != nil {
			return nil, err
		}
	}
	if p.forShop != nil {
		more, err := p.shopFiles(ctx)
		if err != nil {
			return nil, err
		}
		out = append(out, more...)
	}
	progress.tell("files", total, total)
	return out, nil
}

// Print writes the plan's files into dir and its records into the workshop, in
// the order that loses nothing: temporary files, one short commit, then rename.
// When it fails there is no new file and no change.
func (w *Workshop) Print(ctx context.Context, p *Plan, dir string, progress Progress) (outs []Output, err error) {
	outs, err = p.Render(ctx, progress)
	if err != nil {
		return nil, err
	}
	made, err := makeDirs(dir)
	if err != nil {
		return nil, err
	}
	if p.forShop != nil {
		below, err := makeDirs(filepath.Join(dir, shopFolder))
		if err != nil {
			removeDirs(made)
			return nil, err
		}
		made = append(below, made...)
	}
	madeShop, err := makeDirs(w.Dir)
	if err != nil {
		removeDirs(made)
		return nil, err
	}
	temps := make([]string, len(outs))
	defer func() {
		if err != nil {
			for _, t := range temps {
				if t != "" {
					_ = os.Remove(t) // best effort: the first error is the one to tell
				}
			}
			removeDirs(madeShop)
			removeDirs(made)
		}
	}()
	for i, o := range outs {
		w.stepped()
		if temps[i], err = writeTemp(dir, o); err != nil {
			return nil, err
		}
	}
	w.stepped()
	if err = ctx.Err(); err != nil {
		return nil, err
	}
	if err = w.commit(p, outs); err != nil {
		return nil, err
	}
	for i, o := range outs {
		w.stepped()
		if e := os.Rename(temps[i], filepath.Join(dir, o.Name)); e != nil {
			return nil, machine(filepath.Join(dir, o.Name), "cannot be put in place; the print is recorded as pending, print it again", e)
		}
	}
	return outs, nil
}

func (w *Workshop) stepped() {
	if w.step != nil {
		w.step()
	}
}

// makeDirs makes a folder and those above it, and returns the ones that are new.
func makeDirs(dir string) (made []string, err error) {
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		info, e := os.Stat(d)
		if e == nil && !info.IsDir() {
			return nil, fault.New(fault.Machine, d, "this is a file, not a folder", "name another folder")
		}
		if e == nil || d == filepath.Dir(d) {
			break
		}
		if !errors.Is(e, fs.ErrNotExist) {
			return nil, machine(d, "cannot be used", e)
		}
		made = append(made, d)
	}
	if e := os.MkdirAll(dir, 0o755); e != nil {
		removeDirs(made)
		return nil, machine(dir, "the folder cannot be made", e)
	}
	return made, nil
}

// removeDirs takes new folders away again, deepest first; one that is not empty
// stays.
func removeDirs(made []string) {
	for _, d := range made {
		_ = os.Remove(d) // not empty or gone: either is as it should be
	}
}

func writeTemp(dir string, o Output) (string, error) {
	dir = filepath.Join(dir, filepath.Dir(o.Name))
	f, err := os.CreateTemp(dir, "."+filepath.Base(o.Name)+".*.part")
	if err != nil {
		return "", machine(dir, "nothing can be written there", err)
	}
	_, err = f.Write(o.data)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return f.Name(), machine(filepath.Join(dir, filepath.Base(o.Name)), "cannot be written", err)
	}
	return f.Name(), nil
}

// printed is the stored shape of a print: what was printed, whole.
type printed struct {
	Format     int            `json:"format"`
	Batch      string         `json:"batch"`
	Convention string         `json:"convention"`
	Revision   int            `json:"convention_revision"`
	Metal      string         `json:"convention_metal"`
	Sizes      []shot.Size    `json:"convention_sizes"` // whole: a maker's own set may change
	Film       string         `json:"film"`
	Card       string         `json:"card"`
	DPI        float64        `json:"dpi"`
	Marks      string         `json:"marks,omitempty"`      // key of the marks, wherever they lie on a sheet
	Ledger     *Ledger        `json:"ledger,omitempty"`     // the sheets as the plan found them
	FromReady  []int          `json:"from_ready,omitempty"` // floats whose marks lay ready
	Only       []int          `json:"only,omitempty"`       // floats whose marks were printed; none for all
	Floats     []printedFloat `json:"floats"`
	Files      []Output       `json:"files"`
	Source     string         `json:"batch_file"`
	Notices    []Notice       `json:"notices"`
	Codes      []CodeReport   `json:"codes,omitempty"` // how the codes were chosen, and what the pictures said
	Layouts    []string       `json:"layouts"`         // the drawing lists of the decal sheets
}

type printedFloat struct {
	Number int      `json:"number"`
	ID     string   `json:"id"`
	Lines  []string `json:"lines"`
	Code   string   `json:"code,omitempty"`
	Dots   int      `json:"code_dots,omitempty"`
	Turn   string   `json:"placed"`
	// Dedication is for the maker's own search: entries, which are made public, have none.
	Dedication string `json:"dedication,omitempty"`
}

// commit stores the print as pending, its sheets and its floats in one short
// transaction.
func (w *Workshop) commit(p *Plan, outs []Output) error {
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		return err
	}
	defer s.Close()
	var first []record.Setting
	if p.Provisional {
		first = append(first, record.Setting{Name: keyName, Value: hex.EncodeToString(p.key)})
	}
	now := time.Now().UTC().Format(time.RFC3339)
	b := p.File.Batch
	job := printed{Format: 1, Batch: b.Name, Convention: b.Convention.Key, Revision: b.Convention.Revision,
		Metal: b.Convention.Metal.Name, Sizes: b.Convention.Sizes,
		Film: p.film.Key, Card: p.card.Key, DPI: p.print.DPI, Marks: p.marksID, FromReady: p.fromReady(), Only: p.only, Ledger: &p.sheets, Files: outs, Source: string(p.File.Source), Notices: p.Notices, Codes: p.CodeReports()}
	floats := make([]record.Float, len(p.Floats))
	for i, fp := range p.Floats {
		data, err := json.Marshal(fp.Entry)
		if err != nil {
			return err
		}
		floats[i] = record.Float{ID: string(fp.Float.ID), Batch: b.Name, Number: fp.Float.Number, Attempt: fp.Attempt,
			Pattern: fp.Float.Pattern.Key, Data: data, Created: now, Figures: FiguresKey(fp.Float.Pattern.Key, fp.Mark, fp.Decal.Printed)}
		pf := printedFloat{Number: fp.Float.Number, ID: string(fp.Float.ID), Turn: fp.Placed(), Dedication: fp.Float.Dedication}
		for _, l := range fp.Decal.Printed {
			pf.Lines = append(pf.Lines, l.Text)
		}
		if fp.Decal.CodeOn {
			pf.Code, pf.Dots = fp.Mark.Code, fp.Decal.Code.Dots
		}
		job.Floats = append(job.Floats, pf)
	}
	for _, sheet := range p.Decals {
		job.Layouts = append(job.Layouts, sheet.Dump())
	}
	regions, err := p.sheets.Regions(p.film.Key, p.Laid)
	if err != nil {
		return err
	}
	spares, err := p.spareRecords()
	if err != nil {
		return err
	}
	data, err := json.Marshal(job)
	if err != nil {
		return err
	}
	files := map[string]string{}
	for _, o := range outs {
		files[o.Name] = o.SHA256
	}
	key := contentKey(files)
	if err := p.settled(key); err != nil {
		return err
	}
	err = s.SavePrint(record.Print{Key: key, Batch: b.Name, Made: now, State: record.Pending,
		Data: data, Files: files, Regions: regions, Spares: spares, Marks: p.moves(), Again: w.Again}, floats, first...)
	if err != nil {
		return err
	}
	saved, _, err := s.Print(key)
	p.Number = saved.Number
	return err
}

// contentKey names a print by what it prints: the same files, the same print.
func contentKey(files map[string]string) string {
	names := make([]string, 0, len(files))
	for n := range files {
		names = append(names, n)
	}
	sort.Strings(names)
	h := sha256.New()
	for _, n := range names {
		fmt.Fprintf(h, "%s %s\n", n, files[n])
	}
	return hex.EncodeToString(h.Sum(nil))
}
