package job

import (
	"context"
	"os"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

// demoWith is the demonstration's batch file with one line changed for another.
func demoWith(t *testing.T, was, now string) (*Plan, error) {
	t.Helper()
	shop, path, err := preview(Demo(t.TempDir()))
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(src), was) {
		t.Fatalf("the demonstration has no %s", was)
	}
	return shop.PlanSource(context.Background(), path, []byte(strings.Replace(string(src), was, now, 1)), nil)
}

func notices(p *Plan, code string) (all []string) {
	for _, n := range p.Notices {
		if n.Code == code {
			all = append(all, n.Text)
		}
	}
	return all
}

// A pattern that says what it is made of is told what its shape promises; tests
// that the shape contradicts are told, and nothing printed changes.
func TestShapeIsToldOnly(t *testing.T) {
	const was = `key = "sedge"`
	plain, err := demoWith(t, was, was)
	if err != nil {
		t.Fatal(err)
	}
	wood, err := demoWith(t, was, was+"\nmaterial = \"0.95\"")
	if err != nil {
		t.Fatal(err)
	}
	if got := notices(wood, "predicted"); len(got) != 1 || !strings.Contains(got[0], "from its shape it ") {
		t.Errorf("%q", got)
	}
	if got := notices(wood, "shape"); len(got) == 0 || !strings.Contains(got[0], "check the profile") {
		t.Errorf("floats as heavy as water that take shot: %q", got)
	}
	if got := append(notices(plain, "predicted"), notices(plain, "shape")...); len(got) > 0 {
		t.Errorf("without a material: %q", got)
	}
	for i := range plain.Decals {
		if plain.Decals[i].Dump() != wood.Decals[i].Dump() {
			t.Errorf("decal sheet %d is another", i+1)
		}
	}
	if _, err := demoWith(t, was, was+"\nmaterial = \"cheese\""); fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), `"cheese" is no material`) {
		t.Errorf("%v", err)
	}
	if _, err := demoWith(t, was, was+"\nmaterial = \"cane to 590 mm; balsa\""); fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), "ends at 590 mm") {
		t.Errorf("%v", err)
	}
}

// Floats nobody tested are refused, and told what to expect in the tank.
func TestUntestedIsTold(t *testing.T) {
	shop, path, err := preview(Demo(t.TempDir()))
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(src), `key = "rush"`, "key = \"rush\"\nmaterial = \"reed\"", 1)
	at := strings.Index(text, "number = 22")
	lines := strings.Split(text[at:], "\n")
	kept := lines[:0]
	for _, l := range lines {
		if !strings.HasPrefix(l, "reading") {
			kept = append(kept, l)
		}
	}
	_, err = shop.PlanSource(context.Background(), path, []byte(text[:at]+strings.Join(kept, "\n")), nil)
	if fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), "a rating nobody tested is not printed") {
		t.Fatalf("%v", err)
	}
	found := 0
	for _, e := range fault.List(err) {
		if strings.Contains(e.What, "from its shape it should take") && strings.Contains(e.Do, "not printed") {
			found++
		}
	}
	if found != 1 {
		t.Errorf("told %d times in %v", found, err)
	}
}
