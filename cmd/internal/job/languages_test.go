package job

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
)

// inLanguage is the demo in another language with six of its floats: tested and
// about, small and large, weighted with brass and with lead, unloaded in two
// pieces, and lengthwise.
func inLanguage(t *testing.T, tag string) []byte {
	t.Helper()
	src := batch.Demo()
	head, floats, ok := bytes.Cut(src, []byte("\n[[float]]\n"))
	if !ok {
		t.Fatal("the demo has no floats")
	}
	out := regexp.MustCompile(`(?m)^language = .*$`).ReplaceAll(head, []byte(`language = "`+tag+`"`))
	for _, f := range bytes.Split(floats, []byte("\n[[float]]\n")) {
		for _, n := range []int{1, 6, 7, 13, 17, 22} {
			if bytes.HasPrefix(f, []byte("number = "+strconv.Itoa(n)+"\n")) {
				out = append(append(out, "\n[[float]]\n"...), f...)
			}
		}
	}
	return out
}

// printedTexts gathers what stands on sheets, each text once, with how often.
func printedTexts(title string, sheets []*draw.Sheet) string {
	count := map[string]int{}
	for _, s := range sheets {
		for _, l := range draw.Layers() {
			draw.Walk(s.Layers[l], func(o draw.Op, _ geom.Affine, _ bool) {
				if g, ok := o.(*draw.Glyphs); ok {
					count[g.Text]++
				}
			})
		}
	}
	var all []string
	for text, n := range count {
		all = append(all, fmt.Sprintf("%d x %s", n, text))
	}
	slices.Sort(all)
	return "# " + title + "\n" + strings.Join(all, "\n") + "\n"
}

// meeting returns two texts of a sheet that lie on one another; "" for none.
func meeting(s *draw.Sheet) string {
	var boxes []geom.Rect
	var texts []string
	for _, l := range draw.Layers() {
		draw.Walk(s.Layers[l], func(o draw.Op, at geom.Affine, _ bool) {
			if g, ok := o.(*draw.Glyphs); ok {
				boxes = append(boxes, draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{g}}}))
				texts = append(texts, g.Text)
			}
		})
	}
	for i, a := range boxes {
		for j := range i {
			if a.Inset(0.01).Overlaps(boxes[j]) {
				return fmt.Sprintf("%q and %q", texts[j], texts[i])
			}
		}
		if !geom.XYWH(0, 0, s.Size.W, s.Size.H).Contains(a) {
			return fmt.Sprintf("%q and the edge", texts[i])
		}
	}
	return ""
}

// A batch prints whole in every language: the same lines on each mark as in
// English, nothing on anything else, and the words that are in testdata.
func TestEveryLanguagePrintsWhole(t *testing.T) {
	kept := map[string][]string{} // what the marks show in English, by float
	for _, tag := range words.Tags() {
		shop, path, err := preview(Demo(t.TempDir()))
		if err != nil {
			t.Fatal(err)
		}
		shop.Shop = &ForShop{}
		plan, err := shop.PlanSource(t.Context(), path, inLanguage(t, tag), nil)
		if err != nil {
			t.Fatalf("%s: %v", tag, err)
		}
		var marks []string
		for _, f := range plan.Floats {
			var lines, roles []string
			for _, l := range f.Decal.Printed {
				lines, roles = append(lines, l.Text), append(roles, fmt.Sprint(l.Role))
			}
			slices.Sort(roles)
			number := strconv.Itoa(f.Float.Number)
			roles = append(roles, fmt.Sprintf("code %v, %v", f.Decal.CodeOn, f.Decal.Turn == label.Lengthwise))
			if tag == words.Tags()[0] {
				kept[number] = roles
			}
			if !slices.Equal(roles, kept[number]) {
				t.Errorf("%s: float %s shows %v, in English %v", tag, number, roles, kept[number])
			}
			marks = append(marks, number+": "+strings.Join(lines, " | "))
		}
		note, err := plan.orderNote()
		if err != nil {
			t.Fatalf("%s: %v", tag, err)
		}
		for _, sheets := range [][]*draw.Sheet{plan.Backers, plan.JobSheets, {note}} {
			for _, s := range sheets {
				if m := meeting(s); m != "" {
					t.Errorf("%s: %s: %s meet", tag, s.Name, m)
				}
			}
		}
		got := "# marks\n" + strings.Join(marks, "\n") + "\n" + printedTexts("cards", plan.Backers) + printedTexts("job sheet", plan.JobSheets) +
			printedTexts("order", []*draw.Sheet{note}) + printedTexts("proof", plan.Proof)
		golden.Check(t, "printed-"+tag+".txt", got, os.ReadFile, os.WriteFile)
	}
}
