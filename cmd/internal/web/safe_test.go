package web

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"html"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"regexp"
	"strings"
	"testing"
	"time"
)

type recorder struct {
	header http.Header
	code   int
	body   bytes.Buffer
}

func (r *recorder) Header() http.Header { return r.header }
func (r *recorder) WriteHeader(c int)   { r.code = c }
func (r *recorder) Write(p []byte) (int, error) {
	if r.code == 0 {
		r.code = 200
	}
	return r.body.Write(p)
}

func read(t *testing.T, res *http.Response) string {
	t.Helper()
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func attribute(t *testing.T, page, name string) string {
	t.Helper()
	m := regexp.MustCompile(name + `="([^"]*)"`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no %s", name)
	}
	return html.UnescapeString(m[1])
}

// clock is a time that only moves when told.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

func newClock() *clock { return &clock{time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC)} }

// Whoever tries ids one after another is stopped, and the one beside him is not.
func TestUnknownIDsAreLimited(t *testing.T) {
	c := newClock()
	h := New(one(), Options{Now: c.now})
	get := func(path, from string) int {
		r := httptest.NewRequest("GET", path, nil)
		r.Host, r.RemoteAddr = "localhost", from
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w.Code
	}
	for i := range missBurst {
		if code := get("/CKWB6V", "192.0.2.1:1000"); code != 404 {
			t.Fatalf("try %d: %d", i, code)
		}
	}
	for path, want := range map[string]int{"/CKWB6V": 429, "/9KYA3C": 429, "/": 200} {
		if code := get(path, "192.0.2.1:2000"); code != want {
			t.Errorf("%s after too many tries: %d, want %d", path, code, want)
		}
	}
	if code := get("/9KYA3C", "192.0.2.2:1000"); code != 200 {
		t.Errorf("another address: %d", code)
	}
	for range 3 {
		get("/CKWB6V", "[2001:db8::1]:1")
	}
	c.at = c.at.Add(missEvery)
	if code := get("/9KYA3C", "192.0.2.1:1000"); code != 200 {
		t.Errorf("after a while: %d", code)
	}
}

// A limiter forgets addresses before it grows without bound.
func TestLimiterIsBounded(t *testing.T) {
	c := newClock()
	l := newLimiter(2, time.Second, c.now)
	for i := range 5 * mostAddresses {
		ip := netip.AddrFrom4([4]byte{10, byte(i >> 16), byte(i >> 8), byte(i)})
		p, _ := ip.Prefix(32)
		l.take(p)
	}
	if n := len(l.recent) + len(l.before); n > 2*mostAddresses {
		t.Errorf("%d addresses are kept", n)
	}
	p := netip.MustParsePrefix("192.0.2.1/32")
	first, second, third := l.take(p), l.take(p), l.take(p)
	if !first || !second || third {
		t.Error("two tries are not two tries")
	}
	c.at = c.at.Add(time.Second)
	if !l.take(p) || l.take(p) {
		t.Error("one try does not come back in a second")
	}
	c.at = c.at.Add(-time.Hour) // a clock set back takes nothing away
	if l.left(p) {
		t.Error("a clock set back gives tries")
	}
	if a, b := remote(&http.Request{RemoteAddr: "[2001:db8::1]:5"}), remote(&http.Request{RemoteAddr: "[2001:db8::2%eth0]:6"}); a != b {
		t.Errorf("%v and %v are one household", a, b)
	}
}

// Unlocking: the word, the session, its token, where posts come from.
func TestUnlocking(t *testing.T) {
	c := newClock()
	checked := 0
	o := Options{Now: c.now, Unlock: func(word string) (bool, error) { checked++; return word == "sluice gate", nil }}
	s := httptest.NewServer(New(one(), o))
	t.Cleanup(s.Close)
	form := map[string]string{"Content-Type": "application/x-www-form-urlencoded"}
	with := func(more ...string) map[string]string {
		h := map[string]string{}
		for k, v := range form {
			h[k] = v
		}
		for i := 0; i < len(more); i += 2 {
			h[more[i]] = more[i+1]
		}
		return h
	}
	post := func(path, body string, header map[string]string) *http.Response {
		return request(t, "POST", s.URL+path, body, header)
	}
	for name, h := range map[string]map[string]string{"another origin": with("Origin", "http://evil.example"), "another site": with("Sec-Fetch-Site", "cross-site"),
		"a sister site": with("Sec-Fetch-Site", "same-site"), "no origin at all": with("Origin", "null")} {
		if res := post(unlockPath, "word=sluice+gate", h); res.StatusCode != 403 || len(res.Cookies()) > 0 {
			t.Errorf("%s: %d", name, res.StatusCode)
		}
	}
	if checked > 0 {
		t.Error("a word from elsewhere was checked")
	}
	if res := post(unlockPath, "word=wrong", form); res.StatusCode != 403 || len(res.Cookies()) > 0 {
		t.Errorf("a wrong word: %d", res.StatusCode)
	}
	if res := post(unlockPath, "word="+strings.Repeat("x", mostForm), form); res.StatusCode != 413 {
		t.Errorf("an oversized body: %d", res.StatusCode)
	}
	res := post(unlockPath, "word=sluice+gate&id=9kya3c", with("Origin", s.URL, "Sec-Fetch-Site", "same-origin"))
	if res.StatusCode != 303 || res.Header.Get("Location") != "/9KYA3C" || len(res.Cookies()) != 1 {
		t.Fatalf("the right word: %d %v", res.StatusCode, res.Header)
	}
	held := res.Cookies()[0]
	if !held.HttpOnly || held.SameSite != http.SameSiteStrictMode || len(held.Value) < 43 {
		t.Errorf("the cookie is %v", held)
	}
	cookie := held.Name + "=" + held.Value
	for name, c := range map[string]string{"no cookie": "", "a made-up cookie": "session=AAAA", "no token": cookie} {
		if res := post(lockPath, "", with("Cookie", c)); res.StatusCode != 401 && res.StatusCode != 403 {
			t.Errorf("%s: %d", name, res.StatusCode)
		}
	}
	if res := post("/9KYA3C", "a=b", with("Cookie", cookie)); res.StatusCode != 405 {
		t.Errorf("a post to a record: %d", res.StatusCode)
	}
	if res := post(unlockPath, "word=sluice+gate&id=//evil.example", form); res.Header.Get("Location") != "/" {
		t.Errorf("leads to %q", res.Header.Get("Location"))
	}
	for range tryBurst {
		post(unlockPath, "word=wrong", form)
	}
	before := checked
	if res := post(unlockPath, "word=sluice+gate", form); res.StatusCode != 429 || checked != before {
		t.Errorf("after too many words: %d", res.StatusCode)
	}
	if res := request(t, "GET", s.URL+unlockPath, "", nil); res.StatusCode != 200 {
		t.Errorf("the form: %d", res.StatusCode)
	}
	closed := httptest.NewServer(New(one(), Options{}))
	t.Cleanup(closed.Close)
	if res := request(t, "POST", closed.URL+unlockPath, "word=", form); res.StatusCode != 404 {
		t.Errorf("a server without a word: %d", res.StatusCode)
	}
}

// A session ends by the clock, and the oldest goes when there are too many.
func TestSessionsEnd(t *testing.T) {
	c := newClock()
	s := newSessions(c.now, func() (string, error) { return "set", nil })
	with := func(held string) *http.Request {
		r := httptest.NewRequest("GET", "/", nil)
		r.AddCookie(&http.Cookie{Name: sessionCookie, Value: held})
		return r
	}
	first, err := s.open("set")
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := s.of(with(first)); !ok {
		t.Fatal("a session does not hold")
	}
	for range mostSessions {
		c.at = c.at.Add(time.Second)
		if _, err := s.open("set"); err != nil {
			t.Fatal(err)
		}
	}
	if _, ok := s.of(with(first)); ok || len(s.all) != mostSessions {
		t.Errorf("%d sessions, the first among them: %v", len(s.all), ok)
	}
	last, _ := s.open("set")
	s.close(with(last))
	if _, ok := s.of(with(last)); ok {
		t.Error("a closed session holds")
	}
	last, _ = s.open("set")
	c.at = c.at.Add(sessionTime)
	if _, ok := s.of(with(last)); ok {
		t.Error("a session holds for ever")
	}
}

// One line per request; what was typed into forms and cookies is not in it.
func TestLog(t *testing.T) {
	var buf bytes.Buffer
	c := newClock()
	log := slog.New(slog.NewTextHandler(&buf, &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		if a.Key == slog.TimeKey {
			return slog.Attr{}
		}
		return a
	}}))
	h := New(one(), Options{Now: c.now, Log: log, Unlock: func(string) (bool, error) { return false, nil }})
	for _, q := range []struct{ method, path string }{{"GET", "/9KYA3C?set=grams"}, {"GET", "/CKWB6V"}, {"POST", unlockPath + "?word=hush"}, {"GET", "/\n" + strings.Repeat("x", 200)}} {
		r := httptest.NewRequest(q.method, "/", strings.NewReader("word=hush"))
		r.URL.Path, r.URL.RawQuery, _ = strings.Cut(q.path, "?")
		r.Host, r.RemoteAddr = "localhost", "192.0.2.9:55"
		h.ServeHTTP(httptest.NewRecorder(), r)
	}
	lines := strings.Split(strings.TrimSpace(buf.String()), "\n")
	if len(lines) != 4 {
		t.Fatalf("%d lines:\n%s", len(lines), buf.String())
	}
	if want := "level=INFO msg=request from=192.0.2.9 method=GET path=/CKWB6V status=404 bytes="; !strings.HasPrefix(lines[1], want) {
		t.Errorf("the line is %q", lines[1])
	}
	if strings.Contains(buf.String(), "hush") || strings.Contains(buf.String(), "grams") || strings.Contains(buf.String(), ":55") || len(lines[3]) > 250 {
		t.Errorf("the log holds too much:\n%s", buf.String())
	}
}

// A client that sends its headers slowly is cut off, and so is one that sends too
// many of them.
func TestSlowClients(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	at, done := make(chan string, 1), make(chan error, 1)
	quick := limits{header: 100 * time.Millisecond, read: 200 * time.Millisecond, write: time.Second, idle: 100 * time.Millisecond}
	go func() {
		done <- serveWith(ctx, "127.0.0.1:0", New(one(), Options{Unlock: func(string) (bool, error) { return true, nil }}), func(a string) { at <- a }, quick)
	}()
	addr := <-at
	for name, sent := range map[string]string{
		"headers that never end": "GET / HTTP/1.1\r\nHost: localhost\r\n",
		"nothing at all":         "",
		"a body that never ends": "POST " + unlockPath + " HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 500\r\n\r\nword=",
	} {
		conn, err := net.Dial("tcp", addr)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprint(conn, sent)
		_ = conn.SetReadDeadline(time.Now().Add(5 * time.Second))
		answer, err := io.ReadAll(conn)
		if err != nil {
			t.Errorf("%s: not cut off: %v", name, err)
		}
		if strings.HasPrefix(string(answer), "HTTP/1.1 2") || strings.HasPrefix(string(answer), "HTTP/1.1 3") {
			t.Errorf("%s: answered with %.60q", name, answer)
		}
		conn.Close()
	}
	conn, err := net.Dial("tcp", addr)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	go func() {
		fmt.Fprintf(conn, "GET / HTTP/1.1\r\nHost: localhost\r\nX: %s\r\n\r\n", strings.Repeat("x", 4*maxHeader))
	}()
	_ = conn.SetReadDeadline(time.Now().Add(5 * time.Second))
	if line, _ := bufio.NewReader(conn).ReadString('\n'); strings.Contains(line, " 200 ") {
		t.Errorf("too many headers: %q", line)
	}
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
}
