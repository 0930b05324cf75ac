package bench

import (
	"context"
	"slices"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// A place in the text is the table that stands there.
func TestTableAt(t *testing.T) {
	src := []byte("format = 1\n[maker]\nname = 1\n[[pattern]]\nkey = 2\n[[pattern.mark]]\nshow = 3\n[[pattern]]\nkey = 4\n[[float]]\nnumber = 5\n[[float.setup]]\nname = 6\n[[float]]\nnumber = 7\n")
	for where, want := range map[string]struct {
		table string
		n     int
	}{"b:1:1": {"", 0}, "b.toml:3:1": {"maker", 0}, "b:7:4": {"pattern", 0}, "b:9:1": {"pattern", 1}, "b:13:1": {"float", 0}, "b:15:9": {"float", 1}} {
		if table, n, ok := tableAt(src, "b", where); !ok || table != want.table || n != want.n {
			t.Errorf("%s: %q %d %v", where, table, n, ok)
		}
	}
	for _, where := range []string{"", "b", "floats.csv:3", "c:3:1", "b:x:1"} {
		if _, _, ok := tableAt(src, "b", where); ok {
			t.Errorf("%q is a place of b", where)
		}
	}
}

// What a new batch has not yet said is no alarm but the way on; slips are told by
// what they are of.
func TestTold(t *testing.T) {
	a := atBench(t)
	d, err := a.shop.NewDraft(context.Background(), "26-11", job.ByBench)
	if err != nil {
		t.Fatal(err)
	}
	yet, slips := told(d, d.Err)
	if len(yet) != 4 || len(slips) != 0 || yet[1].To != Path+"b/26-11/patterns" {
		t.Errorf("%v %v", yet, slips)
	}
	if yet[3].To != Path+"b/26-11/floats" {
		t.Errorf("before patterns and ratings floats are said at %s", yet[3].To)
	}
	// A page does not lead to itself.
	if page := a.page("patterns"); strings.Contains(page, "Describe the first pattern") || !strings.Contains(page, "Name the ratings") {
		t.Error("the page of patterns lists itself as missing, or the ratings not at all")
	}
	// The four are known by what the reader of batch files says of them.
	var said []string
	for _, f := range fault.List(d.Err) {
		said = append(said, f.What)
	}
	if len(said) != len(missing) {
		t.Errorf("an empty batch is told %q", said)
	}
	b := demo(t)
	d, err = b.shop.EditDraft(context.Background(), "26-11", b.draft().Version, "slips", job.ByBench, func(d *batch.Doc) error {
		for path, v := range map[string]any{"float/2/metal": "bras", "pattern/1/waterline_mm": 999, "rating/0/load": "2.5 stone"} {
			if err := d.Set(path, v); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	of := map[string]bool{}
	_, slips = told(d, d.Err)
	for _, f := range slips {
		of[strings.ReplaceAll(f.Of, "%s", f.Name)] = true
		if strings.Contains(f.Where, "26-11:") {
			t.Errorf("%+v names a line that nobody sees", f)
		}
	}
	if !of["float 3"] || !of["pattern Sedge waggler, small"] || !of["rating 2.5 stone"] {
		t.Errorf("%v", slips)
	}
}

// What is wrong with many floats alike is said once, with their numbers.
func TestGathered(t *testing.T) {
	same := func(n string) finding { return finding{Of: ofFloat, Name: n, What: "untested", Do: "test it"} }
	got := gathered([]finding{same("4"), {What: "other"}, same("3"), same("5"), {Of: ofFloat, Name: "6", What: "heavy"}, same("9"), same("10"), same("?")})
	want := []string{"floats %s 3-5, 9, 10 untested", "  other", "float %s 6 heavy", "float %s ? untested"}
	var said []string
	for _, f := range got {
		said = append(said, f.Of+" "+f.Name+" "+f.What)
	}
	if !slices.Equal(said, want) {
		t.Errorf("%q", said)
	}
}

// No page of a batch speaks of its file; another batch keeps its name.
func TestFindingsUnfiled(t *testing.T) {
	for where, want := range map[string]string{"26-11.toml": "", "26-11.toml:12:4": "", "26-12.toml:3:1": "26-12", "workshop.toml": "workshop.toml", "sheet 3": "sheet 3"} {
		if got := unfiled("26-11", []finding{{Where: where}}); got[0].Where != want {
			t.Errorf("%s: %q, want %q", where, got[0].Where, want)
		}
	}
	if got := unfiled("", []finding{{Where: "26-11.toml:1:1"}}); got[0].Where != "26-11.toml:1:1" {
		t.Error("a file that was opened has no name any more")
	}
}
