package web

import (
	"net/http"
	"net/url"
	"sync"
	"time"

	"golang.org/x/text/language"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

// The fields of the form, of the cookie and of the link to another language.
const (
	setField, metalField, waterField, langField = "set", "metal", "water", "lang"

	// choiceCookie keeps what was chosen on the reader's phone, and nothing else.
	choiceCookie = "choice"
	// choiceKept is for how long, about a season and the next.
	choiceKept = 400 * 24 * time.Hour
	// mostChoice is the most characters of one part: longer is nobody's choice.
	mostChoice = 40
)

// wanted is what a reader asked for.
type wanted struct {
	job.Choice
	Language string // asked for on the page; "" for what the request says
}

// wantedOf reads the choice of a request: its query, and where that has none the
// cookie. asked reports that the query has one, which is then to be kept.
func wantedOf(r *http.Request) (w wanted, asked bool) {
	q := r.URL.Query()
	var kept url.Values
	if c, err := r.Cookie(choiceCookie); err == nil {
		kept, _ = url.ParseQuery(c.Value) // a damaged one says nothing
	}
	part := func(name string) string {
		if q.Has(name) {
			asked = true
			return short(q.Get(name))
		}
		return short(kept.Get(name))
	}
	w = wanted{job.Choice{Convention: part(setField), Metal: part(metalField), Water: part(waterField)}, part(langField)}
	return w, asked
}

func short(s string) string {
	if len(s) > mostChoice {
		return ""
	}
	return s
}

// keep sends the choice back as a cookie that only this server gets.
func (w wanted) keep(h http.Header) {
	v := url.Values{}
	for name, s := range map[string]string{setField: w.Convention, metalField: w.Metal, waterField: w.Water, langField: w.Language} {
		if s != "" {
			v.Set(name, s)
		}
	}
	c := http.Cookie{Name: choiceCookie, Value: v.Encode(), Path: "/", MaxAge: int(choiceKept.Seconds()), SameSite: http.SameSiteLaxMode, HttpOnly: true}
	h.Add("Set-Cookie", c.String())
}

// spoken matches what a reader accepts with the languages of the pages, in their
// order; making it takes longer than using it.
var spoken = sync.OnceValue(func() language.Matcher {
	var tags []language.Tag
	for _, p := range words.Pages() {
		tags = append(tags, language.Make(p.Language))
	}
	return language.NewMatcher(tags)
})

// languageOf chooses the language of a page: the one asked for, else the first
// that the request accepts and there are words for, else the other.
func languageOf(asked string, r *http.Request, other string) string {
	all := words.Pages()
	for _, p := range all {
		if p.Language == asked {
			return asked
		}
	}
	// What cannot be read accepts nothing.
	accepted, _, _ := language.ParseAcceptLanguage(r.Header.Get("Accept-Language"))
	if _, i, sure := spoken().Match(accepted...); sure > language.No {
		return all[i].Language
	}
	return words.PageFor(other).Language
}
