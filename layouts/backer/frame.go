package backer

import (
	"fmt"
	"math"
	"slices"

	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// frame is a panel cut up: where the float lies, what it hangs by, and the
// columns of words beside it. A panel is one side of the card as it hangs.
type frame struct {
	Spec
	w, h      float64
	profile   body.Profile
	drawn     bool            // a float lies on the panel
	axis      float64         // x of the float's axis
	base      float64         // y of its base end; beyond the panel when it overhangs
	need      float64         // width the float and its holds take
	near, far float64         // of its column
	columns   []col           // of the words, from the left
	whole     float64         // width all floats of the card take
	mates     []*frame        // the other floats of a set
	setCodes  []symbol.Matrix // of its floats
	told      int             // in how many conventions a set's floats are told
	holds     []Hold
	hung      geom.Point
	centre    geom.Point // of gravity of card and float
	ink       draw.Ink
	accent    draw.Ink
	paper     draw.Ink // what the words stand on
	notices   []Notice
	scale     scale         // of the grid that is being tried
	through   bool          // words of a stream run through its waterline
	dry       bool          // only whether it fits is asked
	matrix    symbol.Matrix // of the code
}

func (f *frame) tell(code, format string, args ...any) {
	f.notices = append(f.notices, Notice{code, fmt.Sprintf(format, args...)})
}

// mm writes a length in a message.
func (f *frame) mm(v float64) string { return f.Words.Millimetre(unit.Millimetre(v), 0.1) }

// cut decides how the panel is shared out.
func cut(s Spec) (*frame, error) {
	if s.Memory == nil {
		s.Memory = &Memory{}
	}
	f := &frame{Spec: s, w: s.Size.W, h: s.Size.H, profile: s.Body, ink: draw.Black, accent: ink(s.Card.Band), paper: draw.White}
	if s.Style.Ink != nil {
		f.ink = *s.Style.Ink
	}
	if s.Style.Accent != nil {
		f.accent = *s.Style.Accent
	}
	if s.Style.Ground != nil {
		f.paper = *s.Style.Ground
	}
	if c := legible.Contrast(f.ink, f.paper); c < legible.TextContrast {
		return nil, fault.Inputf("use a darker ink or a paler ground", "words in %s on a ground of %s have a contrast of %.1f; they need %.1f", f.ink, f.paper, c, legible.TextContrast)
	}
	if len(f.profile.Stations()) == 0 && s.Card.Pattern != nil {
		f.profile = s.Card.Pattern.Profile
	}
	if s.Card.Code != "" {
		m, err := s.Codes.QR(s.Card.Code)
		if err != nil {
			return nil, fault.At("code", err)
		}
		f.matrix = m
	}
	if err := f.codesMade(); err != nil {
		return nil, err
	}
	f.told = f.conventions()
	f.drawn = s.Style.Kind == Flat || s.Style.Kind == Fold
	if err := f.roomy(); err != nil {
		return nil, err
	}
	if f.drawn {
		if err := f.lie(); err != nil {
			return nil, err
		}
		if err := f.lieBeside(); err != nil {
			return nil, err
		}
	}
	if err := f.share(); err != nil {
		return nil, err
	}
	return f, f.hang()
}

// roomy refuses a card that is too small to be one.
func (f *frame) roomy() error {
	least := Least
	switch f.Style.Kind {
	case Header:
		least.H = leastHeader
	case Insert:
		least.W = leastColumn + 2*Safe
	}
	if f.w < least.W || f.h < least.H {
		return fault.New(fault.NoFit, "", fmt.Sprintf("a card of %s by %s is too small", f.mm(f.w), f.mm(f.h)),
			fmt.Sprintf("make it at least %s by %s", f.mm(least.W), f.mm(least.H)))
	}
	if r := f.Style.Corner; !(r >= 0 && r <= math.Min(f.w, f.h)/4) {
		return fault.Inputf("give a radius of at most a quarter of the card", "corners of %s do not suit a card of %s by %s", f.mm(r), f.mm(f.w), f.mm(f.h))
	}
	return nil
}

// leastHeader is the lowest panel folded over a bag. Own choice.
const leastHeader = 40.0

// lie places the float: its base end at the foot of the safe zone, or standing
// out below the card by as much as it may.
func (f *frame) lie() error {
	if f.Card.Pattern == nil || len(f.profile.Stations()) == 0 {
		return fault.New(fault.Ours, "", "the card has no body to draw", "")
	}
	long := float64(f.profile.Length())
	f.base = f.h - Safe
	if over := long - (f.h - 2*Safe); over > 0 {
		// What stands out goes over the edge, and not only into the safe zone.
		over += Safe
		if over > f.Style.Overhang {
			do := fmt.Sprintf("use a card at least %s high, or let it stand out: overhang_mm = %s", f.mm(long+2*Safe), unit.Number(math.Ceil(over), 1, unit.Style{}))
			if next, ok := Next(f.Size, long); ok {
				do = fmt.Sprintf("use the card %q of %s by %s, or let it stand out: overhang_mm = %s", next.Key, f.mm(next.Size.W), f.mm(next.Size.H), unit.Number(math.Ceil(over), 1, unit.Style{}))
			}
			return fault.New(fault.NoFit, "", fmt.Sprintf("the float is %s long and the card has room for %s", f.mm(long), f.mm(f.h-2*Safe)), do)
		}
		f.base = f.h + over
		f.tell(NoticeOverhang, "the float of %s stands out %s below its card of %s", f.mm(long), f.mm(over), f.mm(f.h))
	}
	f.need = floatWidth(f.profile, f.Card.Pattern)
	if f.Style.NoHolds {
		return nil
	}
	// Best on bare paint; over words of the mark where there is no other place.
	holds, err := Holds(f.profile, f.keep(true))
	if err != nil || slices.ContainsFunc(holds, Hold.far) {
		holds, err = Holds(f.profile, f.keep(false))
	}
	if err != nil {
		f.tell(NoticeHold, "no hold is drawn: %v", err)
		return nil
	}
	for _, h := range holds {
		f.need = math.Max(f.need, h.wide())
		if h.far() {
			f.tell(NoticeHold, "a hold sits %s of the length from its end, not 20 to 25 %%: tip and code stay free",
				unit.Number(100*h.FromShare, 1, f.Words.Number)+" %")
		}
	}
	f.holds = holds
	return nil
}

// keep are the stretches that no hold covers: the bristle, the code or every mark,
// and what stands out below the card.
func (f *frame) keep(marks bool) []Keep {
	p := f.Card.Pattern
	var all []Keep
	if tip := float64(p.TipFrom); tip > float64(f.profile.Base()) && tip < float64(f.profile.Top()) {
		all = append(all, Keep{tip - tipClear, float64(f.profile.Top())})
	}
	for _, one := range f.Pieces {
		if marks || one.Code != nil {
			all = append(all, Keep{float64(one.Flat.From), float64(one.Flat.To)})
		}
	}
	if len(f.Pieces) == 0 {
		for _, z := range p.Zones {
			if marks || z.Show.Has(label.PartCode) {
				all = append(all, Keep{float64(z.From), float64(z.To())})
			}
		}
	}
	if edge := f.lowest(); edge > float64(f.profile.Base()) {
		all = append(all, Keep{float64(f.profile.Base()), edge + Safe})
	}
	return all
}

// lowest is the height over the base end at which the panel's lower edge cuts
// the float.
func (f *frame) lowest() float64 {
	return math.Max(float64(f.profile.Base()), float64(f.profile.Base())+f.base-f.h)
}

// share decides where the float's column and the words' columns lie.
func (f *frame) share() error {
	right := f.w - Safe
	if !f.drawn {
		f.near, f.far = Safe, Safe
		f.columns = []col{{Safe, right, f.Memory}}
		if f.Style.Kind == Header {
			mid := f.w / 2
			f.columns = []col{{Safe, mid - gutter/2, f.Memory}, {mid + gutter/2, right, f.Memory}}
		}
		return f.wideEnough()
	}
	switch f.Style.Arrangement {
	case Stream:
		f.axis = f.w / 2
		f.near, f.far = f.axis-f.whole/2, f.axis+f.whole/2
		f.columns = []col{{Safe, f.near - gutter/2, f.Memory}, {f.far + gutter/2, right, f.Memory}}
	case Pennant:
		column := math.Max(Safe+f.whole+gutter, math.Min(wordsFrom*f.w, right-fullColumn))
		f.columns = []col{{Safe, f.w - column, f.Memory}}
		f.near, f.far = f.w-column+gutter, right
		f.axis = (f.near + f.far) / 2
	default:
		column := math.Max(Safe+f.whole+gutter, math.Min(wordsFrom*f.w, right-fullColumn))
		f.columns = []col{{column, right, f.Memory}}
		f.near, f.far = Safe, column-gutter
		f.axis = (f.near + f.far) / 2
	}
	f.spread()
	return f.wideEnough()
}

// wordsFrom is the share of the card's width at which words begin where the float
// leaves the choice, and fullColumn the width they do not give up for it.
const (
	wordsFrom  = 0.40
	fullColumn = 50.0
)

func (f *frame) wideEnough() error {
	for _, c := range f.columns {
		if w := c.width(); w < leastColumn {
			n := float64(len(f.columns))
			return fault.New(fault.NoFit, "", fmt.Sprintf("the float takes %s of the card's width and leaves %s for a column of words, which needs %s",
				f.mm(f.whole), f.mm(math.Max(w, 0)), f.mm(leastColumn)), fmt.Sprintf("use a card at least %s wide", f.mm(f.w+float64(n*(leastColumn-w)))))
		}
	}
	return nil
}

// hang puts the hole on the vertical through the centre of gravity, and tells
// where it cannot be there.
func (f *frame) hang() error {
	h := f.Style.Hang
	if f.Style.Kind == Insert {
		f.Style.Hang, h = NoHang, NoHang
	}
	if h == NoHang {
		return nil
	}
	grams := f.Style.Grammage
	if grams == 0 {
		grams = gram
	}
	panels := 1.0
	if f.Style.Kind != Flat {
		panels = 2 // one behind the other
	}
	const perSquareMetre = 1e6 // mm²
	weights := []Mass{{panels * grams * f.w * f.h / perSquareMetre, geom.Point{X: f.w / 2, Y: f.h / 2}}}
	if f.drawn {
		for _, g := range append([]*frame{f}, f.mates...) {
			weights = append(weights, Mass{float64(g.Card.Mass), geom.Point{X: g.axis, Y: g.y(g.heart())}})
		}
	}
	f.centre = CentreOfGravity(weights...)
	y := h.depth()
	if y >= f.centre.Y {
		return fault.New(fault.NoFit, "", fmt.Sprintf("the hang hole at %s lies under the card's centre of gravity at %s", f.mm(y), f.mm(f.centre.Y)), "use a higher card")
	}
	lo, hi := h.margin(), f.w-h.margin()
	if lo > hi {
		return fault.New(fault.NoFit, "", fmt.Sprintf("the slot needs a card %s wide and has %s", f.mm(2*h.margin()), f.mm(f.w)), `use hang = "hole"`)
	}
	const step = 0.1 // mm: far finer than a punch is set
	want := math.Min(hi, math.Max(lo, math.Round(f.centre.X/step)*step))
	best := math.Inf(1)
	for k := 0.0; k <= f.w; k += step {
		for _, x := range []float64{want - k, want + k} {
			at := geom.Point{X: x, Y: y}
			if x >= lo-1e-9 && x <= hi+1e-9 && f.clearOfFloat(h.box(at).Inset(-holeClear)) && math.IsInf(best, 1) {
				best = x
			}
		}
		if !math.IsInf(best, 1) {
			break
		}
	}
	if math.IsInf(best, 1) {
		return fault.New(fault.NoFit, "", fmt.Sprintf("the float reaches up to %s under the top edge and leaves no place for the hang hole", f.mm(f.y(float64(f.profile.Top())))),
			"use a higher or a wider card")
	}
	f.hung = geom.Point{X: best, Y: y}
	if a := math.Abs(Tilt(f.hung, f.centre)); a > ToldTilt {
		f.tell(NoticeTilt, "hung up, the card leans by %s°: its hole stands %s beside the centre of gravity of card and float",
			unit.Number(a*180/math.Pi, 0.1, f.Words.Number), f.mm(math.Abs(f.hung.X-f.centre.X)))
	}
	if h == EuroSlot {
		f.tell(NoticeSlot, "the slot is drawn as %s by %s, %s over its bump: check it against EN 13010 before you call it to standard", f.mm(SlotWide), f.mm(SlotHigh), f.mm(SlotOver))
	}
	return nil
}

// heart is the height of the float's own centre of gravity: that of its volume,
// or near the base end where most of its mass is built in. An estimate.
func (f *frame) heart() float64 {
	const slices, ballast = 50, 0.15
	base, long := float64(f.profile.Base()), float64(f.profile.Length())
	sum, moment := 0.0, 0.0
	for i := range slices {
		z := base + long*(float64(i)+0.5)/slices
		d := float64(f.profile.Diameter(unit.Millimetre(z)))
		sum += d * d
		moment += float64(d * d * z)
	}
	middle := base + long/2
	if sum > 0 {
		middle = moment / sum
	}
	if f.Card.Mass <= 0 {
		return middle
	}
	share := math.Min(1, float64(f.Card.Ballast/f.Card.Mass))
	return middle + float64(share*(base+ballast*long-middle))
}

func (f *frame) clearOfFloat(r geom.Rect) bool {
	if !f.drawn {
		return true
	}
	for _, g := range append([]*frame{f}, f.mates...) {
		for _, b := range g.floatBoxes() {
			if b.Overlaps(r) {
				return false
			}
		}
	}
	return true
}

// hole is the drill target as a block; nothing where the card does not hang.
func (f *frame) hole(at geom.Point, grown float64) []block {
	h := f.Style.Hang
	if h == NoHang {
		return nil
	}
	return []block{{name: "hang hole", layer: draw.Guide, clear: holeClear, boxes: []geom.Rect{h.box(at).Inset(-grown)}, ops: h.target(at, grown)}}
}

// cuts are the holds as blocks.
func (f *frame) cuts() []block {
	var all []block
	for i, h := range f.holds {
		c := geom.Point{X: f.axis, Y: f.y(h.Z)}
		b := block{name: fmt.Sprintf("hold %d, %v", i+1, h.Kind), layer: draw.Cut, ops: h.ops(c)}
		b.boxes = []geom.Rect{draw.Bounds(b.ops)}
		all = append(all, b)
	}
	return all
}

// top is where words of a column may begin under the top edge.
func (f *frame) top(c col, at geom.Point) float64 {
	if f.Style.Hang == NoHang {
		return Safe
	}
	b := f.Style.Hang.box(at).Inset(-holeClear)
	if b.Max.X <= c.left || b.Min.X >= c.right {
		return Safe
	}
	return math.Max(Safe, b.Max.Y)
}
