// Package symbol turns a link or a text into the squares of a QR code.
//
// A matrix counts in whole squares ("modules" in ISO/IEC 18004), x to the
// right and y down from the top left corner. The package knows no millimetres,
// no ink and no quiet zone: whoever draws the code leaves the pale edge.
package symbol

import (
	"strings"
	"unicode/utf8"

	"floatmark/loading/fault"

	"github.com/boombuler/barcode/qr"
)

// Level is the share of a code that may be spoilt and still be put right, as
// ISO/IEC 18004 names it: about 7 % at L, 15 % at M, 25 % at Q, 30 % at H.
type Level int

// The levels, from the least correction to the most.
const (
	L Level = iota
	M
	Q
	H
)

// String returns the level's letter; "?" for a value that is no level.
func (l Level) String() string {
	if l < L || l > H {
		return "?"
	}
	return "LMQH"[l : l+1]
}

// levels ties our levels to the encoder's, so that a renumbering there shows
// up in one place.
var levels = [...]qr.ErrorCorrectionLevel{L: qr.L, M: qr.M, Q: qr.Q, H: qr.H}

// Matrix is one code. N is the number of squares along a side, 21 for version
// 1 and 4 more for each version; Text is what a reader gets. Build one with QR
// or AtLevel; the zero Matrix has no squares.
type Matrix struct {
	N       int
	Level   Level
	Version int // 1 to 40
	Text    string
	dark    []bool // row by row
}

// Dark reports whether the square in column x of row y is dark. Every place
// outside the code is pale.
func (m Matrix) Dark(x, y int) bool {
	return x >= 0 && y >= 0 && x < m.N && y < m.N && m.dark[y*m.N+x]
}

// QR returns the code of a text: the smallest version that holds it, and in
// that version the most correction that still fits. On a thin body one version
// more costs a third of the diameter and more, while correction costs nothing
// where the version has room for it.
//
// Text that is all of digits, capitals, space and $%*+-./: is packed closer
// than other text, so a link in capitals often saves a version: the scheme and
// the host of a link mean the same in capitals (RFC 3986, sections 3.1 and
// 3.2.2); the path does not, and is the caller's to promise. QR never changes
// the text. Other characters are written as UTF-8 without a notice of the
// character set, which readers take for granted.
//
// An empty text and one that is no UTF-8 are Input errors; one that the largest
// code does not hold is a NoFit error.
func QR(text string) (Matrix, error) {
	m, err := AtLevel(text, L)
	if err != nil {
		return Matrix{}, err
	}
	for _, l := range [...]Level{M, Q, H} {
		more, err := AtLevel(text, l)
		if err != nil || more.N > m.N {
			break
		}
		m = more
	}
	return m, nil
}

// AtLevel returns the smallest code of a text at one level, for test sheets
// and comparisons. Errors are those of QR.
func AtLevel(text string, l Level) (Matrix, error) {
	switch {
	case text == "":
		return Matrix{}, fault.Inputf("give the link or the words of the code", "the code has no text")
	case !utf8.ValidString(text):
		return Matrix{}, fault.Inputf("save the text as UTF-8", "the text of the code is not UTF-8")
	case l < L || l > H:
		return Matrix{}, fault.New(fault.Ours, "", "a code was asked for at a level that does not exist", "")
	}
	code, err := qr.Encode(text, levels[l], packing(text))
	if err != nil {
		return Matrix{}, fault.New(fault.NoFit, "", "the text is too long for a code", "shorten the link or the words of the code", err)
	}
	n := code.Bounds().Dx()
	m := Matrix{N: n, Level: l, Version: (n-smallest)/perVersion + 1, Text: text, dark: make([]bool, n*n)}
	for y := range n {
		for x := range n {
			r, _, _, _ := code.At(x, y).RGBA()
			m.dark[y*n+x] = r == 0 // the encoder's two colours are black and white
		}
	}
	return m, nil
}

// Sides in ISO/IEC 18004: 21 squares for version 1, 4 more for each after it.
const (
	smallest   = 21
	perVersion = 4
)

// packing chooses the closest of the encoder's packings. It is chosen here and
// not left to the encoder's own trial, which reports a text that is too long
// as one that cannot be written.
func packing(text string) qr.Encoding {
	switch {
	case strings.Trim(text, "0123456789") == "":
		return qr.Numeric
	case strings.Trim(text, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:") == "":
		return qr.AlphaNumeric
	}
	return qr.Unicode
}
