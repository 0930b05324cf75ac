package pdf

import (
	"bytes"
	"fmt"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// faces are the faces of a document in the order they are first met, each with
// the characters that are set in it.
type faces struct {
	list  []*subset
	known map[*fonts.Face]*subset
}

// subset is one face and what is used of it.
type subset struct {
	face   *fonts.Face
	number int                    // of the font resource: /F1, /F2 ...
	text   []rune                 // characters in order of first use
	glyphs map[fonts.GlyphID]rune // the character each glyph stands for
}

func newFaces() *faces { return &faces{known: map[*fonts.Face]*subset{}} }

// of returns the subset of a face. A face parsed twice is one face.
func (f *faces) of(face *fonts.Face) *subset {
	if s := f.known[face]; s != nil {
		return s
	}
	for _, s := range f.list {
		if s.face.Name() == face.Name() && bytes.Equal(s.face.TTF(), face.TTF()) {
			f.known[face] = s
			return s
		}
	}
	s := &subset{face: face, number: len(f.list) + 1, glyphs: map[fonts.GlyphID]rune{}}
	f.known[face], f.list = s, append(f.list, s)
	return s
}

// note adds a run to its face's subset and returns the font's number. The
// subset is cut by characters, so each glyph must be the face's own for one of
// the run's characters.
func (f *faces) note(op *draw.Glyphs) (int, error) {
	s := f.of(op.Face)
	for _, r := range op.Text {
		id, ok := op.Face.Glyph(r)
		if _, seen := s.glyphs[id]; !ok || seen {
			continue
		}
		if r > 0xFFFF {
			return 0, fault.Inputf("leave the character out", "%q (U+%04X) of %q cannot be embedded", r, r, op.Text)
		}
		s.glyphs[id] = r
		s.text = append(s.text, r)
	}
	for _, g := range op.Run {
		if _, ok := s.glyphs[g.ID]; !ok {
			return 0, fault.New(fault.Ours, op.Face.Name(), fmt.Sprintf("glyph %d stands for no character of %q", g.ID, op.Text), "")
		}
	}
	return s.number, nil
}
