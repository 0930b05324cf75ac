package backer

import (
	"slices"

	"floatmark/layouts/geom"
)

// Format is a size that cards are cut to, upright.
type Format struct {
	Key    string // as batch files name it: "third-a4"
	Size   geom.Size
	Source string
}

// Formats returns the sizes with a name, from the smallest area up. What has no
// standard is the trade's, from memory: narrow cards of 60 to 70 mm hang closer
// on a rail, and 297 mm is the height of A4.
func Formats() []Format {
	all := []Format{
		{"a7", geom.Size{W: 74, H: 105}, "ISO 216"},
		{"a6", geom.Size{W: 105, H: 148}, "ISO 216"},
		{"a5", geom.Size{W: 148, H: 210}, "ISO 216"},
		{"narrow", geom.Size{W: 65, H: 210}, "common practice, no source: 60 to 70 mm wide"},
		{"narrow-long", geom.Size{W: 65, H: 270}, "common practice, no source: as high as A4 lets be marked"},
		{"third-a4", geom.Size{W: 99, H: 210}, "a third of A4, ISO 216: 297/3"},
		{"long", geom.Size{W: 99, H: 270}, "own choice: a third of A4 wide, as high as A4 lets be marked"},
	}
	slices.SortFunc(all, func(a, b Format) int {
		switch x, y := a.Size.W*a.Size.H, b.Size.W*b.Size.H; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return all
}

// FormatByKey finds a size by its name.
func FormatByKey(key string) (Format, bool) {
	for _, f := range Formats() {
		if f.Key == key {
			return f, true
		}
	}
	return Format{}, false
}

// Next returns the smallest named size that is as wide as size and has room for
// a float of that length, mm; false when there is none.
func Next(size geom.Size, long float64) (Format, bool) {
	for _, f := range Formats() {
		if f.Size.W >= size.W && f.Size.H >= long+2*Safe && f.Size.H >= size.H {
			return f, true
		}
	}
	return Format{}, false
}
