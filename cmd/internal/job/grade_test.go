package job

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"floatmark/loading/unit"
)

// The demonstration: what its figures say of every rating, one float too heavy
// in its stem and one a little over, and the plot on paper and as files.
func TestGradedDemo(t *testing.T) {
	_, plan, outs := printDemo(t, t.TempDir())
	var got []string
	for _, f := range plan.Graded.Floats {
		if f.Verdict != "keeps" {
			got = append(got, fmt.Sprintf("%d %s", f.Number, f.Verdict))
		}
	}
	if s := strings.Join(got, ", "); s != "6 untested, 16 off, 19 off" {
		t.Errorf("verdicts: %s", s)
	}
	tested := 0
	for _, r := range plan.Graded.Ratings {
		tested += r.Tested + r.Untested
		if r.Tested > 1 && !(r.Least < r.Mean && r.Mean < r.Most && r.Deviation > 0) {
			t.Errorf("%+v", r)
		}
	}
	if tested != len(plan.Floats) || len(plan.Graded.Ratings) != 5 {
		t.Errorf("%d floats in %d ratings, want %d in 5", tested, len(plan.Graded.Ratings), len(plan.Floats))
	}
	lines := strings.Join(plan.Graded.Lines(unit.Style{}), "\n")
	for _, want := range []string{"2.5 g: 5 tested, mean 2.497 g, ", "float 16: off all ratings: 0.259 g under 10 g"} {
		if !strings.Contains(lines, want) {
			t.Errorf("no %q in\n%s", want, lines)
		}
	}
	found := 0
	for _, s := range plan.JobSheets {
		found += strings.Count(s.Dump(), `"MEASURED SUMS"`)
	}
	if found != 1 {
		t.Errorf("the plot is on the job sheet %d times", found)
	}
	names := ""
	for _, o := range outs {
		if strings.HasPrefix(o.Name, "spread.") && o.Bytes > 1000 {
			names += o.Name + " "
		}
	}
	if names != "spread.svg spread.png " {
		t.Errorf("files of the plot: %s", names)
	}
}

// A float that a little off its weight brings to its rating is told how much,
// short of it by what is not known.
func TestGradedTrim(t *testing.T) {
	shop, path, err := preview(Demo(t.TempDir()))
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const was = `reading = "0.72 g"`
	if strings.Count(string(src), was) != 1 {
		t.Fatalf("the demonstration has no float with %s", was)
	}
	plan, err := shop.PlanSource(context.Background(), path, []byte(strings.Replace(string(src), was, `reading = "0.85 g"`, 1)), nil)
	if err != nil {
		t.Fatal(err)
	}
	f := plan.Graded.Floats[15]
	if f.Verdict != "trim" || f.Number != 16 {
		t.Fatalf("%+v", f)
	}
	// 8.98 g of brass and 0.85 g of lead, 0.899 of tin, are 9.879 g. A gram off
	// raises that by 1/0.8626 - 1 = 0.159 g, so 0.76 g would do: told is less, by
	// what the reading leaves open.
	var take float64
	if _, err := fmt.Sscanf(f.Advice, "to come to 10 g: take %f g off", &take); err != nil {
		t.Fatalf("%v in %q", err, f.Advice)
	}
	if !(take < 0.76 && take > 0.70) || math.Abs(float64(f.Sum)-9.879) > 0.001 {
		t.Errorf("take %v g off, sum %v", take, f.Sum)
	}
}
