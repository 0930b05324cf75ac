package job

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/jobsheet"
)

// planned plans six floats of the demonstration with some of its lines changed.
func planned(t *testing.T, edits ...string) *Plan {
	t.Helper()
	shop, path, err := preview(Demo(t.TempDir()))
	if err != nil {
		t.Fatal(err)
	}
	src := string(inLanguage(t, "en"))
	for i := 0; i+1 < len(edits); i += 2 {
		if !strings.Contains(src, edits[i]) {
			t.Fatalf("the demo has no %q", edits[i])
		}
		src = strings.Replace(src, edits[i], edits[i+1], 1)
	}
	plan, err := shop.PlanSource(t.Context(), path, []byte(src), nil)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// labels is a sheet of die-cut labels, as a maker writes it down.
const labels = `[[own_stock]]
key = "labels"
like = "a4-sticker"
grid = { rows = 8, columns = 3, first_mm = [7, 10], cell_mm = [64, 34], pitch_mm = [66, 34.6] }

[tank]`

// The map shows what the decal sheets have: each piece's outline is the one that is
// drawn there to be cut, also where the sheet is mirrored, and each float is sent to
// the field its piece lies in.
func TestMapsAgreeWithDecalSheets(t *testing.T) {
	for name, edits := range map[string][]string{
		"tight":    {`# fill = "strip" `, `fill = "tight" # `, "# spares = 1 ", "spares = 1 "},
		"mirrored": {`film = "a4-film-white"`, `film = "a4-rub-on"`},
	} {
		p := planned(t, edits...)
		bench := words.BenchSheetFor("en")
		maps, fields := p.maps(bench)
		if len(maps) != len(p.Laid) || len(maps) == 0 {
			t.Fatalf("%s: %d maps, %d sheets", name, len(maps), len(p.Laid))
		}
		found := map[string]bool{} // number, page and field
		for i, m := range maps {
			var cuts []geom.Path
			draw.Walk(p.Laid[i].Sheet.Layers[draw.Cut], func(o draw.Op, at geom.Affine, _ bool) {
				if s, ok := o.(*draw.Stroke); ok {
					cuts = append(cuts, s.Path.Transform(at))
				}
			})
			if len(cuts) != len(m.Pieces) || len(cuts) < 6 {
				t.Fatalf("%s: page %d: %d pieces on the map, %d on the sheet", name, i+1, len(m.Pieces), len(cuts))
			}
			for k, c := range cuts {
				for j, seg := range c {
					got := m.Pieces[k].Outline[j]
					for n := range seg.P {
						if got.P[n].Sub(seg.P[n]).Len() > 1e-6 {
							t.Fatalf("%s: page %d, piece %s: %v, on the sheet %v", name, i+1, m.Pieces[k].Name, got, seg)
						}
					}
				}
				b := c.Bounds()
				found[m.Pieces[k].Name+" "+strconv.Itoa(i+1)+" "+jobsheet.Field(m.Size, geom.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2})] = true
			}
		}
		for i, fp := range p.Floats {
			if len(fields[i]) != len(fp.Decal.Pieces) {
				t.Errorf("%s: float %d has %d pieces, %v", name, fp.Float.Number, len(fp.Decal.Pieces), fields[i])
			}
			for _, f := range fields[i] {
				if !found[strconv.Itoa(fp.Float.Number)+" "+f] {
					t.Errorf("%s: float %d is sent to %s, where it is not", name, fp.Float.Number, f)
				}
			}
		}
	}
}

// On labels every piece is on the label that is spent for it.
func TestMapsOfLabels(t *testing.T) {
	p := planned(t, `film = "a4-film-white"`, `film = "labels"`, "[tank]", labels)
	maps, _ := p.maps(words.BenchSheetFor("en"))
	n := 0
	for i, m := range maps {
		if len(m.Labels) != 24 || len(m.Pieces) != len(p.Laid[i].Spent) {
			t.Fatalf("page %d: %d labels, %d pieces, %d spent", i+1, len(m.Labels), len(m.Pieces), len(p.Laid[i].Spent))
		}
		for k, piece := range m.Pieces {
			if !p.Laid[i].Spent[k].Bounds().Inset(-0.01).Contains(piece.Outline.Bounds()) {
				t.Errorf("page %d: %s at %v is off its label %v", i+1, piece.Name, piece.Outline.Bounds(), p.Laid[i].Spent[k].Bounds())
			}
			n++
		}
	}
	if n < len(p.Floats) {
		t.Errorf("%d pieces of %d floats", n, len(p.Floats))
	}
	if guides, _ := p.guides(words.BenchSheetFor("en")); len(guides) > 0 {
		t.Error("where to cut labels, which are cut already")
	}
}

// The guide's pieces are life size on the job sheet, and scissors go where practice
// has it: on clear waterslide film 0.75 mm outside the mark at free edges and on the
// line at the seam; on white film on the line all round.
func TestGuidesAreLifeSize(t *testing.T) {
	clear := planned(t, `film = "a4-film-white"`, `film = "a4-film-clear"`)
	white := planned(t)
	for _, c := range []struct {
		p   *Plan
		out float64
	}{{clear, 0.75}, {white, 0}} {
		guides, notes := c.p.guides(words.BenchSheetFor("en"))
		if len(guides) < 5 || len(notes) == 0 {
			t.Fatalf("%d guides, %q", len(guides), notes)
		}
		k := 0
		for _, fp := range c.p.firsts() {
			for _, piece := range fp.Decal.Pieces {
				g := guides[k]
				k++
				f := piece.Flat
				// Along the middle the piece is its slant high, and so far beyond it.
				b := g.Cut.Bounds()
				if top := f.At(0, f.Slant+c.out).Y; f.Rect && math.Abs(b.Min.Y-top) > 1e-6 || b.Min.Y > top+1e-6 {
					t.Errorf("%s: the cut begins at %v, want %v", g.Title, b.Min.Y, top)
				}
				if c.out == 0 && math.Abs(g.Cut.Area(0.001))-math.Abs(g.Mark.Area(0.001)) > 1e-6 {
					t.Errorf("%s: on white film the cut leaves the line", g.Title)
				}
				for _, s := range g.Seams {
					// The seam's two ends lie on the line that the mark's side is.
					for _, q := range []geom.Point{s[0].P[0], s[1].P[0]} {
						theta, _ := f.Place(q)
						if math.Min(math.Abs(theta-f.Left()), math.Abs(theta-f.Right())) > 1e-9 {
							t.Errorf("%s: a seam is cut at %v, the sides are %v and %v", g.Title, theta, f.Left(), f.Right())
						}
					}
				}
				if want := map[bool]int{true: 2}[c.out > 0 && (f.Overlap != 0 || f.Right()-f.Left() > 6.28)]; len(g.Seams) != want {
					t.Errorf("%s: %d seams, want %d", g.Title, len(g.Seams), want)
				}
			}
		}
		// Drawn on the sheet it measures what it measures flat.
		var drawn []geom.Rect
		for _, s := range c.p.JobSheets {
			draw.Walk(s.Layers[draw.Cut], func(o draw.Op, at geom.Affine, _ bool) {
				if st, ok := o.(*draw.Stroke); ok {
					drawn = append(drawn, st.Path.Transform(at).Bounds())
				}
			})
		}
		for _, g := range guides {
			b := g.Cut.Bounds()
			if !slices.ContainsFunc(drawn, func(d geom.Rect) bool {
				const fine = 0.01
				return math.Abs(d.W()-b.W()) < fine && math.Abs(d.H()-b.H()) < fine || math.Abs(d.W()-b.H()) < fine && math.Abs(d.H()-b.W()) < fine
			}) {
				t.Errorf("%s: no cut of %v by %v mm is on the sheets", g.Title, b.W(), b.H())
			}
		}
	}
}

// What the bench reads of each float: its tested sum, what is left to trim, its
// ring, and how its code is read.
func TestJobSheetTellsWhatToDo(t *testing.T) {
	told := func(p *Plan) (all string) {
		for _, s := range p.JobSheets {
			all += s.Dump()
		}
		return all
	}
	all := told(planned(t, `reading = "0.93 g"`, `reading = "0.88 g"`, "# board_mm", "board_mm")) // float 13 takes a little less than it should
	for _, want := range []string{`"take off 0.`, `"± 0.03 g"`, `"not tested"`, `"held square"`, `"on the card"`, `"from tip, upper edge"`, `"WHERE TO CUT, LIFE SIZE"`,
		`"WHICH DECAL LIES WHERE"`, `life size, 24 mm from one number to the next`} {
		if !strings.Contains(all, want) {
			t.Errorf("no %s on the job sheet", want)
		}
	}
	clear := planned(t, `film = "a4-film-white"`, `film = "a4-film-clear"`)
	all = told(clear)
	rings := 0
	for i := range clear.Floats {
		for _, r := range clear.grounds(&clear.Floats[i]) {
			rings++
			if !strings.Contains(all, `"`+r.Span+`"`) {
				t.Errorf("float %d: no ring %s in the table", clear.Floats[i].Float.Number, r.Span)
			}
		}
	}
	if rings == 0 || !strings.Contains(all, `"ground`) {
		t.Errorf("%d rings under clear film on dark paint", rings)
	}
}
