package job

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"runtime"
	"slices"
	"strconv"
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
	was := map[string]string{}
	for _, one := range before.places(f.ID, p.before.BothCases) {
		was[one.path] = one.sum
	}
	var bytes int64
	for _, one := range u.places(f.ID, p.both) {
		page := held[one.page]
		if err := p.put(one.path, page, one.sum, was[one.path]); err != nil {
			return err
		}
		bytes += int64(len(page))
	}
	p.keep(f.ID, u, bytes)
	return nil
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
