package bench

import (
	"fmt"
	"strconv"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/layouts/backer"
	"floatmark/loading/unit"
)

// named makes options of the words that batch files have, with what people read.
func named(keys []string, names ...string) []option {
	var all []option
	for i, k := range keys {
		o := option{Key: k, Name: k}
		if i < len(names) {
			o.Name = names[i]
		}
		all = append(all, o)
	}
	all[0].Key = "" // what holds when nothing is said
	return all
}

// cardGroup is some fields of the cards that belong together.
type cardGroup struct {
	Name   string
	Fields []field
}

// cardGroups are the fields of how cards are made up, by what they are about; each
// group begins at the field that is named.
func cardGroups(all []field) []cardGroup {
	begins := map[string]string{"card/arrangement": "What stands on it", "card/kind": "Shape and size", "card/ground": "Colours", "card/for_sale": "Sale and sets"}
	var out []cardGroup
	for _, f := range all {
		if name, is := begins[f.Path]; is {
			out = append(out, cardGroup{Name: name})
		}
		last := &out[len(out)-1]
		last.Fields = append(last.Fields, f)
	}
	return out
}

// cardFields are the choices of how cards are made up, in the order of their groups.
func cardFields(m words.Measures, shop *job.Workshop, d job.Draft) []field {
	var stocks []option
	for _, one := range shop.Stocks() {
		if one.ForCards() {
			stocks = append(stocks, option{Key: one.Key, Name: one.Name})
		}
	}
	sizes := []option{{Key: "", Name: "a third of A4, or own measures"}}
	for _, one := range backer.Formats() {
		sizes = append(sizes, option{Key: one.Key, Name: fmt.Sprintf("%s, %s × %s", one.Key, m.Bare(unit.Millimetre(one.Size.W)), m.Length(unit.Millimetre(one.Size.H), 0.1))})
	}
	sizeHint := "Width and height, as in 99 × 210, where no size is chosen."
	if m.Imperial() {
		sizeHint = "Width and height, as in 3 7/8 × 8 1/4, where no size is chosen."
	}
	yesNo := []option{{Key: "", Name: "yes"}, {Key: "false", Name: "no"}}
	all := []field{
		{Path: "card/arrangement", Label: "Arrangement", Options: named(backer.ArrangementNames(), "the float at the left, the words beside it", "the float in the middle, in water to its waterline", "a flag in the rating's colour, the float at the right")},
		{Path: "card/picture", Label: "The float is", Options: []option{{Key: "", Name: "drawn on the card"}, {Key: "outline", Name: "an outline, since it lies there itself"}}},
		{Path: "card/sides", Label: "Printed", Options: []option{{Key: "", Name: "on the front"}, {Key: "2", Name: "on both sides"}}},
		{Path: "card/second_language", Label: "Second language", Options: []option{{Key: "", Name: "none"}, {Key: "en", Name: "English"}, {Key: "de", Name: "Deutsch"}, {Key: "fr", Name: "français"}, {Key: "it", Name: "italiano"}, {Key: "pl", Name: "polski"}}},
		{Path: "card/own_mark", Label: "Your own mark, where the batch has one", Options: yesNo},
		{Path: "card/kind", Label: "Made up as", Options: named(backer.KindNames(), "a flat card", "a card folded at its left edge", "a header over a bag", "an insert in a tube")},
		{Path: "card/size", Label: "Size", Options: sizes},
		{Path: "print/card_size_mm", Label: "Its own measures, %s", Unit: m.LengthSign(), Hint: sizeHint},
		{Path: "print/card", Label: "Card", Options: stocks},
		{Path: "card/board_g_m2", Label: "Weight of the board, g/m²", Of: &aNumber, Mode: "decimal"},
		{Path: "card/hang", Label: "Hangs by", Options: named(backer.HangNames(), "a round hole", "the slot of a double hook", "nothing")},
		{Path: "card/holds", Label: "Slits and holes that hold the float", Options: []option{{Key: "", Name: "yes"}, {Key: "none", Name: "no"}}},
		{Path: "card/overhang_mm", Label: "How far a long float may stand out below, %s", Of: &aLength, Unit: m.LengthSign(), Mode: "decimal"},
		{Path: "card/corner_mm", Label: "Round corners, %s", Of: &aLength, Unit: m.LengthSign(), Mode: "decimal"},
		{Path: "card/tube_mm", Label: "Inner width of the tube, %s", Of: &aLength, Unit: m.LengthSign(), Mode: "decimal", Hint: "Of an insert in a tube."},
		{Path: "card/tube_length_mm", Label: "Length of the insert, %s", Of: &aLength, Unit: m.LengthSign(), Mode: "decimal", Hint: "Of an insert in a tube."},
		{Path: "card/ground", Label: "Colour of the card's ground", Colour: true, Hint: "A name such as cream or olive, or as in #f2ecdc; nothing for the card as bought."},
		{Path: "card/ink", Label: "Colour of the words", Colour: true, Hint: "Nothing for black."},
		{Path: "card/accent", Label: "Colour of the accent", Colour: true, Hint: "Nothing for the colour of the rating."},
		{Path: "card/for_sale", Label: "For sale", Options: []option{{Key: "", Name: "those with a price"}, {Key: "true", Name: "yes"}, {Key: "false", Name: "no"}}},
		{Path: "card/set", Label: "Floats on one card", Mode: "numeric", Hint: "Nothing or 1: each on its own. A set has a price of its own."},
		{Path: "card/price", Label: "Price of a set", Mode: "decimal"},
		{Path: "card/ean", Label: "EAN-13 of a set", Mode: "numeric"},
	}
	for i, f := range all {
		v := d.Doc.Text(f.Path)
		if f.Path == "card/price" {
			v = figureShown(m, v)
		}
		if f.Path == "print/card_size_mm" {
			v = sidesShown(m, valueAt(d.Doc, f.Path))
		}
		all[i].Value = v
		if f.Options != nil {
			if first := plainWords[f.Path]; v == first {
				v = ""
			}
			all[i].Options = offered(f.Options, v)
		}
	}
	fieldsOf(m, d.Doc, all)
	return all
}

// plainWords are the words of what holds when nothing is said.
var plainWords = map[string]string{"card/arrangement": backer.ArrangementNames()[0], "card/kind": backer.KindNames()[0], "card/sides": "1",
	"card/hang": backer.HangNames()[0], "card/holds": "auto", "card/picture": "drawn", "card/own_mark": "true"}

// cardValues are how what was typed stands in the file.
var cardValues = map[string]typedAs{"card/arrangement": plainly(word), "card/kind": plainly(word), "card/sides": plainly(number), "card/second_language": plainly(word),
	"card/size": plainly(word), "print/card_size_mm": sidesTyped, "print/card": plainly(word), "card/hang": plainly(word), "card/holds": plainly(word),
	"card/picture": plainly(word), "card/own_mark": plainly(truth), "card/overhang_mm": wholly(aLength), "card/corner_mm": wholly(aLength), "card/tube_mm": wholly(aLength),
	"card/tube_length_mm": wholly(aLength), "card/ground": coloured, "card/ink": coloured, "card/accent": coloured, "card/board_g_m2": wholly(aNumber),
	"card/for_sale": plainly(truth), "card/set": plainly(number), "card/price": plainly(func(text string) any { return word(pointed(text)) }), "card/ean": plainly(word)}

// truth is true or false as the file has it.
func truth(text string) any {
	if v, err := strconv.ParseBool(text); err == nil {
		return v
	}
	return nil
}
