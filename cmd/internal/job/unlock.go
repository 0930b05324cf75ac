package job

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"

	"floatmark/loading/fault"
)

// unlockFile holds what the unlock word is checked against. It is no record: who
// can read the folder can read the records too, and a word that is forgotten is
// set anew.
const unlockFile = "unlock.txt"

// argon2id as RFC 9106 recommends it where 2 GiB are too much (section 4, second
// choice): 3 passes over 64 MiB, 4 lanes, 16 bytes of salt. The tag has 32 bytes.
const (
	unlockPasses      = 3
	unlockKiB         = 64 << 10
	unlockLanes       = 4
	unlockSalt        = 16
	unlockTag         = 32
	unlockMostKiB     = 1 << 20 // a file that asks for more is damaged
	unlockMostPasses  = 100
	unlockForm        = "$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s"
	unlockPermissions = 0o600
)

// How many letters an unlock word may have; own choice: a bench's word, behind a
// limit of tries.
const (
	UnlockLeast = 8
	UnlockMost  = 200
)

// SetUnlock sets the word that lets a phone change records and enter readings;
// "" takes it away. It is kept as a hash alone. Input error for a word that is too
// short, too long or no text.
func (w *Workshop) SetUnlock(word string) error {
	path := filepath.Join(w.Dir, unlockFile)
	if word == "" {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return machine(path, "cannot be taken away", err)
		}
		return nil
	}
	word = norm.NFC.String(word)
	switch n := utf8.RuneCountInString(word); {
	case !utf8.ValidString(word) || strings.ContainsFunc(word, func(r rune) bool { return r < ' ' }):
		return fault.Inputf("type it in letters, figures and blanks", "the unlock word is no text")
	case n < UnlockLeast || n > UnlockMost:
		return fault.Inputf("take some words in a row, 8 letters at least", "the unlock word has %d letters", n)
	}
	salt := make([]byte, unlockSalt)
	if _, err := rand.Read(salt); err != nil {
		return fault.New(fault.Machine, "", "no random numbers can be had", "try again", err)
	}
	tag := argon2.IDKey([]byte(word), salt, unlockPasses, unlockKiB, unlockLanes, unlockTag)
	b64 := base64.RawStdEncoding.EncodeToString
	line := fmt.Sprintf(unlockForm, argon2.Version, unlockKiB, unlockPasses, unlockLanes, b64(salt), b64(tag))
	return writeUnlock(path, line+"\n")
}

// writeUnlock puts the file there whole or not at all.
func writeUnlock(path, line string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return machine(filepath.Dir(path), "cannot be made", err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), unlockFile+".*") // only its owner may read it
	if err != nil {
		return machine(path, "cannot be written", err)
	}
	defer os.Remove(f.Name()) // gone by then when all is well
	_, err = f.WriteString(line)
	err = errors.Join(err, f.Chmod(unlockPermissions), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return machine(path, "cannot be written", err)
	}
	return nil
}

// HasUnlock reports whether an unlock word is set.
func (w *Workshop) HasUnlock() (bool, error) { return w.hasFile(unlockFile) }

// hasFile reports whether the workshop's folder has a file.
func (w *Workshop) hasFile(name string) (bool, error) {
	path := filepath.Join(w.Dir, name)
	_, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, machine(path, "cannot be read", err)
	}
	return true, nil
}

// UnlockMark is what tells the unlock word that is in force from any other: it is
// another as soon as a word is set, be it the same, and "" while there is none.
func (w *Workshop) UnlockMark() (string, error) {
	path := filepath.Join(w.Dir, unlockFile)
	src, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", nil
	case err != nil:
		return "", machine(path, "cannot be read", err)
	}
	sum := sha256.Sum256(src)
	return hex.EncodeToString(sum[:]), nil
}

// CheckUnlock reports whether a word is the unlock word; false when none is set. It
// takes about a tenth of a second and 64 MiB, on purpose.
func (w *Workshop) CheckUnlock(word string) (bool, error) {
	path := filepath.Join(w.Dir, unlockFile)
	src, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, machine(path, "cannot be read", err)
	}
	h, ok := parseUnlock(strings.TrimSpace(string(src)))
	if !ok {
		return false, fault.New(fault.Machine, path, "is damaged", "set the word anew: floatmark unlock")
	}
	if utf8.RuneCountInString(word) > UnlockMost {
		return false, nil
	}
	word = norm.NFC.String(word)
	tag := argon2.IDKey([]byte(word), h.salt, h.passes, h.kib, h.lanes, uint32(len(h.tag)))
	return subtle.ConstantTimeCompare(tag, h.tag) == 1, nil
}

// Secret returns 256 random bits as text for a cookie: what a session is known by,
// and what nobody guesses.
func Secret() (string, error) {
	const bytes = 32
	b := make([]byte, bytes)
	if _, err := rand.Read(b); err != nil {
		return "", fault.New(fault.Machine, "", "no random numbers can be had", "try again", err)
	}
	return base64.RawURLEncoding.EncodeToString(b), nil
}

// unlockHash is a line in the form that is used for argon2 everywhere.
type unlockHash struct {
	passes, kib uint32
	lanes       uint8
	salt, tag   []byte
}

func parseUnlock(line string) (h unlockHash, ok bool) {
	parts := strings.Split(line, "$")
	if len(parts) != 6 || parts[1] != "argon2id" {
		return h, false
	}
	var version int
	if _, err := fmt.Sscanf(parts[2], "v=%d", &version); err != nil || version != argon2.Version {
		return h, false
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &h.kib, &h.passes, &h.lanes); err != nil {
		return h, false
	}
	var err1, err2 error
	h.salt, err1 = base64.RawStdEncoding.DecodeString(parts[4])
	h.tag, err2 = base64.RawStdEncoding.DecodeString(parts[5])
	sound := h.kib >= 8 && h.kib <= unlockMostKiB && h.passes >= 1 && h.passes <= unlockMostPasses && h.lanes >= 1
	return h, sound && err1 == nil && err2 == nil && len(h.salt) >= 8 && len(h.tag) >= 16 && len(h.tag) <= 64
}
