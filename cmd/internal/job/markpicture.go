package job

import (
	"bytes"
	"context"
	"image/png"
	"math"
	"slices"

	"floatmark/cmd/internal/batch"
	"floatmark/layouts/decal"
	"floatmark/layouts/svg"
	"floatmark/layouts/view"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Flat is the flat piece, or the pieces one under the other with the tip's end on
// top, as SVG; nothing where the mark cannot be laid out.
func (v *MarkView) Flat() ([]byte, error) {
	if v.Err != nil || len(v.fp.Decal.Pieces) == 0 {
		return nil, fault.New(fault.NotFound, v.Key, "there is no flat piece", "")
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.plan.Previews == nil {
		v.plan.previews()
	}
	var buf bytes.Buffer
	err := svg.Write(&buf, v.plan.Previews[0].Sheet)
	return buf.Bytes(), err
}

// Picture draws the float lying with its tip to the right, the body angle turn,
// degrees, facing the eye, as PNG of so many pixels across; 0 shows the middle of
// the mark. With tip its tip comes towards the eye by so many degrees, MostTip at
// most, or goes away from it.
func (v *MarkView) Picture(turn, tip float64, width int) ([]byte, error) {
	p, err := v.prepared(width)
	if err != nil {
		return nil, err
	}
	if tip != 0 {
		p = p.Tipped(tip * math.Pi / 180)
	}
	var buf bytes.Buffer
	img := p.Render(turn * math.Pi / 180)
	if width < smallPicture {
		err = png.Encode(&buf, img)
	} else {
		err = quickPNG.Encode(&buf, img)
	}
	return buf.Bytes(), err
}

// MostTip is how far a picture is tipped at most, degrees either way: farther, a
// mark is too short to be read (chosen by eye).
const MostTip = 40

// smallPicture is how wide a picture is, pixels, from which it is written quickly:
// smaller ones stand in lists, where their bytes count.
const smallPicture = 600

// quickPNG writes pictures that are looked at once: half the time, a third more
// bytes.
var quickPNG = png.Encoder{CompressionLevel: png.BestSpeed}

// prepared makes the scene ready for pictures of that width, once.
func (v *MarkView) prepared(width int) (*view.Prepared, error) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if p, ok := v.scenes[width]; ok {
		return p, nil
	}
	scene := v.plan.Scene(v.fp)
	if v.Err != nil {
		scene.Pieces = nil
	}
	p, err := scene.Prepare(v.camera(width))
	if err != nil {
		return nil, err
	}
	if v.scenes == nil {
		v.scenes = map[int]*view.Prepared{}
	}
	v.scenes[width] = p
	return p, nil
}

// camera shows the stretch of the float that bears marks, with what lies next to
// it, or all of a short float.
func (v *MarkView) camera(width int) view.Camera {
	shape := v.fp.Float.Shape()
	base, top := float64(shape.Base()), float64(shape.Top())
	from, to := top, base
	for _, z := range v.fp.Float.Pattern.Zones {
		from, to = min(from, float64(z.From)), max(to, float64(z.To()))
	}
	const air, least = 10.0, 60.0 // mm of the float beside the marks; the shortest stretch shown
	from, to = from-air, to+air
	if short := least - (to - from); short > 0 {
		from, to = from-short/2, to+short/2
	}
	ends := pictureEnds * (top - base)
	from, to = max(from, base-ends), min(to, top+ends)
	k := float64(width) / (to - from)
	high := int(k * (float64(shape.MaxDiameter()) + pictureRoom))
	return view.Camera{From: unit.Millimetre(from), To: unit.Millimetre(to), Width: width, Height: high}
}

// Grounds are the rings of pale paint that the mark needs under it or has.
func (v *MarkView) Grounds() []decal.Ring { return v.fp.Decal.Rings }

// PlanMarkOf is PlanMark of a document that is being typed, with what lies beside
// the draft.
func (w *Workshop) PlanMarkOf(ctx context.Context, d Draft, doc *batch.Doc, pattern int, quick bool) (*MarkView, error) {
	return w.planMark(ctx, d, doc, pattern, quick)
}

// Alike reports whether another view of the mark shows the same.
func (v *MarkView) Alike(o *MarkView) bool {
	a, b := v.fp.Decal, o.fp.Decal
	if (v.Err == nil) != (o.Err == nil) || len(a.Pieces) != len(b.Pieces) || !slices.Equal(a.Rings, b.Rings) {
		return false
	}
	for i := range a.Pieces {
		if a.Pieces[i].Drawing.Dump() != b.Pieces[i].Drawing.Dump() {
			return false
		}
	}
	return true
}
