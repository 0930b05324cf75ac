package job

import (
	"fmt"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/palette"
	"floatmark/loading/unit"
)

// bandNotices tells which bands of the batch are hard to tell apart, and which
// ratings found no colour left in the palette.
func (p *Plan) bandNotices() []Notice {
	var out []Notice
	var names, spare []string
	var inks []draw.Ink
	for _, one := range p.File.Batch.Ratings {
		name := one.Nominal.Text(0, unit.Style{})
		if draw.Ink(one.Band) == palette.Spare() {
			spare = append(spare, name)
			continue // alike among themselves, which is told below once
		}
		names, inks = append(names, name), append(inks, draw.Ink(one.Band))
	}
	for _, c := range palette.Clashes(inks) {
		out = append(out, Notice{0, "band-alike", fmt.Sprintf(
			"the bands of %s (%s) and %s (%s) look alike %s: give one another colour, with band or [print] palette, or go by the rings, which need no colour",
			names[c.I], inks[c.I], names[c.J], inks[c.J], eyes(c.Sight))})
	}
	if len(spare) > 0 {
		out = append(out, Notice{0, "band-alike", fmt.Sprintf(
			"the bands of %s are the dark grey of bands without a colour: name more colours in [print] palette, or go by the rings, which need no colour",
			strings.Join(spare, ", "))})
	}
	return out
}

// eyes says to whom bands look alike.
func eyes(s palette.Sight) string {
	switch s {
	case palette.Protan:
		return "to eyes that lack red (protan)"
	case palette.Deutan:
		return "to eyes that lack green (deutan, the commonest)"
	case palette.Tritan:
		return "to eyes that lack blue (tritan)"
	}
	return "to everyone"
}
