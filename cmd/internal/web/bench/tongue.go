package bench

import (
	"net/http"
	"time"

	"floatmark/label/words"
)

// tongueCookie keeps the language that whoever sits at a browser chose; without it
// pages are in the first that the browser accepts.
const tongueCookie = "language"

// tongueKept is how long a choice holds without coming back.
const tongueKept = 400 * 24 * time.Hour // the longest that browsers keep one (RFC 6265bis)

// tongues are the languages there are words for, each by its own name.
func tongues() []option {
	return []option{{"en", "English", false}, {"de", "Deutsch", false}, {"fr", "français", false}, {"it", "italiano", false}, {"pl", "polski", false}}
}

func (s *server) tonguePages() []route {
	return []route{s.post("language", s.setTongue)}
}

// setTongue keeps the language of the pages for this browser.
func (s *server) setTongue(w http.ResponseWriter, r *http.Request) error {
	said, err := words.For(r.PostFormValue("to"))
	if err != nil {
		return err
	}
	http.SetCookie(w, &http.Cookie{Name: tongueCookie, Value: said.Language, Path: Path, MaxAge: int(tongueKept.Seconds()), SameSite: http.SameSiteLaxMode, HttpOnly: true})
	page := "" // of the pages that the choice stands on, and no other
	if r.PostFormValue("on") == "workshop" {
		page = "workshop"
	}
	return back(w, r, page)
}
