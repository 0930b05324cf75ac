package bench

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// TestMain keeps the verdicts on codes in a folder of this run's own.
func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "floatmark-proofs")
	if err == nil {
		err = os.Setenv("XDG_CACHE_HOME", dir)
	}
	if err != nil {
		panic(err)
	}
	code := m.Run()
	_ = os.RemoveAll(dir) // a folder of verdicts left behind harms nobody
	os.Exit(code)
}

// few is the demonstration batch without all but its first two floats and their
// pattern.
func few(t *testing.T) *at {
	t.Helper()
	a := atBench(t)
	src, _, _ := strings.Cut(string(job.DemoSource()), "[[float]]\nnumber = 3\n")
	src = strings.Replace(src, `mark = "full"`, `mark = "least"`, 1) // without a code there is none to prove
	head, rest, _ := strings.Cut(src, "[[pattern]]\nkey = \"sedge-small\"")
	_, floats, _ := strings.Cut(rest, "[[float]]\nnumber = 1\n")
	if _, err := a.shop.OpenTankSource(context.Background(), "few.toml", []byte(head+"[[float]]\nnumber = 1\n"+floats), nil, job.ByBench); err != nil {
		t.Fatal(err)
	}
	return a
}

// printed is few with its marks printed, and the ids of its floats.
func printed(t *testing.T) (*at, []string) {
	t.Helper()
	a := few(t)
	shop := *a.shop
	shop.Preview = true // laid coarsely, which is quicker
	plan, err := shop.PlanDraft(context.Background(), a.draft(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Print(context.Background(), plan, filepath.Join(t.TempDir(), "out"), nil); err != nil {
		t.Fatal(err)
	}
	lines, err := a.shop.Ticks("26-11")
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, l := range lines {
		ids = append(ids, l.ID)
	}
	return a, ids
}

func TestTickBeforePrint(t *testing.T) {
	a := few(t)
	if p := a.page("tick"); !strings.Contains(text(p), "Nothing of this batch is printed yet") || !strings.Contains(p, `b/26-11/print">Print the marks`) {
		t.Errorf("%s", text(p))
	}
}

// Each float is ticked off by its id and answered at once; a wrong card is refused
// where the right one is taken.
func TestTickAndPack(t *testing.T) {
	a, ids := printed(t)
	says := func(page, want string) {
		t.Helper()
		if p := text(page); !strings.Contains(p, want) {
			t.Errorf("%q is not said: %s", want, p)
		}
	}
	follow := func(path string, pairs ...string) string {
		t.Helper()
		to := a.post(303, path, pairs...).Header().Get("Location")
		return a.page(strings.TrimPrefix(strings.TrimSuffix(to, "#pack"), Path+"b/26-11/"))
	}
	says(a.page("tick"), "still to tick off 2")
	says(a.post(422, "tick/varnished", "id", "").Body.String(), "nothing was typed")
	says(a.post(422, "tick/varnished", "id", "ZZZZZZ").Body.String(), "ZZZZZZ")
	p := follow("tick/varnished", "id", strings.ToLower(ids[0]))
	says(p, "1 It is ticked off.")
	says(p, "still to tick off 1")
	says(follow("tick/varnished", "id", ids[0]), "It was ticked off already.")
	says(follow("tick/float", "id", ids[1]), "Now its card")
	wrong := a.post(422, "tick/card", "float", ids[1], "id", ids[0]).Body.String()
	says(wrong, "wrong card: this is float 2")
	says(wrong, "Now its card")
	p = follow("tick/card", "float", ids[1], "id", ids[1])
	says(p, "It is on its card.")
	says(p, "It was not ticked off under its varnish.")
	says(p, "on their cards 1")
	says(follow("tick/back", "id", ids[1]), "on their cards 0")
}
