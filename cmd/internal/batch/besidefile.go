package batch

import (
	"bytes"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"

	"floatmark/loading/fault"
)

// opener reads a file beside the batch file by the name as written.
type opener = func(name string) ([]byte, error)

// fileBeside reads the file that a key names; what says what it should be. False
// when it cannot be used, which is told.
func (r *reader) fileBeside(n *node, key, what string) ([]byte, bool) {
	src, err := beside(n.text, r.open)
	switch {
	case err != nil:
		r.add(n.at, "name "+what+" that lies beside the batch file", "%s: %q cannot be read", key, n.text)
		return nil, false
	case len(src) > maxSource || !utf8.Valid(src) || bytes.IndexByte(src, 0) >= 0:
		r.add(place{file: r.besidePath(n.text), line: 1}, "save it as "+what+" in UTF-8, at most 4 MiB", "the file is no such text")
		return nil, false
	}
	return src, true
}

// besidePath names a file beside the batch file as messages do.
func (r *reader) besidePath(name string) string {
	return filepath.Join(filepath.Dir(r.path), name)
}

// addFileErr takes over what a lower package found in a file beside. Where it
// says "line 4: station 3", the line becomes the place.
func (r *reader) addFileErr(file string, err error) {
	for _, e := range fault.List(err) {
		at, what := place{file: file, line: 1}, e.What
		line, rest, _ := strings.Cut(e.Where, ": ")
		if n, err := strconv.Atoi(strings.TrimPrefix(line, "line ")); err == nil {
			at.line = n
		} else {
			rest = e.Where
		}
		if rest != "" {
			what = rest + ": " + what
		}
		r.findings = append(r.findings, finding{at, what, e.Do})
	}
}
