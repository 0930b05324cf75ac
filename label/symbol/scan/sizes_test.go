package scan_test

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"
)

var symbols = flag.String("symbols", "", "write the codes of all sizes as PGM, and what they say in index.tsv, into this folder, for other readers")

// holds is the most characters of digits, of capitals and of bytes in versions 1
// to 3 at L, M, Q and H: the table of capacities of ISO/IEC 18004 (capitals and
// bytes as counted with two encoders; digits from memory).
var holds = [...][symbol.H + 1][3]int{
	{{41, 25, 17}, {34, 20, 14}, {27, 16, 11}, {17, 10, 7}},
	{{77, 47, 32}, {63, 38, 26}, {48, 29, 20}, {34, 20, 14}},
	{{127, 77, 53}, {101, 61, 42}, {77, 47, 32}, {58, 35, 24}},
}

// alphabets go with the columns of holds. The second has more than the first,
// and the third more than the second.
var alphabets = [...]string{"0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 $%*+-./:", "abcdefghijklmnopqrstuvwxyz,;!?ABC0123456789 -./:"}

// second returns the version that another encoder, written apart from ours,
// needs for the text at the level.
func second(t *testing.T, text string, l symbol.Level) int {
	t.Helper()
	levels := [...]decoder.ErrorCorrectionLevel{symbol.L: decoder.ErrorCorrectionLevel_L, symbol.M: decoder.ErrorCorrectionLevel_M,
		symbol.Q: decoder.ErrorCorrectionLevel_Q, symbol.H: decoder.ErrorCorrectionLevel_H}
	code, err := encoder.Encoder_encode(text, levels[l], nil)
	if err != nil {
		t.Fatalf("%q at %v: the second encoder: %v", text, l, err)
	}
	return code.GetVersion().GetVersionNumber()
}

// A text as long as a version holds is in that version, one character more is in
// the next, and a second encoder says so too.
func TestCapacities(t *testing.T) {
	for v, levels := range holds {
		for l, most := range levels {
			for a, n := range most {
				for more := range 2 {
					text := strings.Repeat(alphabets[a][:1], n+more)
					m, err := symbol.AtLevel(text, symbol.Level(l))
					if err != nil || m.Version != v+1+more || m.N != 21+4*(v+more) {
						t.Errorf("%d of %q at %v: version %d, %v; want %d", n+more, text[:1], symbol.Level(l), m.Version, err, v+1+more)
					}
					if got := second(t, text, symbol.Level(l)); got != m.Version {
						t.Errorf("%d of %q at %v: version %d, by a second encoder %d", n+more, text[:1], symbol.Level(l), m.Version, got)
					}
				}
			}
		}
	}
}

// Links and plain texts of every size that is printed have the version that a
// second encoder gives them, and read. Other readers get all of them.
func TestSizes(t *testing.T) {
	each := 6 // texts of a version at a level
	if *symbols != "" {
		each = 25
	}
	r := rand.New(rand.NewPCG(18004, 1))
	index, sizes := strings.Builder{}, map[string]int{}
	for v := range holds {
		for l := symbol.L; l <= symbol.H; l++ {
			for i := range each {
				text := anyText(r, v, l, i)
				m, err := symbol.AtLevel(text, l)
				if err != nil {
					t.Fatal(err)
				}
				size := fmt.Sprintf("V%d-%v", m.Version, m.Level)
				sizes[size]++
				if other := second(t, text, l); m.Version != v+1 || other != m.Version {
					t.Errorf("%q at %v: version %d, by a second encoder %d; want %d", text, l, m.Version, other, v+1)
				}
				img := picture(m, 4+i%4, 4)
				got, err := scan.QR(img)
				if err != nil || got != text {
					t.Errorf("%q in %s reads %q, %v", text, size, got, err)
				}
				name := fmt.Sprintf("%s-%02d.pgm", size, i)
				fmt.Fprintf(&index, "%s\t%s\tflat\t%d\t%s\n", name, size, len(got)/max(1, len(got)), text)
				if *symbols != "" {
					if err := os.WriteFile(filepath.Join(*symbols, name), pgm(img), 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
		}
	}
	if len(sizes) != len(holds)*4 {
		t.Errorf("sizes %v", sizes)
	}
	if *symbols != "" {
		if err := os.WriteFile(filepath.Join(*symbols, "index.tsv"), []byte(index.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// anyText returns a text that needs version v+1 at the level: in turn a link in
// capitals, words in capitals, a link in small letters, words, digits.
func anyText(r *rand.Rand, v int, l symbol.Level, turn int) string {
	kinds := [...]struct {
		packing int // column of holds
		head    string
	}{{1, "HTTPS://"}, {1, "8G "}, {2, "https://"}, {2, "Withy"}, {0, "4"}}
	k := kinds[turn%len(kinds)]
	least, most := 1, holds[v][l][k.packing]
	if v > 0 {
		least = holds[v-1][l][k.packing] + 1
	}
	head := k.head[:min(len(k.head), most)]
	text := []byte(head)
	for n := max(least, len(head)) + r.IntN(most-max(least, len(head))+1); len(text) < n; {
		text = append(text, alphabets[k.packing][r.IntN(len(alphabets[k.packing]))])
	}
	if last := len(text) - 1; text[last] == ' ' { // what prints a reader's answer may drop it
		text[last] = '-'
	}
	return string(text)
}

// pgm is a grey picture in the plainest format there is.
func pgm(img *image.Gray) []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, "P5\n%d %d\n255\n", img.Rect.Dx(), img.Rect.Dy())
	for y := range img.Rect.Dy() {
		out.Write(img.Pix[y*img.Stride:][:img.Rect.Dx()])
	}
	return out.Bytes()
}
