package record

import (
	"database/sql"
	"encoding/json"

	"floatmark/loading/fault"
)

// FilmLimit is what a maker found a film to bear. Limits are only ever added:
// the latest of a stock counts, the earlier ones stay.
type FilmLimit struct {
	Stock string          // key of the stock
	Made  string          // when it was noted, UTC, RFC 3339
	Data  json.RawMessage // opaque and versioned by its writer
}

// filmLimitsFrom is the first schema that has limits of films.
const filmLimitsFrom = 3

// SetFilmLimit adds a limit, which is from now on the one of its stock. One
// without stock, date or JSON data is a fault of class Ours.
func (s *Store) SetFilmLimit(l FilmLimit) error {
	switch {
	case l.Stock == "" || l.Made == "":
		return fault.New(fault.Ours, l.Stock, "a film's limit without stock or date", "")
	case !json.Valid(l.Data):
		return fault.New(fault.Ours, l.Stock, "the data of its limit are no JSON", "")
	}
	return s.commit(func(tx *sql.Tx) error {
		_, err := tx.Exec("INSERT INTO film_limits (stock, made, data) VALUES (?, ?, ?)", l.Stock, l.Made, string(l.Data))
		return err
	})
}

const (
	limitColumns = "SELECT stock, made, data FROM film_limits f WHERE"
	newestLimit  = " seq = (SELECT max(seq) FROM film_limits WHERE stock = f.stock)"
)

// FilmLimit returns the present limit of a stock and whether there is one.
func (s *Store) FilmLimit(stock string) (FilmLimit, bool, error) {
	all, err := s.filmLimits(limitColumns+" stock = ? AND"+newestLimit, stock)
	if err != nil || len(all) == 0 {
		return FilmLimit{}, false, err
	}
	return all[0], true, nil
}

// FilmLimits returns the present limit of every stock that has one, by the
// stock's key.
func (s *Store) FilmLimits() ([]FilmLimit, error) {
	return s.filmLimits(limitColumns + newestLimit + " ORDER BY stock")
}

// filmLimits reads limits; there are none in a record whose schema is older.
func (s *Store) filmLimits(query string, args ...any) ([]FilmLimit, error) {
	if s.has > 0 && s.has < filmLimitsFrom {
		return nil, nil
	}
	var out []FilmLimit
	err := s.each(query, args, func(rows *sql.Rows) error {
		var l FilmLimit
		var data string
		if err := rows.Scan(&l.Stock, &l.Made, &data); err != nil {
			return err
		}
		l.Data = raw(data)
		out = append(out, l)
		return nil
	})
	return out, err
}
