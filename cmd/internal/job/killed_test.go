//go:build unix

package job

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// What a child of these tests is told.
const (
	childDir  = "FLOATMARK_TEST_DIR"
	childStep = "FLOATMARK_TEST_STEP"
	childFull = "FLOATMARK_TEST_FULL"
)

// fewFloats puts a small batch into dir.
func fewFloats(t *testing.T, dir string) (*Workshop, string) {
	t.Helper()
	few, _, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 3\n")
	path := filepath.Join(dir, "few.toml")
	if err := os.WriteFile(path, []byte(few), 0o644); err != nil {
		t.Fatal(err)
	}
	shop, err := Open(filepath.Join(dir, "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	shop.Preview = true
	shop.newKey = func() ([]byte, error) { return make([]byte, 32), nil }
	return shop, path
}

func printFew(t *testing.T, shop *Workshop, path, out string) ([]Output, error) {
	t.Helper()
	plan, err := shop.Plan(context.Background(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	return shop.Print(context.Background(), plan, out, nil)
}

// TestChild is what the tests below start as a process of its own.
func TestChild(t *testing.T) {
	dir := os.Getenv(childDir)
	if dir == "" {
		t.Skip("it is a child of other tests")
	}
	shop, path := fewFloats(t, dir)
	if n, err := strconv.Atoi(os.Getenv(childStep)); err == nil {
		shop.step = func() {
			if n--; n < 0 {
				_ = syscall.Kill(os.Getpid(), syscall.SIGKILL) // nothing runs after it
			}
		}
	}
	if limit, err := strconv.ParseUint(os.Getenv(childFull), 10, 64); err == nil {
		signal.Ignore(syscall.SIGXFSZ)
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: limit, Max: limit}); err != nil {
			t.Skip("files cannot be limited here")
		}
		_, err := printFew(t, shop, path, filepath.Join(dir, "out"))
		if fault.ClassOf(err) != fault.Machine {
			t.Fatalf("a disc without room is told as %v", err)
		}
		return
	}
	if _, err := printFew(t, shop, path, filepath.Join(dir, "out")); err != nil {
		t.Fatal(err)
	}
}

func child(t *testing.T, dir, name, value string) ([]byte, error) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run", "^TestChild$")
	cmd.Env = append(os.Environ(), childDir+"="+dir, name+"="+value)
	return cmd.CombinedOutput()
}

// A print that is killed between any two of its steps leaves a record and a
// folder that agree: no file under its name without a record of it. Printed once
// more all is there, and the record holds one print on the same sheet.
func TestKilledBetweenAnyTwoSteps(t *testing.T) {
	if testing.Short() {
		t.Skip("it starts a process for each step")
	}
	steps := 0
	dir := t.TempDir()
	shop, path := fewFloats(t, dir)
	shop.step = func() { steps++ }
	want, err := printFew(t, shop, path, filepath.Join(dir, "out"))
	if err != nil || steps < 2*len(want) {
		t.Fatalf("%d steps for %d files, %v", steps, len(want), err)
	}
	for n := range steps {
		// Every step where FLOATMARK_HEAVY is set; else every fourth and those about
		// the commit, which comes after the files are written and before they are
		// put in place.
		if about := n - len(want); os.Getenv("FLOATMARK_HEAVY") == "" && n%4 != 0 && (about < -1 || about > 1) {
			continue
		}
		dir := t.TempDir()
		if out, err := child(t, dir, childStep, fmt.Sprint(n)); err == nil {
			t.Fatalf("step %d: the child was not killed: %s", n, out)
		}
		shop, path := fewFloats(t, dir)
		sums := recorded(t, shop)
		files, _ := filepath.Glob(filepath.Join(dir, "out", "[a-z]*"))
		for _, f := range files {
			if sums[filepath.Base(f)] != sum(t, f) {
				t.Errorf("step %d: %s is in the folder and the record knows nothing of it", n, filepath.Base(f))
			}
		}
		got, err := printFew(t, shop, path, filepath.Join(dir, "out"))
		if err != nil {
			t.Fatalf("step %d: printed once more: %v", n, err)
		}
		sums = recorded(t, shop)
		for i, o := range got {
			if o.SHA256 != want[i].SHA256 || sums[o.Name] != o.SHA256 || sum(t, filepath.Join(dir, "out", o.Name)) != o.SHA256 {
				t.Errorf("step %d: %s is not as it was planned", n, o.Name)
			}
		}
	}
}

func sum(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// recorded returns the files of the one print there may be, and checks that its
// sheet is noted once.
func recorded(t *testing.T, shop *Workshop) map[string]string {
	t.Helper()
	s, err := shop.records()
	if err != nil {
		t.Fatal(err)
	}
	if s == nil {
		return nil
	}
	defer s.Close()
	all, err := s.AllPrints()
	if err != nil || len(all) > 1 {
		t.Fatalf("%d prints, %v", len(all), err)
	}
	sheets, err := s.Sheets()
	if err != nil || len(sheets) != len(all) {
		t.Errorf("%d sheets of %d prints, %v", len(sheets), len(all), err)
	}
	if len(all) == 0 {
		return nil
	}
	if all[0].State != record.Pending {
		t.Errorf("a print that nobody looked at is %s", all[0].State)
	}
	return all[0].Files
}

// A disc that is full in the middle of a file: a fault of the machine, no file
// and no record.
func TestDiscFullInTheMiddleOfAFile(t *testing.T) {
	dir := t.TempDir()
	if out, err := child(t, dir, childFull, "20000"); err != nil {
		t.Fatalf("%s", out)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "out", "*")); len(left) > 0 {
		t.Errorf("files are left: %v", left)
	}
	shop, _ := fewFloats(t, dir)
	if sums := recorded(t, shop); len(sums) > 0 {
		t.Errorf("a print is recorded: %v", sums)
	}
}
