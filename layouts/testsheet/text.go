package testsheet

import (
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/unit"
)

// The words beside the bands: capitals and air, mm and shares of a capital.
const (
	capHead  = 2.4
	capText  = 1.9
	capLeast = 1.3  // of the command
	leading  = 1.75 // from line to line, in capitals
	parting  = 1.1  // more between paragraphs, in capitals
)

// example is the band that the command on the sheet names, mm.
const example unit.Millimetre = 10

// round is where every band goes, whatever it is made of.
const round = "round the middle of a table tennis ball of 40 mm, the end on the thick cross line"

// lay says how a band of this medium is put on the ball. Common practice, no
// source.
func lay(m stock.Medium) string {
	switch m {
	case stock.Vinyl:
		return "Peel each band and lay it " + round + ". Press it down from the middle to its edges and leave it for a day."
	case stock.Tissue:
		return "Stick each band down with the varnish you use, " + round + ". Press it down from the middle to its edges and let it dry."
	case stock.RubOn:
		return "Lay each band, printed side to the ball, " + round + ". Rub it down from the middle to its edges and take the carrier off."
	case stock.SkinTransfer:
		return "Peel each band and lay it, printed side to the ball, " + round + ". Wet it from behind, slide the paper off and let it dry."
	}
	return "Soak each band, with the softener you use for marks, and lay it " + round + ". Press it down from the middle to its edges and let it dry."
}

// steps says what to do.
func (s Spec) steps() []string {
	return []string{
		"Print at actual size (100 %): the check lines are then 100 mm long.",
		"Cut on the dashed lines.",
		lay(s.Stock.Medium),
		"Look along both edges: a crease, a tuck or a lifted edge is too much.",
		"The tallest band that lies flat without a crease is your film's limit. Where two trials differ, take the lower.",
		"Store it. Where " + s.Words.Millimetre(example, heightStep) + " is the tallest:",
	}
}

// command is what stores the limit.
func (s Spec) command() string {
	return "floatmark testsheet stretch --film " + s.Stock.Key + " --lies-flat " +
		strings.ReplaceAll(example.Text(heightStep, unit.Style{}), " ", "")
}

// instructions sets the words into room and returns how far down they reach.
func (s Spec) instructions(sheet *draw.Sheet, room geom.Rect) (float64, error) {
	return s.prose(sheet, room, "Stretch test: "+s.Stock.Name, s.steps(), s.command())
}

// prose sets a title, numbered steps and what is to be typed into room, and
// returns how far down they reach.
func (s Spec) prose(sheet *draw.Sheet, room geom.Rect, title string, steps []string, command string) (float64, error) {
	y := room.Min.Y
	put := func(text string, f typeset.Font) error {
		lines, err := wrapped(text, f, room.W())
		for _, l := range lines {
			y += f.Cap
			sheet.Add(draw.Guide, l.Straight(geom.Translate(room.Min.X, y), typeset.Left, draw.Black)...)
			y += (leading - 1) * f.Cap
		}
		y += parting * f.Cap
		return err
	}
	plain := typeset.Regular(s.Fonts, capText)
	if err := put(title, typeset.Bold(s.Fonts, capHead)); err != nil {
		return 0, err
	}
	for i, step := range steps {
		if err := put(unit.Number(float64(i+1), 1, unit.Style{})+". "+step, plain); err != nil {
			return 0, err
		}
	}
	bold := typeset.Bold(s.Fonts, capText)
	// What is typed is best read in one line.
	if line, err := typeset.Fit(command, bold, room.W(), capLeast); err == nil {
		bold.Cap = line.Cap
	}
	if err := put(command, bold); err != nil {
		return 0, err
	}
	return y - (leading-1+parting)*capText, nil
}

// wrapped breaks text at spaces into lines no wider than width; a word that is
// wider stands alone and is made to fit.
func wrapped(text string, f typeset.Font, width float64) ([]typeset.Line, error) {
	const least = 0.5 // of the capitals, for a word wider than the room
	var out []typeset.Line
	words := strings.Fields(text)
	for len(words) > 0 {
		n := 1
		line, err := typeset.Fit(words[0], f, width, least*f.Cap)
		for ; err == nil && n < len(words); n++ {
			longer, e := typeset.Shape(strings.Join(words[:n+1], " "), f)
			if err = e; e != nil || longer.Width > width {
				break
			}
			line = longer
		}
		if err != nil {
			return nil, err
		}
		out, words = append(out, line), words[n:]
	}
	return out, nil
}
