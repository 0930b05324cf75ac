// Package nest lays pieces on sheets of stock so that little of it is spent.
//
// Lengths are millimetres, areas square millimetres, origin top left, y down;
// turns are quarter turns, clockwise, so that a code stays on the printer's dot
// grid. Rows lays pieces side by side by their boxes, in order; Pack nests them
// by their true outlines, fills part-used sheets first and is never worse. It
// looks at no drawing and knows no printer. Same pieces, same places.
package nest

import (
	"errors"
	"math"
	"strconv"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Piece is one thing to be cut out.
type Piece struct {
	Name    string      // for messages
	Outline geom.Path   // where it is cut, inside Box; the box itself if empty
	Box     geom.Rect   // all it needs, captions and marks included
	Drawing *draw.Sheet // what to draw, in the coordinates of Outline and Box
	Beside  geom.Path   // what of Box lies outside the outline and needs room too (captions, marks), for Pack; empty: all of Box beyond the outline's bounds
	Turns   []int       // allowed quarter turns clockwise, the liked one first; none given: as it is
	Keep    string      // pieces of the same Keep share a sheet, if one can hold them; "" for no wish
}

// Placed is where a piece came to lie.
type Placed struct {
	Piece int         // index in the list given
	Sheet int         // from 0
	At    geom.Affine // from the piece's coordinates to the sheet's: a quarter turn and a move
}

// Used tells how much of the stock was spent.
type Used struct {
	Sheets int       // sheets touched
	Last   geom.Rect // used part of the last sheet: a strip over its whole width, from the top edge; what is below stays a rectangle
	Pieces float64   // net area of all outlines, mm²
	Spent  float64   // area inside the margins of the full sheets and of the strip on the last one, mm²
}

// Net returns the share of the spent stock that ends up on floats, 0 to 1; 0 if
// nothing was placed.
func (u Used) Net() float64 {
	if u.Spent <= 0 {
		return 0
	}
	return u.Pieces / u.Spent
}

// areaTolerance flattens outlines for their area: 0.01 mm is a quarter of a dot
// at 600 dpi.
const areaTolerance = 0.01

// slack forgives rounding in sums of millimetres: a millionth of a dot.
const slack = 1e-7

// Rows lays the pieces in rows from the top of each sheet, at least gap apart
// and at least margin from the sheet's edges, both in mm, each with a turn it
// allows. Of a fixed list of ways it takes the one with the fewest sheets and
// then the shortest strip on the last; where it costs nothing the pieces keep
// their order, row by row. It is never worse than a row of its own for every
// piece, unless Keep asks for it. The result is in the order of the pieces,
// and every place was checked.
//
// A piece that fits on no sheet is a NoFit fault with its measures (one for
// each, joined); a margin or a gap that cannot be is an Input fault.
func Rows(pieces []Piece, sheet geom.Size, margin, gap float64) ([]Placed, Used, error) {
	if !(gap >= 0) || !(margin >= 0) || math.IsInf(gap, 1) {
		return nil, Used{}, fault.Inputf("give both as 0 mm or more", "the gap between pieces or the margin of the sheet is no length")
	}
	room := geom.Size{W: sheet.W - 2*margin, H: sheet.H - 2*margin}
	if !(room.W > 0 && room.H > 0) {
		return nil, Used{}, fault.Inputf("use a larger stock or a smaller margin", "margins of %s leave nothing of a sheet of %s",
			mm(margin), measures(sheet))
	}
	all, err := prepare(pieces, room)
	if err != nil || len(all) == 0 {
		return nil, Used{}, err
	}
	best := fewest(all, room, gap)
	out := make([]Placed, len(pieces))
	for _, p := range best.places {
		b := pieces[p.item].Box
		turn := geom.Rotate(float64(p.turn) * math.Pi / 2)
		turned := geom.Rectangle(b).Transform(turn).Bounds()
		out[p.item] = Placed{Piece: p.item, Sheet: p.sheet,
			At: turn.Then(geom.Translate(margin+p.x-turned.Min.X, margin+p.y-turned.Min.Y))}
	}
	if err := check(pieces, out, sheet, margin, gap); err != nil {
		return nil, Used{}, err
	}
	return out, used(pieces, out, sheet, margin), nil
}

// item is a piece as the rows see it: its index and its sizes by turn.
type item struct {
	index int
	keep  string
	ways  []way // allowed turns that fit on a sheet, one for each size, the liked one first
}

type way struct {
	turn int
	w, h float64
}

func prepare(pieces []Piece, room geom.Size) ([]item, error) {
	var errs []error
	items := make([]item, len(pieces))
	for i, p := range pieces {
		w, h := p.Box.W(), p.Box.H()
		if !(w > 0 && h > 0) || math.IsInf(w, 0) || math.IsInf(h, 0) {
			return nil, fault.New(fault.Ours, p.Name, "its box has no size", "")
		}
		if len(p.Outline) > 0 && !p.Box.Inset(-slack).Contains(p.Outline.Bounds()) {
			return nil, fault.New(fault.Ours, p.Name, "its outline leaves its box", "")
		}
		items[i] = item{index: i, keep: p.Keep, ways: ways(p.Turns, w, h, room)}
		if len(items[i].ways) == 0 {
			errs = append(errs, fault.New(fault.NoFit, p.Name, "the piece of "+measures(geom.Size{W: w, H: h})+
				" does not fit into the "+measures(room)+" that a sheet leaves", "use a larger stock, or make the mark smaller"))
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return items, nil
}

func ways(turns []int, w, h float64, room geom.Size) []way {
	if len(turns) == 0 {
		turns = []int{0}
	}
	var out []way
	seen := [2]bool{} // a half turn changes no size
	for _, t := range turns {
		t = (t%4 + 4) % 4
		v := way{t, w, h}
		if t%2 == 1 {
			v.w, v.h = h, w
		}
		if !seen[t%2] && v.w <= room.W+slack && v.h <= room.H+slack {
			seen[t%2] = true
			out = append(out, v)
		}
	}
	return out
}

// used measures what was spent. Places are in sheet coordinates here.
func used(pieces []Piece, placed []Placed, sheet geom.Size, margin float64) Used {
	u := Used{}
	for _, p := range placed {
		u.Sheets = max(u.Sheets, p.Sheet+1)
	}
	foot := 0.0
	for i, p := range placed {
		if p.Sheet == u.Sheets-1 {
			foot = max(foot, boxAt(pieces[i], p).Max.Y)
		}
		if o := pieces[i].Outline; len(o) > 0 {
			u.Pieces += math.Abs(o.Area(areaTolerance))
		} else {
			u.Pieces += float64(pieces[i].Box.W() * pieces[i].Box.H())
		}
	}
	w, h := sheet.W-2*margin, sheet.H-2*margin
	u.Last = geom.XYWH(0, 0, sheet.W, foot)
	u.Spent = float64(w*(h*float64(u.Sheets-1))) + float64(w*(foot-margin))
	return u
}

func boxAt(p Piece, at Placed) geom.Rect { return geom.Rectangle(p.Box).Transform(at.At).Bounds() }

// check proves the layout: every piece once, inside the margins, gap apart.
// Outlines lie in their boxes (prepare), so that boxes apart are outlines apart.
func check(pieces []Piece, placed []Placed, sheet geom.Size, margin, gap float64) error {
	inside := geom.XYWH(0, 0, sheet.W, sheet.H).Inset(margin - slack)
	bySheet := map[int][]int{} // looked up only, never ranged over
	boxes := make([]geom.Rect, len(placed))
	for i, p := range placed {
		wrong := func(what string) error {
			return fault.New(fault.Ours, "sheet "+strconv.Itoa(p.Sheet+1)+", "+pieces[i].Name, what, "")
		}
		if p.Piece != i || p.At == (geom.Affine{}) {
			return wrong("the piece was not placed")
		}
		boxes[i] = boxAt(pieces[i], p)
		if !inside.Contains(boxes[i]) {
			return wrong("the piece leaves the sheet")
		}
		for _, j := range bySheet[p.Sheet] {
			if boxes[i].Inset(-gap + slack).Overlaps(boxes[j]) {
				return wrong("the piece lies too near to " + pieces[j].Name)
			}
		}
		bySheet[p.Sheet] = append(bySheet[p.Sheet], i)
	}
	return nil
}

// measureStep rounds measures in messages.
const measureStep = 0.1

func mm(v float64) string { return unit.Millimetre(v).Text(measureStep, unit.Style{}) }

func measures(s geom.Size) string {
	return unit.Number(s.W, measureStep, unit.Style{}) + " x " + mm(s.H)
}
