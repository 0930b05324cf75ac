package backer

import (
	"bytes"
	"os"
	"testing"

	"floatmark/layouts/draw/golden"
	"floatmark/layouts/png"
)

// Each arrangement as it looks at 150 dots an inch, front and back, with short and
// with long content: pictures that were looked at.
func TestPicturesOfArrangements(t *testing.T) {
	all := looks(t)
	for _, name := range ArrangementNames() {
		for _, long := range []string{"", "-long"} {
			laid, err := Lay(all[name+"-2"+long])
			if err != nil {
				t.Fatal(err)
			}
			for i, page := range laid.Single() {
				var buf bytes.Buffer
				if err := png.Write(&buf, page, 150); err != nil {
					t.Fatal(err)
				}
				side := [...]string{"front", "back"}[i]
				golden.Picture(t, "picture-"+name+long+"-"+side+".png", buf.Bytes(), os.ReadFile, os.WriteFile)
			}
		}
	}
}
