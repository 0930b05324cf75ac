package bench

import (
	"fmt"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/words"
)

// The ways to say a shape, as the form names them.
const (
	byStations = "stations"
	byParts    = "parts"
	byFile     = "file"
)

// patternForm is a pattern to be typed.
type patternForm struct {
	Place     int
	Key, Name string
	Kinds     []option
	Lines     []option
	Weights   []option
	Varnishes []option
	HandMade  bool
	Colours   []colourField
	Waterline string
	TipFrom   string
	Material  string
	Allowance []option
	Shape     string // byStations, byParts or byFile
	Stations  []stationRow
	Parts     []partRow
	File      string // that the shape is read from
	Level     bool   // its float lies
	Axis, ID  string
	Scale     string
}

type colourField struct{ Key, Label, Hint, Value, Shown string }

// stationRow is a station to be typed.
type stationRow struct {
	Place  int
	Z, D   string
	Runs   []option
	Corner bool
}

// partRow is a part of a parametric shape to be typed.
type partRow struct {
	Place            int
	Forms            []option
	From, To, A, Len string // diameters at its ends, cut off at, length
}

var (
	lineFixings = []option{{Key: "bottom end", Name: "at the bottom end"}, {Key: "top and bottom", Name: "at top and bottom"}, {Key: "sliding", Name: "sliding"}}
	weightSides = []option{{Key: "", Name: "nothing is built in"}, {Key: "inside", Name: "inside the hull"}, {Key: "outside", Name: "outside, in the water"}}
	allowances  = []option{{Key: "", Name: "nothing comes after the test"}, {Key: "varnish and decal", Name: "mark and varnish come after the test"}, {Key: "full paint", Name: "all paint comes after the test"}}
	runKinds    = []option{{Key: "straight", Name: "straight"}, {Key: "curved", Name: "curved"}, {Key: "round", Name: "round"}}
	partForms   = []option{{Key: "", Name: "no part"}, {Key: "cone", Name: "cone"}, {Key: "parallel", Name: "parallel"}, {Key: "stem", Name: "stem"},
		{Key: "ogive", Name: "ogive"}, {Key: "olive", Name: "olive"}, {Key: "drop", Name: "drop"}}
)

// Rows that are free below what is there, for typing without scripts.
const (
	blankStations = 2
	blankParts    = 3
	mostRows      = 500 // of a form, as many as a body may have
)

// patternFormOf fills the form from a document.
func patternFormOf(m words.Measures, d *batch.Doc, i int) patternForm {
	at := fmt.Sprintf("pattern/%d/", i)
	text := func(key string) string { return d.Text(at + key) }
	handMade, _ := d.Get(at + "hand_made")
	varnishes := []option{}
	for _, v := range label.VarnishNames() {
		varnishes = append(varnishes, option{Key: v, Name: v})
	}
	f := patternForm{Place: i, Key: text("key"), Name: text("name"), Kinds: chosen(floatKinds, text("kind")), Lines: chosen(lineFixings, text("line")),
		Weights: chosen(weightSides, text("weight")), Varnishes: chosen(varnishes, text("varnish")), HandMade: handMade == true,
		Material: m.Told(text("material")), Allowance: offered(allowances, text("allowance"))}
	length := func(key string) string {
		v, _ := d.Get(at + key)
		return aLength.shown(m, v)
	}
	f.Waterline, f.TipFrom = length("waterline_mm"), length("tip_from_mm")
	f.Colours = []colourField{
		{Key: "body", Label: "Paint of the body", Value: text("body"), Hint: "A colour is typed by its name, such as red or olive, or as in #2b6cb0."},
		{Key: "tip", Label: "Paint of the tip", Value: text("tip")},
		{Key: "ground", Label: "Pale band under the mark", Value: text("ground"), Hint: "Only for clear film: the paint that the mark is seen on. Leave it empty for none."},
	}
	for i := range f.Colours {
		if c, err := label.ParseColour(f.Colours[i].Value); err == nil {
			f.Colours[i].Shown = c.String()
		}
	}
	f.shapeOf(m, d, at)
	return f
}

func (f *patternForm) shapeOf(m words.Measures, d *batch.Doc, at string) {
	f.Shape = byStations
	if v, ok := d.Get(at + "shape_mm"); ok {
		f.Shape = byParts
		list, _ := v.([]any)
		for _, one := range list {
			t, _ := one.(map[string]any)
			f.Parts = append(f.Parts, partRowOf(m, len(f.Parts), t))
		}
	}
	for range blankParts {
		f.Parts = append(f.Parts, partRowOf(m, len(f.Parts), nil))
	}
	if v, ok := d.Get(at + "stations"); ok {
		f.Shape, f.File = byFile, fmt.Sprint(v)
	}
	if v, ok := d.Get(at + "outline"); ok {
		f.Shape = byFile
		if t, ok := v.(map[string]any); ok {
			f.File, _ = t["file"].(string)
			f.ID, _ = t["id"].(string)
			f.Scale = aNumber.shown(m, t["mm_per_unit"])
			f.Axis = aNumber.shown(m, t["axis_x"])
			if y := aNumber.shown(m, t["axis_y"]); y != "" {
				f.Axis, f.Level = y, true
			}
		}
	}
	v, _ := d.Get(at + "stations_mm")
	list, _ := v.([]any)
	for _, one := range list {
		f.Stations = append(f.Stations, stationRowOf(m, len(f.Stations), one))
	}
	for range blankStations {
		f.Stations = append(f.Stations, stationRow{Place: len(f.Stations), Runs: chosen(runKinds, "straight")})
	}
}

func stationRowOf(m words.Measures, i int, v any) stationRow {
	row := stationRow{Place: i}
	kind := "straight"
	list, _ := v.([]any)
	for n, x := range list {
		word, isWord := x.(string)
		switch {
		case n == 0:
			row.Z = aLength.shown(m, x)
		case n == 1:
			row.D = aLength.shown(m, x)
		case isWord && word == "corner":
			row.Corner = true
		case isWord:
			kind = word
		}
	}
	row.Runs = chosen(runKinds, kind)
	return row
}

func partRowOf(m words.Measures, i int, t map[string]any) partRow {
	row := partRow{Place: i, Forms: chosen(partForms, ""), Len: aLength.shown(m, t["long"]), A: aLength.shown(m, t["ends"])}
	for _, o := range partForms[1:] {
		v, ok := t[o.Key]
		if !ok {
			continue
		}
		row.Forms = chosen(partForms, o.Key)
		if list, ok := v.([]any); ok && len(list) == 2 {
			row.From, row.To = aLength.shown(m, list[0]), aLength.shown(m, list[1])
		} else {
			row.From = aLength.shown(m, v)
		}
	}
	return row
}
