package job

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Through what a change of a build record comes.
const (
	ByBench   = "bench"   // the browser on the maker's own computer
	ByPhone   = "phone"   // a phone that was unlocked
	ByCommand = "command" // the command line
)

// Unseen stands for the version of a change whose maker looked at nothing
// before: it holds whatever was changed since.
const Unseen = record.Unseen

// BuildChange sets one field of a build record: paths and values are those of
// label.CheckField, null takes a field out, "coats/+" adds to a list.
type BuildChange struct {
	Subject label.Subject   `json:"subject"`
	Path    string          `json:"path"`
	Value   json.RawMessage `json:"value"`
	Seen    int64           `json:"seen"` // version of the build record that it was made on; Unseen for any
}

// Set makes a change of any value that can be written as JSON.
func Set(of label.Subject, path string, value any, seen int64) (BuildChange, error) {
	data, err := json.Marshal(value)
	return BuildChange{of, path, data, seen}, err
}

// BuildChanged says what became of changes.
type BuildChanged struct {
	Version int64    `json:"version"` // of the build records from now on
	Paths   []string `json:"paths"`   // of each change, with the numbers of new items
	Known   bool     `json:"known"`   // they were here already, under the same key
}

// BuildPast is one change of the past, with what was there before.
type BuildPast struct {
	Version int64           `json:"version"`
	Subject label.Subject   `json:"subject"`
	Path    string          `json:"path"`
	Before  json.RawMessage `json:"before"` // null for nothing
	After   json.RawMessage `json:"after"`  // null when it was taken out
	At      string          `json:"at"`     // UTC, RFC 3339
	By      string          `json:"by"`
}

// subject turns a subject into the one that its record is kept under: an id into
// its one written form, that of a claimed spare into its float's. Errors: Input
// for an id that is none, NotFound for what the workshop does not know.
func subject(s *record.Store, of label.Subject) (record.Subject, error) {
	unknown := fault.New(fault.NotFound, of.String(), "this workshop knows no such "+of.Kind, "see what there is: floatmark record list")
	out := record.Subject{Kind: of.Kind, Key: of.Key}
	var ok bool
	var err error
	switch of.Kind {
	case label.KindFloat:
		id, err := ident.Parse(of.Key)
		if err != nil {
			return out, err
		}
		f, ok, err := s.FloatOf(string(id))
		if err != nil {
			return out, err
		}
		if !ok {
			return out, unknownFloat(id)
		}
		out.Key = f.ID
		return out, nil
	case label.KindBatch:
		ok, err = s.HasBatch(of.Key)
	case label.KindPattern:
		ok, err = s.HasPattern(of.Key)
	case label.KindWorkshop:
		ok = of.Key == ""
	default:
		return out, fault.New(fault.Input, of.String(), "there are no records of that kind", "take one of: float, batch, pattern, workshop")
	}
	if err == nil && !ok {
		err = unknown
	}
	return out, err
}

func unknownFloat(id ident.ID) error {
	return fault.New(fault.NotFound, "", fmt.Sprintf("no float bears the id %s in this workshop", id), "check the id, or name another folder with --workshop DIR")
}

// Change changes build records, all of it or nothing. by is through what it came,
// key an idempotency key or "": changes sent twice under one key are made once.
//
// A change of a field that somebody changed after the version it was made on is
// refused with an Input fault that says who changed what, and whose cause is
// record.ErrChanged. Other errors: Input for values that are wrong, NotFound for
// a float, batch, pattern or item that there is none of.
func (w *Workshop) Change(ctx context.Context, changes []BuildChange, by, key string) (BuildChanged, error) {
	return w.changeBuild(ctx, changes, by, key, nil)
}

func (w *Workshop) changeBuild(ctx context.Context, changes []BuildChange, by, key string, photo *record.Photo) (BuildChanged, error) {
	var done BuildChanged
	if len(changes) == 0 {
		return done, fault.New(fault.Input, "", "nothing was changed", "name a field and its value")
	}
	err := w.change(ctx, func(s *record.Store, now string) error {
		set := record.ChangeSet{At: now, By: by, Key: key, Photo: photo}
		if photo != nil {
			photo.At = now
		}
		var findings []error
		for _, c := range changes {
			of, err := subject(s, c.Subject)
			if err != nil {
				findings = append(findings, err)
				continue
			}
			value := c.Value
			if photo == nil || c.Path != label.Adding(label.ListPhotos) {
				if value, err = label.CheckField(c.Path, c.Value); err == nil {
					err = keepsItsPicture(s, of, c.Path, value)
				}
			}
			if err == nil && c.Path == label.PathStatus && of.Kind != label.KindFloat {
				err = fault.New(fault.Input, c.Path, "only a float has a status", "name the float by its id")
			}
			if err != nil {
				findings = append(findings, fault.At(c.Subject.String(), err))
				continue
			}
			set.Changes = append(set.Changes, record.Change{Subject: of, Path: c.Path, Value: value, Seen: c.Seen})
		}
		if err := join(findings); err != nil {
			return err
		}
		saved, err := s.Change(set)
		done = BuildChanged{saved.Version, saved.Paths, saved.Known}
		return err
	})
	return done, err
}

// keepsItsPicture refuses a change that would put another picture under a
// photograph: caption and date are what can be changed of it.
func keepsItsPicture(s *record.Store, of record.Subject, path string, value json.RawMessage) error {
	var next, have label.Photo
	if list, _, _ := strings.Cut(path, "/"); list != label.ListPhotos || string(value) == "null" {
		return nil
	}
	if err := json.Unmarshal(value, &next); err != nil {
		return err
	}
	past, err := s.Changes(of)
	if err != nil {
		return err
	}
	for _, p := range past {
		if p.Path == path && len(p.After) > 0 {
			if err := json.Unmarshal(p.After, &have); err != nil {
				return err
			}
		}
	}
	have.Caption, have.Date = next.Caption, next.Date
	if have != next {
		return fault.New(fault.Input, path, "another picture is another photograph", "add it as one, and take the old one out")
	}
	return nil
}
