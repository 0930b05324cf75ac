package testsheet

import (
	"fmt"
	"strings"

	"floatmark/label/words"
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

// lay says how a band of this medium is put on the ball. Common practice, no
// source.
func lay(m stock.Medium, w words.Tests) string {
	switch m {
	case stock.Vinyl:
		return w.LayVinyl
	case stock.Tissue:
		return w.LayTissue
	case stock.RubOn:
		return w.LayRubOn
	case stock.SkinTransfer:
		return w.LaySkinTransfer
	}
	return w.LayWaterslide
}

// steps says what to do.
func (s Spec) steps() []string {
	w := s.Words.Tests
	return []string{w.StretchPrint, w.StretchCut, lay(s.Stock.Medium, w), w.StretchLook, w.StretchLimit,
		fmt.Sprintf(w.StretchStore, s.Words.Millimetre(example, heightStep))}
}

// command is what stores the limit.
func (s Spec) command() string {
	return "floatmark testsheet stretch --film " + s.Stock.Key + " --lies-flat " +
		strings.ReplaceAll(example.Text(heightStep, unit.Style{}), " ", "")
}

// instructions sets the words into room and returns how far down they reach.
func (s Spec) instructions(sheet *draw.Sheet, room geom.Rect) (float64, error) {
	return s.prose(sheet, room, fmt.Sprintf(s.Words.Tests.Stretch, s.Words.Name(s.Stock.Name)), s.steps(), s.command())
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
	var words []string
	for _, w := range strings.Fields(text) {
		if n := len(words) - 1; n >= 0 && strings.Trim(w, ":;?!") == "" { // French sets them apart
			words[n] += " " + w
			continue
		}
		words = append(words, w)
	}
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
