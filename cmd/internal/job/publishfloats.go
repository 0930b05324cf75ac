package job

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"path"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// floats writes the pages of every float, several at a time.
func (p *publication) floats(ctx context.Context) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	work := make(chan record.Float, 64)
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for f := range work {
				if ctx.Err() != nil {
					continue
				}
				if err := p.float(f); err != nil {
					stop(err)
				}
			}
		})
	}
	err := func() error {
		batches, err := p.store.Batches()
		if err != nil {
			return err
		}
		for _, b := range batches {
			floats, err := p.store.Floats(b)
			if err != nil {
				return err
			}
			for _, f := range floats {
				select {
				case work <- f:
				case <-ctx.Done():
					return context.Cause(ctx)
				}
			}
		}
		return nil
	}()
	close(work)
	group.Wait()
	if err == nil {
		err = context.Cause(ctx)
	}
	return err
}

// float publishes one.
func (p *publication) float(f record.Float) error {
	all, err := p.builds.of(f)
	if err != nil {
		return err
	}
	b := all.Public()
	b.Version = 0 // grows with what is not published too
	data, err := json.Marshal(b)
	if err != nil {
		return err
	}
	h := sha256.New()
	for _, part := range [][]byte{p.base, f.Data, data} {
		sum := sha256.Sum256(part)
		h.Write(sum[:])
	}
	before, known := p.before.Floats[f.ID]
	u := siteFloat{Input: hex.EncodeToString(h.Sum(nil)[:sumBytes]), Also: p.spares[f.ID]}
	if known && before.Input == u.Input && slices.Equal(before.Also, u.Also) {
		if ok, bytes := p.there(f.ID, before); ok {
			p.keep(f.ID, before, bytes)
			return nil
		}
	}
	var e label.Entry
	if err := json.Unmarshal(f.Data, &e); err != nil {
		return fault.New(fault.Ours, "record "+f.ID, "it cannot be read: "+err.Error(), "", err)
	}
	names := map[int]string{}
	for _, one := range b.Photos {
		if names[one.Value.Photo], err = p.photo(one.Value.Photo); err != nil {
			return err
		}
		u.With = append(u.With, names[one.Value.Photo])
	}
	pages, with, err := p.site.Float(e, b, func(n int) string { return names[n] })
	if err != nil {
		return err
	}
	for _, s := range with {
		if err := p.share(s); err != nil {
			return err
		}
		u.With = append(u.With, s.Name)
	}
	u.Pages = map[string]string{}
	held := map[string][]byte{}
	for _, page := range pages {
		u.Pages[page.Name], held[page.Name] = sumOf(page.Data), page.Data
	}
	bytes, err := p.writeFloat(f.ID, u, held, before)
	if err != nil {
		return err
	}
	p.keep(f.ID, u, bytes)
	return nil
}

// writeFloat has every file of a float hold its page, and returns how many bytes
// they have.
func (p *publication) writeFloat(id string, u siteFloat, pages map[string][]byte, before siteFloat) (bytes int64, err error) {
	whole := len(before.Pages) == 0 && !p.exists(id)
	if whole {
		if err := p.folder(id, u, pages); err != nil {
			return 0, err
		}
	}
	was := map[string]string{}
	for _, one := range before.places(id, p.before.BothCases) {
		was[one.path] = one.sum
	}
	home := id + "/" + homePage
	for _, one := range u.places(id, p.both) {
		page := pages[one.page]
		bytes += int64(len(page))
		switch {
		case whole && strings.HasPrefix(one.path, id+"/"):
			p.count(&p.done.Written)
		case whole && p.link(home, one.path):
			p.count(&p.done.Written)
		default:
			if err := p.put(one.path, page, one.sum, was[one.path]); err != nil {
				return 0, err
			}
		}
	}
	return bytes, nil
}

// folder writes the folder of a float that there is none of yet, and puts it in its
// place whole: that takes half the time of so many files one by one.
func (p *publication) folder(id string, u siteFloat, pages map[string][]byte) error {
	temp := id + tempEnd
	err := p.root.Mkdir(temp, 0o755)
	if errors.Is(err, fs.ErrExist) { // left by a run that was killed
		if err = p.root.RemoveAll(temp); err == nil {
			err = p.root.Mkdir(temp, 0o755)
		}
	}
	if err != nil {
		return machine(p.at(id), "cannot be made", err)
	}
	in, err := p.root.OpenRoot(temp)
	if err != nil {
		return machine(p.at(id), "cannot be made", err)
	}
	defer in.Close()
	for _, name := range slices.Sorted(maps.Keys(u.Pages)) {
		if dir := path.Dir(name); dir != "." {
			err = in.Mkdir(dir, 0o755)
		}
		if err == nil {
			err = in.WriteFile(name, pages[name], 0o644)
		}
		if err != nil {
			_ = p.root.RemoveAll(temp) // the disc is full or gone: what is wrong is told below
			return machine(p.at(id+"/"+name), "cannot be written", err)
		}
	}
	if err := p.root.Rename(temp, id); err != nil {
		return machine(p.at(id), "cannot be put in its place", err)
	}
	return nil
}

// link has a second name stand for a file, in a folder that there is none of yet;
// false where the disc has no such thing.
func (p *publication) link(name, also string) bool {
	return p.root.Mkdir(path.Dir(also), 0o755) == nil && p.root.Link(name, also) == nil
}

// keep notes that a float's pages stand.
func (p *publication) keep(id string, u siteFloat, bytes int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.now.Floats[id] = u
	p.done.Floats++
	p.done.Spares += len(u.Also)
	p.done.Bytes += bytes
	if p.o.Progress != nil {
		p.o.Progress(p.done.Floats)
	}
}

// there reports whether the files of a float are as they were written, and how
// many bytes they have.
func (p *publication) there(id string, u siteFloat) (bool, int64) {
	if p.before.BothCases != p.both {
		return false, 0
	}
	var bytes int64
	places := u.places(id, p.both)
	for _, one := range places {
		size := sizeIn(one.sum)
		info, err := p.root.Lstat(one.path)
		if err != nil || !info.Mode().IsRegular() || info.Size() != size {
			return false, 0
		}
		if p.o.Compare {
			if data, err := p.root.ReadFile(one.path); err != nil || sumOf(data) != one.sum {
				return false, 0
			}
		}
		bytes += size
	}
	for _, name := range u.With {
		if !p.sharedThere(name) {
			return false, 0
		}
	}
	p.mu.Lock()
	p.done.Same += len(places)
	p.mu.Unlock()
	return true, bytes
}

// photo has a photograph be there and returns its name.
func (p *publication) photo(number int) (string, error) {
	p.mu.Lock()
	name := p.photos[number]
	p.mu.Unlock()
	if name != "" {
		return name, nil
	}
	pic, ok, err := p.store.Photo(number)
	if err != nil {
		return "", err
	}
	if !ok {
		return "", fault.New(fault.NotFound, "photograph "+strconv.Itoa(number), "the record does not hold its picture", "use your last backup")
	}
	f := SiteFile{SharedName(sharedFolder+"/photo", "jpg", pic.JPEG), pic.JPEG}
	if err := p.share(f); err != nil {
		return "", err
	}
	p.mu.Lock()
	p.photos[number] = f.Name
	p.mu.Unlock()
	return f.Name, nil
}

// buildCache reads build records for a run: those of batches, patterns and the
// workshop once, and those of floats only where anything was ever noted.
type buildCache struct {
	store *record.Store
	noted map[string]bool // ids
	mu    sync.Mutex
	read  map[label.Subject]label.Build
}

func newBuildCache(s *record.Store) (*buildCache, error) {
	c := &buildCache{store: s, noted: map[string]bool{}, read: map[label.Subject]label.Build{}}
	all, err := s.Subjects(label.KindFloat)
	for _, one := range all {
		c.noted[one.Key] = true
	}
	return c, err
}

func (c *buildCache) of(f record.Float) (b label.Builds, err error) {
	mine := label.Subject{Kind: label.KindFloat, Key: f.ID}
	b.Float = label.ReadBuild(mine, 0, nil)
	if c.noted[f.ID] {
		if b.Float, err = buildOf(c.store, mine); err != nil {
			return b, err
		}
	}
	for _, one := range []struct {
		to *label.Build
		of label.Subject
	}{
		{&b.Batch, label.Subject{Kind: label.KindBatch, Key: f.Batch}},
		{&b.Pattern, label.Subject{Kind: label.KindPattern, Key: f.Pattern}},
		{&b.Workshop, label.Subject{Kind: label.KindWorkshop}},
	} {
		c.mu.Lock()
		have, ok := c.read[one.of]
		c.mu.Unlock()
		if !ok {
			if have, err = buildOf(c.store, one.of); err != nil {
				return b, err
			}
			c.mu.Lock()
			c.read[one.of] = have
			c.mu.Unlock()
		}
		*one.to = have
	}
	return b, nil
}
