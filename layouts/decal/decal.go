// Package decal lays the mark of one float out on the flat piece that goes
// round its body: rings, words, code, cut outline and the caption outside it.
//
// Lengths are millimetres. The piece lies as wrap develops it: tip up, origin
// at the foot of the centre meridian. Which words a mark has is label's affair;
// how big they are, which way they run and whether the code fits is decided here.
package decal

import (
	"fmt"
	"strings"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/layouts/wrap"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Spec is what one mark is laid out from.
type Spec struct {
	Mark    label.Mark
	Pattern *label.Pattern
	Fonts   fonts.Set
	Film    stock.Stock
	Printer stock.Printer
	Overlap float64 // of the seam, mm; negative leaves a gap
	Words   words.Words
}

// Result is the laid-out piece and what was decided on the way.
type Result struct {
	Piece   nest.Piece
	Flat    wrap.Flat
	Turn    label.Turn      // label.Round or label.Lengthwise
	Printed []label.Line    // the lines that are really on the piece
	CodeOn  bool            // the code is on the piece
	Code    *legible.Choice // its size and grade; nil when it is not on the piece
	Notices []loading.Notice
}

// Measures of the design, mm. They are ours, chosen by eye on printed pieces
// unless a source is named.
const (
	edge       = 0.8  // clear of the cut on every side
	facePad    = 0.9  // between the words of two faces, each side
	maxRating  = 7.0  // capitals of the rating: bigger only shouts
	leading    = 0.55 // between two lines, as a share of their mean cap height; clears descenders
	cutWidth   = 0.1
	capCaption = 1.5
	captionGap = 1.0
	thickRing  = 1.1
	thinRing   = 0.38
	ringGap    = 0.42
	bandShare  = 0.17 // of the piece's height
	bandLeast  = 2.6
	bandMost   = 4.2
)

// cutInk and captionInk are greys: they are cut away or lie outside the trim.
var (
	cutInk     = draw.Ink{R: 120, G: 120, B: 120}
	captionInk = draw.Ink{R: 90, G: 90, B: 90}
)

// Lay lays the mark out. A zone that leaves the body is an Input error; words
// that fit neither way at 1.2 mm capitals are a NoFit error that says what the
// mark would need; a mark without words is a fault of class Ours. A code that the body cannot carry is no error: the piece
// leaves it out and a notice says so, since the card carries it.
func Lay(s Spec) (Result, error) {
	p := s.Pattern
	if len(s.Mark.Lines) == 0 {
		return Result{}, fault.New(fault.Ours, "", "a mark without words", "")
	}
	flat, err := wrap.Develop(p.Profile, p.MarkFrom, p.MarkFrom+p.MarkHeight,
		wrap.Film{Thickness: s.Film.Thickness}, wrap.Seam{Overlap: s.Overlap})
	if err != nil {
		return Result{}, err
	}
	code, refused := chooseCode(s, flat)
	l, err := layWords(s, flat, code)
	if err != nil {
		return Result{}, err
	}
	if s.Mark.Code != "" && l.code == nil {
		if refused == "" {
			refused = "the words leave no room for it"
		}
		l.notice("code-on-card", fmt.Sprintf("the code goes on the card, the id stays on the float: %s", refused))
	}
	if l.code != nil {
		for _, w := range l.code.choice.Warnings {
			l.notice("code", w)
		}
	}
	if flat.Strain > 0 {
		l.stretch()
	}
	if under := ground(s); legible.Contrast(ink, under) < legible.TextContrast {
		l.notice("contrast", fmt.Sprintf("black words on clear film over %s cannot be read: use white film, or spray a pale ring under the mark and give its colour as ground", under))
	}
	if s.Mark.Style == label.Full && legible.Contrast(draw.Ink(s.Mark.Band), ground(s)) < leastBand {
		l.notice("band", fmt.Sprintf("the rating knocked out of the band %s hardly shows: use a darker colour", s.Mark.Band))
	}
	return l.finish(), nil
}

// layWords tries the ways the words may run, and drops the least important line
// when neither holds all of them.
func layWords(s Spec, flat wrap.Flat, code *codePlan) (*layout, error) {
	ways := []label.Turn{s.Pattern.Turn}
	if s.Pattern.Turn == label.Auto {
		ways = []label.Turn{label.Round, label.Lengthwise}
	}
	codes := []*codePlan{code}
	if code != nil {
		codes = append(codes, nil)
	}
	var first error
	for _, c := range codes {
		for dropped := 0; dropped < max(1, len(s.Mark.Lines)-1); dropped++ {
			lines, gone := dropLeast(s.Mark.Lines, dropped)
			l, err := better(s, flat, c, lines, ways)
			if err == nil {
				for _, g := range gone {
					l.notice("line-dropped", fmt.Sprintf("%q is left out: there is no room for it at %s capitals",
						g.Text, s.Words.Millimetre(legible.CapFloor, 0.1)))
				}
				return l, nil
			}
			if fault.ClassOf(err) != fault.NoFit {
				return nil, err
			}
			if first == nil {
				first = err
			}
			if c != nil {
				break // the code yields before a line does: the card carries it too
			}
		}
	}
	return nil, first
}

// better lays the words out each way they may run and takes the first whose
// smallest capitals are easily read, or else the one with the bigger ones: on a
// thin body words along the axis are.
func better(s Spec, flat wrap.Flat, code *codePlan, lines []label.Line, ways []label.Turn) (*layout, error) {
	var best *layout
	var first error
	for _, way := range ways {
		l := &layout{Spec: s, flat: flat, turn: way, code: code, lines: lines}
		if err := l.lay(); err != nil {
			if fault.ClassOf(err) != fault.NoFit {
				return nil, err
			}
			if first == nil {
				first = err
			}
			continue
		}
		if best == nil || best.least < easyCap && l.least > best.least {
			best = l
		}
	}
	if best == nil {
		return nil, first
	}
	return best, nil
}

// easyCap is the height of capitals that are read at arm's length without
// effort, mm (an estimate; the floor is legible.CapFloor).
const easyCap = 1.6

// dropLeast returns the lines without the n least important ones, and those.
// The rating, the add, the id and the set-up they hold for are never dropped.
func dropLeast(lines []label.Line, n int) (kept, gone []label.Line) {
	kept = append(kept, lines...)
	for ; n > 0; n-- {
		worst := -1
		for i, l := range kept {
			if l.Role > label.RoleSetup && (worst < 0 || l.Role >= kept[worst].Role) {
				worst = i
			}
		}
		if worst < 0 {
			break
		}
		gone = append(gone, kept[worst])
		kept = append(kept[:worst:worst], kept[worst+1:]...)
	}
	return kept, gone
}

// layout is a piece on its way: what is decided and what is drawn.
type layout struct {
	Spec
	flat    wrap.Flat
	turn    label.Turn
	code    *codePlan
	lines   []label.Line
	ops     []draw.Op // colour layer
	notices []loading.Notice
	least   float64 // the smallest capitals on the piece, mm; 0 when there are none
}

func (l *layout) noteCap(cap float64) {
	if l.least == 0 || cap < l.least {
		l.least = cap
	}
}

func (l *layout) notice(code, text string) {
	l.notices = append(l.notices, loading.Notice{Code: code, Text: text})
}

func (l *layout) lay() error {
	top, err := l.rings()
	if err != nil {
		return err
	}
	if l.turn == label.Lengthwise {
		return l.lengthwise(top)
	}
	return l.round(top)
}

// stretch tells how much the film must give on a body that no flat piece fits.
func (l *layout) stretch() {
	const tellFrom = 0.001 // a tenth of a percent is less than a sheet of film varies
	if l.flat.Strain >= tellFrom {
		l.notice("stretch", fmt.Sprintf("the film must stretch or shrink by %s %% to lie on this body",
			unit.Number(100*l.flat.Strain, 0.1, l.Words.Number)))
	}
}

// finish puts the drawing, the cut outline and the caption together.
func (l *layout) finish() Result {
	outline := l.flat.Outline()
	sheet := &draw.Sheet{Name: fmt.Sprintf("float %d", l.Mark.Number)}
	sheet.Add(draw.Colour, l.ops...)
	sheet.Add(draw.Cut, &draw.Stroke{Path: outline, Ink: cutInk, Width: cutWidth, Dash: []float64{1, 0.8}})
	box := l.caption(sheet, outline.Bounds())
	r := Result{Flat: l.flat, Turn: l.turn, Printed: l.lines, Notices: l.notices}
	if l.code != nil {
		r.CodeOn, r.Code = true, &l.code.choice
	}
	r.Piece = nest.Piece{Name: sheet.Name, Outline: outline, Box: box, Drawing: sheet, Turns: []int{0, 1, 2, 3}}
	return r
}

// caption writes, outside the trim, which float the piece is for, where it sits
// and which end is up. It breaks at the dots so that it is not much wider than
// the piece.
func (l *layout) caption(sheet *draw.Sheet, piece geom.Rect) geom.Rect {
	parts := []string{
		fmt.Sprintf("%s %d", l.Words.Float, l.Mark.Number), l.Mark.ID,
		l.Words.LowerEdge + " " + l.Words.Millimetre(l.Pattern.MarkFrom, 0.1) + " " + l.Words.FromBase,
		l.Words.ThisEdgeDown,
	}
	if l.Mark.ID == "" {
		parts = append(parts[:1], parts[2:]...) // a mark without a record
	}
	f := regular(l.Fonts, capCaption)
	box := piece
	y := piece.Max.Y + captionGap + capCaption
	for len(parts) > 0 {
		line, n := shape(parts[0], f), 1
		for ; n < len(parts); n++ {
			longer := shape(strings.Join(parts[:n+1], " · "), f)
			if longer.Width > piece.W() {
				break
			}
			line = longer
		}
		mid := (piece.Min.X + piece.Max.X) / 2
		ops := line.Straight(geom.Translate(mid, y), centre, captionInk)
		sheet.Add(draw.Guide, ops...)
		box = box.Union(draw.Bounds(ops))
		y += capCaption * 1.75
		parts = parts[n:]
	}
	return box
}
