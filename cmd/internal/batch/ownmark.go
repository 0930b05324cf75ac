package batch

import (
	"path/filepath"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/layouts/emblem"
	"floatmark/layouts/geom"
)

// ownMark reads the maker's own mark: an SVG, PNG or JPEG file beside the batch
// file, or the data of an SVG path. nil when there is none.
func (r *reader) ownMark(t *table, tab string) geom.Path {
	e := t.get("own_mark")
	if e == nil {
		return nil
	}
	key := in(tab, "own_mark")
	const do = `name an SVG, PNG or JPEG file beside the batch file, as in "mark.svg", or give SVG path data, as in "M 0 0 H 10 V 10 Z"`
	if e.val.kind != unstable.String {
		r.add(e.val.at, do, "%s is no text", key)
		return nil
	}
	text := strings.TrimSpace(e.val.text)
	kind := strings.ToLower(filepath.Ext(text))
	switch kind {
	case ".svg", ".png", ".jpg", ".jpeg":
		src, err := beside(text, r.open)
		if err != nil || len(src) > maxSource {
			r.add(e.val.at, "name a file of at most 4 MiB that lies beside the batch file", "%s: %q cannot be read", key, text)
			return nil
		}
		read := emblem.FromPicture
		if kind == ".svg" {
			read = emblem.FromSVG
		}
		p, err := read(src)
		if err != nil {
			r.addFileErr(r.besidePath(text), err)
			return nil
		}
		return p
	}
	if !strings.HasPrefix(strings.ToUpper(text), "M") {
		r.add(e.val.at, do, "%s: %q is neither a picture nor a path", key, text)
		return nil
	}
	p, err := emblem.FromSVGPath(text)
	if err != nil {
		r.addErr(e.val.at, key, err)
		return nil
	}
	return p
}
