package job

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"

	"floatmark/loading/fault"
)

const (
	// siteListName is the file in which a site remembers what was published.
	siteListName = "floatmark-published.json"
	siteFormat   = 1
	sharedFolder = "files"
	// tempEnd ends the names of files that are not whole yet.
	tempEnd = ".floatmark-tmp"
	// siteMark is in the head of every page, so that a page is known for one of ours
	// where the list was lost.
	siteMark = `<meta name="generator" content="floatmark"/>`
	// markWithin bytes of a page it stands.
	markWithin = 1024

	sharedSum = 8  // bytes of a sum in a name: files that ever were are few
	sumBytes  = 16 // of those in the list: nobody forges a page against himself
)

// siteList is what was published, by place.
type siteList struct {
	Format    int                  `json:"format"`
	BothCases bool                 `json:"both_cases"`
	Common    map[string]string    `json:"common"` // sum by name
	Floats    map[string]siteFloat `json:"floats"` // by id
}

// siteFloat is what was published of one float.
type siteFloat struct {
	Input string            `json:"input"`          // sum of all that its pages rest on
	Also  []string          `json:"also,omitempty"` // ids of spares on it
	Pages map[string]string `json:"pages"`          // sum by place in its folder
	With  []string          `json:"with"`           // files that it shares with others
}

// place is where a page stands.
type place struct{ path, page, sum string }

// homePage is the page at the id itself.
const homePage = "index.html"

// places are all files of a float, in a settled order. The page at the id stands
// under every way to write it; those in other languages are linked from there.
func (u siteFloat) places(id string, both bool) []place {
	var all []place
	for _, name := range slices.Sorted(maps.Keys(u.Pages)) {
		ids := []string{id}
		if name == homePage {
			ids = append(ids, u.Also...)
		}
		for _, one := range ids {
			all = append(all, place{one + "/" + name, name, u.Pages[name]})
			if small := strings.ToLower(one); both && name == homePage && small != one {
				all = append(all, place{small + "/" + name, name, u.Pages[name]})
			}
		}
	}
	return all
}

// sumOf is how the list tells a file: its length and a sum.
func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return strconv.Itoa(len(data)) + "-" + hex.EncodeToString(sum[:sumBytes])
}

func sizeIn(sum string) int64 {
	text, _, _ := strings.Cut(sum, "-")
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return -1 // no file has that length
	}
	return n
}

func readSiteList(root *os.Root) (siteList, error) {
	var l siteList
	data, err := root.ReadFile(siteListName)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return l, nil
	case err != nil:
		return l, machine(siteListName, "cannot be read", err)
	}
	if err := json.Unmarshal(data, &l); err != nil || l.Format < 1 {
		return l, fault.New(fault.Input, siteListName, "it is no list of what was published here", "put it elsewhere; pages that are there are taken for what they are", err)
	}
	if l.Format > siteFormat {
		return l, fault.New(fault.Input, siteListName, fmt.Sprintf("its format is %d, this program knows %d", l.Format, siteFormat), "use the newer floatmark; nothing was changed")
	}
	return l, nil
}

// keepList writes the list; of a run that was broken off with what was there
// before beside what was done.
func (p *publication) keepList(broken bool) error {
	l := p.now
	if broken {
		for id, u := range p.before.Floats {
			if _, done := l.Floats[id]; !done {
				l.Floats[id] = u
			}
		}
		for name, sum := range p.before.Common {
			if l.Common[name] == "" {
				l.Common[name] = sum
			}
		}
	}
	data, err := json.Marshal(l)
	if err != nil {
		return err
	}
	data = append(data, '\n')
	if have, err := p.root.ReadFile(siteListName); err == nil && bytes.Equal(have, data) {
		return nil
	}
	return p.write(siteListName, data, true)
}
