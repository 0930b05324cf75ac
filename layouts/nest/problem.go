package nest

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"floatmark/layouts/geom"
)

// kind is all pieces of one shape and the same allowed turns: what is found out
// about a place for one of them holds for the next.
type kind struct {
	rings [][]geom.Point // as it is, top left corner of its box at the origin
	size  geom.Size      // of that box, mm
	turns []int          // allowed quarter turns on the sheet, the liked one first
	count int
}

// turned returns the size in a turn.
func (k *kind) turned(turn int) geom.Size {
	if turn%2 == 1 {
		return geom.Size{W: k.size.H, H: k.size.W}
	}
	return k.size
}

// problem is what every rule of the portfolio starts from. Nothing in it is
// written once it is made, so that rules can run side by side.
type problem struct {
	pieces []Piece
	kinds  []kind
	kindOf []int // by piece
	used   []Area
	fresh  Area
	gap    float64
	groups [][]int  // pieces that go together, in the order given
	loose  *problem // the same with covers for kinds, if there are many kinds
}

// turnAffine turns by quarter turns.
func turnAffine(turn int) geom.Affine { return geom.Rotate(float64(turn) * math.Pi / 2) }

// corner returns the map that turns a box and brings its top left corner to the
// origin.
func corner(b geom.Rect, turn int) geom.Affine {
	m := turnAffine(turn)
	at := geom.Rectangle(b).Transform(m).Bounds().Min
	return m.Then(geom.Translate(-at.X, -at.Y))
}

// newProblem sorts pieces into kinds. The pieces were checked before.
func newProblem(pieces []Piece, used []Area, fresh Area, o Options) *problem {
	p := &problem{pieces: pieces, used: used, fresh: fresh, gap: o.Gap, kindOf: make([]int, len(pieces))}
	seen := map[string]int{}  // looked up only
	group := map[string]int{} // looked up only
	for i, piece := range pieces {
		ext := piece.extent()
		k := kind{rings: turnRings(piece.rings(flatness), corner(ext, 0)), size: geom.Size{W: ext.W(), H: ext.H()}, turns: turnsOf(piece, o)}
		name := k.name()
		at, ok := seen[name]
		if !ok {
			at = len(p.kinds)
			seen[name] = at
			p.kinds = append(p.kinds, k)
		}
		p.kindOf[i] = at
		p.kinds[at].count++
		g, ok := group[piece.Keep]
		if !ok || piece.Keep == "" || !o.Together {
			g = len(p.groups)
			group[piece.Keep] = g
			p.groups = append(p.groups, nil)
		}
		p.groups[g] = append(p.groups[g], i)
	}
	if len(p.kinds) > manyKinds {
		p.loose = p.covered()
	}
	return p
}

// name tells shapes apart to a tenth of the slack that masks are grown by.
func (k kind) name() string {
	const sameness = slack / 10
	var b strings.Builder
	fmt.Fprint(&b, k.turns)
	for _, r := range k.rings {
		b.WriteByte('/')
		for _, q := range r {
			fmt.Fprintf(&b, "%d,%d ", int64(math.Round(q.X/sameness)), int64(math.Round(q.Y/sameness)))
		}
	}
	return b.String()
}

// turnsOf returns the quarter turns, 0 to 3, that piece and grain both allow,
// each once, the liked one first; none if they contradict each other.
func turnsOf(p Piece, o Options) []int {
	turns := p.Turns
	if len(turns) == 0 {
		turns = []int{0}
	}
	along := 0
	if o.Across {
		along = 1
	}
	var out []int
	for _, t := range turns {
		t = (t%4 + 4) % 4
		if !slices.Contains(out, t) && (!o.Grain || t%2 == along) {
			out = append(out, t)
		}
	}
	return out
}

// room returns the usable part of a sheet turned by quarter turns, mm.
func (a Area) room(quarter int) geom.Size {
	s := geom.Size{W: a.Size.W - 2*a.Margin, H: a.Size.H - 2*a.Margin}
	if quarter%2 == 1 {
		s.W, s.H = s.H, s.W
	}
	return s
}

// view returns the map from a sheet to its usable part turned by quarter turns,
// the top left corner of that part at the origin. Rules only ever fill from the
// top; another edge is a sheet turned.
func (a Area) view(quarter int) geom.Affine {
	return corner(geom.XYWH(a.Margin, a.Margin, a.Size.W-2*a.Margin, a.Size.H-2*a.Margin), quarter)
}

// raster returns the grid of a sheet, what is taken spent with half the gap
// around it; pieces bring the other half.
func (a Area) raster(quarter int, gap, res float64) *grid {
	g := newGrid(a.room(quarter), gap, res)
	view := a.view(quarter)
	for _, t := range a.Taken {
		rings := turnRings(t.Flatten(flatness), view)
		lines := grown(rings, growth(gap, res), (0.5-float64(g.pad))*res, res, g.lines)
		g.spend(&mask{top: -g.pad, rows: pixels(lines, res)}, 0, 0)
	}
	return g
}

// free returns the usable area of a sheet that is not taken, mm², counted at
// res mm.
func (a Area) free(res float64) float64 {
	room := a.room(0)
	all := float64(room.W * room.H)
	if len(a.Taken) == 0 {
		return all
	}
	view := a.view(0)
	var rings [][]geom.Point
	for _, t := range a.Taken {
		rings = append(rings, turnRings(t.Flatten(flatness), view)...)
	}
	n := int(room.H / res)
	for _, line := range grown(rings, 0, res/2, res, n) {
		for _, s := range line {
			all -= max(0, min(room.W, s.b)-max(0, s.a)) * res
		}
	}
	return max(0, all)
}

// maskSet holds the masks of all kinds at one pixel size, by kind and turn.
type maskSet struct {
	masks [][4]*mask
}

func (s *maskSet) of(kind, turn int) *mask { return s.masks[kind][turn] }

// rasterAll makes the masks of every kind in the turns that the quarters ask for.
func (p *problem) rasterAll(res float64, quarters []int) *maskSet {
	s := &maskSet{masks: make([][4]*mask, len(p.kinds))}
	for i := range p.kinds {
		k := &p.kinds[i]
		for _, t := range k.turns {
			for _, q := range quarters {
				turn := (t + q) % 4
				if s.masks[i][turn] != nil {
					continue
				}
				box := geom.XYWH(0, 0, k.size.W, k.size.H)
				s.masks[i][turn] = newMask(turnRings(k.rings, corner(box, turn)), k.turned(turn), p.gap, res)
			}
		}
	}
	return s
}
