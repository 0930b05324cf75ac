package web

import (
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"floatmark/cmd/internal/job"
	benchpages "floatmark/cmd/internal/web/bench"
)

// withDoor is an empty workshop's server on loopback with a door at 127.0.0.2,
// where that address can be had.
type withDoor struct {
	*testing.T
	shop *job.Workshop
	door *Door
	home *httptest.Server
}

func newDoor(t *testing.T) *withDoor {
	t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.2:0")
	if err != nil {
		t.Skip("this system has one loopback address alone: ", err)
	}
	ln.Close()
	shop, err := job.Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	d := &withDoor{T: t, shop: shop, door: NewDoor(func() ([]netip.Addr, error) { return []netip.Addr{netip.MustParseAddr("127.0.0.2")}, nil }, 0, shop.UnlockMark)}
	shelf := shop.Shelf()
	h := New(shelf, Options{Unlock: shop.CheckUnlock, Word: shop.UnlockMark, Keeper: shop, Bench: benchpages.New(shop, benchpages.Options{Door: d.door})})
	d.door.Leads(h)
	d.home = httptest.NewServer(h)
	t.Cleanup(func() { d.home.Close(); d.door.Shut(); shelf.Close() })
	return d
}

// send sends a form, or asks for the page where it is nil, and follows nothing.
func (d *withDoor) send(at, path string, f url.Values, cookies ...*http.Cookie) *http.Response {
	d.Helper()
	method, body := "GET", io.Reader(nil)
	if f != nil {
		method, body = "POST", strings.NewReader(f.Encode())
	}
	q, err := http.NewRequest(method, at+path, body)
	if err != nil {
		d.Fatal(err)
	}
	for _, c := range cookies {
		q.AddCookie(c)
	}
	if f != nil {
		q.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		q.Header.Set("Origin", at) // as over plain http, where a browser says no more
	}
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }, Transport: &http.Transport{}}
	res, err := client.Do(q)
	if err != nil {
		d.Fatal(err)
	}
	d.Cleanup(func() { res.Body.Close(); client.CloseIdleConnections() })
	return res
}

func (d *withDoor) want(status int, res *http.Response) *http.Response {
	d.Helper()
	if res.StatusCode != status {
		page, _ := io.ReadAll(res.Body)
		d.Fatalf("%s %s: %d, want %d\n%s", res.Request.Method, res.Request.URL, res.StatusCode, status, page)
	}
	return res
}

func (d *withDoor) at() string {
	d.Helper()
	all := d.door.State().At
	if len(all) != 1 {
		d.Fatalf("the door is open at %v", all)
	}
	return "http://" + all[0]
}

// refused reports whether nobody listens there.
func refused(at string) bool {
	c, err := net.DialTimeout("tcp", strings.TrimPrefix(at, "http://"), time.Second)
	if err == nil {
		c.Close()
	}
	return err != nil
}

// The maker sets a word, lets phones in and shuts the door, all on his own pages; a
// phone is unlocked with the word that holds now, without a server started anew.
func TestDoor(t *testing.T) {
	d := newDoor(t)
	const phone, old, word = benchpages.Path + "phone", "sluice gate", "withy and reed"
	d.want(http.StatusUnprocessableEntity, d.send(d.home.URL, phone+"/on", url.Values{}))
	if len(d.door.State().At) != 0 {
		t.Fatal("it opened without a word")
	}
	if res := d.send(d.home.URL, unlockPath, url.Values{"word": {""}}); res.StatusCode != http.StatusNotFound {
		t.Errorf("no word is set, and unlocking says %d", res.StatusCode)
	}
	d.want(http.StatusUnprocessableEntity, d.send(d.home.URL, phone+"/word", url.Values{"word": {old}, "again": {"another one"}}))
	d.want(http.StatusUnprocessableEntity, d.send(d.home.URL, phone+"/word", url.Values{"word": {"short"}, "again": {"short"}}))
	d.want(http.StatusSeeOther, d.send(d.home.URL, phone+"/word", url.Values{"word": {old}, "again": {old}}))
	d.want(http.StatusSeeOther, d.send(d.home.URL, phone+"/on", url.Values{}))
	at := d.at()

	// Through the door nothing but public pages without the word, though this test
	// comes from loopback.
	d.want(http.StatusOK, d.send(at, "/", nil))
	d.want(http.StatusSeeOther, d.send(at, benchpages.Path, nil))
	d.want(http.StatusOK, d.send(d.home.URL, benchpages.Path, nil))
	d.want(http.StatusForbidden, d.send(at, unlockPath, url.Values{"word": {"not the word"}}))
	held := d.want(http.StatusSeeOther, d.send(at, unlockPath, url.Values{"word": {old}})).Cookies()[0]
	d.want(http.StatusOK, d.send(at, benchpages.Path, nil, held))
	d.want(http.StatusOK, d.send(at, tankPath, nil, held))
	page, _ := io.ReadAll(d.want(http.StatusOK, d.send(at, phone, nil, held)).Body)
	if strings.Contains(string(page), phone+"/word") || !strings.Contains(string(page), at+"/-/tank") {
		t.Errorf("on the phone: %s", page)
	}
	// Who is unlocked shall not lock the maker out.
	for _, path := range []string{"/word", "/noword", "/on", "/off"} {
		d.want(http.StatusUnprocessableEntity, d.send(at, phone+path, url.Values{"word": {word}, "again": {word}}, held))
	}
	// A page elsewhere changes nothing, nor does a foreign name.
	q, _ := http.NewRequest("POST", d.home.URL+phone+"/off", nil)
	q.Header.Set("Origin", "http://elsewhere.example")
	if res, err := http.DefaultClient.Do(q); err != nil || res.StatusCode != http.StatusForbidden {
		t.Errorf("from another page: %v, %v", res, err)
	}

	// Another word, and the old session has ended.
	d.want(http.StatusSeeOther, d.send(d.home.URL, phone+"/word", url.Values{"word": {word}, "again": {word}}))
	d.want(http.StatusSeeOther, d.send(at, benchpages.Path, nil, held))
	d.want(http.StatusForbidden, d.send(at, unlockPath, url.Values{"word": {old}}))
	d.want(http.StatusSeeOther, d.send(at, unlockPath, url.Values{"word": {word}}))

	d.want(http.StatusSeeOther, d.send(d.home.URL, phone+"/off", url.Values{}))
	if !refused(at) {
		t.Error("the door is shut, and still answers")
	}
	// Once more, each time; then the word is taken away.
	d.want(http.StatusSeeOther, d.send(d.home.URL, phone+"/on", url.Values{"each": {"1"}}))
	if each, err := d.shop.PhonesEachTime(); !each || err != nil {
		t.Errorf("each time: %v, %v", each, err)
	}
	at = d.at()
	d.want(http.StatusSeeOther, d.send(d.home.URL, phone+"/noword", url.Values{}))
	if each, _ := d.shop.PhonesEachTime(); each || !refused(at) {
		t.Errorf("without a word: each time %v, refused %v", each, refused(at))
	}
	if err := d.door.Open(); !errors.Is(err, benchpages.ErrNoWord) {
		t.Errorf("opened without a word: %v", err)
	}
}

// A word that is taken away by another program shuts the door at the next request.
func TestDoorShutsWithoutWord(t *testing.T) {
	d := newDoor(t)
	if err := errors.Join(d.shop.SetUnlock("sluice gate"), d.door.Open()); err != nil {
		t.Fatal(err)
	}
	at := d.at()
	if err := d.shop.SetUnlock(""); err != nil {
		t.Fatal(err)
	}
	d.want(http.StatusForbidden, d.send(at, "/", nil))
	for end := time.Now().Add(5 * time.Second); !refused(at); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the door stays open")
		}
	}
}

// What keeps a door shut is told by its cause; a request that runs is let end.
func TestDoorErrors(t *testing.T) {
	set := func() (string, error) { return "set", nil }
	none := NewDoor(func() ([]netip.Addr, error) { return nil, nil }, 0, set)
	if err := none.Open(); !errors.Is(err, benchpages.ErrNoNetwork) {
		t.Errorf("no network: %v", err)
	}
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	port := netip.MustParseAddrPort(ln.Addr().String()).Port()
	home := []netip.Addr{netip.MustParseAddr("127.0.0.1")}
	taken := NewDoor(func() ([]netip.Addr, error) { return home, nil }, port, set)
	if err := taken.Open(); !errors.Is(err, benchpages.ErrTaken) || len(taken.State().At) != 0 {
		t.Errorf("the port is taken: %v", err)
	}
	d := NewDoor(func() ([]netip.Addr, error) { return home, nil }, 0, set)
	began := make(chan struct{})
	d.Leads(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if benchpages.AtHome(r) {
			t.Error("through the door somebody is at home")
		}
		close(began)
		time.Sleep(50 * time.Millisecond)
		io.WriteString(w, "to the end")
	}))
	if err := d.Open(); err != nil {
		t.Fatal(err)
	}
	got := make(chan string, 1)
	go func() {
		res, err := http.Get("http://" + d.State().At[0])
		if err != nil {
			got <- err.Error()
			return
		}
		defer res.Body.Close()
		all, _ := io.ReadAll(res.Body)
		got <- string(all)
	}()
	<-began
	if err := d.Shut(); err != nil {
		t.Error(err)
	}
	if all := <-got; all != "to the end" {
		t.Errorf("the running request got %q", all)
	}
	if err := d.Open(); err != nil {
		t.Fatal(err)
	}
	home = []netip.Addr{netip.MustParseAddr("127.0.0.3")}
	if st := d.State(); !st.Moved {
		t.Errorf("another network was not noticed: %v", st)
	}
	if err := errors.Join(d.Shut(), d.Shut()); err != nil || len(d.State().At) != 0 {
		t.Errorf("shut twice: %v", err)
	}
}

func TestLikeliestAddress(t *testing.T) {
	ip := netip.MustParseAddr
	all := []lanAddr{{"docker0", false, ip("172.17.0.1")}, {"eth1", false, ip("10.0.0.3")}, {"wlan0", false, ip("192.168.1.20")}, {"tun0", true, ip("10.8.0.2")},
		{"eth0", false, ip("198.51.100.7")}, {"eth0", false, ip("fe80::1")}, {"wlan0", false, ip("192.168.1.20")}}
	for routed, want := range map[string]string{"198.51.100.7": "[192.168.1.20 10.0.0.3 10.8.0.2 172.17.0.1]", "10.0.0.3": "[10.0.0.3 192.168.1.20 10.8.0.2 172.17.0.1]",
		"10.8.0.2": "[192.168.1.20 10.0.0.3 10.8.0.2 172.17.0.1]"} {
		var got []string
		for _, one := range likeliest(all, ip(routed)) {
			got = append(got, one.String())
		}
		if s := "[" + strings.Join(got, " ") + "]"; s != want {
			t.Errorf("the way out is %s: %s, want %s", routed, s, want)
		}
	}
	if got := likeliest([]lanAddr{{"eth0", false, ip("198.51.100.7")}}, netip.Addr{}); len(got) != 0 {
		t.Errorf("%v is in no home network", got)
	}
}
