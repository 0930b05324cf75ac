package record

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"floatmark/loading/fault"
)

// Unseen stands for the version of a change whose maker looked at nothing
// before: it holds whatever was changed since.
const Unseen int64 = -1

// ErrChanged is the cause of the fault that Change returns for a field that
// somebody else changed since it was looked at.
var ErrChanged = errors.New("changed in the meantime")

// Subject is what fields are kept of: a float by its id, a batch, a pattern.
type Subject struct{ Kind, Key string }

// String names a subject in messages: "float 9KYA3C".
func (s Subject) String() string { return strings.TrimSpace(s.Kind + " " + s.Key) }

// Change sets one field of a subject. A path is a name, or a list and the number
// of an item in it: "coats/3"; "coats/+" adds one, whose number is never used
// again. The value null takes a field out; it stays in the history.
type Change struct {
	Subject Subject
	Path    string
	Value   json.RawMessage
	Seen    int64 // version of the subject that it was made on; Unseen for any
}

// ChangeSet is what is changed in one go: all of it or nothing.
type ChangeSet struct {
	At      string // UTC, RFC 3339
	By      string // through what it came
	Key     string // idempotency key, "" for none: the same set sent twice is one
	Changes []Change
	// Photo is a picture that one of the changes brings, nil for none. Its number
	// replaces the 0 of a member "photo" of that change's value.
	Photo *Photo
}

// Changed is what became of a set.
type Changed struct {
	Version int64    // of the subjects from now on
	Paths   []string // of each change, with the numbers of new items
	Known   bool     // the set was here already, by its key, and nothing was changed
}

// Change saves a set. The same value again is no change. Errors: Input with the
// cause ErrChanged for a field that was changed after Seen, and who did it;
// Input for a key that stands for another set; NotFound for an item that there
// is none of; Ours for a set without date or with values that are no JSON.
func (s *Store) Change(set ChangeSet) (Changed, error) {
	if err := soundSet(set); err != nil {
		return Changed{}, err
	}
	var done Changed
	err := s.commit(func(tx *sql.Tx) error {
		done = Changed{}
		digest := digestOf(set)
		known, err := knownSet(tx, set, digest, &done)
		if known || err != nil {
			return err
		}
		var key any
		if set.Key != "" {
			key = set.Key
		}
		res, err := tx.Exec("INSERT INTO change_sets (at, by, key, digest) VALUES (?, ?, ?, ?)", set.At, set.By, key, digest)
		if err != nil {
			return err
		}
		seq, err := res.LastInsertId()
		if err != nil {
			return err
		}
		photo, err := addPhoto(tx, set.Photo)
		if err != nil {
			return err
		}
		for _, c := range set.Changes {
			path, err := change(tx, seq, c, photo)
			if err != nil {
				return err
			}
			done.Paths = append(done.Paths, path)
		}
		// Two subjects' versions are of one count, so that one number does for a set.
		return tx.QueryRow("SELECT coalesce(max(seq), 0) FROM changes").Scan(&done.Version)
	})
	if err != nil {
		return Changed{}, err
	}
	return done, nil
}

func soundSet(set ChangeSet) error {
	bad := func(where, what string) error { return fault.New(fault.Ours, where, what, "") }
	if set.At == "" || set.By == "" || len(set.Changes) == 0 {
		return bad("change", "a set of changes without a date, an author or a change")
	}
	for _, c := range set.Changes {
		if c.Subject.Kind == "" || c.Path == "" || !json.Valid(c.Value) {
			return bad(c.Subject.String()+" "+c.Path, "a change without subject, path or JSON")
		}
	}
	return nil
}

// digestOf tells sets apart that come under one key. When it came and on which
// version it was made do not count: it may be sent again with both renewed.
func digestOf(set ChangeSet) string {
	h := sha256.New()
	for _, c := range set.Changes {
		// Quoted, so that no text runs over into the next one.
		fmt.Fprintf(h, "%q %q %q %q\n", c.Subject.Kind, c.Subject.Key, c.Path, c.Value)
	}
	if set.Photo != nil {
		fmt.Fprintf(h, "%q\n", set.Photo.SHA256)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// knownSet looks a set up by its key.
func knownSet(tx *sql.Tx, set ChangeSet, digest string, done *Changed) (bool, error) {
	if set.Key == "" {
		return false, nil
	}
	var seq int64
	var have string
	err := tx.QueryRow("SELECT seq, digest FROM change_sets WHERE key = ?", set.Key).Scan(&seq, &have)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return false, nil
	case err != nil:
		return false, err
	case have != digest:
		return false, fault.New(fault.Input, set.Changes[0].Subject.String(), fmt.Sprintf("the key %q already stands for another change", set.Key),
			"give the new change a key of its own")
	}
	done.Known = true
	if err := tx.QueryRow("SELECT coalesce(max(seq), 0) FROM changes").Scan(&done.Version); err != nil {
		return false, err
	}
	rows, err := tx.Query(`SELECT path FROM changes WHERE "set" = ? ORDER BY seq`, seq)
	if err != nil {
		return false, err
	}
	defer rows.Close()
	for rows.Next() {
		var p string
		if err := rows.Scan(&p); err != nil {
			return false, err
		}
		done.Paths = append(done.Paths, p)
	}
	return true, rows.Err()
}

// stored is a value as it stands in the tables: nothing for null.
func stored(value json.RawMessage) string {
	if string(value) == "null" {
		return ""
	}
	return string(value)
}

// change saves one change and returns its path.
func change(tx *sql.Tx, set int64, c Change, photo int64) (string, error) {
	where := c.Subject.String() + ", " + c.Path
	list, number, isItem := strings.Cut(c.Path, "/")
	added := isItem && number == "+"
	after := stored(c.Value)
	if added {
		n, err := nextItem(tx, c.Subject, list)
		if err != nil {
			return "", err
		}
		c.Path = list + "/" + strconv.Itoa(n)
		if photo > 0 {
			if after, err = withPhoto(after, photo); err != nil {
				return "", err
			}
		}
	}
	var before string
	var last int64
	err := tx.QueryRow("SELECT value, change FROM states WHERE kind = ? AND key = ? AND path = ?", c.Subject.Kind, c.Subject.Key, c.Path).Scan(&before, &last)
	_, noNumber := strconv.Atoi(number)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		if isItem && !added && noNumber == nil {
			return "", fault.New(fault.NotFound, where, "there is no such item", "look at the record: it numbers its items")
		}
	case err != nil:
		return "", err
	}
	if before == after {
		return c.Path, nil
	}
	if c.Seen != Unseen && last > c.Seen && !added {
		return "", changedSince(tx, where, last)
	}
	res, err := tx.Exec(`INSERT INTO changes ("set", kind, key, path, before, after) VALUES (?, ?, ?, ?, ?, ?)`,
		set, c.Subject.Kind, c.Subject.Key, c.Path, before, after)
	if err != nil {
		return "", err
	}
	seq, err := res.LastInsertId()
	if err != nil {
		return "", err
	}
	_, err = tx.Exec(`INSERT INTO states (kind, key, path, value, change) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT DO UPDATE SET value = excluded.value, change = excluded.change`, c.Subject.Kind, c.Subject.Key, c.Path, after, seq)
	return c.Path, err
}

// nextItem is one more than the highest number a list ever had: what was taken
// out keeps its number.
func nextItem(tx *sql.Tx, of Subject, list string) (int, error) {
	var n int
	err := tx.QueryRow(`SELECT coalesce(max(CAST(substr(path, ?) AS INTEGER)), 0) + 1 FROM states
		WHERE kind = ? AND key = ? AND path >= ? AND path < ?`, len(list)+2, of.Kind, of.Key, list+"/", list+"0").Scan(&n) // "0" follows "/"
	return n, err
}

// changedSince tells who changed a field and to what.
func changedSince(tx *sql.Tx, where string, change int64) error {
	var at, by, before, after string
	err := tx.QueryRow(`SELECT s.at, s.by, c.before, c.after FROM changes c JOIN change_sets s ON s.seq = c."set" WHERE c.seq = ?`, change).
		Scan(&at, &by, &before, &after)
	if err != nil {
		return err
	}
	return fault.New(fault.Input, where, fmt.Sprintf("it was changed in the meantime, through the %s at %s: from %s to %s", by, clock(at), told(before), told(after)),
		"look at the record again and, if it is still to be changed, change it once more", ErrChanged)
}

// clock writes a moment of the record, UTC by RFC 3339, as people read it.
func clock(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.UTC().Format("2006-01-02 15:04 UTC")
}

// told shortens a value for a message.
func told(value string) string {
	const most = 80
	if value == "" {
		return "nothing"
	}
	if r := []rune(value); len(r) > most {
		return string(r[:most]) + "…"
	}
	return value
}
