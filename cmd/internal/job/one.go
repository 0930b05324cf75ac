package job

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/pdf"
	"floatmark/layouts/png"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
)

// Single is a mark for one float, without a batch file.
type Single struct {
	Load       string // what the float takes with its weight fitted, as hung: "0.8 g", "3AAA+2No4"; "0 g" where it takes none
	Diameter   string // of the body over its last coat, where the mark begins; mm unless a unit is written
	ToDiameter string // where the mark ends; "" for a parallel body
	Height     string // of the mark along the axis
	From       string // of the mark's lower edge over the base end, told on the sheet; "" for just above it
	TipAcross  string // diameter at the waterline, which decides how far the tip moves for a gram
	BuiltIn    string // mass of the weight built in; "" for none
	Metal      string // of the weight built in
	Outside    bool   // the weight sits outside in the water
	Rating     string // as declared; "" takes what was measured
	Convention string // of the mark; "" for the workshop's
	Hung       string // metal of a load in grams; "" for the convention's
	TempC      float64
	Salinity   float64
	Tip        string // how the tip is wetted: wet, dry, washed, unknown
	Scale      string // last digit of the scale
	Style      string // least or full
	Line       string // how the line is fixed
	Ring       string // what a thin ring stands for; "" chooses by the rating
	Film       string // key of the stock; "" for the usual one
	Maker      string // where the workshop names none
	Name       string // of the batch it is recorded in; "" when it is not recorded
	Date       string // "" for today
	ID         string // an id it has already; "" or "none" for a mark without
	Record     bool   // keep a record and give an id: a batch of one
}

// SingleMark is a single float's mark, worked out and laid out.
type SingleMark struct {
	Plan     *Plan
	Float    FloatPlan
	recorded bool
}

// PlanOne works out a single float through the same steps as a batch: it
// writes a batch file of one in memory. Without Record it has no id and no
// code but one that is given, since nothing would answer for a new one. Errors
// are those of Plan; NoFit when the words have no room.
func (w *Workshop) PlanOne(ctx context.Context, s Single, progress Progress) (*SingleMark, error) {
	if s.Date == "" {
		s.Date = time.Now().Format(time.DateOnly)
	}
	id, err := s.id()
	if err != nil {
		return nil, err
	}
	src, err := w.singleSource(s)
	if err != nil {
		return nil, err
	}
	if s.Record {
		p, err := w.PlanSource(ctx, singleFile, src, progress)
		if err != nil {
			return nil, unplaced(err)
		}
		return &SingleMark{Plan: p, Float: p.Floats[0], recorded: true}, nil
	}
	file, err := batch.Parse(singleFile, src, nil, w.settings)
	if err != nil {
		return nil, unplaced(err)
	}
	p := &Plan{File: file, preview: true, prover: w.prover(ctx)} // one piece or two: there is nothing to gain
	if err := w.equip(p); err != nil {
		return nil, err
	}
	ratings, notices, err := rate(file.Batch)
	if err != nil {
		return nil, unplaced(err)
	}
	p.Notices = notices
	file.Batch.Floats[0].ID = id
	p.Floats = []FloatPlan{{Float: &file.Batch.Floats[0], Rating: ratings[0].Rating}}
	if err := p.single(ctx); err != nil {
		return nil, err
	}
	return &SingleMark{Plan: p, Float: p.Floats[0]}, ctx.Err()
}

// singleFile names the batch file that is nowhere, in messages.
const singleFile = "one"

// id reads the id a float has already.
func (s Single) id() (ident.ID, error) {
	if s.ID == "" || s.ID == "none" {
		if s.Record && s.Name == "" {
			return "", fault.New(fault.Input, "--record", "the record has no batch to stand in", `name one with --name "26-11-singles"; each name keeps one float`)
		}
		return "", nil
	}
	if s.Record {
		return "", fault.New(fault.Input, "--id", "a float that is recorded is given its id", "leave --id or --record out")
	}
	id, err := ident.Parse(s.ID)
	return id, fault.At("--id", err)
}

// single lays out the one mark: words and figures as those of a batch, without
// the lines that need a record.
func (p *Plan) single(ctx context.Context) error {
	b, fp := p.File.Batch, &p.Floats[0]
	f := fp.Float
	fp.Shot = shotFor(fp.Rating, f, b, []shot.Convention{b.Convention})[0]
	if f.Pattern.Shows(label.PartShot) {
		p.Notices = append(p.Notices, equivalentNotice(b, f, fp.Rating, b.Convention, fp.Shot)...)
	}
	fp.Mark = label.Compose(b, f, fp.Rating, b.Convention, fp.Shot, p.words)
	if f.ID == "" {
		withoutID(&fp.Mark, label.Line{Role: label.RoleMetal, Text: p.words.Name(b.Convention.Metal.Name) + ", " + label.WaterName(fp.Rating, p.words)})
	}
	var err error
	fp.Decal, err = decal.Lay(p.spec(fp))
	if err != nil {
		return fault.At(fmt.Sprintf("a mark %s high on %s", p.words.Millimetre(f.Pattern.Main().Height, 0.1),
			p.words.Millimetre(f.Pattern.Profile.Diameter(f.Pattern.Main().From), 0.1)), err)
	}
	for _, n := range fp.Decal.Notices {
		p.Notices = append(p.Notices, Notice{f.Number, n.Code, n.Text})
	}
	if err := p.decals(ctx, nil); err != nil {
		return err
	}
	p.previews()
	return nil
}

// withoutID takes code and id off a mark. What the figures hold for takes the
// id's place: the metal and water of the add, or what is built in where nothing
// is added.
func withoutID(m *label.Mark, metal label.Line) {
	put := metal
	for _, l := range m.Lines {
		if l.Role == label.RoleBuiltIn && m.Find(label.RoleMetal) == "" {
			put = l
		}
	}
	m.Lines = slices.DeleteFunc(m.Lines, func(l label.Line) bool { return l.Role == put.Role })
	// The order of the lines is that of their importance, which places them.
	at := slices.IndexFunc(m.Lines, func(l label.Line) bool { return l.Role > label.RoleID })
	if at < 0 {
		at = len(m.Lines)
	}
	m.Lines = slices.Insert(m.Lines, at, label.Line{Role: label.RoleID, Text: put.Text})
	m.Code = ""
	m.ID = m.Find(label.RoleRating) // names the piece on the sheet
}

// PrintOne writes the mark into dir: decals.pdf and a picture of it, or, of a
// recorded float, all that a batch of one has. When it fails there is no new
// file and no change.
func (w *Workshop) PrintOne(ctx context.Context, m *SingleMark, dir string, progress Progress) ([]Output, error) {
	if m.recorded {
		return w.Print(ctx, m.Plan, dir, progress)
	}
	outs, err := m.Plan.renderOne()
	if err != nil {
		return nil, err
	}
	made, err := makeDirs(dir)
	if err != nil {
		return nil, err
	}
	temps := make([]string, len(outs))
	for i, o := range outs {
		if temps[i], err = writeTemp(dir, o); err != nil {
			break
		}
	}
	if err == nil {
		err = ctx.Err()
	}
	for i, o := range outs {
		if err == nil {
			if e := os.Rename(temps[i], filepath.Join(dir, o.Name)); e != nil {
				err = machine(filepath.Join(dir, o.Name), "cannot be put in place", e)
			}
		}
	}
	if err != nil {
		for _, t := range temps {
			if t != "" {
				_ = os.Remove(t) // best effort: the first error is the one to tell
			}
		}
		removeDirs(made)
		return nil, err
	}
	return outs, nil
}

func (p *Plan) renderOne() ([]Output, error) {
	b := p.File.Batch
	var outs []Output
	for _, d := range []struct {
		name  string
		write func(*bytes.Buffer) error
	}{
		{"decals.pdf", func(buf *bytes.Buffer) error {
			return pdf.Write(buf, draw.Document{Title: "decals, " + p.Floats[0].Mark.Find(label.RoleRating), Author: b.Maker.Name,
				Subject: p.words.ActualSize, Date: b.Date, Sheets: p.Decals})
		}},
		{"decal-" + p.Previews[0].Pattern + ".png", func(buf *bytes.Buffer) error { return png.Write(buf, p.Previews[0].Sheet, previewDPI) }},
	} {
		var buf bytes.Buffer
		if err := d.write(&buf); err != nil {
			return nil, fault.At(d.name, err)
		}
		outs = append(outs, output(d.name, buf.Bytes()))
	}
	return outs, nil
}
