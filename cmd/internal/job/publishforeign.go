package job

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"floatmark/label/ident"
	"floatmark/loading/fault"
)

// foreign refuses a folder where somebody else's files are in the way, and tells
// of pages that nobody answers for.
func (p *publication) foreign(dir string, common []SiteFile) error {
	var findings []error
	inTheWay := func(name string) {
		findings = append(findings, fault.New(fault.Input, filepath.Join(dir, filepath.FromSlash(name)), "there is a file in the way that was not published from here",
			"put it elsewhere, or name another folder for the site"))
	}
	for _, f := range common {
		if p.before.Common[f.Name] == "" && !isShared(f.Name) && !p.ours(f.Name) {
			inTheWay(f.Name)
		}
	}
	entries, err := fs.ReadDir(p.root.FS(), ".")
	if err != nil {
		return machine(dir, "cannot be read", err)
	}
	published := map[string]string{} // spares, by the float that they are on
	for float, all := range p.spares {
		for _, sp := range all {
			published[sp] = float
		}
	}
	for _, entry := range entries {
		id, err := ident.Parse(entry.Name())
		if err != nil || !strings.EqualFold(string(id), entry.Name()) {
			continue
		}
		if _, known := p.before.Floats[string(id)]; known {
			continue
		}
		if on := published[string(id)]; slices.Contains(p.before.Floats[on].Also, string(id)) {
			continue
		}
		_, float, err := p.store.FloatOf(string(id))
		if err != nil {
			return err
		}
		name := entry.Name() + "/" + homePage
		others, err := fs.Glob(p.root.FS(), entry.Name()+"/*/"+homePage)
		if err != nil {
			return err
		}
		ours := entry.IsDir() && p.ours(name)
		switch {
		case float && !ours:
			inTheWay(name)
		case float:
			for _, other := range others {
				if !p.ours(other) {
					inTheWay(other)
				}
			}
		case !float && ours && p.exists(name) && !slices.Contains(p.done.Left, string(id)):
			p.done.Left = append(p.done.Left, string(id))
		}
	}
	return join(findings)
}

// ours reports whether a file may be written over: there is none, or an empty one
// that a power cut left, or a page of ours.
func (p *publication) ours(name string) bool {
	info, err := p.root.Lstat(name)
	if err != nil {
		return errors.Is(err, fs.ErrNotExist)
	}
	if !info.Mode().IsRegular() {
		return false
	}
	f, err := p.root.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, markWithin))
	return err == nil && (len(head) == 0 || bytes.Contains(head, []byte(siteMark)))
}

func (p *publication) exists(name string) bool {
	_, err := p.root.Lstat(name)
	return err == nil
}

// tidy removes what is no longer published, as far as it is ours and as it was
// written.
func (p *publication) tidy() error {
	for _, id := range slices.Sorted(maps.Keys(p.before.Floats)) {
		wanted := map[string]bool{}
		u := p.now.Floats[id]
		before := p.before.Floats[id]
		if u.Input == before.Input && p.before.BothCases == p.both && slices.Equal(u.Also, before.Also) {
			continue
		}
		for _, one := range u.places(id, p.both) {
			wanted[p.folded(one.path)] = true
		}
		for _, one := range before.places(id, p.before.BothCases) {
			if wanted[p.folded(one.path)] {
				continue
			}
			if err := p.remove(one.path, func(data []byte) bool { return sumOf(data) == one.sum }); err != nil {
				return err
			}
		}
	}
	used := map[string]bool{}
	for name := range p.now.Common {
		used[name] = true
	}
	for _, u := range p.now.Floats {
		for _, name := range u.With {
			used[name] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(p.before.Common)) {
		if sum := p.before.Common[name]; !used[name] {
			if err := p.remove(name, func(data []byte) bool { return sumOf(data) == sum }); err != nil {
				return err
			}
		}
	}
	entries, err := fs.ReadDir(p.root.FS(), sharedFolder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return machine(p.at(sharedFolder), "cannot be read", err)
	}
	for _, e := range entries {
		name := sharedFolder + "/" + e.Name()
		if used[name] || !e.Type().IsRegular() {
			continue
		}
		unfinished := strings.HasSuffix(name, tempEnd)
		if err := p.remove(name, func(data []byte) bool { return unfinished || isNamed(name, data) }); err != nil {
			return err
		}
	}
	return nil
}

// folded is a path as the disc tells it from others.
func (p *publication) folded(name string) string {
	if p.both {
		return name
	}
	return strings.ToLower(name)
}

// remove takes a file away that is ours, and the folders that it leaves empty.
func (p *publication) remove(name string, ours func([]byte) bool) error {
	data, err := p.root.ReadFile(name)
	if err != nil || !ours(data) {
		return nil // gone, or changed by somebody: not ours to remove
	}
	if err := p.root.Remove(name); err != nil {
		return machine(p.at(name), "cannot be removed", err)
	}
	p.done.Removed++
	for dir := path.Dir(name); dir != "." && dir != sharedFolder; dir = path.Dir(dir) {
		if p.root.Remove(dir) != nil {
			break // something else is in it
		}
	}
	return nil
}

// probeName begins the names of files by which ignoresCase looks.
const probeName = "floatmark-probe-"

// sweep removes what a run that was killed left while it looked at the folder or
// waited for it. Who waits just now loses nothing by it: the lock is then made in
// two steps, and the disc's clock is read off a file that is open.
func sweep(root *os.Root) error {
	entries, err := fs.ReadDir(root.FS(), ".")
	if err != nil {
		return err
	}
	for _, e := range entries {
		name := e.Name()
		if e.Type().IsRegular() && strings.HasSuffix(name, tempEnd) && (strings.HasPrefix(name, probeName) || strings.HasPrefix(name, siteLock+"-")) {
			_ = root.Remove(name) // what another holds open stays, where the system wants it so
		}
	}
	return nil
}

// ignoresCase looks whether a folder's disc takes capitals and small letters for
// the same.
func ignoresCase(dir string) (bool, error) {
	f, err := os.CreateTemp(dir, probeName+"*"+tempEnd)
	if err != nil {
		return false, machine(dir, "cannot be written in", err)
	}
	defer os.Remove(f.Name())
	if err := f.Close(); err != nil {
		return false, machine(dir, "cannot be written in", err)
	}
	_, err = os.Lstat(filepath.Join(dir, strings.ToUpper(filepath.Base(f.Name()))))
	return err == nil, nil
}
