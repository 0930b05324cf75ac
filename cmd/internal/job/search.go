package job

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// Found is one float, batch or pattern that a search came to.
type Found struct {
	Kind    string       `json:"kind"` // label.KindFloat and its fellows
	Key     string       `json:"key"`  // id of the float, name of the batch, key of the pattern
	Batch   string       `json:"batch,omitempty"`
	Number  int          `json:"number,omitempty"` // place on the drying board
	Pattern string       `json:"pattern,omitempty"`
	Rating  string       `json:"rating,omitempty"`
	Add     string       `json:"add,omitempty"`
	Status  label.Status `json:"status,omitempty"`
}

// SearchFound is what a search came to.
type SearchFound struct {
	Found []Found `json:"found"`
	More  bool    `json:"more"` // there are more than were asked for
}

// searchBatch is how many texts are renewed in one commit: it takes a tenth of a
// second, so that a print meanwhile does not wait long.
const searchBatch = 500

// Search finds floats, batches and patterns by anything that is typed: an id or
// its beginning, batch, pattern, status, figures ("8 g" and "8g" are one), shot
// conventions, whom it is made for, words of notes, coats, materials and free fields. Every word must
// be in the record of what is found, or begin a word there; an id that is whole
// comes first. limit is how many are wanted, at least 1.
func (w *Workshop) Search(ctx context.Context, text string, limit int) (SearchFound, error) {
	s, err := w.searchable(ctx)
	return searchIn(s, err, text, limit)
}

// SearchAsIs is Search in what was made ready for it, without renewing that first:
// records that changed since are found by what stood in them, new ones not at all.
func (w *Workshop) SearchAsIs(text string, limit int) (SearchFound, error) {
	s, err := w.records()
	return searchIn(s, err, text, limit)
}

// searchIn searches records that were opened, or not, and closes them.
func searchIn(s *record.Store, err error, text string, limit int) (SearchFound, error) {
	out := SearchFound{Found: []Found{}}
	if err != nil || s == nil {
		return out, err
	}
	defer s.Close()
	var groups [][]string
	for _, word := range searchWords(text) {
		groups = append(groups, alternatives(word))
	}
	if len(groups) == 0 {
		return out, nil
	}
	hits, more, err := s.Search(groups, max(limit, 1))
	if err != nil {
		return out, err
	}
	out.More = more
	whole := foldID(strings.NewReplacer(" ", "", "-", "").Replace(text))
	if f, ok, err := s.FloatOf(whole); err != nil {
		return out, err
	} else if ok {
		first := record.Subject{Kind: label.KindFloat, Key: f.ID}
		hits = append([]record.Subject{first}, slices.DeleteFunc(hits, func(h record.Subject) bool { return h == first })...)
	}
	for _, h := range hits {
		f, err := found(s, h)
		if err != nil {
			return out, err
		}
		out.Found = append(out.Found, f)
	}
	return out, nil
}

// searchable opens the records for reading, their search up to date; nil when
// there are none.
func (w *Workshop) searchable(ctx context.Context) (*record.Store, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	behind, err := s.TextsBehind(textsEdition, 1)
	if err == nil && s.HasSearch() && behind == 0 {
		return s, nil
	}
	if e := s.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = w.IndexSearch(ctx)
	}
	// A record that may not be written is searched as it is.
	if err != nil && fault.ClassOf(err) != fault.Machine {
		return nil, err
	}
	return w.records()
}

// SearchBehind is how many records the search has yet to be renewed for, limit at
// most; limit for a record of an older program, which is brought up to date first.
func (w *Workshop) SearchBehind(limit int) (int, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return 0, err
	}
	defer s.Close()
	if !s.HasSearch() {
		return limit, nil
	}
	return s.TextsBehind(textsEdition, limit)
}

// IndexSearch renews the texts of whatever changed since they were made. Search
// does so itself; after a big import it saves the first search the wait.
func (w *Workshop) IndexSearch(ctx context.Context) error { return w.RenewSearch(ctx, nil) }

// RenewSearch is IndexSearch that tells how far it is, as "index".
func (w *Workshop) RenewSearch(ctx context.Context, progress Progress) error {
	names := map[string]string{} // of conventions by their keys: reading the tables takes longer than all else
	for _, c := range append(shot.Conventions(), w.Own()...) {
		names[c.Key] = c.Name
	}
	return w.change(ctx, func(s *record.Store, _ string) error {
		done, whom := 0, dedications{}
		if err := s.WantTexts(textsEdition); err != nil {
			return err
		}
		all, err := s.StaleCount(math.MaxInt32)
		if err != nil {
			return err
		}
		for {
			progress.tell("index", done, max(all, done))
			stale, err := s.Stale(searchBatch)
			if err == nil && len(stale) == 0 && done >= searchMany {
				err = s.TidySearch()
			}
			if err != nil || len(stale) == 0 {
				return err
			}
			done += len(stale)
			if err := ctx.Err(); err != nil {
				return err
			}
			for i := range stale {
				if stale[i].Text, err = searchText(s, stale[i].Subject, names, whom); err != nil {
					return err
				}
			}
			if err := s.Index(stale); err != nil {
				return err
			}
		}
	})
}

// searchMany new texts make it worth while to tidy the search up.
const searchMany = 2000

// found gathers what a list shows of a subject.
func found(s *record.Store, of record.Subject) (Found, error) {
	out := Found{Kind: of.Kind, Key: of.Key}
	if of.Kind != label.KindFloat {
		return out, nil
	}
	f, ok, err := s.FloatOf(of.Key)
	if err != nil || !ok {
		return out, err
	}
	e, _ := entryAsFar(f)
	b, err := buildOf(s, label.Subject{Kind: of.Kind, Key: of.Key})
	out.Batch, out.Number, out.Pattern, out.Rating, out.Add, out.Status = e.Batch, e.Number, e.Pattern, e.Rating, e.Add, b.Status
	return out, err
}

// entryAsFar reads what is stored of a float as far as that can be read, its place
// in any case; false where it is not whole.
func entryAsFar(f record.Float) (label.Entry, bool) {
	var e label.Entry
	whole := json.Unmarshal(f.Data, &e) == nil
	e.ID, e.Batch, e.Number = f.ID, f.Batch, f.Number
	if e.Pattern == "" {
		e.Pattern = f.Pattern
	}
	return e, whole
}

// searchText gathers the words under which a subject is found, each once.
func searchText(s *record.Store, of record.Subject, conventions map[string]string, whom dedications) (string, error) {
	texts := []string{of.Key}
	if of.Kind == label.KindFloat {
		f, _, err := s.FloatOf(of.Key)
		if err != nil {
			return "", err
		}
		e, _ := entryAsFar(f) // what can be read of it is found
		dedication, err := whom.of(s, f)
		if err != nil {
			return "", err
		}
		texts = append(texts, f.Pattern, e.Batch, e.Date, strconv.Itoa(e.Number), e.Pattern, e.Kind, e.Line, e.Rating, e.BuiltIn, e.Add, e.Metal, e.Water,
			e.Weight, e.Convention, conventions[e.Convention], e.Note, dedication, plainGram(e.RatingG), plainGram(e.AddG))
		for _, r := range e.Shot {
			texts = append(texts, r.Convention, r.Shot)
		}
		for _, r := range e.Setups {
			texts = append(texts, r.Name, r.Rating)
		}
		spares, err := s.SparesOf(of.Key)
		if err != nil {
			return "", err
		}
		texts = append(texts, spares...)
	}
	b, err := buildOf(s, label.Subject{Kind: of.Kind, Key: of.Key})
	if err != nil {
		return "", err
	}
	texts = append(texts, string(b.Status), b.Made, b.Care, b.Price, b.Buyer)
	for _, m := range b.Materials {
		texts = append(texts, m.Value.Part, m.Value.What, m.Value.Note)
	}
	for _, c := range b.Coats {
		texts = append(texts, c.Value.Date, c.Value.Product, c.Value.Note)
	}
	for _, n := range b.Notes {
		texts = append(texts, n.Value.Date, n.Value.Text)
	}
	for _, f := range b.Fields {
		texts = append(texts, f.Value.Name, f.Value.Text)
	}
	for _, p := range b.Photos {
		texts = append(texts, p.Value.Date, p.Value.Caption)
	}
	words := searchWords(strings.Join(texts, " | ")) // a stroke keeps a number and the next text's unit apart
	slices.Sort(words)
	return strings.Join(slices.Compact(words), " "), nil
}

func plainGram(m unit.Gram) string {
	if m <= 0 {
		return ""
	}
	return m.Text(0.001, unit.Style{})
}
