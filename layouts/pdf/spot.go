package pdf

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// Names by which a page's operators call the cut lines' colour and the state in
// which they print over what lies below without clearing it: a cutting machine
// takes their plate away, and no white line may be left (common practice, no
// source).
const (
	cutName       = "Cut"
	overprintName = "Over"
)

// maxNameBytes is the longest name that readers must take (ISO 32000-1, annex
// C.2, from memory).
const maxNameBytes = 127

// plates are the names of a Separation that mean plates of the press itself
// (ISO 32000-1, 8.6.6.4, from memory): a cut line of that name would be printed.
func plates() []string { return []string{"All", "None", "Cyan", "Magenta", "Yellow", "Black"} }

// checked returns the options with their defaults filled in.
func (o Options) checked() (Options, error) {
	if o.CutName == "" {
		o.CutName = DefaultCut
	}
	const do = "give the name that the print shop's cutting machine looks for"
	if i := slices.IndexFunc(plates(), func(p string) bool { return strings.EqualFold(p, o.CutName) }); i >= 0 {
		return o, fault.Inputf(do, "%q is a plate of the press, not a name for cut lines", o.CutName)
	}
	if !utf8.ValidString(o.CutName) || len(o.CutName) > maxNameBytes || strings.IndexFunc(o.CutName, func(r rune) bool { return !unicode.IsPrint(r) }) >= 0 {
		return o, fault.Inputf(do, "%q cannot be the name of a spot colour", o.CutName)
	}
	for _, v := range o.CutCMYK {
		if !(v >= 0 && v <= 1) {
			return o, fault.Inputf("give each ink as a share from 0 to 1", "%g is no share of ink", v)
		}
	}
	return o, nil
}

// separation is the spot colour: a plate of its own name where there is one,
// elsewhere the alternate colour, linear from none to full (ISO 32000-1,
// 8.6.6.4).
func (o Options) separation(first *draw.Ink) string {
	space, none, full := "DeviceCMYK", "0 0 0 0", o.CutCMYK[:]
	if o.CutCMYK == [4]float64{} {
		ink := draw.Black
		if first != nil {
			ink = *first
		}
		space, none, full = "DeviceRGB", "1 1 1", []float64{share(ink.R), share(ink.G), share(ink.B)}
	}
	var c []byte
	for i, v := range full {
		if i > 0 {
			c = append(c, ' ')
		}
		c = appendNumber(c, v, inkDecimals)
	}
	return fmt.Sprintf("[/Separation /%s /%s << /FunctionType 2 /Domain [0 1] /C0 [%s] /C1 [%s] /N 1 >>]", nameText(o.CutName), space, none, c)
}

// nameText writes a name's bytes; all but letters, digits and a few signs as
// #xx (ISO 32000-1, 7.3.5).
func nameText(name string) string {
	var b strings.Builder
	for _, c := range []byte(name) {
		if c < utf8.RuneSelf && (unicode.IsLetter(rune(c)) || unicode.IsDigit(rune(c)) || strings.IndexByte("-_.+", c) >= 0) {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "#%02X", c)
		}
	}
	return b.String()
}
