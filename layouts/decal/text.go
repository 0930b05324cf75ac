package decal

import (
	"floatmark/fonts"
	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
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
	case label.RoleAdd:
		return 0.55
	case label.RoleShot:
		return 0.62
	case label.RoleID:
		return 0.45
	case label.RoleSetup:
		return 0.4
	default:
		return 0.34
	}
}

// font sets the figures in bold and what explains them in regular, which small
// print needs less ink for.
func (l *layout) font(r label.Role, cap float64) typeset.Font {
	f := typeset.Bold(l.Fonts, cap)
	if r == label.RoleMetal || r == label.RoleBuiltIn || r == label.RoleSetup {
		f = typeset.Regular(l.Fonts, cap)
	}
	if r == label.RoleID {
		f.Track = 0.06 * cap // an id is spelled out, not read
	}
	return f
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
