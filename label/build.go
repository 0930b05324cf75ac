package label

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"floatmark/loading/unit"
)

// Status is where a float is in its life.
type Status string

// The statuses. A float of which nothing was said is in work; one that is
// retired keeps its id for ever, and its page says so.
const (
	InWork   Status = "in work"
	Finished Status = "finished"
	Sold     Status = "sold"
	Returned Status = "returned"
	Retired  Status = "retired"
)

// Statuses lists them in the order of a float's life.
func Statuses() []Status { return []Status{InWork, Finished, Sold, Returned, Retired} }

// Subject is what a build record is kept of.
type Subject struct {
	Kind string `json:"kind"` // KindFloat, KindBatch, KindPattern or KindWorkshop
	Key  string `json:"key"`  // id of the float, name of the batch, key of the pattern; "" of the workshop
}

// The kinds of subject. What holds for all floats of a batch or a pattern is
// noted once, there; the workshop's own record holds what it publishes and its
// words of care.
const (
	KindFloat    = "float"
	KindBatch    = "batch"
	KindPattern  = "pattern"
	KindWorkshop = "workshop"
)

// String names the subject in messages.
func (s Subject) String() string {
	if s.Key == "" {
		return s.Kind
	}
	return s.Kind + " " + s.Key
}

// Material is one part of a float and what it is made of.
type Material struct {
	Part string    `json:"part"`           // as typed: "body", "balsa body"
	What string    `json:"what,omitempty"` // the material or product, as typed
	Mass unit.Gram `json:"mass_g"`         // g; 0 for not weighed
	Note string    `json:"note,omitempty"`
}

// Coat is one coat of paint, sealer or varnish.
type Coat struct {
	Date    string `json:"date"`    // calendar text: "2026-11-20", "2026-11", "2026" or ""
	Product string `json:"product"` // as the maker types it
	Note    string `json:"note,omitempty"`
}

// Note is one note.
type Note struct {
	Date string `json:"date"` // calendar text, or ""
	Text string `json:"text"`
}

// Field is a free field: a name of the maker's own and a text.
type Field struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Photo is a photograph in the record; its bytes are kept apart.
type Photo struct {
	Photo   int    `json:"photo"`   // number of its bytes in the workshop, from 1
	Caption string `json:"caption"` // also what is read out to who does not see it
	Date    string `json:"date"`    // calendar text, or ""
	Width   int    `json:"width"`   // points
	Height  int    `json:"height"`  // points
	Bytes   int    `json:"bytes"`
}

// Item is one of a list, with the number it keeps for ever: "coats/3" stays
// coat 3 when coat 2 is taken out.
type Item[T any] struct {
	Number int    `json:"number"`
	Path   string `json:"path"` // "coats/3"
	From   string `json:"from"` // kind of the subject that it is noted on
	Value  T      `json:"value"`
}

// Build is the build record of one subject as it stands: how it was made and
// what became of it, beside what its prints say of its figures (Entry). It is
// worked out from its fields (ReadBuild); every field's earlier values are kept
// where the fields are.
type Build struct {
	Subject   Subject          `json:"subject"`
	Version   int64            `json:"version"` // grows with every change; a change names the one it was made on
	Status    Status           `json:"status,omitempty"`
	Made      string           `json:"made,omitempty"`  // when it was made, calendar text
	Care      string           `json:"care,omitempty"`  // the maker's own words on its care
	Price     string           `json:"price,omitempty"` // as typed
	Buyer     string           `json:"buyer,omitempty"` // as typed; never published but by the maker's choice
	Materials []Item[Material] `json:"materials,omitempty"`
	Coats     []Item[Coat]     `json:"coats,omitempty"`
	Notes     []Item[Note]     `json:"notes,omitempty"`
	Fields    []Item[Field]    `json:"fields,omitempty"`
	Photos    []Item[Photo]    `json:"photos,omitempty"`
	Publish   map[string]bool  `json:"publish,omitempty"` // choices made on this subject, by group
}

// The paths of fields that stand alone. Lists have paths such as "coats/3", and
// "coats/+" adds to one; choices of what is published have "publish/coats".
const (
	PathStatus = "status"
	PathMade   = "made"
	PathCare   = "care"
	PathPrice  = "price"
	PathBuyer  = "buyer"
)

// The lists of a build record.
const (
	ListMaterials = "materials"
	ListCoats     = "coats"
	ListNotes     = "notes"
	ListFields    = "fields"
	ListPhotos    = "photos"
)

// Adding is the path that adds to a list.
func Adding(list string) string { return list + "/+" }

// publishing begins the paths of choices of what is published.
const publishing = "publish"

// Publishing is the path of the choice whether a group is published.
func Publishing(group string) string { return publishing + "/" + group }

// ReadBuild works a build record out from its fields: path to value. Values are
// those that CheckField let through; one that cannot be read any more is left out
// rather than have a page not open.
func ReadBuild(of Subject, version int64, fields map[string]json.RawMessage) Build {
	b := Build{Subject: of, Version: version}
	single := map[string]any{PathStatus: &b.Status, PathMade: &b.Made, PathCare: &b.Care, PathPrice: &b.Price, PathBuyer: &b.Buyer}
	for _, path := range inOrder(fields) {
		value := fields[path]
		if len(value) == 0 || string(value) == "null" {
			continue // taken out: it stands in the history
		}
		if to, ok := single[path]; ok {
			_ = json.Unmarshal(value, to) // see above
			continue
		}
		list, rest, _ := strings.Cut(path, "/")
		n, _ := strconv.Atoi(rest) // 0 for a choice
		switch list {
		case ListMaterials:
			b.Materials = item(b.Materials, n, path, of.Kind, value)
		case ListCoats:
			b.Coats = item(b.Coats, n, path, of.Kind, value)
		case ListNotes:
			b.Notes = item(b.Notes, n, path, of.Kind, value)
		case ListFields:
			b.Fields = item(b.Fields, n, path, of.Kind, value)
		case ListPhotos:
			b.Photos = item(b.Photos, n, path, of.Kind, value)
		case publishing:
			var yes bool
			if json.Unmarshal(value, &yes) == nil {
				if b.Publish == nil {
					b.Publish = map[string]bool{}
				}
				b.Publish[rest] = yes
			}
		}
	}
	if of.Kind == KindFloat && b.Status == "" {
		b.Status = InWork
	}
	return b
}

func item[T any](all []Item[T], n int, path, from string, value json.RawMessage) []Item[T] {
	var v T
	if json.Unmarshal(value, &v) != nil || n < 1 {
		return all
	}
	return append(all, Item[T]{n, path, from, v})
}

// inOrder returns the paths with the items of a list by number.
func inOrder(fields map[string]json.RawMessage) []string {
	var paths []string
	for p := range fields {
		paths = append(paths, p)
	}
	slices.SortFunc(paths, func(a, b string) int {
		la, na, _ := strings.Cut(a, "/")
		lb, nb, _ := strings.Cut(b, "/")
		ia, ea := strconv.Atoi(na)
		ib, eb := strconv.Atoi(nb)
		if la == lb && ea == nil && eb == nil {
			return ia - ib
		}
		return strings.Compare(a, b)
	})
	return paths
}
