package bench

import (
	"fmt"
	"strings"

	"floatmark/label"
	"floatmark/label/words"
)

// colourNames are the colours that can be typed by name: in English the commoner
// ones of CSS Color Module Level 4, section 6.1 (figures from memory), cream apart,
// which that has not: common practice, no source. In the other languages of the
// pages a dozen that paints are called by, each as its English fellow. A line has the
// digits and then the names.
const colourNames = `
#000000 black schwarz noir nero czarny
#ffffff white weiß blanc bianco biały
#ff0000 red rot rouge rosso czerwony
#008000 green grün vert verde zielony
#0000ff blue blau bleu blu niebieski
#ffff00 yellow gelb jaune giallo żółty
#ffa500 orange arancione arancio pomarańczowy
#a52a2a brown braun marron brun marrone brązowy
#808080 grey gray grau gris grigio szary
#ffc0cb pink rosa rose różowy
#800080 purple lila violett viola fioletowy
#808000 olive oliv oliva oliwkowy
#fffdd0 cream creme crème crema kremowy
#f0f8ff aliceblue
#faebd7 antiquewhite
#00ffff aqua cyan
#7fffd4 aquamarine
#f0ffff azure
#f5f5dc beige
#ffe4c4 bisque
#8a2be2 blueviolet
#5f9ea0 cadetblue
#7fff00 chartreuse
#d2691e chocolate
#ff7f50 coral
#6495ed cornflowerblue
#dc143c crimson
#00008b darkblue
#008b8b darkcyan
#006400 darkgreen
#a9a9a9 darkgray darkgrey
#8b008b darkmagenta
#ff8c00 darkorange
#556b2f darkolivegreen
#8b0000 darkred
#483d8b darkslateblue
#2f4f4f darkslategray darkslategrey
#ff1493 deeppink
#00bfff deepskyblue
#696969 dimgray dimgrey
#1e90ff dodgerblue
#b22222 firebrick
#228b22 forestgreen
#ff00ff fuchsia magenta
#ffd700 gold
#daa520 goldenrod
#ff69b4 hotpink
#4b0082 indigo
#fffff0 ivory
#f0e68c khaki
#e6e6fa lavender
#add8e6 lightblue
#d3d3d3 lightgray lightgrey
#90ee90 lightgreen
#ffffe0 lightyellow
#00ff00 lime
#32cd32 limegreen
#faf0e6 linen
#800000 maroon
#191970 midnightblue
#000080 navy
#6b8e23 olivedrab
#ff4500 orangered
#cd853f peru
#dda0dd plum
#4169e1 royalblue
#8b4513 saddlebrown
#fa8072 salmon
#f4a460 sandybrown
#2e8b57 seagreen
#a0522d sienna
#c0c0c0 silver
#87ceeb skyblue
#708090 slategray slategrey
#4682b4 steelblue
#d2b48c tan
#008080 teal
#ff6347 tomato
#40e0d0 turquoise
#ee82ee violet
#f5deb3 wheat
#9acd32 yellowgreen
`

// plainLetters writes a name as it is compared: "Dark Red" and "żółty" may be typed
// as "darkred" and "zolty".
var plainLetters = strings.NewReplacer(" ", "", "-", "", "ß", "ss", "ü", "u", "è", "e", "é", "e", "ł", "l", "ą", "a", "ń", "n", "ó", "o", "ż", "z")

// colourTyped is what a file is to have of a colour that was typed: six hexadecimal
// digits for a name, three of them or six without their sign; what is none as it
// stands, so that the file's reader tells of it.
func colourTyped(text string) string {
	text = strings.TrimSpace(text)
	if c, err := label.ParseColour(text); err == nil && c.String() == strings.ToLower(text) {
		return text
	}
	name := plainLetters.Replace(strings.ToLower(text))
	for line := range strings.Lines(colourNames) {
		names := strings.Fields(line)
		for _, n := range names[min(1, len(names)):] {
			if plainLetters.Replace(n) == name {
				return names[0]
			}
		}
	}
	digits := strings.TrimPrefix(name, "#")
	if len(digits) == 3 {
		digits = fmt.Sprintf("%c%c%c%c%c%c", digits[0], digits[0], digits[1], digits[1], digits[2], digits[2])
	}
	if c, err := label.ParseColour("#" + digits); err == nil && text != "" {
		return c.String()
	}
	return text
}

// coloured is typedAs for a colour.
func coloured(_ words.Measures, text string, _ any) any { return word(colourTyped(text)) }
