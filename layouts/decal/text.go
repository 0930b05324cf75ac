package decal

import (
	"math"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

const centre = typeset.Centre

func regular(s fonts.Set, cap float64) typeset.Font { return typeset.Regular(s, cap) }

// shape sets a caption, whose words are the project's own and have glyphs.
func shape(text string, f typeset.Font) typeset.Line {
	l, _ := typeset.Shape(text, f)
	return l
}

// share is how big a line stands beside the rating: the order of size is the
// rating, what the angler must do, its shot, then the rest.
func share(r label.Role) float64 {
	switch r {
	case label.RoleRating:
		return 1
	case label.RoleOwnMark:
		return 0.9
	case label.RoleAdd:
		return 0.55
	case label.RoleShot:
		return 0.62
	case label.RoleID:
		return 0.45
	case label.RoleSetup, label.RoleDedication, label.RoleText, label.RoleMaker:
		return 0.4
	default:
		return 0.34
	}
}

// rowShare is share with less contrast: in one row the eye compares directly.
func rowShare(r label.Role) float64 { return math.Pow(share(r), 0.75) }

// weight sets the figures in bold and what explains them in regular, which small
// print needs less ink for.
func weight(r label.Role) legible.Weight {
	switch r {
	case label.RoleMetal, label.RoleBuiltIn, label.RoleSetup, label.RoleDedication, label.RoleEquivalent:
		return legible.Regular
	}
	return legible.Bold
}

// font is what a line of that role is set in.
func (l *layout) font(r label.Role, cap float64) typeset.Font {
	f := typeset.Bold(l.Fonts, cap)
	if weight(r) == legible.Regular {
		f = typeset.Regular(l.Fonts, cap)
	}
	if r == label.RoleID {
		f.Track = 0.06 * cap // an id is spelled out, not read
	}
	return f
}

// set is something ready to be put on a line: words, or the maker's own mark.
type set struct {
	Width, Cap float64 // mm; Cap is the height of the picture for a mark
	line       typeset.Line
	weight     legible.Weight
	own        geom.Path // origin at the middle of its foot, y down
}

// fitted sets a line as big as the cap height asked for, or as the width allows,
// but not under the floor.
func (l *layout) fitted(line label.Line, cap, width float64) (set, error) {
	if line.Role == label.RoleOwnMark {
		return l.picture(cap, width)
	}
	t, err := typeset.Fit(line.Text, l.font(line.Role, cap), width, l.Floor)
	if err != nil && fault.ClassOf(err) == fault.NoFit {
		if n := len([]rune(line.Text)); n > longText {
			err = fault.New(fault.NoFit, "", "a text of "+count(n)+" characters does not fit on a float: "+err.Error(),
				"say it in at most "+count(longText)+" characters, or on the card", err)
		}
	}
	return set{Width: t.Width, Cap: t.Cap, line: t, weight: weight(line.Role)}, err
}

// longText is where a line is a text and no mark any more: characters. Own
// choice.
const longText = 60

// shaped sets a line at just this cap height.
func (l *layout) shaped(line label.Line, cap float64) (set, error) {
	if line.Role == label.RoleOwnMark {
		return l.picture(cap, math.Inf(1))
	}
	t, err := typeset.Shape(line.Text, l.font(line.Role, cap))
	return set{Width: t.Width, Cap: t.Cap, line: t, weight: weight(line.Role)}, err
}

// picture scales the maker's own mark to a height, or less where it is too wide.
func (l *layout) picture(high, width float64) (set, error) {
	box := l.OwnMark.Bounds()
	if !(box.W() > 0 && box.H() > 0) {
		return set{}, fault.New(fault.Ours, "", "a maker's own mark without a size", "")
	}
	k := math.Min(high/box.H(), width/box.W())
	if k*box.H() < leastPicture {
		return set{}, fault.New(fault.NoFit, "", "the maker's own mark would be "+l.mm(k*box.H())+" high", "give it more room: at least "+l.mm(leastPicture))
	}
	at := geom.Translate(-(box.Min.X+box.Max.X)/2, -box.Max.Y).Then(geom.Scale(k, k))
	return set{Width: k * box.W(), Cap: k * box.H(), own: l.OwnMark.Transform(at)}, nil
}

// leastPicture is the least height of the maker's own mark, mm: under it a
// drawing is a blot. Estimate, no source.
const leastPicture = 2.0

// hoop puts a set line round the body, its middle at theta, its foot at s.
func (l *layout) hoop(t set, theta, s float64) {
	l.noteSet(t, l.flat.Angle(t.Width/2, s+t.Cap/2), false)
	if t.own != nil {
		l.ops = append(l.ops, &draw.Fill{Path: t.own.Transform(l.flat.Frame(theta, s)), Ink: ink})
		return
	}
	l.ops = append(l.ops, t.line.Along(l.hoopFrame(theta, s, t.Cap), centre, ink)...)
}

// along puts a set line along the body of that diameter where it is thinnest
// under it, its middle at the origin of a frame.
func (l *layout) along(t set, diameter float64, at geom.Affine) {
	l.noteSet(t, t.Cap/diameter, true)
	if t.own != nil {
		l.ops = append(l.ops, &draw.Fill{Path: t.own.Transform(at), Ink: ink})
		return
	}
	l.ops = append(l.ops, t.line.Straight(at, centre, ink)...)
}

// noteSet notes how a line lies that ends half radians off its middle round the
// body.
func (l *layout) noteSet(t set, half float64, lengthwise bool) {
	if t.own == nil {
		l.noteCap(t.Cap)
		l.noteLine(legible.Setting{Text: t.line.Text, Cap: t.Cap, Weight: t.weight, Half: half * 180 / math.Pi, Lengthwise: lengthwise})
	}
}

// hoopFrame is the frame of a line that runs round the body with its middle at
// theta, its baseline at height s. Spacing is kept at mid cap height, since the
// tops of letters on a cone lie closer than their feet.
func (l *layout) hoopFrame(theta, s, cap float64) func(x float64) geom.Affine {
	return func(x float64) geom.Affine {
		return l.flat.Frame(theta+l.flat.Angle(x, s+cap/2), s)
	}
}

// ink is the colour of the words.
var ink = draw.Ink{R: 0, G: 0, B: 0}
