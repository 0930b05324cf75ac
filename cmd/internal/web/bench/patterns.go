package bench

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) patternPages() []route {
	return []route{
		s.get("b/{batch}/patterns", s.patterns),
		s.post("b/{batch}/patterns/new", s.newPattern),
		s.get("b/{batch}/patterns/take", s.take),
		s.post("b/{batch}/patterns/take", s.takePattern),
		s.get("b/{batch}/patterns/{i}", s.pattern),
		s.post("b/{batch}/patterns/{i}", s.setPattern),
		s.post("b/{batch}/patterns/{i}/remove", s.removePattern),
		s.post("b/{batch}/patterns/{i}/copy", s.copyPattern),
		s.get("b/{batch}/patterns/{i}/shape", s.patternShape),
		s.get("b/{batch}/patterns/{i}/silhouette.svg", s.patternPicture),
	}
}

// patternRow is a pattern in the list.
type patternRow struct {
	Place        int
	Key, Name    string
	Kind         string
	Picture      string // where its silhouette is; "" where it has none yet
	Long, Widest string
	Floats       int
	Wrong        []finding
	Marks        string // its page of marks
	Page         string
}

type patternsPage struct {
	Batch  string
	Rows   []patternRow
	Kinds  []option
	Others bool // there are other batches, whose patterns can be taken over
}

var floatKinds = []option{{Key: "unloaded", Name: "unloaded: nothing is built in"}, {Key: "loaded", Name: "loaded: part of the load is built in"},
	{Key: "self-cocking", Name: "self-cocking: it stands by what is built in"}, {Key: "exchangeable", Name: "exchangeable: weights that are screwed on"}}

func (s *server) patterns(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	p := patternsPage{Batch: d.Name, Kinds: floatKinds}
	of := map[string]int{}
	if d.File != nil {
		for _, f := range d.File.Batch.Floats {
			of[f.Pattern.Key]++
		}
	} else {
		for i := range d.Doc.Len("float") {
			of[d.Doc.Text(fmt.Sprintf("float/%d/pattern", i))]++
		}
	}
	for _, row := range s.patternRows(r, d) {
		row.Floats = of[row.Key]
		p.Rows = append(p.Rows, row)
	}
	all, err := s.shop().TankBatches()
	if err != nil {
		return err
	}
	p.Others = len(takable(all, d.Name)) > 0
	f := s.batchFrame(d, "patterns", "Patterns")
	f.Findings = nil // each pattern tells its own
	f.Body = p
	if len(p.Rows) > 0 {
		f.Next = &link{"Say which floats there are", Path + batchPath(d.Name, "floats")}
	}
	return s.show(w, r, "patterns", f)
}

// place is the place of the pattern that a request is about.
func patternPlace(r *http.Request, d *batch.Doc) (int, error) {
	i, err := strconv.Atoi(r.PathValue("i"))
	if err != nil || i < 0 || i >= d.Len("pattern") {
		return 0, fault.New(fault.NotFound, "", "there is no such pattern in this batch", "choose one of the list")
	}
	return i, nil
}

// patternFindings are the findings of a pattern. Their places are those of a text
// that nobody has seen.
func patternFindings(err error) []finding {
	all := findings(err)
	for i := range all {
		if strings.HasSuffix(all[i].Where, ".toml") || strings.Count(all[i].Where, ":") > 0 {
			all[i].Where = ""
		}
	}
	return all
}

// newPattern adds a plain one to start from, and leads to it.
func (s *server) newPattern(w http.ResponseWriter, r *http.Request) error {
	name := strings.TrimSpace(r.PostFormValue("name"))
	if name == "" {
		return fault.Inputf("say what you call floats of this kind", "a pattern needs a name")
	}
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	at := d.Doc.Len("pattern")
	return s.edit(w, r, "add a pattern", fmt.Sprintf("patterns/%d", at), func(doc *batch.Doc) error {
		p := plainPattern(name, freeKey(doc, slug(name)), r.PostFormValue("kind"))
		return doc.Set(fmt.Sprintf("pattern/%d", doc.Len("pattern")), p)
	})
}

// plainPattern is a float to start from: its shape is there to be changed.
func plainPattern(name, key, kind string) map[string]any {
	p := map[string]any{"key": key, "name": name, "kind": "unloaded", "line": "bottom end", "body": "#3d2b1f", "tip": "#e4572e", "mark": "least",
		"stations_mm": stationList([][2]float64{{0, 3}, {10, 7.5}, {60, 7.5}, {70, 5}, {160, 4.4}, {161, 2.5}, {200, 2.5}}), "waterline_mm": 182.0, "tip_from_mm": 178.0}
	if kind != "" && kind != "unloaded" {
		p["kind"], p["weight"], p["body"] = kind, "inside", "#26262b"
		p["stations_mm"] = stationList([][2]float64{{0, 4}, {12, 7}, {20, 14}, {27, 16}, {54, 14}, {62, 12}, {70, 5}, {150, 4.5}, {151, 3}, {175, 3}})
		p["waterline_mm"], p["tip_from_mm"] = 159.0, 157.0
	}
	return p
}

func stationList(all [][2]float64) (list []any) {
	for _, one := range all {
		list = append(list, []any{one[0], one[1]})
	}
	return list
}

// spelledOut writes the letters of the pages' languages that a key cannot have with
// those that stand for them, as their own writers do.
func spelledOut() *strings.Replacer {
	return strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss",
		"à", "a", "â", "a", "æ", "ae", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë", "e", "î", "i", "ï", "i", "ô", "o", "œ", "oe", "ù", "u", "û", "u",
		"ì", "i", "ò", "o", "ą", "a", "ć", "c", "ę", "e", "ł", "l", "ń", "n", "ó", "o", "ś", "s", "ź", "z", "ż", "z")
}

// slug makes a key of a name: small letters, digits and hyphens.
func slug(name string) string {
	var b strings.Builder
	for _, r := range spelledOut().Replace(strings.ToLower(name)) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	if key := strings.Trim(b.String(), "-"); key != "" {
		return key
	}
	return "pattern"
}

// freeKey is a key that no pattern has yet.
func freeKey(d *batch.Doc, key string) string {
	taken := func(k string) bool {
		return slices.ContainsFunc(slices.Collect(places(d.Len("pattern"))), func(i int) bool { return d.Text(fmt.Sprintf("pattern/%d/key", i)) == k })
	}
	for n, k := 2, key; ; n++ {
		if !taken(k) {
			return k
		}
		k = fmt.Sprintf("%s-%d", key, n)
	}
}

func places(n int) func(func(int) bool) {
	return func(yield func(int) bool) {
		for i := range n {
			if !yield(i) {
				return
			}
		}
	}
}

// removePattern takes a pattern out; floats of it keep its key, and are told.
func (s *server) removePattern(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "remove a pattern", "patterns", func(doc *batch.Doc) error {
		i, err := patternPlace(r, doc)
		if err != nil {
			return err
		}
		if doc.Len("pattern") == 1 {
			return doc.Set("pattern", nil)
		}
		return doc.Set(fmt.Sprintf("pattern/%d", i), nil)
	})
}

// copyPattern adds one that is like it.
func (s *server) copyPattern(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	return s.edit(w, r, "copy a pattern", fmt.Sprintf("patterns/%d", d.Doc.Len("pattern")), func(doc *batch.Doc) error {
		i, err := patternPlace(r, doc)
		if err != nil {
			return err
		}
		v, _ := doc.Clone().Get(fmt.Sprintf("pattern/%d", i))
		p, _ := v.(map[string]any)
		p["key"] = freeKey(doc, doc.Text(fmt.Sprintf("pattern/%d/key", i)))
		return doc.Set(fmt.Sprintf("pattern/%d", doc.Len("pattern")), p)
	})
}

// patternPicture is a silhouette by itself.
func (s *server) patternPicture(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	i, err := patternPlace(r, d.Doc)
	if err != nil {
		return err
	}
	shape, err := s.shop().DraftSilhouette(d, d.Doc, i, nil)
	if err != nil {
		return err
	}
	return sendPicture(w, r, "image/svg+xml", []byte(silhouetteSVG(shape, false)), strconv.FormatInt(d.Version, 10))
}

// sendPicture sends a picture that stays what it is as long as the v of its
// address says what holds now.
func sendPicture(w http.ResponseWriter, r *http.Request, kind string, data []byte, now string) error {
	h := w.Header()
	if strings.HasSuffix(kind, "xml") && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		var packed bytes.Buffer
		z := gzip.NewWriter(&packed)
		_, err := z.Write(data)
		if err = errors.Join(err, z.Close()); err != nil {
			return err
		}
		data = packed.Bytes()
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("Vary", "Accept-Encoding")
	h.Set("Content-Type", kind)
	h.Set("Content-Length", strconv.Itoa(len(data)))
	h.Set("Cache-Control", "no-store")
	if r.URL.Query().Get("v") == now {
		h.Set("Cache-Control", "private, max-age=86400")
	}
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'")
	_, _ = io.Copy(w, bytes.NewReader(data)) // the reader's connection may be gone
	return nil
}

// readUpload reads the file of a field; "" where none was chosen.
func readUpload(r *http.Request, name string) (string, []byte, error) {
	if r.MultipartForm == nil || len(r.MultipartForm.File[name]) == 0 {
		return "", nil, nil
	}
	h := r.MultipartForm.File[name][0]
	f, err := h.Open()
	if err != nil {
		return "", nil, fault.New(fault.Machine, h.Filename, "it cannot be read", "try again", err)
	}
	defer f.Close()
	data, err := io.ReadAll(f)
	if err != nil {
		return "", nil, fault.New(fault.Machine, h.Filename, "it cannot be read", "try again", err)
	}
	return filepath.Base(strings.ReplaceAll(h.Filename, `\`, "/")), data, nil
}

// withFiles is edit with files that are put beside the batch file.
func (s *server) editWith(w http.ResponseWriter, r *http.Request, what, page string, files map[string][]byte, do func(*batch.Doc) error) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	d, err := s.shop().EditDraftWith(r.Context(), r.PathValue("batch"), seen, what, job.ByBench, files, do)
	if err != nil {
		return err
	}
	s.ahead(d)
	return back(w, r, batchPath(r.PathValue("batch"), page))
}
