package backer

import (
	"sync"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// Memory remembers how far glyphs reach, so that a batch of cards measures each
// once. It may be used by several goroutines; nil remembers nothing.
type Memory struct {
	lock   sync.RWMutex
	bounds map[glyphKey]geom.Rect
}

type glyphKey struct {
	face *fonts.Face
	id   fonts.GlyphID
}

// glyph returns the box of a glyph's outline in ems, y up.
func (m *Memory) glyph(face *fonts.Face, id fonts.GlyphID) geom.Rect {
	if m == nil {
		return draw.GlyphPath(face, id).Bounds()
	}
	k := glyphKey{face, id}
	m.lock.RLock()
	r, ok := m.bounds[k]
	m.lock.RUnlock()
	if ok {
		return r
	}
	r = draw.GlyphPath(face, id).Bounds()
	m.lock.Lock()
	defer m.lock.Unlock()
	if m.bounds == nil {
		m.bounds = map[glyphKey]geom.Rect{}
	}
	m.bounds[k] = r
	return r
}

// reach returns the box of upright text.
func (m *Memory) reach(ops []draw.Op) geom.Rect {
	var b geom.Rect
	for _, op := range ops {
		g, ok := op.(*draw.Glyphs)
		if !ok {
			continue
		}
		for _, one := range g.Run {
			r := m.glyph(g.Face, one.ID)
			if r == (geom.Rect{}) {
				continue
			}
			p, q := one.At.Apply(r.Min), one.At.Apply(r.Max)
			b = b.Union(geom.Rect{Min: geom.Point{X: min(p.X, q.X), Y: min(p.Y, q.Y)}, Max: geom.Point{X: max(p.X, q.X), Y: max(p.Y, q.Y)}})
		}
	}
	return b
}
