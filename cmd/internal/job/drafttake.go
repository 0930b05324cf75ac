package job

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

// likeKeys are what a batch takes over from the one it is begun like: what is the
// same from one drying board to the next. Its floats are its own.
var likeKeys = []string{"maker", "print", "card", "tank", "own_stock", "rating", "pattern"}

// NewDraftLike is NewDraft with the patterns and their marks, the ratings, and how it
// is tested, printed and carded of a batch there is, and the files these name. It has
// no floats. NotFound where there is no batch like.
func (w *Workshop) NewDraftLike(ctx context.Context, name, like, by string) (Draft, error) {
	s, err := w.opened()
	if err != nil {
		return Draft{}, err
	}
	defer s.Close()
	was, err := w.draft(s, like)
	if err != nil {
		return Draft{}, err
	}
	before, err := w.draft(s, name)
	if err := free(name, before, err); err != nil {
		return Draft{}, err
	}
	doc, err := batch.ParseDoc(batch.Skeleton(name, time.Now().Format(time.DateOnly)))
	if err != nil {
		return Draft{}, err
	}
	from := was.Doc.Clone()
	for _, key := range likeKeys {
		if v, ok := from.Get(key); ok {
			if err := doc.Set(key, v); err != nil {
				return Draft{}, err
			}
		}
	}
	beside := maps.Clone(was.beside)
	delete(beside, base(was.Doc.Text("floats")))
	return w.keep(ctx, s, Draft{Name: name, Doc: doc, Version: before.Version, beside: beside}, begun, by, 0)
}

// free is an error where there is a batch already, of what looking for it said, and
// for a name that no address can end with.
func free(name string, d Draft, err error) error {
	if name == "." || name == ".." {
		return fault.Inputf("give it another name, such as the year and the month", "a batch cannot be named %q", name)
	}
	if err == nil {
		return fault.Inputf("give it another name, or go on with that one", "there is a batch %q already", d.Name)
	}
	if fault.ClassOf(err) != fault.NotFound {
		return err
	}
	return nil
}

// PatternFor returns a copy of a pattern of d, by its place from 0, as it can stand in
// another draft, and the files it names. A file has another name there where into has
// one of its name that holds something else. The key is as it was.
func (d Draft) PatternFor(into Draft, i int) (pattern map[string]any, files map[string][]byte, err error) {
	v, _ := d.Doc.Clone().Get(fmt.Sprintf("pattern/%d", i))
	pattern, ok := v.(map[string]any)
	if !ok {
		return nil, nil, fault.New(fault.NotFound, "", "there is no such pattern in this batch", "choose one of the list")
	}
	files = map[string][]byte{}
	named := func(text string) string {
		data, ok := d.Kept(text)
		if !ok {
			return text
		}
		name := base(text)
		for n := 2; ; n++ {
			there, taken := into.Kept(name)
			if !taken || bytes.Equal(there, data) {
				break
			}
			name = fmt.Sprintf("%d-%s", n, base(text))
		}
		files[name] = data
		return name
	}
	return eachText(pattern, named).(map[string]any), files, nil
}

// eachText changes every text of what stands in a batch file, in place.
func eachText(v any, do func(string) string) any {
	switch v := v.(type) {
	case string:
		return do(v)
	case map[string]any:
		for k := range v {
			v[k] = eachText(v[k], do)
		}
	case []any:
		for i := range v {
			v[i] = eachText(v[i], do)
		}
	}
	return v
}
