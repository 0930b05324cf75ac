package pdf

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"strings"
	"unicode"

	"github.com/signintech/gopdf"

	"floatmark/loading/fault"
)

// The only file that knows the library. It is asked for the document's
// skeleton, TrueType subsets and their ToUnicode maps; every stroke of a page is
// our own operators, handed in by raw.

// raw puts operators into the page as they are. The library prints a
// rectangle's paint style verbatim after "re", inside q and Q: "n" throws that
// empty rectangle away and ours follow. Not a promise of the library: its
// version is pinned and a test looks whether the door still opens.
func raw(p *gopdf.GoPdf, ops string) error {
	return p.RectFromUpperLeftWithOpts(gopdf.DrawableRectOptions{PaintStyle: gopdf.PaintStyle("n\n" + ops)})
}

// skeleton makes the file without boxes, layers, info and id.
func skeleton(pages []page, used *faces) ([]byte, error) {
	var p gopdf.GoPdf
	p.Start(gopdf.Config{Unit: gopdf.UnitPT, PageSize: gopdf.Rect{W: points(pages[0].w), H: points(pages[0].h)}})
	firsts := make([]int, len(used.list))
	for i, s := range used.list {
		firsts[i] = p.GetNextObjectID()
		if err := embed(&p, s); err != nil {
			return nil, fault.New(fault.Input, s.face.Name(), "the face cannot be embedded: "+err.Error(), "give a TrueType face with outlines (.ttf)", err)
		}
	}
	for _, pg := range pages {
		p.AddPageWithOption(gopdf.PageOption{PageSize: &gopdf.Rect{W: points(pg.w), H: points(pg.h)}})
		if err := raw(&p, pg.ops); err != nil {
			return nil, err
		}
	}
	// The library ignores what a writer answers, so it writes to memory; it can
	// be asked once only.
	var b bytes.Buffer
	if _, err := p.WriteTo(&b); err != nil {
		return nil, err
	}
	for i, s := range used.list {
		if err := verify(b.Bytes(), firsts[i], s); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
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
// It writes, from the first object on: ToUnicode, font file, descriptor.
func verify(file []byte, first int, s *subset) error {
	fail := func() error {
		return fault.New(fault.Input, s.face.Name(), "the face cannot be embedded", "give a TrueType face with outlines (.ttf)")
	}
	x, err := readXref(file)
	if err != nil {
		return err
	}
	toUnicode, font := x.object(file, first), x.object(file, first+1)
	if !bytes.Contains(font, []byte("/Length1")) {
		return fail()
	}
	for id, r := range s.glyphs {
		if !bytes.Contains(toUnicode, fmt.Appendf(nil, "<%04X><%04X><%04X>\n", id, id, r)) {
			return fail()
		}
	}
	return nil
}
