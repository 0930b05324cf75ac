package bench

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
)

func (s *server) markPages() []route {
	return []route{
		s.get("b/{batch}/marks", s.marks),
		s.get("b/{batch}/marks/{i}", s.mark),
		s.post("b/{batch}/marks/{i}", s.setMark),
		s.post("b/{batch}/marks/{i}/remedy", s.remedy),
		s.get("b/{batch}/marks/{i}/look", s.markLook),
		s.get("b/{batch}/marks/{i}/said", s.markSaid),
		s.get("b/{batch}/marks/{i}/float.png", s.markPicture),
		s.get("b/{batch}/marks/{i}/flat.svg", s.markFlat),
	}
}

// marksKept is how many marks are remembered that were looked at: some patterns and
// some that are being typed, at about 10 MB of pictures each.
const marksKept = 12

// markViews remembers marks that were worked out, so that turning one costs its
// picture alone.
type markViews struct {
	mu    sync.Mutex
	all   map[string]*markLooked
	order []string // the one asked for last is last
}

// markLooked is one mark as it is typed, on the records as they are: first laid
// out as if its code read, then with what pictures say, then with what helps.
type markLooked struct {
	stamp          string // what it was made of, in an address
	quick          sync.Once
	full           sync.Mutex // held while it is proved
	v, proved      *job.MarkView
	err, provedErr error
	troubles       []job.Trouble
	ready          chan struct{} // closed when proved is there
	other          bool          // the proved mark does not look as the quick one did
}

// typedMark is what of a request is typed, by itself: not which picture is wanted.
func typedMark(q url.Values) url.Values {
	out := url.Values{}
	for k, v := range q {
		if strings.HasPrefix(k, "zone.") || k == "typed" || k == unitsField {
			out[k] = v
		}
	}
	if !out.Has("typed") {
		return url.Values{}
	}
	return out
}

// markOf finds the mark of a request, as it is stored or typed.
func (s *server) markOf(r *http.Request) (d job.Draft, i int, doc *batch.Doc, m *markLooked, err error) {
	if d, err = s.draft(r); err != nil {
		return d, 0, nil, nil, err
	}
	if i, err = patternPlace(r, d.Doc); err != nil {
		return d, 0, nil, nil, err
	}
	doc = d.Doc
	typed := typedMark(r.URL.Query())
	if len(typed) > 0 {
		doc = doc.Clone()
		if err = applyMarks(s.measures(r), doc, i, typed, ""); err != nil {
			return d, i, doc, nil, err
		}
	}
	sum := sha256.Sum256([]byte(fmt.Sprint(d.Name, "\n", i, "\n", d.Version, "\n", s.shop().Stamp(), "\n", typed.Encode())))
	return d, i, doc, s.marksSeen.of(hex.EncodeToString(sum[:8])), nil
}

func (all *markViews) of(stamp string) *markLooked {
	all.mu.Lock()
	defer all.mu.Unlock()
	if all.all == nil {
		all.all = map[string]*markLooked{}
	}
	for i, k := range all.order {
		if k == stamp {
			all.order = append(all.order[:i], all.order[i+1:]...)
			break
		}
	}
	all.order = append(all.order, stamp)
	if len(all.order) > marksKept {
		delete(all.all, all.order[0])
		all.order = all.order[1:]
	}
	m := all.all[stamp]
	if m == nil {
		m = &markLooked{stamp: stamp, ready: make(chan struct{})}
		all.all[stamp] = m
	}
	return m
}

// view is the mark as far as it is known: the proved one where it is there.
func (m *markLooked) view(ctx context.Context, shop *job.Workshop, d job.Draft, doc *batch.Doc, i int) (*job.MarkView, error) {
	select {
	case <-m.ready:
		return m.proved, m.provedErr
	default:
	}
	m.quick.Do(func() { m.v, m.err = shop.PlanMarkOf(context.WithoutCancel(ctx), d, doc, i, true) })
	return m.v, m.err
}

// prove works the mark out with what pictures say of its code, and tries what
// helps. When whoever asked is gone it stops, and begins anew for who asks next:
// of a mark that is being typed only the last is worth the work.
func (m *markLooked) prove(ctx context.Context, shop *job.Workshop, d job.Draft, doc *batch.Doc, i int) (*job.MarkView, []job.Trouble, error) {
	m.full.Lock()
	defer m.full.Unlock()
	select {
	case <-m.ready:
		return m.proved, m.troubles, m.provedErr
	default:
	}
	v, err := shop.PlanMarkOf(ctx, d, doc, i, false)
	var troubles []job.Trouble
	if err == nil {
		m.quick.Do(func() { m.v = v })
		typed := d
		typed.Doc = doc
		troubles, err = shop.Remedies(ctx, typed, v)
	}
	if ctx.Err() != nil {
		return nil, nil, ctx.Err()
	}
	m.proved, m.troubles, m.provedErr = v, troubles, err
	m.other = err == nil && (m.err != nil || !v.Alike(m.v))
	close(m.ready)
	return v, troubles, err
}

// done returns the troubles with what helps, when they are known by now.
func (m *markLooked) done() ([]job.Trouble, bool) {
	select {
	case <-m.ready:
		return m.troubles, m.provedErr == nil
	default:
		return nil, false
	}
}

// stampNow is how the pictures of the mark are called: by what they show.
func (m *markLooked) stampNow() string {
	if _, ok := m.done(); ok && m.other {
		return m.stamp + "p"
	}
	return m.stamp
}

// The widths that pictures of the mark come in, pixels.
var markWidths = []int{400, 720}

// markPicture is the float turned so far.
func (s *server) markPicture(w http.ResponseWriter, r *http.Request) error {
	d, i, doc, m, err := s.markOf(r)
	if err != nil {
		return err
	}
	now := m.stampNow()
	v, err := m.view(r.Context(), s.shop(), d, doc, i)
	if err != nil {
		return err
	}
	width := markWidths[len(markWidths)-1]
	if r.URL.Query().Get("w") == strconv.Itoa(markWidths[0]) {
		width = markWidths[0]
	}
	data, err := v.Picture(float64(turnOf(r)), float64(tipOf(r)), width)
	if err != nil {
		return err
	}
	return sendPicture(w, r, "image/png", data, now)
}

// turnOf is how far a request turns the float, whole degrees from 0 to 359.
func turnOf(r *http.Request) int {
	turn, err := strconv.Atoi(r.URL.Query().Get("turn"))
	if err != nil {
		return 0
	}
	return ((turn % 360) + 360) % 360
}

// tipOf is how far a request tips the float's tip towards the eye, whole degrees.
func tipOf(r *http.Request) int {
	tip, err := strconv.Atoi(r.URL.Query().Get("tip"))
	if err != nil {
		return 0
	}
	return min(max(tip, -job.MostTip), job.MostTip)
}

func (s *server) markFlat(w http.ResponseWriter, r *http.Request) error {
	d, i, doc, m, err := s.markOf(r)
	if err != nil {
		return err
	}
	now := m.stampNow()
	v, err := m.view(r.Context(), s.shop(), d, doc, i)
	if err != nil {
		return err
	}
	data, err := v.Flat()
	if err != nil {
		return err
	}
	return sendPicture(w, r, "image/svg+xml", data, now)
}

// remedy does what was offered against a trouble.
func (s *server) remedy(w http.ResponseWriter, r *http.Request) error {
	d, i, doc, m, err := s.markOf(r)
	if err != nil {
		return err
	}
	v, err := m.view(r.Context(), s.shop(), d, doc, i)
	if err != nil {
		return err
	}
	key := r.PostFormValue("remedy")
	found, err := v.Remedy(d, key)
	if err != nil && v.Open { // it helps against what only pictures tell
		if v, _, err = m.prove(r.Context(), s.shop(), d, doc, i); err == nil {
			found, err = v.Remedy(d, key)
		}
	}
	if err != nil {
		return err
	}
	return s.edit(w, r, "change a mark", fmt.Sprintf("marks/%d", i), found.Edit)
}

// remedySays is what a remedy will do, in the reader's language.
func remedySays(language string, m words.Measures, one job.Remedy) string {
	var args []any
	named := words.Named(language)
	for _, a := range one.Args {
		args = append(args, m.Told(named(a)))
	}
	return fmt.Sprintf(words.Bench(language)(one.Says), args...)
}

// setMark stores the marks that are typed.
func (s *server) setMark(w http.ResponseWriter, r *http.Request) error {
	if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		if err := r.ParseMultipartForm(MostBody); err != nil {
			return fault.Inputf("send a picture of 2 MB at most", "the form cannot be read: %v", err)
		}
	}
	if _, err := version(r); err != nil {
		return err
	}
	name, data, err := readUpload(r, "own_mark")
	if err != nil {
		return err
	}
	files := map[string][]byte{}
	if name != "" {
		files[name] = data
	}
	return s.editWith(w, r, "change a mark", "marks/"+url.PathEscape(r.PathValue("i")), files, func(doc *batch.Doc) error {
		i, err := patternPlace(r, doc)
		if err != nil {
			return err
		}
		return applyMarks(s.measures(r), doc, i, r.PostForm, name)
	})
}
