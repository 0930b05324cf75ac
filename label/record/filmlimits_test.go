package record

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"testing"

	"floatmark/loading/fault"
)

func limit(stock, made, data string) FilmLimit {
	return FilmLimit{Stock: stock, Made: made, Data: json.RawMessage(data)}
}

// The latest limit counts, by the order of noting and not by its date; the
// earlier ones stay in the file.
func TestTheLatestFilmLimitCounts(t *testing.T) {
	s, path := fresh(t)
	if _, ok, err := s.FilmLimit("a4-film-white"); ok || err != nil {
		t.Fatal(ok, err)
	}
	first := limit("a4-film-white", day2, `{"format":1,"height_mm":10}`)
	later := limit("a4-film-white", day1, `{"format":1,"height_mm":8}`)
	other := limit("a4-film-clear", day1, `{"format":1,"height_mm":6}`)
	for _, l := range []FilmLimit{first, other, later} {
		must(t, s.SetFilmLimit(l))
	}
	must(t, s.Close())
	r, err := OpenReadOnly(path)
	must(t, err)
	defer r.Close()
	if got, ok, err := r.FilmLimit("a4-film-white"); !ok || err != nil || !reflect.DeepEqual(got, later) {
		t.Errorf("%+v %v %v, want %+v", got, ok, err, later)
	}
	if all, err := r.FilmLimits(); err != nil || !reflect.DeepEqual(all, []FilmLimit{other, later}) {
		t.Errorf("%+v %v", all, err)
	}
	var n int
	if _, err := r.one("SELECT count(*) FROM film_limits", nil, &n); n != 3 || err != nil {
		t.Errorf("%d limits are kept (%v), want all 3", n, err)
	}
	if err := r.SetFilmLimit(first); fault.ClassOf(err) != fault.Ours || err == nil {
		t.Errorf("a store opened for reading takes one: %v", err)
	}
}

func TestFilmLimitRefuses(t *testing.T) {
	s, _ := fresh(t)
	for _, bad := range []FilmLimit{{}, limit("", day1, `{}`), limit("a4-film-white", "", `{}`),
		limit("a4-film-white", day1, `{`), {Stock: "a4-film-white", Made: day1}} {
		class(t, s.SetFilmLimit(bad), fault.Ours)
	}
	if all, err := s.FilmLimits(); len(all) != 0 || err != nil {
		t.Errorf("%+v %v, want none", all, err)
	}
}

// A record from before there were limits takes the step at the first one, and
// keeps a copy of what it was.
func TestAnOldRecordTakesAFilmLimit(t *testing.T) {
	path := filepath.Join(t.TempDir(), "workshop.db")
	copySample(t, 2, path)
	s := open(t, path)
	must(t, s.SetFilmLimit(limit("a4-film-white", day1, `{"format":1}`)))
	if _, ok, err := s.FilmLimit("a4-film-white"); !ok || err != nil {
		t.Error(ok, err)
	}
	before, err := OpenReadOnly(path + ".schema2")
	must(t, err)
	defer before.Close()
	if r, err := before.Readings("autumn"); len(r) != 2 || err != nil {
		t.Errorf("the copy holds %d readings (%v), want 2", len(r), err)
	}
	if all, err := before.FilmLimits(); len(all) != 0 || err != nil {
		t.Errorf("the copy holds limits: %v %v", all, err)
	}
}
