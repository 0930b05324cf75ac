package batch

import (
	"strings"
	"testing"
)

// Stickers for boxes are printed on what is named, a maker's own labels too, and on
// no film; the board's pitch is a length that a number fits in.
func TestBoxesAndBoard(t *testing.T) {
	with := func(line string) string { return strings.Replace(small, "[tank]", line+"\n[tank]", 1) }
	f, err := Parse("b.toml", []byte(small), nil, nil)
	if err != nil || f.Boxes != "" || f.Board != 0 {
		t.Fatalf("%q, %v, %v: nothing was asked for", f.Boxes, f.Board, err)
	}
	for line, want := range map[string]string{`boxes = "a4-sticker"`: "a4-sticker", `boxes = "a5-paper-label"`: "a5-paper-label", `boxes = "a4-card"`: "a4-card",
		"boxes = \"mine\"\n[[own_stock]]\nkey = \"mine\"\nlike = \"a4-sticker\"\n": "mine"} {
		f, err := Parse("b.toml", []byte(with(line)), nil, nil)
		if err != nil || f.Boxes != want {
			t.Errorf("%s: %q, %v", line, f.Boxes, err)
		}
	}
	if f, err := Parse("b.toml", []byte(with("board_mm = 24.5")), nil, nil); err != nil || f.Board != 24.5 {
		t.Errorf("board of %v, %v", f.Board, err)
	}
	for line, want := range map[string]string{
		`boxes = "a4-film-white"`: `b.toml:11:9: [print] boxes: "a4-film-white" is no sticker, card or paper`,
		`boxes = "by-hand"`:       `b.toml:11:9: [print] boxes: "by-hand" is no sticker, card or paper`,
		`boxes = "a4-stickers"`:   `b.toml:11:9: [print] boxes: there is no stock "a4-stickers" -> write "a4-sticker"`,
		`board_mm = 5`:            `b.toml:11:12: [print] board_mm = 5 is out of range -> give a number from 9 to 150 mm`,
		`board_mm = "24 mm"`:      `b.toml:11:12: [print] board_mm`,
	} {
		if _, err := Parse("b.toml", []byte(with(line)), nil, nil); err == nil || !strings.HasPrefix(list(err), want) {
			t.Errorf("%s\ngot  %swant %s…", line, list(err), want)
		}
	}
}
