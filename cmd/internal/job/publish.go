package job

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Site makes the pages of a site of plain files. It is used by many at once, and
// gives the same bytes for the same float.
type Site interface {
	// Common returns the files that stand for no float: the entrance, the page for
	// what is missing, style sheet and scripts.
	Common() ([]SiteFile, error)
	// Float returns the pages of one float by their place in its folder,
	// "index.html" among them, and the files that they share with others. photo is
	// the name on the site of a photograph.
	Float(e label.Entry, b label.Build, photo func(int) string) (pages, with []SiteFile, err error)
}

// Publishing says how a site is written. The zero value is the usual way.
type Publishing struct {
	// Compare reads every file that should be there and mends what is not as it was
	// written; else only missing files and those of another length are seen.
	Compare bool
	// IgnoresCase tells whether the disc of a folder takes capitals and small
	// letters for the same; nil looks by a file that is put there for a moment.
	IgnoresCase func(dir string) (bool, error)
	// Progress is called now and then; nil for none.
	Progress func(done int)
}

// Published is what became of a site.
type Published struct {
	Dir       string   `json:"dir"`
	Floats    int      `json:"floats"`
	Spares    int      `json:"spares"`     // ids of spares on floats, beside
	Written   int      `json:"written"`    // files
	Same      int      `json:"unchanged"`  // files that were there as they should be
	Removed   int      `json:"removed"`    // files of what is no longer published
	Bytes     int64    `json:"bytes"`      // of all files
	BothCases bool     `json:"both_cases"` // ids stand in capitals and in small letters
	Left      []string `json:"left"`       // pages of floats that this workshop does not know, left where they are
}

// publication is one run.
type publication struct {
	site   Site
	store  *record.Store
	root   *os.Root
	o      Publishing
	base   []byte // what every page rests on, beside its float
	before siteList
	both   bool
	builds *buildCache
	spares map[string][]string // ids of spares by the float that they are on

	mu     sync.Mutex
	done   Published
	now    siteList
	shared map[string]*sharedFile
	photos map[int]string // names by number
}

// publishGC is how much garbage may lie beside what is in use, in per cent, before it
// is collected: pages are big and soon gone, and collecting at the usual 100 takes a
// sixth of a run.
const publishGC = 400

// Publish writes the public pages of every float of the workshop into a folder,
// as plain files for any web host, and rewrites only what changed. Each file is
// put in its place whole; files that pages need are there before the pages, and
// what is no longer needed goes last, so that a site broken off in the middle
// works. Nothing outside the folder is touched.
//
// Errors: Input for a folder that holds files of somebody else's where pages go,
// or is the workshop's own, or that another run is publishing into; NotFound for a
// workshop without records; Machine.
func (w *Workshop) Publish(ctx context.Context, dir string, site Site, o Publishing) (Published, error) {
	defer debug.SetGCPercent(debug.SetGCPercent(publishGC))
	var out Published
	err := w.look(func(s *record.Store) error {
		if err := w.publishable(dir); err != nil {
			return err
		}
		root, err := os.OpenRoot(dir)
		if err != nil {
			return machine(dir, "cannot be opened", err)
		}
		defer root.Close()
		release, err := lockSite(root)
		if err != nil {
			return fault.At(dir, err)
		}
		defer release()
		p := &publication{site: site, store: s, root: root, o: o, shared: map[string]*sharedFile{}, photos: map[int]string{}}
		p.done.Dir, p.done.Left = dir, []string{}
		err = p.run(ctx, dir, w)
		out = p.done
		return err
	})
	return out, err
}

// publishable makes the folder and refuses one that is the workshop's.
func (w *Workshop) publishable(dir string) error {
	if _, err := os.Lstat(filepath.Join(dir, recordsFile)); err == nil {
		return fault.New(fault.Input, dir, "that is a workshop folder: its records would be uploaded with the pages", "name a folder of its own for the site")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return machine(dir, "cannot be made", err)
	}
	return nil
}

func (p *publication) run(ctx context.Context, dir string, w *Workshop) error {
	if err := sweep(p.root); err != nil {
		return machine(dir, "cannot be read", err)
	}
	ignores := p.o.IgnoresCase
	if ignores == nil {
		ignores = ignoresCase
	}
	one, err := ignores(dir)
	if err != nil {
		return err
	}
	p.both = !one
	p.done.BothCases = p.both
	if p.before, err = readSiteList(p.root); err != nil {
		return fault.At(dir, err)
	}
	p.now = siteList{Format: siteFormat, BothCases: p.both, Common: map[string]string{}, Floats: map[string]siteFloat{}}
	if err := p.prepare(w); err != nil {
		return err
	}
	common, err := p.site.Common()
	if err != nil {
		return err
	}
	if err := p.foreign(dir, common); err != nil {
		return err
	}
	for _, f := range common {
		if isShared(f.Name) {
			if err := p.share(f); err != nil {
				return err
			}
		}
	}
	if err := p.floats(ctx); err != nil {
		// What was done is kept in mind, so that the next run goes on from here.
		return errors.Join(err, p.keepList(true))
	}
	for _, f := range common {
		sum := sumOf(f.Data)
		p.now.Common[f.Name] = sum
		if isShared(f.Name) {
			continue
		}
		if err := p.put(f.Name, f.Data, sum, p.before.Common[f.Name]); err != nil {
			return errors.Join(err, p.keepList(true))
		}
		p.done.Bytes += int64(len(f.Data))
	}
	if err := p.keepList(false); err != nil {
		return err
	}
	return p.tidy()
}

// prepare reads what all pages rest on.
func (p *publication) prepare(w *Workshop) error {
	program, err := programSum()
	if err != nil {
		return err
	}
	common, err := p.site.Common()
	if err != nil {
		return err
	}
	h := sha256.New()
	h.Write(program)
	for _, f := range common {
		h.Write([]byte(f.Name))
		h.Write(f.Data)
	}
	own, err := json.Marshal(w.Own())
	if err != nil {
		return err
	}
	h.Write(own)
	p.base = h.Sum(nil)
	if p.builds, err = newBuildCache(p.store); err != nil {
		return err
	}
	p.spares = map[string][]string{}
	all, err := p.store.Spares()
	for _, sp := range all {
		if sp.State == record.Claimed {
			p.spares[sp.ClaimID] = append(p.spares[sp.ClaimID], sp.ID)
		}
	}
	return err
}

// programSum tells programs apart: another one may lay the same record out in
// another way.
func programSum() ([]byte, error) {
	name, err := os.Executable()
	if err != nil {
		return nil, machine("this program", "cannot be found", err)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, machine(name, "cannot be read", err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return nil, machine(name, "cannot be read", err)
	}
	return h.Sum(nil), nil
}

// SiteFile is a file of a site by its place below a folder, with "/" between.
type SiteFile struct {
	Name string
	Data []byte
}

// SharedName names a file after what it holds, so that browsers may keep it for
// ever: "files/style-0123456789abcdef.css".
func SharedName(name, ext string, data []byte) string {
	sum := sha256.Sum256(data)
	return name + "-" + hex.EncodeToString(sum[:sharedSum]) + "." + ext
}
