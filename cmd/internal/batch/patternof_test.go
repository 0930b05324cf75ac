package batch

import (
	"reflect"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

// A pattern read by itself is the one that is read with the batch.
func TestPatternOf(t *testing.T) {
	whole, err := Parse("b.toml", Demo(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	d, err := ParseDoc(Demo())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range whole.Batch.Patterns {
		got, err := PatternOf(d, i, "b.toml", nil)
		if err != nil {
			t.Fatal(err)
		}
		a, b := *got, *want
		a.Where, b.Where = "", ""
		if len(a.Zones) != len(b.Zones) {
			t.Fatalf("%d marks, want %d", len(a.Zones), len(b.Zones))
		}
		for z := range a.Zones {
			a.Zones[z].Where, b.Zones[z].Where = "", ""
		}
		if !reflect.DeepEqual(a, b) {
			t.Errorf("pattern %d: %+v, want %+v", i, a, b)
		}
	}
	if err := d.Set("pattern/1/waterline_mm", "none"); err != nil {
		t.Fatal(err)
	}
	if _, err := PatternOf(d, 0, "b.toml", nil); err != nil {
		t.Errorf("another pattern's fault keeps it from being read: %v", err)
	}
	if _, err := PatternOf(d, 1, "b.toml", nil); fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), "waterline_mm") {
		t.Errorf("its own fault: %v", err)
	}
	if _, err := PatternOf(d, 9, "b.toml", nil); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("none: %v", err)
	}
}

// A document with one of its patterns has the floats of that one.
func TestOnlyPattern(t *testing.T) {
	d, err := ParseDoc(Demo())
	if err != nil {
		t.Fatal(err)
	}
	was := string(d.Source())
	one, err := d.OnlyPattern(1)
	if err != nil || one.Len("pattern") != 1 || one.Text("pattern/0/key") != "sedge-small" || one.Len("float") != 5 {
		t.Fatal(err, one.Len("pattern"), one.Len("float"))
	}
	if f, err := Parse("b.toml", one.Source(), nil, nil); err != nil || f.Batch.Floats[0].Number != 8 {
		t.Error(err)
	}
	if string(d.Source()) != was {
		t.Error("the document itself is another now")
	}
}
