package record

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"strconv"

	"floatmark/loading/fault"
)

// Photo is a picture as it is kept. One that was added twice is kept once.
type Photo struct {
	Number        int    // from 1 in the whole workshop; Change gives it
	SHA256        string // of its bytes, hex
	Width, Height int    // points
	At            string // when it was added, UTC, RFC 3339
	JPEG          []byte
}

// addPhoto keeps the picture of a set and returns its number, 0 for none.
func addPhoto(tx *sql.Tx, p *Photo) (int64, error) {
	if p == nil {
		return 0, nil
	}
	if sum := sha256.Sum256(p.JPEG); hex.EncodeToString(sum[:]) != p.SHA256 || p.At == "" || p.Width < 1 || p.Height < 1 {
		return 0, fault.New(fault.Ours, "photograph", "a photograph without date, size or the right sum", "")
	}
	var seq int64
	err := tx.QueryRow("SELECT seq FROM photos WHERE sha256 = ?", p.SHA256).Scan(&seq)
	if !errors.Is(err, sql.ErrNoRows) {
		return seq, err
	}
	res, err := tx.Exec("INSERT INTO photos (sha256, width, height, at, jpeg) VALUES (?, ?, ?, ?, ?)", p.SHA256, p.Width, p.Height, p.At, p.JPEG)
	if err != nil {
		return 0, err
	}
	return res.LastInsertId()
}

// withPhoto puts a picture's number in the place of the 0 of a value.
func withPhoto(value string, number int64) (string, error) {
	var v struct {
		Photo *int `json:"photo"`
	}
	if err := json.Unmarshal([]byte(value), &v); err != nil {
		return "", err
	}
	if v.Photo == nil || *v.Photo != 0 {
		return value, nil // another change of the same set
	}
	return string(bytes.Replace([]byte(value), []byte(`"photo":0`), []byte(`"photo":`+strconv.FormatInt(number, 10)), 1)), nil
}

// Photo returns the picture of that number and whether there is one.
func (s *Store) Photo(number int) (Photo, bool, error) {
	if s.has > 0 && s.has < changesFrom {
		return Photo{}, false, nil
	}
	p := Photo{Number: number}
	ok, err := s.one("SELECT sha256, width, height, at, jpeg FROM photos WHERE seq = ?", []any{number}, &p.SHA256, &p.Width, &p.Height, &p.At, &p.JPEG)
	if err != nil || !ok {
		return Photo{}, false, err
	}
	return p, true, nil
}
