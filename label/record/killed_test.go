package record

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	osexec "os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const (
	killedPath = "FLOATMARK_TEST_RECORD" // tells the child below which record to write
	writes     = 1000                    // in the middle of which the child is killed
)

// TestWriter is what the test below starts as a process of its own: it writes and
// says of each write, once it is saved, that it is.
func TestWriter(t *testing.T) {
	path := os.Getenv(killedPath)
	if path == "" {
		t.Skip("it is a child of another test")
	}
	s := open(t, path)
	for i := range writes {
		must(t, writeNumber(s, i))
		fmt.Printf("saved %d\n", i) // straight to the pipe: nothing is kept back
	}
}

// writeNumber is the i-th write: notes with a status, photographs, readings and prices in turn.
func writeNumber(s *Store, i int) error {
	set := ChangeSet{At: day1, By: "phone", Key: "write " + strconv.Itoa(i), Changes: []Change{
		{one, "notes/+", json.RawMessage(strconv.Itoa(i)), Unseen}, {one, "status", json.RawMessage(strconv.Itoa(i)), Unseen}}}
	switch i % 4 {
	case 1:
		set.Photo = picture(strings.Repeat(strconv.Itoa(i), 5000))
		set.Changes = []Change{{one, "photos/+", json.RawMessage(`{"photo":0}`), Unseen}}
	case 2:
		_, err := s.AddReadings([]Reading{reading("write "+strconv.Itoa(i), i)})
		return err
	case 3:
		set.Changes = []Change{{one, "price", json.RawMessage(strconv.Itoa(i)), Unseen}}
	}
	_, err := s.Change(set)
	return err
}

// A program that is killed in the middle of its writes loses none that it said
// was saved, and the record is sound. FLOATMARK_HEAVY makes it fifty times.
func TestKilledInTheMiddleOfWrites(t *testing.T) {
	if testing.Short() {
		t.Skip("it starts processes")
	}
	rounds, within := 3, 200
	if os.Getenv("FLOATMARK_HEAVY") != "" {
		rounds, within = 50, writes-1
	}
	for round := range rounds {
		path := filepath.Join(t.TempDir(), "workshop.db")
		cmd := osexec.Command(os.Args[0], "-test.run", "^TestWriter$")
		cmd.Env = append(os.Environ(), killedPath+"="+path)
		out, err := cmd.StdoutPipe()
		must(t, err)
		must(t, cmd.Start())
		// Spread over the writes; where in a write it strikes is chance.
		stop := (round*617 + 31) % within
		last := -1
		for lines := bufio.NewScanner(out); lines.Scan(); {
			text, ok := strings.CutPrefix(lines.Text(), "saved ")
			if !ok {
				continue
			}
			if last, err = strconv.Atoi(text); err != nil {
				t.Fatal(err)
			}
			if last == stop {
				must(t, cmd.Process.Kill()) // and read on: what it said before it died, it said
			}
		}
		if err := cmd.Wait(); err == nil || last < stop {
			t.Fatalf("round %d: the child ended by itself after write %d: %v", round, last, err)
		}
		holds(t, path, last)
	}
}

// holds checks a record after its writer was killed: sound, with every write up
// to last, at most one more, and a state that its changes come to.
func holds(t *testing.T, path string, last int) {
	t.Helper()
	s := open(t, path)
	defer s.Close()
	var said string
	if ok, err := s.one("PRAGMA integrity_check", nil, &said); !ok || err != nil || said != "ok" {
		t.Fatalf("after write %d: %s %v", last, said, err)
	}
	state, _, err := s.State(one)
	must(t, err)
	all, err := s.Changes(one)
	must(t, err)
	derived := map[string]string{}
	for _, c := range all {
		derived[c.Path] = string(c.After)
	}
	notes, photos := 0, 0
	price, wantPrice := 0, (last+1)/4*4-1
	for _, f := range state {
		if derived[f.Path] != string(f.Value) {
			t.Errorf("after write %d: %s is %s, its changes come to %s", last, f.Path, f.Value, derived[f.Path])
		}
		switch {
		case strings.HasPrefix(f.Path, "notes/"):
			notes++
		case strings.HasPrefix(f.Path, "photos/"):
			photos++
		case f.Path == "price":
			price, err = strconv.Atoi(string(f.Value))
			must(t, err)
		}
	}
	readings, err := s.Readings("autumn")
	must(t, err)
	for _, c := range []struct {
		what      string
		got, want int
	}{{"notes", notes, last/4 + 1}, {"photographs", photos, (last + 3) / 4}, {"readings", len(readings), (last + 2) / 4}} {
		if c.got < c.want || c.got > c.want+1 {
			t.Errorf("after write %d: %d %s, want %d or one that was not yet told", last, c.got, c.what, c.want)
		}
	}
	if wantPrice > 0 && price != wantPrice && price != wantPrice+4 {
		t.Errorf("after write %d: the price is %d, want %d", last, price, wantPrice)
	}
	// What is sent again because nobody heard that it was saved is there once.
	for i := max(0, last-3); i <= last+1; i++ {
		must(t, writeNumber(s, i))
	}
	if err := writeNumber(s, last+1); err != nil {
		t.Error(err)
	}
	again, err := s.Changes(one)
	must(t, err)
	keys := map[string]bool{}
	for _, c := range again {
		if strings.HasPrefix(c.Path, "notes/") {
			if keys[string(c.After)] {
				t.Errorf("after write %d: note %s is there twice", last, c.After)
			}
			keys[string(c.After)] = true
		}
	}
}
