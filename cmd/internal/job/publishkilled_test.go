//go:build unix

package job

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// The child publishes this workshop into this folder, in the second edition.
const (
	siteShop = "FLOATMARK_TEST_SITE_SHOP"
	siteDir  = "FLOATMARK_TEST_SITE_DIR"
)

const secondEdition = "second edition "

func TestSiteChild(t *testing.T) {
	dir := os.Getenv(siteShop)
	if dir == "" {
		t.Skip("it is a child of another test")
	}
	shop, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println("begins")
	if _, err := shop.Publish(t.Context(), os.Getenv(siteDir), &plainPages{style: secondEdition}, Publishing{}); err != nil {
		t.Fatal(err)
	}
}

// A run that is killed at any moment, into an empty folder or over an older
// edition, leaves no page that is not whole, and no page of the older edition is
// lost; the next run ends the work. FLOATMARK_HEAVY kills fifty times.
func TestPublishKilled(t *testing.T) {
	rounds, floats := 2, 60
	if os.Getenv("FLOATMARK_HEAVY") != "" {
		rounds, floats = 50, 300
	}
	shop, _ := noted(t, floats)
	edition := func(dir, style string) map[string]string {
		if _, err := shop.Publish(t.Context(), dir, &plainPages{style: style}, Publishing{}); err != nil {
			t.Fatal(err)
		}
		return tree(t, dir)
	}
	older, want := edition(t.TempDir(), ""), edition(t.TempDir(), secondEdition)
	broken := 0
	for round := range rounds {
		dir := t.TempDir()
		if round%2 > 0 {
			edition(dir, "")
		}
		cmd := exec.Command(os.Args[0], "-test.run", "^TestSiteChild$")
		cmd.Env = append(os.Environ(), siteShop+"="+shop.Dir, siteDir+"="+dir)
		out, err := cmd.StdoutPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, err := out.Read(make([]byte, 64)); err != nil {
			t.Fatal(err)
		}
		most := floats / 2 // ms: about as long as the run takes
		time.Sleep(time.Duration(rand.IntN(most)) * time.Millisecond)
		_ = cmd.Process.Kill() // it may be done already
		if cmd.Wait() != nil {
			broken++
		}
		left := tree(t, dir)
		for name, text := range left {
			if !strings.Contains(name, tempEnd) && name != siteLock && name != siteListName && text != older[name] && text != want[name] {
				t.Errorf("round %d: %s is %q", round, name, text)
			}
		}
		for name := range older {
			if _, ok := left[name]; !ok && round%2 > 0 && !strings.HasPrefix(name, sharedFolder) {
				t.Errorf("round %d: %s is gone", round, name)
			}
		}
		got := edition(dir, secondEdition)
		maps.DeleteFunc(got, func(name, _ string) bool { return name == siteListName })
		for name, text := range want {
			if name != siteListName && got[name] != text {
				t.Errorf("round %d, ended: %s is %q and not %q", round, name, got[name], text)
			}
		}
		if len(got) != len(want)-1 {
			for name := range got {
				if _, ok := want[name]; !ok {
					t.Errorf("round %d: %s was left", round, name)
				}
			}
		}
	}
	t.Logf("%d of %d runs were killed before their end", broken, rounds)
}
