package web

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

const (
	// mostPhoto is the most bytes of a photograph with its form; job.PhotoOf takes
	// 30 MB.
	mostPhoto = 31 << 20
	// photoTime is how long a phone may take to send one.
	photoTime = 3 * time.Minute
	// mostPart is the most bytes of a field beside a photograph.
	mostPart = 4 << 10
)

// change answers the forms of the maker's page.
func (s *server) change(w http.ResponseWriter, r *http.Request) {
	of, ok := subjectOf(r)
	if !ok || s.o.Keeper == nil {
		s.noPage(w, r)
		return
	}
	if !s.maker(w, r) {
		return
	}
	changes, place, err := s.changesOf(of, r.PostForm)
	if err == nil && len(changes) > 0 {
		_, err = s.o.Keeper.Change(r.Context(), changes, by(r), onceKey(r.PostForm))
	}
	if err != nil {
		s.fail(w, r, err, failure{Title: "Not changed", Back: makerOf(of)})
		return
	}
	http.Redirect(w, r, makerOf(of)+"#"+place, http.StatusSeeOther)
}

// by tells the bench from a phone.
func by(r *http.Request) string {
	if remote(r).Addr().IsLoopback() {
		return job.ByBench
	}
	return job.ByPhone
}

// onceKey is the same when the same form is sent twice, as by a phone that got no
// answer, and another when it is sent again with something else in it.
func onceKey(f url.Values) string {
	if f.Get("key") == "" {
		return ""
	}
	sum := sha256.Sum256([]byte(f.Encode()))
	return hex.EncodeToString(sum[:])
}

// changesOf reads what a form changes, and the part of the page it stands in.
func (s *server) changesOf(of label.Subject, f url.Values) (changes []job.BuildChange, place string, err error) {
	if err := wellTyped(f); err != nil {
		return nil, "", err
	}
	seen, err := strconv.ParseInt(f.Get("seen"), 10, 64)
	if err != nil {
		return nil, "", fault.Inputf("open the record again and try from there", "the form does not say what it was made on")
	}
	set := func(path string, value any) {
		if err != nil {
			return
		}
		var c job.BuildChange
		if c, err = job.Set(of, path, value, seen); err == nil {
			changes = append(changes, c)
		}
	}
	all, own, err := s.builds(of)
	if err != nil {
		return nil, "", err
	}
	switch f.Get("do") {
	case "facts":
		b := own
		if st := label.Status(f.Get(label.PathStatus)); st != "" && st != b.Status {
			set(label.PathStatus, st)
		}
		for _, one := range []struct{ path, now string }{{label.PathMade, b.Made}, {label.PathPrice, b.Price}, {label.PathBuyer, b.Buyer}, {label.PathCare, b.Care}} {
			switch typed := strings.TrimSpace(strings.ReplaceAll(f.Get(one.path), "\r\n", "\n")); {
			case !f.Has(one.path) || typed == one.now:
			case typed == "":
				set(one.path, nil)
			default:
				set(one.path, typed)
			}
		}
		return changes, "facts", err
	case "publish":
		for _, c := range label.Choices() {
			if on := f.Has("publish-" + c.Group); on != all.Published(c.Group) {
				set(label.Publishing(c.Group), on)
			}
		}
		return changes, "publish", err
	case "take":
		list, _, _ := strings.Cut(f.Get("path"), "/")
		set(f.Get("path"), nil)
		return changes, list, err
	case "back":
		c, err := s.takenBack(of, f.Get("change"))
		return []job.BuildChange{c}, "history", err
	case "put":
		list, _, _ := strings.Cut(f.Get("path"), "/")
		value, err := valueOf(list, f, own)
		if err != nil {
			return nil, "", err
		}
		set(f.Get("path"), value)
		return changes, list, err
	}
	return nil, "", fault.Inputf("open the record again and try from there", "the form says nothing to do")
}

// takenBack is the change that undoes one of the past, by its version: it is made
// on that one, so that it is refused where the field was changed since.
func (s *server) takenBack(of label.Subject, version string) (job.BuildChange, error) {
	history, err := s.o.Keeper.BuildHistory(of)
	if err != nil {
		return job.BuildChange{}, err
	}
	for _, h := range history {
		if strconv.FormatInt(h.Version, 10) == version {
			return job.BuildChange{Subject: of, Path: h.Path, Value: h.Before, Seen: h.Version}, nil
		}
	}
	return job.BuildChange{}, fault.New(fault.NotFound, "", "there is no such change to take back", "open the record again and try from there")
}

// wellTyped refuses what is no UTF-8: written as JSON it would be changed in
// silence.
func wellTyped(f url.Values) error {
	for _, all := range f {
		for _, one := range all {
			if !utf8.ValidString(one) {
				return fault.Inputf("type it again", "a field is not written in UTF-8")
			}
		}
	}
	return nil
}

// valueOf reads an item of a list.
func valueOf(list string, f url.Values, b label.Build) (any, error) {
	switch list {
	case label.ListMaterials:
		m := label.Material{Part: f.Get("part"), What: f.Get("what"), Note: f.Get("note")}
		if typed := strings.TrimSpace(f.Get("mass")); typed != "" {
			if _, bare := unit.Decimal(typed); bare {
				typed += " g" // the form says the unit
			}
			var err error
			if m.Mass, err = unit.ParseGram(typed); err != nil {
				return nil, err
			}
		}
		return m, nil
	case label.ListCoats:
		return label.Coat{Date: f.Get("date"), Product: f.Get("product"), Note: f.Get("note")}, nil
	case label.ListNotes:
		return label.Note{Date: f.Get("date"), Text: f.Get("text")}, nil
	case label.ListFields:
		return label.Field{Name: f.Get("name"), Text: f.Get("text")}, nil
	case label.ListPhotos:
		i := slices.IndexFunc(b.Photos, func(p label.Item[label.Photo]) bool { return p.Path == f.Get("path") })
		if i < 0 {
			return nil, fault.New(fault.NotFound, "", "there is no such photograph", "open the record again")
		}
		p := b.Photos[i].Value
		p.Caption, p.Date = f.Get("caption"), f.Get("date")
		return p, nil
	}
	return nil, fault.Inputf("open the record again and try from there", "there is no such list")
}

// addPhoto takes a photograph. Its form is read part by part, so that nothing of it
// is written before the token has been seen; the file comes last.
func (s *server) addPhoto(w http.ResponseWriter, r *http.Request) {
	of, known := subjectOf(r)
	one, ok := s.unlocked(r)
	if !known || !ok || s.o.Keeper == nil {
		s.send(w, r, http.StatusUnauthorized, failure{Title: "Locked", What: "Records are changed with the workshop's unlock word.", Do: "Unlock first, then try again."})
		return
	}
	// Only who is unlocked may take this long. It fails where there is no deadline
	// to set, and then there is none to wait for.
	_ = http.NewResponseController(w).SetReadDeadline(s.o.Now().Add(photoTime))
	parts, err := r.MultipartReader()
	if err != nil {
		s.send(w, r, http.StatusBadRequest, failure{Title: "No photograph came", What: "The form cannot be read.", Do: "Open the record again and try from there."})
		return
	}
	f := url.Values{}
	for {
		part, err := parts.NextPart()
		if err != nil {
			s.send(w, r, http.StatusBadRequest, failure{Title: "No photograph came", What: "The form ends before the picture.", Do: "Choose a picture and send it again.", Back: makerOf(of)})
			return
		}
		if part.FormName() == "photo" {
			s.takePhoto(w, r, of, one, f, part)
			return
		}
		text, err := io.ReadAll(io.LimitReader(part, mostPart+1))
		if err != nil || len(text) > mostPart {
			s.send(w, r, http.StatusRequestEntityTooLarge, failure{Title: "That was too much", What: "A field is too long.", Do: "Shorten it.", Back: makerOf(of)})
			return
		}
		f.Set(part.FormName(), string(text))
	}
}

func (s *server) takePhoto(w http.ResponseWriter, r *http.Request, of label.Subject, one session, f url.Values, file *multipart.Part) {
	if subtle.ConstantTimeCompare([]byte(f.Get(tokenField)), []byte(one.token)) != 1 {
		s.send(w, r, http.StatusForbidden, failure{Title: "That form is out of date", What: "It is not of this session.", Do: "Open the record again and try from there."})
		return
	}
	if err := wellTyped(f); err != nil {
		s.fail(w, r, err, failure{Title: "The photograph was not taken", Back: makerOf(of)})
		return
	}
	// The key is the form's own: one form, one photograph.
	_, err := s.o.Keeper.AddPhoto(r.Context(), of, file, f.Get("caption"), f.Get("date"), by(r), onceKey(f))
	var tooBig *http.MaxBytesError
	if errors.As(err, &tooBig) {
		err = fault.Inputf("send it in a smaller size", "the photograph is too big")
	}
	if err != nil {
		s.fail(w, r, err, failure{Title: "The photograph was not taken", Back: makerOf(of)})
		return
	}
	http.Redirect(w, r, makerOf(of)+"#photos", http.StatusSeeOther)
}
