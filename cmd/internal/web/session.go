package web

import (
	"crypto/sha256"
	"crypto/subtle"
	"net/http"
	"sync"
	"time"

	"floatmark/cmd/internal/job"
	benchpages "floatmark/cmd/internal/web/bench"
	"floatmark/label/ident"
)

const (
	sessionCookie = "session"
	tokenField    = "token"
	sessionTime   = 12 * time.Hour // a day at the bench
	mostSessions  = 64             // phones and browsers of one workshop; the oldest goes
)

// sessions are those who gave the unlock word, in memory only: a server started
// anew has none. Only the hash of what the browser holds is kept.
type sessions struct {
	now  func() time.Time
	word func() (string, error) // marks the unlock word in force, "" for none
	mu   sync.Mutex
	all  map[[sha256.Size]byte]session
}

type session struct {
	token string // stands in every form of the session
	until time.Time
	word  string // mark of the word that it was opened with
}

func newSessions(now func() time.Time, word func() (string, error)) *sessions {
	return &sessions{now: now, word: word, all: map[[sha256.Size]byte]session{}}
}

// open begins a session of the word with that mark and returns what the browser is
// to hold.
func (s *sessions) open(word string) (held string, err error) {
	held, err = job.Secret()
	if err != nil {
		return "", err
	}
	token, err := job.Secret()
	if err != nil {
		return "", err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for len(s.all) >= mostSessions {
		var oldest [sha256.Size]byte
		until := s.now().Add(2 * sessionTime)
		for k, one := range s.all {
			if one.until.Before(until) {
				oldest, until = k, one.until
			}
		}
		delete(s.all, oldest)
	}
	s.all[sha256.Sum256([]byte(held))] = session{token, s.now().Add(sessionTime), word}
	return held, nil
}

// of returns the session of a request; false when it has none that still holds.
func (s *sessions) of(r *http.Request) (session, bool) {
	c, err := r.Cookie(sessionCookie)
	if err != nil {
		return session{}, false
	}
	word, err := s.word()
	if err != nil || word == "" {
		return session{}, false
	}
	key := sha256.Sum256([]byte(c.Value))
	s.mu.Lock()
	defer s.mu.Unlock()
	one, ok := s.all[key]
	if ok && (!s.now().Before(one.until) || one.word != word) {
		delete(s.all, key)
		ok = false
	}
	return one, ok
}

func (s *sessions) close(r *http.Request) {
	c, err := r.Cookie(sessionCookie)
	if err != nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.all, sha256.Sum256([]byte(c.Value)))
}

// sessionSet is the cookie of a session, "" to take it away.
func sessionSet(r *http.Request, held string) *http.Cookie {
	c := &http.Cookie{Name: sessionCookie, Value: held, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: r.TLS != nil,
		MaxAge: int(sessionTime.Seconds())}
	if held == "" {
		c.MaxAge = -1
	}
	return c
}

// unlocked returns the session of who may change records: he has given the word,
// or is at home where that is enough.
func (s *server) unlocked(r *http.Request) (session, bool) {
	if one, ok := s.sessions.of(r); ok {
		return one, true
	}
	return s.atHome, s.atHome.token != "" && benchpages.AtHome(r)
}

// maker lets a changing request through that has a session and its token; any
// other is answered here.
func (s *server) maker(w http.ResponseWriter, r *http.Request) bool {
	one, ok := s.unlocked(r)
	if !ok {
		s.send(w, r, http.StatusUnauthorized, failure{Title: "Locked", What: "Records are changed with the workshop's unlock word.", Do: "Unlock first, then try again."})
		return false
	}
	if err := r.ParseForm(); err != nil {
		s.send(w, r, http.StatusRequestEntityTooLarge, failure{Title: "That was too much", What: "The form cannot be read or is too long.", Do: "Send less at once."})
		return false
	}
	if subtle.ConstantTimeCompare([]byte(r.PostForm.Get(tokenField)), []byte(one.token)) != 1 {
		s.send(w, r, http.StatusForbidden, failure{Title: "That form is out of date", What: "It is not of this session.", Do: "Open the record again and try from there."})
		return false
	}
	return true
}

// askWord shows the form for the unlock word.
func (s *server) askWord(w http.ResponseWriter, r *http.Request) {
	if _, beside := tankOf(r); !beside && r.URL.Path == unlockPath && s.atHome.token != "" && benchpages.AtHome(r) { // who is at home is asked for no word
		http.Redirect(w, r, s.afterUnlock(r), http.StatusSeeOther)
		return
	}
	if !s.hasWord() {
		s.send(w, r, http.StatusNotFound, failure{Title: "Records here are only read", What: "No unlock word is set in the workshop.",
			Do: "Set one at the workshop's computer, under Settings, or with: floatmark unlock"})
		return
	}
	f := s.frame(w, r)
	f.Title, f.Back = f.Say("Unlock the records"), backOf(r)
	f.Batch, f.ToTank = tankOf(r)
	sendHTML(w, http.StatusOK, mustPage("unlock", f))
}

// hasWord reports whether an unlock word is set now.
func (s *server) hasWord() bool {
	if s.o.Unlock == nil {
		return false
	}
	mark, err := s.o.Word()
	return mark != "" || err != nil // what is wrong is told when a word is checked
}

// unlock checks the word and begins a session.
func (s *server) unlock(w http.ResponseWriter, r *http.Request) {
	if !s.hasWord() {
		s.askWord(w, r)
		return
	}
	if err := r.ParseForm(); err != nil {
		s.send(w, r, http.StatusRequestEntityTooLarge, failure{Title: "That was too much", What: "The form cannot be read or is too long.", Do: "Type the unlock word alone."})
		return
	}
	if !s.tries.take(remote(r)) || !s.anybody.take(everyone()) {
		s.tooMany(w, r)
		return
	}
	mark, err := s.o.Word() // before the word is checked: should it change meanwhile, the session ends with the old one
	ok := false
	if err == nil {
		ok, err = s.o.Unlock(r.PostForm.Get("word"))
	}
	switch {
	case err != nil:
		s.fail(w, r, err, failure{Title: "The word cannot be checked"})
		return
	case !ok:
		f := s.frame(w, r)
		f.Title, f.Back, f.Wrong = f.Say("Unlock the records"), backOf(r), true
		f.Batch, f.ToTank = tankOf(r)
		sendHTML(w, http.StatusForbidden, mustPage("unlock", f))
		return
	}
	held, err := s.sessions.open(mark)
	if err != nil {
		s.fail(w, r, err, failure{Title: "The records stay locked"})
		return
	}
	http.SetCookie(w, sessionSet(r, held))
	http.Redirect(w, r, s.afterUnlock(r), http.StatusSeeOther)
}

// afterUnlock is the maker's page of the record that the form came from.
func (s *server) afterUnlock(r *http.Request) string {
	if batch, ok := tankOf(r); ok && s.o.Keeper != nil {
		return tankLink(batch)
	}
	if id := backOf(r); id != "" && s.o.Keeper != nil {
		return makerPath + id
	}
	return "/" + backOf(r)
}

func (s *server) lock(w http.ResponseWriter, r *http.Request) {
	if !s.maker(w, r) {
		return
	}
	s.sessions.close(r)
	http.SetCookie(w, sessionSet(r, ""))
	http.Redirect(w, r, "/"+backOf(r), http.StatusSeeOther)
}

// backOf is the id of the record that a form came from; "" for none. Nothing else
// is ever gone back to.
func backOf(r *http.Request) string {
	id, err := ident.Parse(r.FormValue("id"))
	if err != nil {
		return ""
	}
	return string(id)
}
