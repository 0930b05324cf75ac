package job

import (
	"encoding/json"
	"fmt"
	"strings"

	"floatmark/label"
)

// figures is what a mark says, id, code and dedication apart.
type figures struct {
	Format  int         `json:"format"`
	Pattern string      `json:"pattern"`
	Band    string      `json:"band"`
	Tally   label.Tally `json:"rings"`
	Lines   []string    `json:"lines"`
}

// FiguresKey names what is printed on a mark: marks of the same key can stand for
// each other. lines are those really on it.
func FiguresKey(pattern string, m label.Mark, lines []label.Line) string {
	k := figures{1, pattern, m.Band.String(), m.Tally, nil}
	for _, l := range lines {
		if l.Role != label.RoleID && l.Role != label.RoleDedication {
			k.Lines = append(k.Lines, l.Text)
		}
	}
	text, err := json.Marshal(k)
	if err != nil { // strings and whole numbers always have a JSON
		return fmt.Sprint(k)
	}
	return string(text)
}

// figuresText is a key for people: "8 g · add 0.8 g".
func figuresText(key string) string {
	var k figures
	if json.Unmarshal([]byte(key), &k) != nil || len(k.Lines) == 0 {
		return key
	}
	return strings.Join(k.Lines, " · ")
}
