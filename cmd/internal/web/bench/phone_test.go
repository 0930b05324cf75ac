package bench

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// pretend is a door that opens nothing.
type pretend struct {
	at  []string
	err error
}

func (d *pretend) Open() error {
	if d.err == nil {
		d.at = []string{"192.0.2.7:8019", "198.51.100.3:8019"} // RFC 5737
	}
	return d.err
}

func (d *pretend) Shut() error { d.at = nil; return nil }

func (d *pretend) State() DoorState { return DoorState{At: d.at, Moved: len(d.at) > 0} }

// The page says what keeps the door shut, in the reader's language and without an
// English sentence, and where phones come in when it is open.
func TestPhonePage(t *testing.T) {
	d := &pretend{}
	a := atBench(t)
	a.h = New(a.shop, Options{Door: d})
	ask := func(method, path, language string, f url.Values) *httptest.ResponseRecorder {
		r := httptest.NewRequest(method, "http://127.0.0.1:8017"+Path+path, strings.NewReader(f.Encode()))
		r.RemoteAddr = "127.0.0.1:40000"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Accept-Language", language)
		return a.send(r)
	}
	for _, one := range []struct {
		err  error
		says string
	}{{ErrNoWord, "Setz zuerst ein Kennwort."}, {ErrNoNetwork, "Dieser Rechner ist in keinem Heimnetz."}, {ErrTaken, "Ein anderes Programm hat den Anschluss"}} {
		d.err = one.err
		if w := ask("POST", "phone/on", "de", nil); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), one.says) {
			t.Errorf("%v: %d %s", one.err, w.Code, text(w.Body.String()))
		}
	}
	if w := ask("POST", "phone/on", "en", nil); w.Code != http.StatusUnprocessableEntity {
		t.Error(w.Code)
	}
	for word, says := range map[string]string{"kurz": "Das ist zu kurz.", strings.Repeat("lang ", 100): "Das ist zu lang.", "Wehr\x01und Schilf": "Das ist kein Text."} {
		if w := ask("POST", "phone/word", "de", url.Values{"word": {word}, "again": {word}}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), says) {
			t.Errorf("%.8q: %d %s", word, w.Code, text(w.Body.String()))
		}
	}
	if has, err := a.shop.HasUnlock(); has || err != nil {
		t.Fatalf("a word was set: %v", err)
	}
	if w := ask("POST", "phone/word", "de", url.Values{"word": {"Wehr und Schilf"}, "again": {"Wehr und Schilf"}, "batch": {"26-11"}}); w.Code != http.StatusSeeOther || strings.TrimSuffix(w.Header().Get("Location"), "#title") != Path+"phone?batch=26-11" {
		t.Fatalf("%d %s", w.Code, text(w.Body.String()))
	}
	if ok, err := a.shop.CheckUnlock("Wehr und Schilf"); !ok || err != nil {
		t.Fatalf("the word that was set does not hold: %v", err)
	}
	d.err = nil
	ask("POST", "phone/on", "de", url.Values{"each": {"1"}})
	page := ask("GET", "phone?batch=26-11", "en", nil).Body.String()
	for _, want := range []string{"http://192.0.2.7:8019/-/tank?batch=26-11", "http://198.51.100.3:8019/-/tank?batch=26-11", Path + "phone/code.svg?batch=26-11",
		"another address in the network now", "It is opened each time the bench is.", "Back to the tank"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is missing: %s", want, text(page))
		}
	}
	d.err = errors.New("something else")
	if w := ask("POST", "phone/on", "en", nil); w.Code != http.StatusInternalServerError {
		t.Errorf("what nobody foresaw: %d", w.Code)
	}
	ask("POST", "phone/off", "en", nil)
	if each, err := a.shop.PhonesEachTime(); each || err != nil {
		t.Errorf("shut, and opened each time: %v", err)
	}
	if w := ask("GET", "phone/code.svg", "en", nil); w.Code != http.StatusNotFound {
		t.Errorf("a code that leads nowhere: %d", w.Code)
	}
}

func TestAtHome(t *testing.T) {
	for _, one := range []struct {
		from, host string
		home       bool
	}{{"127.0.0.1:4000", "127.0.0.1:8017", true}, {"127.0.0.1:4000", "localhost:8017", true}, {"[::1]:4000", "[::1]:8017", true}, {"127.0.0.1:4000", "elsewhere.example", false},
		{"192.0.2.9:4000", "127.0.0.1:8017", false}, {"nowhere", "localhost", false}} {
		r := httptest.NewRequest("GET", "/", nil)
		r.RemoteAddr, r.Host = one.from, one.host
		if got := AtHome(r); got != one.home {
			t.Errorf("%s asks %s: %v", one.from, one.host, got)
		}
		if AtHome(r.WithContext(ThroughDoor(r.Context()))) {
			t.Errorf("%s is at home through the door", one.from)
		}
	}
	if job.UnlockLeast < 8 {
		t.Error("words of fewer letters are tried out")
	}
}
