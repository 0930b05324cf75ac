package job

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
)

// put has a file hold what it should, was being its sum in the list of the run
// before.
func (p *publication) put(name string, data []byte, sum, was string) error {
	info, err := p.root.Lstat(name)
	if err == nil && info.Mode().IsRegular() && info.Size() == int64(len(data)) {
		same := was == sum && !p.o.Compare
		if !same {
			have, err := p.root.ReadFile(name)
			same = err == nil && bytes.Equal(have, data)
		}
		if same {
			p.count(&p.done.Same)
			return nil
		}
	}
	if err := p.write(name, data, false); err != nil {
		return err
	}
	p.count(&p.done.Written)
	return nil
}

func (p *publication) count(n *int) {
	p.mu.Lock()
	*n++
	p.mu.Unlock()
}

// write puts a file in its place whole. Only the list is waited for: a page that a
// power cut took is seen by its length and written again.
func (p *publication) write(name string, data []byte, wait bool) error {
	temp := name + tempEnd
	f, err := p.root.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
	if errors.Is(err, fs.ErrNotExist) {
		if err = p.root.MkdirAll(path.Dir(name), 0o755); err == nil {
			f, err = p.root.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
		}
	}
	if err != nil {
		return machine(p.at(name), "cannot be written", err)
	}
	_, err = f.Write(data)
	if err == nil && wait {
		err = f.Sync()
	}
	if errClose := f.Close(); err == nil {
		err = errClose
	}
	if err == nil {
		err = p.root.Rename(temp, name)
	}
	if err != nil {
		_ = p.root.Remove(temp) // the disc is full or gone: what is wrong is told below
		return machine(p.at(name), "cannot be written", err)
	}
	return nil
}

func (p *publication) at(name string) string {
	return filepath.Join(p.root.Name(), filepath.FromSlash(name))
}

// sharedFile is one that is looked at once in a run.
type sharedFile struct {
	once sync.Once
	ok   bool
	err  error
}

func (p *publication) sharedOf(name string) *sharedFile {
	p.mu.Lock()
	defer p.mu.Unlock()
	s := p.shared[name]
	if s == nil {
		s = &sharedFile{}
		p.shared[name] = s
	}
	return s
}

// sharedThere reports whether a file has what its name says.
func (p *publication) sharedThere(name string) bool {
	s := p.sharedOf(name)
	s.once.Do(func() {
		data, err := p.root.ReadFile(name)
		p.mu.Lock()
		defer p.mu.Unlock()
		if s.ok = err == nil && isNamed(name, data); s.ok {
			p.done.Same++
			p.done.Bytes += int64(len(data))
		}
	})
	p.mu.Lock()
	defer p.mu.Unlock()
	return s.ok && s.err == nil
}

// share has a file be there that its name tells the content of.
func (p *publication) share(f SiteFile) error {
	if p.sharedThere(f.Name) {
		return nil
	}
	s := p.sharedOf(f.Name)
	p.mu.Lock()
	defer p.mu.Unlock() // few are written, and none twice
	if s.ok || s.err != nil {
		return s.err
	}
	if s.err = p.write(f.Name, f.Data, false); s.err == nil {
		s.ok = true
		p.done.Written++
		p.done.Bytes += int64(len(f.Data))
	}
	return s.err
}

// isNamed reports whether a file's name is the one of its content.
func isNamed(name string, data []byte) bool {
	front, back, ok := cutLast(name, "-")
	_, ext, okExt := strings.Cut(back, ".")
	return ok && okExt && SharedName(front, ext, data) == name
}

func cutLast(s, sep string) (front, back string, ok bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+len(sep):], true
}

func isShared(name string) bool { return strings.HasPrefix(name, sharedFolder+"/") }
