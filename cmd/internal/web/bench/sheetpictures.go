package bench

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// lookDPI shows a sheet of A4 with its air about 590 pixels wide.
const lookDPI = 64.0

// sheetPicture sends a sheet of film as it will come out: PNG on the page, SVG to
// be looked at closely.
func (s *server) sheetPicture(w http.ResponseWriter, r *http.Request) error {
	name, kind, _ := strings.Cut(r.PathValue("picture"), ".")
	page, err := strconv.Atoi(name)
	if err != nil || kind != "png" && kind != "svg" {
		return fault.New(fault.NotFound, "", "there is no such picture", "")
	}
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	plan, err := s.sheetPlan(r, d, nil, nil)
	if err != nil {
		return err
	}
	data, err := s.laidPics.of(plan, page, kind == "svg")
	if err != nil {
		return err
	}
	return sendTagged(w, r, kinds["."+kind], data)
}

// laidPictures remembers the pictures of the plan that was looked at last.
type laidPictures struct {
	mu   sync.Mutex
	plan *job.Plan
	all  map[laidKey][]byte
}

type laidKey struct {
	page  int
	close bool
}

func (l *laidPictures) of(plan *job.Plan, page int, close bool) ([]byte, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.plan != plan {
		l.plan, l.all = plan, map[laidKey][]byte{}
	}
	key := laidKey{page, close}
	if data := l.all[key]; data != nil {
		return data, nil
	}
	var data []byte
	var err error
	if close {
		data, err = plan.LaidSVG(page)
	} else {
		data, err = plan.LaidPNG(page, lookDPI)
	}
	if err == nil {
		l.all[key] = data
	}
	return data, err
}

// spentPicture sends what is spent of a sheet.
func (s *server) spentPicture(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(strings.TrimSuffix(r.PathValue("picture"), ".png"))
	if err != nil {
		return fault.New(fault.NotFound, "", "there is no such picture", "")
	}
	data, err := s.shop().SheetPNG(n)
	if err != nil {
		return err
	}
	return sendTagged(w, r, kinds[".png"], data)
}

// sendTagged sends a picture that may have changed since: who has it already is
// told so.
func sendTagged(w http.ResponseWriter, r *http.Request, kind string, data []byte) error {
	sum := sha256.Sum256(data)
	tag := `"` + hex.EncodeToString(sum[:8]) + `"`
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Cache-Control", "no-cache")
	h.Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	h.Set("Content-Length", strconv.Itoa(len(data)))
	_, _ = w.Write(data) // the reader's connection may be gone
	return nil
}
