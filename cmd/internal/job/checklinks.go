package job

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// What became of a code that was printed.
const (
	LinkFound   = "found"   // it leads to the page of its float
	LinkMissing = "missing" // there is nothing where it leads
	LinkWrong   = "wrong"   // there is something else than that float
	LinkSpare   = "spare"   // a spare's mark that is on no float yet: it leads nowhere so far
)

// PrintedCode is one code, or one id in letters alone, that was ever printed.
type PrintedCode struct {
	ID    string `json:"id"`
	Code  string `json:"code"`            // what the code says; "" for an id without one
	Print int    `json:"print,omitempty"` // number of the print it was first on; 0 where that was not noted
	Spare bool   `json:"spare,omitempty"` // it was printed as a spare
	Float string `json:"float,omitempty"` // id of the float that it is on; "" for a spare on none
	State string `json:"state"`           // LinkFound and its fellows
	Where string `json:"where"`           // where it was looked for
	Why   string `json:"why,omitempty"`   // what was there instead
}

// LinkCheck is what became of all codes.
type LinkCheck struct {
	Codes int           `json:"codes"`
	Found int           `json:"found"`
	Bad   []PrintedCode `json:"bad"`    // missing or wrong
	Spare []PrintedCode `json:"spares"` // of spares on no float
	Hosts []HostCodes   `json:"hosts"`  // that codes name: each must go on answering
}

// HostCodes is how many codes name a host.
type HostCodes struct {
	Host  string `json:"host"` // "" for codes and ids without a link
	Codes int    `json:"codes"`
}

// resolver looks a page up by the path that a code has, and tells where it looked;
// ok is false where there is none, why says what there was instead.
type resolver func(ctx context.Context, path string) (page []byte, where, why string, err error)

// CheckFolder resolves every code that was ever printed in a folder of plain
// files: each id must lead to the page of its float, in capitals and in small
// letters. Errors: NotFound for a folder that is not there, Machine.
func (w *Workshop) CheckFolder(ctx context.Context, dir string) (LinkCheck, error) {
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return LinkCheck{}, fault.New(fault.NotFound, dir, "there is no such folder", "publish first: floatmark publish "+dir, err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return LinkCheck{}, machine(dir, "cannot be opened", err)
	}
	defer root.Close()
	return w.checkLinks(ctx, func(_ context.Context, path string) (page []byte, where, why string, err error) {
		for _, one := range []string{path, strings.ToLower(path)} {
			name := one + "/" + homePage
			data, err := root.ReadFile(name)
			if err != nil {
				return nil, name, reason(err), nil
			}
			if page != nil && !bytes.Equal(page, data) {
				return data, name, "another page than in capitals", nil
			}
			page, where = data, name
		}
		return page, path + "/" + homePage, "", nil
	})
}

const (
	// askedAtOnce requests are under way at the same time: a host of plain files
	// takes many more.
	askedAtOnce = 4
	// answerWithin is how long a page may take; a phone would have given up.
	answerWithin = 15 * time.Second
	// mostAsked times a host may ask to wait before a code counts as missing.
	mostAsked = 3
	// longestWait is how long it is waited when a host asks for it.
	longestWait = 60 * time.Second
	// mostRead is the most that is read of a page.
	mostRead = 1 << 20
)

// CheckServer resolves every code that was ever printed on a running server or a
// host, by the path it has, below base: "http://127.0.0.1:8017". Errors: Input for
// what is no such address, Machine for one where nothing answers.
func (w *Workshop) CheckServer(ctx context.Context, base string) (LinkCheck, error) {
	u, err := url.Parse(base)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.RawQuery != "" {
		return LinkCheck{}, fault.New(fault.Input, base, "that is no address of a host", "give it as in http://127.0.0.1:8017", err)
	}
	client := &http.Client{Timeout: answerWithin}
	return w.checkLinks(ctx, func(ctx context.Context, path string) ([]byte, string, string, error) {
		at := u.JoinPath(path).String()
		for asked := 1; ; asked++ {
			page, why, wait, err := fetch(ctx, client, at)
			if err != nil || wait == 0 || asked == mostAsked {
				return page, at, why, err
			}
			select {
			case <-time.After(min(wait, longestWait)):
			case <-ctx.Done():
				return nil, at, "", ctx.Err()
			}
		}
	})
}

// fetch reads one page; wait is how long the host asks to wait.
func fetch(ctx context.Context, client *http.Client, at string) (page []byte, why string, wait time.Duration, err error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, at, nil)
	if err != nil {
		return nil, "", 0, err
	}
	res, err := client.Do(r)
	if err != nil {
		if ctx.Err() != nil {
			return nil, "", 0, ctx.Err()
		}
		var u *url.Error
		if errors.As(err, &u) {
			err = u.Err
		}
		return nil, "", 0, fault.New(fault.Machine, at, "nothing answers there: "+err.Error(), "start it, for example: floatmark serve", err)
	}
	defer res.Body.Close()
	switch res.StatusCode {
	case http.StatusOK:
		page, err = io.ReadAll(io.LimitReader(res.Body, mostRead))
		if err != nil {
			return nil, "the page broke off", 0, nil
		}
		return page, "", 0, nil
	case http.StatusTooManyRequests:
		seconds, err := strconv.Atoi(res.Header.Get("Retry-After"))
		if err != nil || seconds < 1 {
			seconds = 1
		}
		wait = time.Duration(seconds) * time.Second
	}
	return nil, res.Status, wait, nil
}

// checkLinks resolves every code, several at a time.
func (w *Workshop) checkLinks(ctx context.Context, look resolver) (LinkCheck, error) {
	out := LinkCheck{Bad: []PrintedCode{}, Spare: []PrintedCode{}, Hosts: []HostCodes{}}
	var codes []PrintedCode
	if err := w.look(func(s *record.Store) (err error) {
		codes, err = printedCodes(s)
		return err
	}); err != nil {
		return out, err
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	work := make(chan *PrintedCode)
	var group sync.WaitGroup
	for range askedAtOnce {
		group.Go(func() {
			for c := range work {
				if ctx.Err() != nil {
					continue
				}
				if err := c.resolve(ctx, look); err != nil {
					stop(err)
				}
			}
		})
	}
	for i := range codes {
		if codes[i].Float != "" {
			work <- &codes[i]
		}
	}
	close(work)
	group.Wait()
	if err := context.Cause(ctx); err != nil {
		return out, err
	}
	hosts := map[string]int{}
	for _, c := range codes {
		hosts[label.HostOf(c.Code)]++
		switch {
		case c.Float == "":
			c.State = LinkSpare
			out.Spare = append(out.Spare, c)
		case c.State != LinkFound:
			out.Bad = append(out.Bad, c)
		default:
			out.Found++
		}
	}
	out.Codes = len(codes)
	for h, n := range hosts {
		out.Hosts = append(out.Hosts, HostCodes{h, n})
	}
	slices.SortFunc(out.Hosts, func(a, b HostCodes) int { return strings.Compare(a.Host, b.Host) })
	return out, nil
}

// resolve looks one code up.
func (c *PrintedCode) resolve(ctx context.Context, look resolver) error {
	path := c.ID
	if isLink(c.Code) {
		_, rest, _ := strings.Cut(c.Code, "://")
		_, path, _ = strings.Cut(rest, "/")
	}
	page, where, why, err := look(ctx, path)
	if err != nil {
		return err
	}
	c.Where, c.Why, c.State = where, why, LinkFound
	switch {
	case page == nil:
		c.State = LinkMissing
	case why != "":
		c.State = LinkWrong
	case !bytes.Contains(page, []byte(c.Float)):
		c.State, c.Why = LinkWrong, "the page does not show "+c.Float
	}
	return nil
}

// printedCodes gathers every code and id that stands on a mark, each once, in the
// order they were printed.
func printedCodes(s *record.Store) (all []PrintedCode, err error) {
	type key struct{ id, code string }
	seen := map[key]bool{}
	add := func(c PrintedCode) {
		if k := (key{c.ID, c.Code}); c.ID != "" && !seen[k] {
			seen[k] = true
			all = append(all, c)
		}
	}
	prints, err := s.AllPrints()
	if err != nil {
		return nil, err
	}
	spares, err := s.Spares()
	if err != nil {
		return nil, err
	}
	on := map[string]string{}
	for _, sp := range spares {
		on[sp.ID] = ""
		if sp.State == record.Claimed {
			on[sp.ID] = sp.ClaimID
		}
	}
	for _, p := range prints {
		var data struct {
			Floats []printedFloat `json:"floats"`
		}
		if len(p.Data) > 0 {
			if err := json.Unmarshal(p.Data, &data); err != nil {
				return nil, fault.New(fault.Ours, printName(p.Number), "what it printed cannot be read: "+err.Error(), "", err)
			}
		}
		for _, f := range data.Floats {
			c := PrintedCode{ID: f.ID, Code: f.Code, Print: p.Number, Float: f.ID}
			if float, spare := on[f.ID]; spare {
				c.Spare, c.Float = true, float
			}
			add(c)
		}
	}
	for _, sp := range spares {
		var data struct {
			Code string `json:"code"`
		}
		if len(sp.Data) > 0 {
			if err := json.Unmarshal(sp.Data, &data); err != nil {
				return nil, fault.New(fault.Ours, "spare "+sp.ID, "what was printed on it cannot be read: "+err.Error(), "", err)
			}
		}
		add(PrintedCode{ID: sp.ID, Code: data.Code, Print: sp.Print, Spare: true, Float: on[sp.ID]})
	}
	// Of floats of older records the prints tell nothing; their own record does.
	batches, err := s.Batches()
	for _, b := range batches {
		floats, err := s.Floats(b)
		if err != nil {
			return nil, err
		}
		for _, f := range floats {
			var e label.Entry
			if err := json.Unmarshal(f.Data, &e); err != nil {
				return nil, fault.New(fault.Ours, "record "+f.ID, "it cannot be read: "+err.Error(), "", err)
			}
			add(PrintedCode{ID: f.ID, Code: e.Code, Float: f.ID})
		}
	}
	return all, err
}

// Err is what a check of links ends with: NotFound where a code leads nowhere.
func (l LinkCheck) Err() error {
	if len(l.Bad) == 0 {
		return nil
	}
	return fault.New(fault.NotFound, "", fmt.Sprintf("%d of %d codes that were printed do not lead to their float", len(l.Bad), l.Codes),
		"publish anew, upload all of it, and check again")
}
