package job

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"floatmark/label"
	"floatmark/loading/fault"
)

// Of two runs into one folder one is refused and says why; when it has ended, the
// other goes on.
func TestPublishAlone(t *testing.T) {
	shop, _ := noted(t, 3)
	dir := t.TempDir()
	at, goOn := make(chan struct{}), make(chan struct{})
	var once sync.Once
	slow := &waiting{plainPages{}, func() { once.Do(func() { close(at); <-goOn }) }}
	first := make(chan error, 1)
	go func() {
		_, err := shop.Publish(context.Background(), dir, slow, Publishing{})
		first <- err
	}()
	<-at
	_, err := shop.Publish(context.Background(), dir, &plainPages{}, Publishing{})
	if fault.ClassOf(err) != fault.Input || !strings.Contains(fmt.Sprint(err), "publishing into this folder, since") {
		t.Errorf("two at once: %v", err)
	}
	close(goOn)
	if err := <-first; err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Publish(context.Background(), dir, &plainPages{}, Publishing{}); err != nil {
		t.Errorf("after that: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 1 {
		t.Errorf("left over: %v", left)
	}
	// A folder of its own is nobody else's affair, and a run that fails gives its
	// folder back.
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	other := t.TempDir()
	if _, err := shop.Publish(ended, other, &plainPages{}, Publishing{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if _, err := os.Stat(filepath.Join(other, siteLock)); err == nil {
		t.Error("a run that was stopped keeps the folder")
	}
}

// waiting makes pages when it is let.
type waiting struct {
	plainPages
	wait func()
}

func (w *waiting) Float(e label.Entry, b label.Build, photo func(int) string) (pages, with []SiteFile, err error) {
	w.wait()
	return w.plainPages.Float(e, b, photo)
}

// What is left of runs that are gone is cleared; a lock of a run that goes on is not.
func TestPublishLockStale(t *testing.T) {
	ended := exec.Command(os.Args[0], "-test.run", "^$")
	if err := ended.Run(); err != nil {
		t.Fatal(err)
	}
	host, _ := os.Hostname()
	line := func(pid int, host string) string {
		return fmt.Sprintf("%d 2026-11-25T10:00:00Z %s 1\n", pid, strconv.Quote(host))
	}
	for name, c := range map[string]struct {
		lock string
		age  time.Duration
		free bool
	}{
		"a process that is gone":      {line(ended.Process.Pid, host), 0, true},
		"one that is there":           {line(os.Getpid(), host), 0, false},
		"one that does nothing":       {line(os.Getpid(), host), 2 * lockStale, true},
		"another computer's":          {line(ended.Process.Pid, host+"-2"), 0, false},
		"another computer's, old":     {line(1, host+"-2"), 2 * lockStale, true},
		"a line that is half written": {"12", 0, false},
		"one of nobody, old":          {"", 2 * lockStale, true},
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, siteLock)
		at := time.Now().Add(-c.age)
		if err := errors.Join(os.WriteFile(path, []byte(c.lock), 0o644), os.Chtimes(path, at, at)); err != nil {
			t.Fatal(err)
		}
		root, err := os.OpenRoot(dir)
		if err != nil {
			t.Fatal(err)
		}
		release, err := lockSite(root)
		if (err == nil) != c.free {
			t.Errorf("%s: %v", name, err)
		}
		if err == nil {
			release()
			if left, _ := os.ReadDir(dir); len(left) > 0 {
				t.Errorf("%s: left over: %v", name, left)
			}
		}
		root.Close()
	}
}

// Many who want one folder at once: never are two in it.
func TestPublishLockMany(t *testing.T) {
	root, err := os.OpenRoot(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	var in, most, got int
	var mu sync.Mutex
	var wait sync.WaitGroup
	for range 20 {
		wait.Go(func() {
			for range 20 {
				release, err := lockSite(root)
				if err != nil {
					continue
				}
				mu.Lock()
				in++
				got++
				most = max(most, in)
				mu.Unlock()
				mu.Lock()
				in--
				mu.Unlock()
				release()
			}
		})
	}
	wait.Wait()
	if most != 1 || got < 20 {
		t.Errorf("%d at once, %d times", most, got)
	}
}
