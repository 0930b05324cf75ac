package job

import (
	"math"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Silhouette is what a pattern's shape looks like and promises. Lengths are mm
// over the base end, volumes mm³.
type Silhouette struct {
	Key, Name     string
	Body, Tip     string       // paint, "#26262b"
	Outline       [][2]float64 // heights and radii, from the base end up, close enough to draw
	Stations      [][2]float64 // heights and diameters as the shape has them
	Top, Widest   float64      // length and largest diameter
	WidestAt      float64
	Waterline     float64
	TipFrom       float64
	Marks         [][2]float64 // lower and upper edges of the stretches that bear marks
	Straight      [][2]float64 // runs without a bend under the tip, where a mark lies flat
	Volume, Under float64      // of the whole, and below the waterline
	AtWaterline   float64      // diameter there
	PerMillimetre float64      // what a millimetre of tip carries there, g of fresh water
	Promise       string       // what the float takes by its materials, bare; "" where they are not said
	PromiseFor    string       // the metal it is said in
	Least, Most   float64      // its bounds, g
	Displaces     float64      // g of water displaced below the waterline: more than it can ever carry
}

// outlineSteps is how many places between two ends of a float are drawn: a
// picture of 700 points has two and a half to each.
const outlineSteps = 280

// DraftSilhouette works out the shape of a pattern of a document that need not be
// whole; beside are files that it names and that do not lie beside the draft yet.
// The error joins all findings of the pattern.
func (w *Workshop) DraftSilhouette(d Draft, doc *batch.Doc, pattern int, beside map[string][]byte) (Silhouette, error) {
	all := openedFile{Beside: map[string][]byte{}}
	for _, n := range d.Files() {
		all.Beside[n], _ = d.Kept(n)
	}
	for n, data := range beside {
		all.Beside[base(n)] = data
	}
	p, err := batch.PatternOf(doc, pattern, d.Name, all.beside)
	if err != nil {
		return Silhouette{}, err
	}
	return w.silhouette(p, doc), nil
}

// silhouette draws a pattern that is whole.
func (w *Workshop) silhouette(p *label.Pattern, doc *batch.Doc) Silhouette {
	b, top := p.Profile, float64(p.Profile.Top())
	s := Silhouette{Key: p.Key, Name: p.Name, Body: p.Body.String(), Tip: p.Tip.String(), Top: top, Widest: float64(b.MaxDiameter()),
		Waterline: float64(p.Waterline), TipFrom: float64(p.TipFrom),
		Volume: b.Volume(b.Base(), b.Top()), Under: b.Volume(b.Base(), p.Waterline), AtWaterline: float64(p.TipDiameter())}
	s.Outline = outline(b)
	for _, one := range b.Stations() {
		s.Stations = append(s.Stations, [2]float64{float64(one.Z), float64(one.D)})
		if float64(one.D) == s.Widest && s.WidestAt == 0 {
			s.WidestAt = float64(one.Z)
		}
	}
	for _, z := range p.Zones {
		s.Marks = append(s.Marks, [2]float64{float64(z.From), float64(z.To())})
	}
	for _, z := range straightRuns(p) {
		s.Straight = append(s.Straight, [2]float64{float64(z.From), float64(z.To())})
	}
	const cubic = 1000 // mm³ to a cm³
	fresh := water.Usual()
	density := fresh.Density()
	s.Displaces = s.Under / cubic * density
	s.PerMillimetre = math.Pi / 4 * s.AtWaterline * s.AtWaterline / cubic * density
	if got, metal, ok := promised(p, doc, fresh); ok {
		least, most := got.Bounds()
		s.Promise, s.PromiseFor, s.Least, s.Most = got.Text(), metal, float64(least), float64(most)
	}
	return s
}

// outline samples a profile at its stations and evenly between.
func outline(b body.Profile) (all [][2]float64) {
	put := func(z unit.Millimetre) {
		if n := len(all); n == 0 || float64(z) > all[n-1][0] {
			all = append(all, [2]float64{float64(z), float64(b.Diameter(z)) / 2})
		}
	}
	st := b.Stations()
	for i, one := range st {
		put(one.Z)
		if i+1 == len(st) || one.Kind == body.Straight {
			continue
		}
		n := max(4, int(float64(st[i+1].Z-one.Z)/float64(b.Length())*outlineSteps))
		for k := 1; k < n; k++ {
			put(one.Z + (st[i+1].Z-one.Z)*unit.Millimetre(k)/unit.Millimetre(n))
		}
	}
	return all
}

// promised works out what a bare float of a pattern takes, in the metal that the
// document's marks are written in.
func promised(p *label.Pattern, doc *batch.Doc, in water.Water) (loading.Prediction, string, bool) {
	if len(p.Material) == 0 {
		return loading.Prediction{}, "", false
	}
	key := doc.Text("print/convention")
	if key == "" {
		key = "gb-modern"
	}
	c, ok := shot.ByKey(key)
	if !ok {
		return loading.Prediction{}, "", false
	}
	parts, err := loading.PartsOf(p.Profile, p.Material)
	if err != nil {
		return loading.Prediction{}, "", false
	}
	got, err := loading.PredictShape(loading.Shape{Parts: parts, Waterline: p.Waterline, Metal: c.Metal, Water: in})
	return got, c.Metal.Name, err == nil
}

// straightRuns are the stretches of a body under its tip on which a mark of some
// height lies without a bend, the roomiest first; each is a zone that fills it, a
// little off its ends.
func straightRuns(p *label.Pattern) []label.Zone {
	const aside, least = 1.0, 6.0 // mm; as for a mark whose place is left to the reader
	var all []label.Zone
	st := p.Profile.Stations()
	top := p.TipFrom
	if !(top > 0 && top <= p.Profile.Top()) {
		top = p.Profile.Top()
	}
	for i := 1; i < len(st); i++ {
		lo, hi := st[i-1].Z+aside, min(st[i].Z, top)-aside
		if hi-lo < least || !p.Profile.IsCone(lo, hi) {
			continue
		}
		all = append(all, label.Zone{From: lo, Height: hi - lo})
	}
	return all
}
