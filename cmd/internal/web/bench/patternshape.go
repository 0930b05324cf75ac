package bench

import (
	"fmt"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// patternPage is the page of one pattern.
type patternPage struct {
	Form    patternForm
	Kept    []string // files that lie beside the batch
	Action  string
	Marks   string
	List    string
	Shape   *shapePart
	Unsaved bool // what is shown was typed and is not stored
}

// shapePart is what the shape looks like and promises: what follows while one
// types.
type shapePart struct {
	SVG      template.HTML
	Top      float64
	Half     float64 // mm that the picture shows beside the axis
	Numbers  []figure
	Says     []string
	Findings []finding
}

// figure is a large number with what it is.
type figure struct{ Name, Value string }

func (s *server) pattern(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	i, err := patternPlace(r, d.Doc)
	if err != nil {
		return err
	}
	return s.patternPage(w, r, d, i, r.URL.Query(), http.StatusOK, nil)
}

// patternPage shows a pattern as it is, or as it is typed and not stored yet.
func (s *server) patternPage(w http.ResponseWriter, r *http.Request, d job.Draft, i int, typed url.Values, status int, why []finding) error {
	doc, m := d.Doc, s.measures(r)
	unsaved := typed.Has("shape")
	if unsaved {
		doc = doc.Clone()
		if err := (patternForm{}).apply(m, doc, i, typed, ""); err != nil {
			return err
		}
	}
	form := patternFormOf(m, doc, i)
	here := Path + batchPath(d.Name, fmt.Sprintf("patterns/%d", i))
	p := patternPage{Form: form, Kept: shapeFiles(d), Action: here, Unsaved: unsaved, List: Path + batchPath(d.Name, "patterns"),
		Marks: Path + batchPath(d.Name, fmt.Sprintf("marks/%d", i))}
	p.Shape = s.shapePart(r, d, func() (job.Silhouette, error) { return s.shop().DraftSilhouette(d, doc, i, nil) })
	f := s.batchFrame(d, "patterns", "Patterns")
	f.Name = form.Name
	f.Findings = why // those of the shape stand where it is seen
	f.Body = p
	if len(why)+len(p.Shape.Findings) == 0 && !unsaved {
		f.Next = &link{"Look at its mark", p.Marks}
	}
	s.send(w, r, status, "pattern", f)
	return nil
}

// shapeFiles are the files beside a batch that a shape can be read from.
func shapeFiles(d job.Draft) (all []string) {
	for _, n := range d.Files() {
		if low := strings.ToLower(n); strings.HasSuffix(low, ".csv") || strings.HasSuffix(low, ".svg") {
			all = append(all, n)
		}
	}
	return all
}

// shapePart works out the part of the page that follows the typing.
func (s *server) shapePart(r *http.Request, d job.Draft, of func() (job.Silhouette, error)) *shapePart {
	shape, err := of()
	if err != nil {
		return &shapePart{Findings: patternFindings(err)}
	}
	say, m := words.Bench(s.language(r)), s.measures(r)
	length := func(v float64) string { return m.Length(unit.Millimetre(v), 0.1) }
	grams := func(v, step float64) string { return unit.Gram(v).Text(unit.Gram(step), m.Number) }
	p := &shapePart{SVG: template.HTML(silhouetteSVG(shape, true)), Top: shape.Top, Half: halfOf(shape)}
	p.Numbers = []figure{{say("long"), length(shape.Top)}, {say("widest"), length(shape.Widest)}, {say("volume"), m.Volume(shape.Volume)}}
	p.Says = append(p.Says, fmt.Sprintf(say("Below the waterline it displaces %s of fresh water: all that float, weight and shot can weigh together, in water."), grams(shape.Displaces, 0.01)))
	if m.Imperial() {
		p.Says = append(p.Says, fmt.Sprintf(say("At the waterline it is %s thick: a sixteenth of an inch of tip carries %s."), length(shape.AtWaterline), grams(shape.PerMillimetre*unit.MillimetresPerInch/16, 0.001)))
	} else {
		p.Says = append(p.Says, fmt.Sprintf(say("At the waterline it is %s thick: a millimetre of tip carries %s."), length(shape.AtWaterline), grams(shape.PerMillimetre, 0.001)))
	}
	switch {
	case shape.Promise != "" && shape.Most > 0:
		p.Says = append(p.Says, fmt.Sprintf(say("Bare, by its shape and what it is made of, it should take %s to %s of %s. That is a promise: only the tank says what it takes."),
			grams(math.Max(0, shape.Least), 0.1), grams(shape.Most, 0.1), say(shape.PromiseFor)))
	case shape.Promise != "":
		p.Says = append(p.Says, say("By its shape it sinks without any shot: look at its measures and what it is made of."))
	default:
		p.Says = append(p.Says, say("Say what it is made of, and what the bare float should take is told here."))
	}
	return p
}

// patternShape answers the picture and the figures of what is typed.
func (s *server) patternShape(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	i, err := patternPlace(r, d.Doc)
	if err != nil {
		return err
	}
	doc := d.Doc.Clone()
	if err := (patternForm{}).apply(s.measures(r), doc, i, r.URL.Query(), ""); err != nil {
		return err
	}
	part := s.shapePart(r, d, func() (job.Silhouette, error) { return s.shop().DraftSilhouette(d, doc, i, nil) })
	return s.fragment(w, r, "pattern", "shape", part)
}

// setPattern stores what is typed.
func (s *server) setPattern(w http.ResponseWriter, r *http.Request) error {
	if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		if err := r.ParseMultipartForm(MostBody); err != nil {
			return fault.Inputf("send a file of 8 MB at most", "the form cannot be read: %v", err)
		}
	}
	name, data, err := readUpload(r, "file")
	if err != nil {
		return err
	}
	if _, err := version(r); err != nil {
		return err
	}
	files := map[string][]byte{}
	if name != "" {
		files[name] = data
	}
	i, err := strconv.Atoi(r.PathValue("i"))
	if err != nil {
		i = -1
	}
	return s.editWith(w, r, "change a pattern", fmt.Sprintf("patterns/%d", i), files, func(doc *batch.Doc) error {
		i, err := patternPlace(r, doc)
		if err != nil {
			return err
		}
		return (patternForm{}).apply(s.measures(r), doc, i, r.PostForm, name)
	})
}

// halfOf is how far from its axis a picture reaches, mm.
func halfOf(s job.Silhouette) float64 { return math.Ceil(s.Widest/2) + pictureAir }

const pictureAir = 5.0 // mm round a silhouette, for its labels

// silhouetteSVG draws a float lying with its tip to the right, true to scale, a
// unit a millimetre: paint, waterline, where the tip begins and the stretches that
// bear marks. By itself it wears greys that show on light and dark.
func silhouetteSVG(s job.Silhouette, labelled bool) string {
	var b strings.Builder
	half := halfOf(s)
	n := func(v float64) string { return unit.Number(v, 0.01, unit.Style{}) }
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="float" viewBox="%s %s %s %s" role="img" aria-label="%s">`,
		n(-pictureAir), n(-half), n(s.Top+2*pictureAir), n(2*half), template.HTMLEscapeString(s.Name))
	path := func(from, to float64) string {
		var up, down []string
		put := func(z, r float64) {
			up = append(up, n(z)+" "+n(-r))
			down = append(down, n(z)+" "+n(r))
		}
		for i, o := range s.Outline {
			if i > 0 { // where a stretch begins or ends between two places
				for _, cut := range []float64{from, to} {
					if a := s.Outline[i-1]; a[0] < cut && cut < o[0] {
						put(cut, a[1]+(o[1]-a[1])*(cut-a[0])/(o[0]-a[0]))
					}
				}
			}
			if o[0] >= from && o[0] <= to {
				put(o[0], o[1])
			}
		}
		for i, j := 0, len(down)-1; i < j; i, j = i+1, j-1 {
			down[i], down[j] = down[j], down[i]
		}
		return "M" + strings.Join(up, "L") + "L" + strings.Join(down, "L") + "Z"
	}
	fmt.Fprintf(&b, `<path class="axis" d="M%s 0H%s" stroke="#8a8a86" stroke-width="0.15" stroke-dasharray="3 1 .6 1"/>`, n(-pictureAir), n(s.Top+pictureAir))
	fmt.Fprintf(&b, `<path d="%s" fill="%s"/>`, path(0, s.Top), s.Body)
	if s.TipFrom > 0 && s.TipFrom < s.Top {
		fmt.Fprintf(&b, `<path d="%s" fill="%s"/>`, path(s.TipFrom, s.Top), s.Tip)
	}
	for _, m := range s.Marks {
		fmt.Fprintf(&b, `<path class="mark" d="%s" fill="#f6f3ea"/>`, path(m[0], m[1]))
	}
	fmt.Fprintf(&b, `<path class="edge" d="%s" fill="none" stroke="#8a8a86" stroke-width="0.3"/>`, path(0, s.Top))
	fmt.Fprintf(&b, `<path class="water" d="M%s %sV%s" stroke="#2b7bbf" stroke-width="0.6"/>`, n(s.Waterline), n(-half+0.5), n(half-0.5))
	if labelled {
		fmt.Fprintf(&b, `<path class="water" d="M%s %sl-1.6 -2.6h3.2z" fill="#2b7bbf"/>`, n(s.Waterline), n(-half+3.4))
	}
	b.WriteString(`</svg>`)
	return b.String()
}
