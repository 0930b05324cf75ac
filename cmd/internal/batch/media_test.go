package batch

import (
	"strings"
	"testing"

	"floatmark/loading/fault"
)

// Marks go on film of any medium, on stickers or by hand; never on card, and
// backers never on film or by hand.
func TestFilmOfEveryMedium(t *testing.T) {
	with := func(line string) (string, error) {
		f, err := Parse("b.toml", []byte(strings.Replace(small, `film = "a4-film-white"`, line, 1)), nil, nil)
		if err != nil {
			return "", err
		}
		return f.Film, nil
	}
	for _, key := range []string{"a4-film-clear", "a5-tissue", "letter-rub-on", "a4-skin-transfer", "a4-paper-label", "a3-sticker", "by-hand"} {
		if got, err := with(`film = "` + key + `"`); err != nil || got != key {
			t.Errorf("film %q: %q, %v", key, got, err)
		}
	}
	for line, want := range map[string]string{
		`film = "a4-card"`:                           "is no film or sticker",
		`film = "a4-paper"`:                          "is no film or sticker",
		"film = \"a4-rub-on\"\ncard = \"by-hand\"":   "is no card or paper",
		"film = \"a4-rub-on\"\ncard = \"a4-tissue\"": "is no card or paper",
	} {
		if _, err := with(line); fault.ClassOf(err) != fault.Input || err == nil || !strings.Contains(list(err), want) {
			t.Errorf("%s: %v, want %q", line, err, want)
		}
	}
}
