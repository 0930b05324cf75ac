package batch

import (
	"math"
	"os"
	"strings"
	"testing"

	"floatmark/loading/body"
)

const smallStations = "stations_mm = [[0, 3.4], [30, 16], [54, 13.4], [174, 3]]"

// files are files beside a batch file.
type files map[string]string

func (f files) open(name string) ([]byte, error) {
	if s, ok := f[name]; ok {
		return []byte(s), nil
	}
	return nil, os.ErrNotExist
}

// shaped reads small with another shape, 174 mm long.
func shaped(shape string, beside files) (*File, error) {
	return Parse("dir/b.toml", []byte(strings.Replace(small, smallStations, shape, 1)), beside.open, nil)
}

// profileOf reads one shape by itself: a part alone is no whole float.
func profileOf(t *testing.T, shape string, beside files) body.Profile {
	t.Helper()
	r, err := newReader("b.toml")
	if err != nil {
		t.Fatal(err)
	}
	r.open = beside.open
	p, ok := r.profile(r.tree([]byte(shape)), "[[pattern]]")
	if err := r.err(); err != nil || !ok {
		t.Fatalf("%s:\n%s", shape, list(err))
	}
	return p
}

// Volumes of shapes as written in batch files against closed forms: frustum
// pi L (R² + R r + r²)/3, ellipsoid cut at both ends pi b² (L - L³/12a²), the half
// of a sphere and the half of an ellipsoid 2/3 pi b² a, a spherical cap and the
// cone that touches it at the half-angle asin(R/c) - atan(r/L), c from the centre to
// the edge of the point.
func TestShapeVolumes(t *testing.T) {
	frustum := func(d0, d1, l float64) float64 { return math.Pi * l * (d0*d0 + d0*d1 + d1*d1) / 12 }
	olive := func(d, ends, l float64) float64 {
		a2 := l * l / 4 / (1 - ends*ends/(d*d))
		return math.Pi * d * d / 4 * (l - l*l*l/(12*a2))
	}
	drop := func(d, point, l float64) float64 {
		r, up := d/2, l-d/2
		a := math.Asin(r/math.Hypot(up, point/2)) - math.Atan2(point/2, up)
		high := r * (1 + math.Sin(a))
		return math.Pi*high*high*(3*r-high)/3 + frustum(2*r*math.Cos(a), point, l-high)
	}
	for _, c := range []struct {
		shape  string
		volume float64
		per    float64 // tolerance, per cent
	}{
		{`shape_mm = [{cone = [4, 16], long = 30}, {parallel = 16, long = 20}, {stem = [16, 2], long = 124}]`,
			frustum(4, 16, 30) + frustum(16, 16, 20) + frustum(16, 2, 124), 1e-9},
		{`shape_mm = [{stem = 2.4, long = 40}, {olive = 14, ends = 2.4, long = 35}, {stem = 2.4, long = 100}]`,
			frustum(2.4, 2.4, 140) + olive(14, 2.4, 35), 0.01},
		{`shape_mm = [{ogive = [0, 16], long = 8}, {stem = 16, long = 160}, {ogive = [16, 0], long = 6}]`,
			2*math.Pi/3*64*8 + frustum(16, 16, 160) + 2*math.Pi/3*64*6, 0.01},
		{`shape_mm = [{drop = [14, 0], long = 40}]`, drop(14, 0, 40), 0.01},
		{`shape_mm = [{stem = 0.5, long = 30}, {drop = [0.5, 14], long = 40}]`, frustum(0.5, 0.5, 30) + drop(14, 0.5, 40), 0.01},
		{"shape_mm = [\n  {long = 60.0, parallel = 12},\n  {stem = [3, 2], long = 114},\n]", frustum(12, 12, 60) + frustum(3, 2, 114), 0.3}, // but for the shoulder
		{`stations_mm = [[0, 4], [30, 16], [174, 2]]`, frustum(4, 16, 30) + frustum(16, 2, 144), 1e-9},
		{`stations = "reed.csv"`, frustum(4, 16, 30) + frustum(16, 2, 144), 1e-9},
		{`outline = "M 2 0 L 8 -30 L 1 -174"`, frustum(4, 16, 30) + frustum(16, 2, 144), 1e-9},
	} {
		p := profileOf(t, c.shape, files{"reed.csv": "height;diameter\n0;4\n30;16\n174;2\n"})
		if got := p.Volume(0, p.Top()); math.Abs(got/c.volume-1)*100 > c.per {
			t.Errorf("%s: %v mm3, want %v", c.shape, got, c.volume)
		}
	}
}

// Pappus: the side of a body of revolution is the meridian's length times the way
// of its centroid, and its volume the half section's area times the way of that
// section's centroid; both sums taken from the drawing's points alone.
func TestPappus(t *testing.T) {
	// x is the distance from the axis, y the height: a body with a shoulder.
	points := [][2]float64{{2, 0}, {8, 30}, {6.7, 54}, {3, 60}, {1.5, 174}}
	length, lineMoment, area, areaMoment := 0.0, 0.0, 0.0, 0.0
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		l, h := math.Hypot(b[0]-a[0], b[1]-a[1]), b[1]-a[1]
		length += l
		lineMoment += l * (a[0] + b[0]) / 2
		area += h * (a[0] + b[0]) / 2
		areaMoment += h * (a[0]*a[0] + a[0]*b[0] + b[0]*b[0]) / 6
	}
	side := length * 2 * math.Pi * lineMoment / length
	volume := area * 2 * math.Pi * areaMoment / area
	svg := files{"reed.svg": `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="200mm" viewBox="0 0 1000 2000">
 <defs><path id="arrow" d="M 0 0 L 1 1"/></defs>
 <g id="layer"><path id="body" d="M 520 1900 L 580 1600 L 567 1360 L 530 1300 L 515 160"/></g></svg>`}
	for _, shape := range []string{
		`outline = {file = "reed.svg", axis_x = 500}`,
		`outline = {file = "reed.svg", id = "body", axis_x = 500, mm_per_unit = 0.1, tolerance_mm = 0.01}`,
		`outline = {path = "M 520 1900 L 580 1600 L 567 1360 L 530 1300 L 515 160", axis_x = 500, mm_per_unit = 0.1}`,
		`outline = {path = "M 0 98 L 30 92 L 54 93.3 L 60 97 L 174 98.5", axis_y = 100}`,
		`stations_mm = [[0, 4], [30, 16], [54, 13.4], [60, 6], [174, 3]]`,
	} {
		p := profileOf(t, shape, svg)
		if got := p.Volume(0, p.Top()); math.Abs(got/volume-1) > 1e-9 {
			t.Errorf("%s: %v mm3, want %v", shape, got, volume)
		}
		if got := p.Surface(0, p.Top()); math.Abs(got/side-1) > 1e-9 {
			t.Errorf("%s: %v mm2, want %v", shape, got, side)
		}
		if got := p.Meridian(0, p.Top()); math.Abs(got/length-1) > 1e-9 {
			t.Errorf("%s: %v mm, want %v", shape, got, length)
		}
	}
}

// What messages and the demonstration's comments show can be typed as it stands.
func TestExamplesOfShapes(t *testing.T) {
	svg := files{"reed.svg": `<svg width="210mm" height="297mm" viewBox="0 0 210 297"><path d="M 107 200 L 107 20"/></svg>`,
		"sedge.csv": "0,3\n174,3\n"}
	for _, f := range partForms {
		profileOf(t, "shape_mm = ["+f.example+"]", nil)
	}
	profileOf(t, outlineExample, svg)
	profileOf(t, "shape_mm = [{ogive = [2.4, 14], long = 8}, {ogive = [14, 2], long = 30}]", nil)
	told := 0
	for _, line := range strings.Split(string(demo), "\n") {
		key, _, _ := strings.Cut(strings.TrimLeft(line, "# "), " = ")
		if !strings.HasPrefix(line, "#   ") || !isShapeKey(key) {
			continue
		}
		told++
		shape := strings.TrimPrefix(line, "#   ")
		if at := strings.Index(shape, "   "); at > 0 {
			shape = shape[:at] // words of explanation
		} else if at := strings.Index(shape, "}  "); at > 0 {
			shape = shape[:at+1]
		}
		if p := profileOf(t, shape, svg); p.Length() == 0 {
			t.Errorf("%s: no body", shape)
		}
	}
	if told != len(shapeKeys)-1 {
		t.Errorf("the demonstration tells %d ways to give a shape", told)
	}
}

func TestHandMade(t *testing.T) {
	f, err := shaped("hand_made = true\n"+smallStations, nil)
	if err != nil || !f.Batch.Patterns[0].HandMade {
		t.Errorf("%v", err)
	}
	if f, err := shaped(smallStations, nil); err != nil || f.Batch.Patterns[0].HandMade {
		t.Errorf("%v", err)
	}
}

// badShapes are slips in a shape, with the findings that must come of each. The
// shape stands in line 22.
var badShapes = []struct{ name, shape, want string }{
	{"none", "", "dir/b.toml:17:3: [[pattern]] stations_mm is missing -> add stations_mm = [[0, 3.4], [30, 16], [54, 13.4], [174, 3]]\n"},
	{"two", smallStations + "\nshape_mm = [{stem = 3, long = 174}]",
		"dir/b.toml:23:1: [[pattern]] stations_mm and shape_mm both give the shape -> keep the one or the other\n"},
	{"zero inside", "stations_mm = [[0, 3], [30, 0], [174, 3]]",
		"dir/b.toml:22:33: [[pattern]] stations_mm: station 2: the diameter is 0 inside the body -> only the two ends may run out to nothing\n"},
	{"self-crossing", "stations_mm = [[0, 3], [40, 12], [30, 14], [174, 3]]",
		"dir/b.toml:22:34: [[pattern]] stations_mm: station 3: height 30 mm does not lie above the station before it, 40 mm -> list the stations from the base end up, at least 0.01 mm apart\n"},
	{"list for a file", "stations = [[0, 3.4], [174, 3]]",
		"dir/b.toml:22:12: [[pattern]] stations names a CSV file of stations -> write stations_mm = [[0, 3.4], [30, 16]] for a list\n"},
	{"file for a list", `stations_mm = "sedge.csv"`,
		"dir/b.toml:22:15: [[pattern]] stations_mm is no list of stations -> write stations = \"sedge.csv\"\n"},
	{"no such file", `stations = "reed.csv"`,
		"dir/b.toml:22:12: [[pattern]] stations: \"reed.csv\" cannot be read -> name a CSV file of heights and diameters that lies beside the batch file\n"},
	{"file elsewhere", `stations = "../sedge.csv"`,
		"dir/b.toml:22:12: [[pattern]] stations: \"../sedge.csv\" cannot be read -> name a CSV file of heights and diameters that lies beside the batch file\n"},
	{"file of bytes", `stations = "bytes.csv"`,
		"dir/bytes.csv:1: the file is no such text -> save it as a CSV file of heights and diameters in UTF-8, at most 4 MiB\n"},
	{"falling in a file", `stations = "sedge.csv"`,
		"dir/sedge.csv:4: station 3: height 20 mm does not lie above the station before it, 30 mm -> list the stations from the base end up, at least 0.01 mm apart\n"},
	{"file not from the base", `stations = "high.csv"`,
		"dir/high.csv:1: the first station is at 5 mm -> begin with the diameter at height 0, the base end\n"},
	{"hand_made", "hand_made = \"yes\"\n" + smallStations,
		"dir/b.toml:22:13: [[pattern]] hand_made is neither true nor false -> write true or false, without quotation marks\n"},

	{"text for parts", `shape_mm = "olive 14, 35"`,
		"dir/b.toml:22:12: [[pattern]] shape_mm is no list of parts -> write its parts from the base end up, as in " +
			"[{stem = 2.4, long = 30}, {olive = 14, ends = 2.4, long = 35}, {stem = 3, long = 60}]\n"},
	{"number for a part", `shape_mm = [3]`, "dir/b.toml:22:13: [[pattern]] shape_mm part 1 is no part -> write its parts from the base end up, as in " +
		"[{stem = 2.4, long = 30}, {olive = 14, ends = 2.4, long = 35}, {stem = 3, long = 60}]\n"},
	{"unknown part", `shape_mm = [{stem = 3, long = 40}, {oliv = 14, long = 35}]`, "dir/b.toml:22:37: [[pattern]] shape_mm part 2: unknown key oliv -> write \"olive\"\n"},
	{"unknown measure", `shape_mm = [{stem = 3, length = 40}]`, "dir/b.toml:22:24: [[pattern]] shape_mm part 1: unknown key length -> write \"long\"\n"},
	{"two in one", `shape_mm = [{stem = 3, olive = 14, long = 40}]`,
		"dir/b.toml:22:24: [[pattern]] shape_mm part 1 is both stem and olive -> put each part in braces of its own\n"},
	{"nothing", `shape_mm = [{stem = 3, long = 40}, {long = 40}]`,
		"dir/b.toml:22:36: [[pattern]] shape_mm part 2 has no shape -> say what it is: cone, parallel, stem, ogive, olive, drop\n"},
	{"no length", `shape_mm = [{stem = 3}]`,
		"dir/b.toml:22:14: [[pattern]] shape_mm part 1: long is missing -> add its length along the axis, as in {stem = 3, long = 60}\n"},
	{"one for two", `shape_mm = [{cone = 3, long = 174}]`,
		"dir/b.toml:22:21: [[pattern]] shape_mm part 1 cone: it takes the diameters of its lower and its upper end -> write it as in {cone = [4, 16], long = 30}\n"},
	{"two for one", `shape_mm = [{olive = [3, 4], long = 174}]`,
		"dir/b.toml:22:22: [[pattern]] shape_mm part 1 olive: it takes one diameter -> write it as in {olive = 14, ends = 2.4, long = 35}\n"},
	{"text in a part", `shape_mm = [{stem = "3 mm", long = 174}]`,
		"dir/b.toml:22:21: [[pattern]] shape_mm part 1 stem: \"3 mm\" is text, not a plain number -> write a number without quotation marks\n"},
	{"too thick", `shape_mm = [{cone = [3, 140], long = 174}]`, "dir/b.toml:22:25: [[pattern]] shape_mm part 1 cone = 140 is out of range -> give a number from 0 to 80 mm\n"},
	{"too long", `shape_mm = [{stem = 3, long = 1740}]`, "dir/b.toml:22:31: [[pattern]] shape_mm part 1 long = 1740 is out of range -> give a number from 0.01 to 600 mm\n"},
	{"too long together", `shape_mm = [{stem = 3, long = 500}, {stem = 3, long = 500}]`,
		"dir/b.toml:22:12: [[pattern]] shape_mm: station 3: height 1000 mm is not between 0 and 600 mm -> measure upwards from the base end, in mm\n"},
	{"no diameter", `shape_mm = [{stem = 0, long = 174}]`,
		"dir/b.toml:22:21: [[pattern]] shape_mm part 1 stem: the diameter is 0 -> give its diameter, as in {stem = 3, long = 60}\n"},
	{"no diameters", `shape_mm = [{cone = [0, 0], long = 174}]`,
		"dir/b.toml:22:21: [[pattern]] shape_mm part 1 cone: both diameters are 0 -> give the diameters of its ends, as in {cone = [4, 16], long = 30}\n"},
	{"pole on a stem", `shape_mm = [{stem = 3, long = 40}, {olive = 14, long = 134}]`,
		"dir/b.toml:22:37: [[pattern]] shape_mm part 2: the olive runs out to nothing inside the float -> say where it is cut off, as in ends = 2.4\n"},
	{"drop on a stem", `shape_mm = [{stem = 3, long = 40}, {drop = [14, 2], long = 134}]`,
		"dir/b.toml:22:37: [[pattern]] shape_mm part 2: the drop runs out to nothing inside the float -> " +
			"on a stem write it as two ogives, as in {ogive = [2.4, 14], long = 8}, {ogive = [14, 2], long = 30}\n"},
	{"wide ends", `shape_mm = [{olive = 14, ends = 14, long = 174}]`,
		"dir/b.toml:22:33: [[pattern]] shape_mm part 1: the ends are as wide as the olive -> give the diameter where it is cut off, or write parallel\n"},
	{"ends of a stem", `shape_mm = [{stem = 14, ends = 3, long = 174}]`,
		"dir/b.toml:22:32: [[pattern]] shape_mm part 1: no stem is cut off at its ends -> remove ends; it is of an olive\n"},
	{"a flat ogive", `shape_mm = [{ogive = [14, 14], long = 174}]`,
		"dir/b.toml:22:14: [[pattern]] shape_mm part 1: one diameter makes no ogive -> give two diameters that differ, or write parallel\n"},
	{"a short drop", `shape_mm = [{drop = [14, 2], long = 14}]`,
		"dir/b.toml:22:14: [[pattern]] shape_mm part 1: 14 mm are too short for a drop 14 mm wide -> make it longer, or write olive\n"},

	{"outline as a file's name", `outline = "reed.svg"`, "dir/b.toml:22:11: [[pattern]] outline is the name of a file, not a path -> " +
		"write outline = {file = \"reed.svg\", axis_x = 105}, with the x of the float's axis in the drawing\n"},
	{"outline of numbers", `outline = 3`, "dir/b.toml:22:11: [[pattern]] outline is no path -> " +
		"write it as path data, as in outline = \"M 2 0 L 8 -30 L 1.5 -150\", or as in outline = {file = \"reed.svg\", axis_x = 105}\n"},
	{"outline crosses", `outline = "M 2 0 L 8 -30 L 1 -20 L 1 -174"`,
		"dir/b.toml:22:11: [[pattern]] outline: the outline: it turns back along the axis at height 30 mm -> give an outline that runs from one end to the other without hooks\n"},
	{"outline over the axis", `outline = "M -2 0 L 8 -30 L 1 -174"`,
		"dir/b.toml:22:11: [[pattern]] outline: the outline crosses the axis, by 2 mm -> give one side only, and check where the axis is\n"},
	{"outline with an arc", `outline = {path = "M 2 0 A 8 8 0 0 0 1 -174"}`,
		"dir/b.toml:22:19: [[pattern]] outline: path, character 7: the path has an arc, 'A' -> turn arcs into curves (the drawing program's \"object to path\")\n"},
	{"outline of nothing", `outline = {axis_x = 3}`,
		"dir/b.toml:22:11: [[pattern]] outline has no path -> add path or file, as in outline = {file = \"reed.svg\", axis_x = 105}\n"},
	{"outline twice", `outline = {path = "M 2 0 L 2 -174", file = "reed.svg"}`,
		"dir/b.toml:22:37: [[pattern]] outline has both path and file -> keep the one or the other\n"},
	{"outline's slip", `outline = {path = "M 2 0 L 2 -174", mm_per_units = 2}`,
		"dir/b.toml:22:37: unknown key [[pattern]] outline mm_per_units -> write mm_per_unit\n"},
	{"outline without scale", `outline = {path = "M 2 0 L 2 -174", mm_per_unit = 0}`,
		"dir/b.toml:22:51: [[pattern]] outline: mm_per_unit is 0 -> write how many mm one unit of the drawing is, as in 0.2646\n"},
	{"two axes", `outline = {path = "M 2 0 L 2 -174", axis_x = 0, axis_y = 3}`,
		"dir/b.toml:22:49: [[pattern]] outline has both axis_x and axis_y -> keep axis_x for a float that is drawn upright, axis_y for one that lies with its tip to the right\n"},
	{"no axis", `outline = {file = "one.svg"}`, "dir/b.toml:22:11: [[pattern]] outline: axis_x is missing -> " +
		"add axis_x, the x of the float's axis in the drawing's units, or axis_y for a float that lies with its tip to the right\n"},
	{"no drawing", `outline = {file = "no.svg", axis_x = 0}`,
		"dir/b.toml:22:19: [[pattern]] outline: \"no.svg\" cannot be read -> name an SVG drawing that lies beside the batch file\n"},
	{"drawing of unknown size", `outline = {file = "plain.svg", axis_x = 0}`, "dir/b.toml:22:11: [[pattern]] outline: plain.svg does not say how long its unit is -> " +
		"add mm_per_unit, as in mm_per_unit = 0.2646 for a drawing in pixels of 96 to the inch\n"},
	{"moved drawing", `outline = {file = "moved.svg", axis_x = 0}`,
		"dir/moved.svg:2: the path is moved by a transform of g \"layer\" -> ungroup it until no transform is left, or draw it again on a new layer\n"},
	{"two paths", `outline = {file = "two.svg", axis_x = 0}`,
		"dir/two.svg:1: the drawing has 2 paths -> say which, as in id = \"left\"; its ids are: \"left\", \"right\"\n"},
	{"no such path", `outline = {file = "two.svg", id = "lefd", axis_x = 0}`,
		"dir/two.svg:1: the drawing has no path with the id \"lefd\" -> write \"left\"\n"},
	{"no path in it", `outline = {file = "empty.svg", axis_x = 0}`,
		"dir/empty.svg:1: the drawing has no path -> draw one side of the float as a path; turn other shapes into one (\"object to path\")\n"},
	{"broken drawing", `outline = {file = "broken.svg", axis_x = 0}`,
		"dir/broken.svg:2: the drawing cannot be read -> save it again as plain SVG, in UTF-8\n"},
	{"another drawing", `outline = {file = "page.svg", axis_x = 0}`, "dir/page.svg:1: this is no SVG drawing -> save the drawing as SVG\n"},
	{"id without a file", `outline = {path = "M 2 0 L 2 -174", id = "body"}`,
		"dir/b.toml:22:37: [[pattern]] outline: id without a file -> remove it; it names a path in a file\n"},
	{"hook in a drawing", `outline = {file = "hook.svg", axis_x = 0, mm_per_unit = 1}`,
		"dir/hook.svg:2: the outline: it turns back along the axis at height 90 mm -> give an outline that runs from one end to the other without hooks\n"},
}

var badFiles = files{
	"sedge.csv": "height,diameter\n0,3\n30,12\n20,14\n174,3\n", "high.csv": "5,3\n174,3\n", "bytes.csv": "0,3\x00\n",
	"one.svg":   `<svg><path d="M 2 0 L 2 -174"/></svg>`,
	"plain.svg": `<svg width="100%" height="100%" viewBox="0 0 1 1"><path d="M 2 0 L 2 -174"/></svg>`,
	"moved.svg": "<svg width='9mm' height='9mm'>\n<g id='layer' transform='scale(2)'><path d='M 2 0 L 2 -174'/></g></svg>",
	"two.svg":   `<svg><path id="left" d="M 2 0 L 2 -174"/><path id="right" d="M 2 0 L 2 -174"/></svg>`,
	"empty.svg": `<svg><rect width="3" height="9"/><clipPath><path d="M 2 0 L 2 -174"/></clipPath></svg>`, "broken.svg": "<svg>\n<g></svg>",
	"page.svg": "<html></html>", "hook.svg": "<svg>\n<path d='M 2 0 L 2 -90 L 3 -40 L 2 -174'/></svg>",
}

func TestBadShapes(t *testing.T) {
	for _, c := range badShapes {
		_, err := shaped(c.shape, badFiles)
		if got := list(err); got != c.want {
			t.Errorf("%s: %s\n got %s\nwant %s", c.name, c.shape, got, c.want)
		}
	}
}

// SVG's size and viewBox give the unit; CSS has 96 px to the inch.
func TestSVGScale(t *testing.T) {
	for _, c := range []struct {
		head string
		want float64 // mm per unit
	}{
		{`width="210mm" height="297mm" viewBox="0 0 210 297"`, 1},
		{`width="21cm" height="29.7cm" viewBox="0 0 2100 2970"`, 0.1},
		{`width="96" height="192"`, 25.4 / 96},
		{`width="72pt" height="144pt" viewBox="0 0 72 144"`, 25.4 / 72},
		{`width="1in" height="2in" viewBox="0 0 6 12"`, 25.4 / 6},
		{`width="210mm" height="200mm" viewBox="0 0 210 297"`, 0}, // would be stretched
		{`viewBox="0 0 210 297"`, 0},
		{`width="0" height="0"`, 0},
	} {
		got, err := svgPath([]byte("<svg "+c.head+"><path d='M 0 0'/></svg>"), "")
		if err != nil || math.Abs(got.scale-c.want) > 1e-12 {
			t.Errorf("%s: %v mm, want %v; %v", c.head, got.scale, c.want, err)
		}
	}
}

// Whatever stands behind shape_mm is a body or is told.
func FuzzShape(f *testing.F) {
	for _, s := range []string{"[{stem = 3, long = 174}]", "[{drop = [14, 2], long = 40}, {stem = [2, 1], long = 150}]",
		"[{ogive = [0, 14], long = 7}, {olive = 14, ends = 3, long = 170}]", "[{cone = [1, 0], long = 1e-9}]", "{}", "[{}]", "[[{stem = 0x3}]]"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, shape string) {
		if strings.ContainsAny(shape, "\n\r") {
			t.Skip("another line")
		}
		got, err := shaped("shape_mm = "+shape, nil)
		if err != nil {
			for _, line := range strings.Split(strings.TrimSpace(list(err)), "\n") {
				if !strings.HasPrefix(line, "dir/b.toml:") || strings.HasSuffix(line, "-> ") {
					t.Errorf("%q: %s", shape, line)
				}
			}
			return
		}
		p := got.Batch.Patterns[0].Profile
		if _, err := body.New(p.Stations()); err != nil || p.Base() != 0 || !(p.Volume(0, p.Top()) > 0) {
			t.Errorf("%q: %v, %v", shape, p.Stations(), err)
		}
	})
}

// Whatever the drawing is, its path is found or the drawing is told off.
func FuzzSVGPath(f *testing.F) {
	for _, s := range badFiles {
		f.Add(s, "left")
	}
	f.Fuzz(func(t *testing.T, src, id string) {
		got, err := svgPath([]byte(src), id)
		if (err == nil) != (got.data != "" && (got.held == "" || got.held == hidden)) && err == nil {
			t.Errorf("%q: %+v, %v", src, got, err)
		}
		if !(got.scale >= 0 && got.scale <= mostOutlineScale) {
			t.Errorf("%q: %v mm a unit", src, got.scale)
		}
		_, err = shaped(`outline = {file = "f.svg", axis_x = 0}`, files{"f.svg": src})
		if err != nil && list(err) == "" {
			t.Errorf("%q: told nothing", src)
		}
	})
}
