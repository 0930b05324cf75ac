package job

import (
	"math"
	"slices"
	"strconv"

	"floatmark/label/words"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/jobsheet"
	"floatmark/layouts/stock"
	"floatmark/layouts/wrap"
	"floatmark/loading/unit"
)

// sheetPiece is a piece on the way to a sheet of film: whose it is.
type sheetPiece struct {
	decal.Piece
	float int    // index among the plan's floats; -1 for marks ahead and spares
	name  string // on the map
}

// sheetPieces lists what is printed on film, in the order it is nested in.
func (p *Plan) sheetPieces() []sheetPiece {
	var all []sheetPiece
	add := func(pieces []decal.Piece, float int, name string) {
		for _, piece := range pieces {
			all = append(all, sheetPiece{piece, float, name})
		}
	}
	for i := range p.Floats {
		if p.Floats[i].Ready || len(p.only) > 0 && !slices.Contains(p.only, p.Floats[i].Float.Number) {
			continue
		}
		add(p.Floats[i].Decal.Pieces, i, strconv.Itoa(p.Floats[i].Float.Number))
	}
	for _, a := range p.Ahead {
		for range a.Count {
			add(a.Decal.Pieces, -1, "–")
		}
	}
	for _, s := range p.Spares {
		add(s.Decal.Pieces, -1, "+"+strconv.Itoa(s.Number))
	}
	return all
}

// maps draws where each piece lies on the decal sheets, and names for each float
// the pages and fields of its pieces.
func (p *Plan) maps(bench words.BenchSheet) (maps []jobsheet.Map, fields [][]string) {
	pieces := p.sheetPieces()
	fields = make([][]string, len(p.Floats))
	lies := make([]string, len(pieces)) // of each piece, in their order
	size := p.film.Size
	for i, l := range p.Laid {
		m := jobsheet.Map{Title: p.pageName(bench, i), Size: size}
		if open := p.sheets.Decal(); l.Open >= 0 && l.Open < len(open) {
			m.Spent = open[l.Open].Taken
		}
		if p.film.Grid != nil {
			m.Labels = p.film.Grid.Outlines()
		}
		for k, at := range p.places(l) {
			if k >= len(l.Pieces) {
				break
			}
			one := pieces[l.Pieces[k]]
			outline := p.asPrinted(one.Piece, one.Outline).Transform(at)
			b := outline.Bounds()
			lies[l.Pieces[k]] = strconv.Itoa(i+1) + " " + jobsheet.Field(size, geom.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2})
			m.Pieces = append(m.Pieces, jobsheet.MapPiece{Outline: outline, Name: one.name})
		}
		maps = append(maps, m)
	}
	for i, one := range pieces {
		if one.float >= 0 && lies[i] != "" {
			fields[one.float] = append(fields[one.float], lies[i])
		}
	}
	return maps, fields
}

// places returns how the pieces of a sheet were moved there, in their order: every
// piece is one group of the layer its edge is on, or of its print on labels, which
// are cut already.
func (p *Plan) places(l decal.Laid) []geom.Affine {
	layer := draw.Cut
	if p.film.Grid != nil {
		layer = draw.Colour
	}
	var all []geom.Affine
	for _, o := range l.Sheet.Layers[layer] {
		if g, ok := o.(*draw.Group); ok {
			all = append(all, g.At)
		}
	}
	return all
}

// asPrinted returns a part of a piece as it lies on its sheet: mirrored about the
// piece's middle for stock that is laid face down.
func (p *Plan) asPrinted(piece decal.Piece, path geom.Path) geom.Path {
	return path.Transform(p.facing(piece))
}

func (p *Plan) facing(piece decal.Piece) geom.Affine {
	if !p.film.Medium.Mirrored() {
		return geom.Identity
	}
	b := piece.Outline.Bounds()
	return geom.Affine{A: -1, D: 1, E: b.Min.X + b.Max.X}
}

// How far outside the mark scissors go at a free edge, mm. Common practice, no
// source: half a millimetre to one on clear waterslide film; other clear stuffs are
// cut close, drawn as the least that can be told from the line.
const (
	cutLeast, cutMost = 0.5, 1.0
	cutClose          = 0.4
)

// guides shows where the pieces of each pattern's first float are cut, with how it
// is done. There are none for marks by hand, which have jigs, and for labels, which
// are cut already.
func (p *Plan) guides(bench words.BenchSheet) (guides []jobsheet.Guide, notes []string) {
	if p.film.Sheetless() || p.film.Grid != nil {
		return nil, nil
	}
	out, free := 0.0, bench.AllOnLine
	switch {
	case p.film.Clear && p.film.Medium == stock.Waterslide:
		out = (cutLeast + cutMost) / 2
		free = words.Filled(bench.FreeEdges, unit.Number(cutLeast, cutLeast, p.words.Number), p.words.Millimetre(cutMost, cutLeast))
	case p.film.Clear:
		out, free = cutClose, bench.CloseRound
	}
	seams := false
	for _, fp := range p.firsts() {
		for _, piece := range fp.Decal.Pieces {
			turn := p.facing(piece)
			g := jobsheet.Guide{Title: fp.Float.Pattern.Name, Where: p.place(fp, piece), Mark: piece.Outline.Transform(turn)}
			g.Print = []draw.Op{&draw.Group{Name: piece.Name, At: turn, Ops: append(slices.Clone(piece.Drawing.Layers[draw.Ground]), piece.Drawing.Layers[draw.Colour]...)}}
			cut, edges := cutting(piece.Flat, out)
			g.Cut = cut.Transform(turn)
			if out > 0 {
				for _, e := range edges {
					g.Seams = append(g.Seams, e.Transform(turn))
				}
			}
			seams = seams || len(g.Seams) > 0
			guides = append(guides, g)
		}
	}
	if seams {
		notes = append(notes, bench.AtSeam)
	}
	return guides, append(notes, free)
}

// cutting returns where a flat piece is cut: so far outside its free edges, and on
// the line at the edges that meet in a seam, which a part wrap has not.
func cutting(f wrap.Flat, out float64) (cut geom.Path, seams []geom.Path) {
	const whole = 1e-9
	left, right := f.Left(), f.Right()
	if f.Overlap == 0 && right-left < 2*math.Pi-whole {
		aside := f.Angle(out, f.Slant/2)
		return f.Band(-out, f.Slant+out, left-aside, right+aside), nil
	}
	for _, theta := range []float64{left, right} {
		seams = append(seams, geom.LineBetween(f.At(theta, -out), f.At(theta, f.Slant+out)))
	}
	return f.Band(-out, f.Slant+out, left, right), seams
}
