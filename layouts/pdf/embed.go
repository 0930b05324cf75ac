package pdf

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"github.com/signintech/gopdf"

	"floatmark/loading/fault"
)

// The only file that knows the library. It is asked for TrueType subsets and
// their ToUnicode maps, in a file of its own that never leaves memory; their
// objects are taken over and numbered anew. The rest of a document is ours.

// fontObjects is how many objects the library makes of a face, and the order it
// writes them in: ToUnicode, font file, descriptor, CID font, Type 0 font. Not a
// promise of the library: its version is pinned and verify looks at them.
const fontObjects = 5

// font is a face's objects as the library wrote them.
type font struct {
	first   int // their first number there
	objects [fontObjects][]byte
}

// embedded returns the objects of each face's subset.
func embedded(used *faces) ([]font, error) {
	if len(used.list) == 0 {
		return nil, nil
	}
	var p gopdf.GoPdf
	p.Start(gopdf.Config{Unit: gopdf.UnitPT, PageSize: gopdf.Rect{W: 1, H: 1}})
	out := make([]font, len(used.list))
	for i, s := range used.list {
		out[i].first = p.GetNextObjectID()
		if err := embed(&p, s); err != nil {
			return nil, fault.New(fault.Input, s.face.Name(), "the face cannot be embedded: "+err.Error(), "give a TrueType face with outlines (.ttf)", err)
		}
	}
	// The library ignores what a writer answers, so it writes to memory; it can
	// be asked once only.
	var b bytes.Buffer
	if _, err := p.WriteTo(&b); err != nil {
		return nil, err
	}
	x, err := readXref(b.Bytes())
	if err != nil {
		return nil, err
	}
	for i, s := range used.list {
		for n := range out[i].objects {
			out[i].objects[n] = x.object(b.Bytes(), out[i].first+n)
		}
		if err := verify(out[i].objects, s); err != nil {
			return nil, err
		}
	}
	return out, nil
}

var reference = regexp.MustCompile(`\b(\d+) 0 R\b`)

// renumbered moves the references of an object's dictionary by as much as its
// own number moves.
func renumbered(body []byte, by int) []byte {
	dict, stream := body, []byte(nil)
	if i := bytes.Index(body, []byte("stream\n")); i >= 0 {
		dict, stream = body[:i], body[i:]
	}
	dict = reference.ReplaceAllFunc(dict, func(ref []byte) []byte {
		n, _ := strconv.Atoi(string(bytes.Fields(ref)[0])) // digits, by the expression
		return fmt.Appendf(nil, "%d 0 R", n+by)
	})
	return append(bytes.Clone(dict), stream...)
}

// fonts writes the faces' objects and returns the dictionary of their names.
func (p *Writer) fonts(all []font) string {
	var names strings.Builder
	for i, f := range all {
		first := len(p.out.at)
		for _, body := range f.objects {
			p.out.add(string(renumbered(body, first-f.first)))
		}
		fmt.Fprintf(&names, " /F%d %d 0 R", i+1, first+fontObjects-1)
	}
	return "<<" + names.String() + " >>"
}

// embed adds a face and registers the characters used, which is what the
// library cuts the subset by. Glyphs keep their numbers.
func embed(p *gopdf.GoPdf, s *subset) error {
	family := tag(s) + "+" + plain(s.face.Name())
	if err := p.AddTTFFontData(family, s.face.TTF()); err != nil {
		return err
	}
	if err := p.SetFont(family, "", 1); err != nil {
		return err
	}
	_, err := p.MeasureTextWidth(string(s.text))
	return err
}

// plain returns the name with nothing but letters, digits and hyphens: a face of
// the maker's own is named by its path, and brackets would break the file.
func plain(name string) string {
	return strings.Map(func(r rune) rune {
		if r == '-' || r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return r
		}
		return -1
	}, name)
}

// tag returns the six capitals that mark a subset (ISO 32000-1, 9.6.4): drawn
// from the face and what is used of it, so that equal subsets have equal names.
func tag(s *subset) string {
	sum := sha256.Sum256([]byte(fmt.Sprint(s.number, s.face.Name(), string(s.text))))
	t := make([]byte, 6)
	for i := range t {
		t[i] = 'A' + sum[i]%26
	}
	return string(t)
}

// verify looks whether the subset is in the file and has every glyph: the
// library keeps silent when it cannot cut a face, and would print blanks.
func verify(objects [fontObjects][]byte, s *subset) error {
	fail := func() error {
		return fault.New(fault.Input, s.face.Name(), "the face cannot be embedded", "give a TrueType face with outlines (.ttf)")
	}
	toUnicode := objects[0]
	for n, must := range [fontObjects]string{"beginbfrange", "/Length1", "/FontFile2", "/CIDFontType2", "/Type0"} {
		if !bytes.Contains(objects[n], []byte(must)) {
			return fail()
		}
	}
	for id, r := range s.glyphs {
		if !bytes.Contains(toUnicode, fmt.Appendf(nil, "<%04X><%04X><%04X>\n", id, id, r)) {
			return fail()
		}
	}
	return nil
}

// xref is the table of objects of the library's file.
type xref struct {
	start   int   // where the table begins
	offsets []int // where object n begins; offsets[0] is unused
}

var tableRow = regexp.MustCompile(`(?m)^(\d{10}) 00000 n `)

func readXref(file []byte) (xref, error) {
	broken := fault.New(fault.Ours, "", "the PDF library wrote a file without a table of objects", "")
	const mark = "startxref\n"
	i := bytes.LastIndex(file, []byte(mark))
	if i < 0 {
		return xref{}, broken
	}
	text, _, _ := strings.Cut(string(file[i+len(mark):]), "\n")
	start, err := strconv.Atoi(text)
	if err != nil || start >= i {
		return xref{}, broken
	}
	x := xref{start: start, offsets: []int{0}}
	for _, m := range tableRow.FindAllSubmatch(file[start:i], -1) {
		at, err := strconv.Atoi(string(m[1]))
		if err != nil || at >= start {
			return xref{}, broken
		}
		x.offsets = append(x.offsets, at)
	}
	return x, nil
}

// object returns the body of an object, nil if there is none.
func (x xref) object(file []byte, id int) []byte {
	if id < 1 || id >= len(x.offsets) {
		return nil
	}
	end := x.start
	for _, at := range x.offsets[1:] {
		if at > x.offsets[id] && at < end {
			end = at
		}
	}
	body := bytes.TrimSpace(file[x.offsets[id]:end])
	return bytes.TrimSpace(bytes.TrimSuffix(bytes.TrimPrefix(body, fmt.Appendf(nil, "%d 0 obj", id)), []byte("endobj")))
}
