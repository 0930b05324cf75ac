package label

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Bounds of what is typed. Own choice: far above what anybody writes on a float,
// low enough that a page stays a page.
const (
	lineMost           = 200  // letters of a name, product, caption or price
	textMost           = 4000 // letters of a note, a free field or words of care
	massMost unit.Gram = 10_000
)

// CheckField reads a value for the field at a path, strictly, and returns it in
// the one way it is stored; null takes the field out. Paths are those of Build;
// a list's next item is "coats/+". Errors: Input, with the path as its place.
func CheckField(path string, value json.RawMessage) (json.RawMessage, error) {
	v, err := checkField(path, value)
	if err != nil {
		return nil, fault.At(path, err)
	}
	return v, nil
}

func checkField(path string, value json.RawMessage) (json.RawMessage, error) {
	if bytes.Equal(bytes.TrimSpace(value), []byte("null")) || len(value) == 0 {
		if strings.HasSuffix(path, "/+") {
			return nil, fault.Inputf("say what to add", "nothing to add")
		}
		return json.RawMessage("null"), known(path)
	}
	list, rest, isList := strings.Cut(path, "/")
	if !isList {
		return checkSingle(path, value)
	}
	if err := known(path); err != nil {
		return nil, err
	}
	switch list {
	case ListMaterials:
		return checked(value, func(m *Material) error {
			if m.Mass < 0 || m.Mass > massMost {
				return fault.Inputf("give its mass in grams, 0 for not weighed", "that is no mass of a part of a float")
			}
			return first(line(&m.Part, "the part"), line(&m.What, "what it is made of"), text(&m.Note, "the note"), needs(m.Part, "the part"))
		})
	case ListCoats:
		return checked(value, func(c *Coat) error {
			return first(CheckDate(c.Date), line(&c.Product, "the product"), text(&c.Note, "the note"), needs(c.Product, "the product"))
		})
	case ListNotes:
		return checked(value, func(n *Note) error {
			return first(CheckDate(n.Date), text(&n.Text, "the note"), needs(n.Text, "the note"))
		})
	case ListFields:
		return checked(value, func(f *Field) error {
			return first(line(&f.Name, "the name"), text(&f.Text, "the text"), needs(f.Name, "the name"))
		})
	case ListPhotos:
		if rest == "+" {
			return nil, fault.Inputf("add the photograph itself", "a photograph is added with its bytes")
		}
		return CheckPhoto(value)
	}
	return checked(value, func(*bool) error { return nil })
}

// CheckPhoto reads what is stored of a photograph, strictly.
func CheckPhoto(value json.RawMessage) (json.RawMessage, error) {
	return checked(value, func(p *Photo) error {
		if p.Photo < 1 || p.Width < 1 || p.Height < 1 || p.Bytes < 1 {
			return fault.Inputf("change its caption and date alone", "a photograph without its picture")
		}
		return first(CheckDate(p.Date), line(&p.Caption, "the caption"))
	})
}

func checkSingle(path string, value json.RawMessage) (json.RawMessage, error) {
	switch path {
	case PathStatus:
		return checked(value, func(s *Status) error {
			if slices.Contains(Statuses(), *s) {
				return nil
			}
			var names []string
			for _, one := range Statuses() {
				names = append(names, string(one))
			}
			return fault.Inputf("take one of: "+strings.Join(names, ", "), "%q is no status", clip(string(*s)))
		})
	case PathMade:
		return checked(value, func(s *string) error { return CheckDate(*s) })
	case PathCare:
		return checked(value, func(s *string) error { return text(s, "the text") })
	case PathPrice, PathBuyer:
		return checked(value, func(s *string) error { return line(s, "the "+path) })
	}
	return nil, known(path)
}

// known refuses a path that no build record has.
func known(path string) error {
	list, rest, isList := strings.Cut(path, "/")
	none := fault.Inputf("see the fields of a build record: status, made, care, price, buyer, materials, coats, notes, fields, photos", "there is no field %q", clip(path))
	switch {
	case !isList:
		if !slices.Contains([]string{PathStatus, PathMade, PathCare, PathPrice, PathBuyer}, path) {
			return none
		}
	case list == publishing:
		if !slices.ContainsFunc(Choices(), func(c Choice) bool { return c.Group == rest }) {
			var names []string
			for _, c := range Choices() {
				names = append(names, c.Group)
			}
			return fault.Inputf("take one of: "+strings.Join(names, ", "), "there is no group %q to publish", clip(rest))
		}
	case slices.Contains([]string{ListMaterials, ListCoats, ListNotes, ListFields, ListPhotos}, list):
		n, err := strconv.Atoi(rest)
		if rest != "+" && (err != nil || n < 1 || strconv.Itoa(n) != rest) {
			return none
		}
	default:
		return none
	}
	return nil
}

// checked decodes strictly, has the value looked at and returns its one form.
func checked[T any](value json.RawMessage, look func(*T) error) (json.RawMessage, error) {
	var v T
	d := json.NewDecoder(bytes.NewReader(value))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return nil, fault.New(fault.Input, "", "the value cannot be read: "+err.Error(), "see the fields of a build record", err)
	}
	if d.More() {
		return nil, fault.Inputf("give one value", "there is something after the value")
	}
	if err := look(&v); err != nil {
		return nil, err
	}
	return json.Marshal(v)
}

// CheckDate refuses what is no calendar text: "2026-11-20", "2026-11", "2026" or
// nothing. A maker may know the year alone.
func CheckDate(s string) error {
	if s == "" {
		return nil
	}
	for _, layout := range []string{time.DateOnly, "2006-01", "2006"} {
		if _, err := time.Parse(layout, s); err == nil {
			return nil
		}
	}
	return fault.Inputf("write the day as 2026-11-20, the month as 2026-11 or the year alone", "%q is no date", clip(s))
}

// line tidies a text of one line in place; text one that may have several.
func line(s *string, what string) error { return typed(s, what, lineMost, false) }
func text(s *string, what string) error { return typed(s, what, textMost, true) }

func typed(s *string, what string, most int, lines bool) error {
	if !utf8.ValidString(*s) {
		return fault.Inputf("type it again", "%s is not written in UTF-8", what)
	}
	t := strings.TrimSpace(strings.ReplaceAll(strings.ReplaceAll(*s, "\r\n", "\n"), "\r", "\n"))
	if utf8.RuneCountInString(t) > most {
		return fault.Inputf("shorten it to "+strconv.Itoa(most)+" letters", "%s is too long", what)
	}
	for _, r := range t {
		if r == '\n' && lines || r == '\t' {
			continue
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return fault.Inputf("leave out what cannot be seen", "%s has the control character U+%04X", what, r)
		}
	}
	*s = t
	return nil
}

func needs(s, what string) error {
	if s == "" {
		return fault.Inputf("write it", "%s is missing", what)
	}
	return nil
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// clip shortens what was typed for a message.
func clip(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
