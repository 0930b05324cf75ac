package cli

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(proving{m}, map[string]func(){"floatmark": func() {
		os.Exit(Run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
	}})
}

// proving runs all tests with one folder for what was proved of codes, so that
// each is proved once, and the user's own is left alone.
type proving struct{ *testing.M }

func (p proving) Run() int {
	const cache = "XDG_CACHE_HOME"
	dir, err := os.MkdirTemp("", "floatmark")
	if err == nil {
		err = os.Setenv(cache, dir)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	code := p.M.Run()
	if err := os.RemoveAll(dir); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return code
}

// TestScripts runs the commands as a user would type them.
func TestScripts(t *testing.T) {
	cache := os.Getenv("XDG_CACHE_HOME")
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_CONFIG_HOME", e.WorkDir+"/config") // the user's own workshop
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("XDG_CACHE_HOME", cache)
			e.Setenv("AppData", e.WorkDir+"/config")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":    exits,
			"nothing":  nothing,
			"picture":  picture,
			"replaced": replaced,
			"spareids": spareIDs,
		},
	})
}

// exits CODE floatmark ARGS... runs the command and checks its exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	if err != nil || neg {
		ts.Fatalf("usage: exits CODE COMMAND ARGS...")
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var e *exec.ExitError
		if !errors.As(err, &e) {
			ts.Fatalf("%v", err)
		}
		got = e.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// nothing DIR... checks that a folder does not exist or holds nothing.
func nothing(ts *testscript.TestScript, neg bool, args []string) {
	for _, dir := range args {
		list, err := os.ReadDir(ts.MkAbs(dir))
		if err == nil && len(list) > 0 {
			ts.Fatalf("%s holds %v", dir, list)
		}
	}
}

// picture FILE writes a small PNG, as a photograph to be added to a record.
func picture(ts *testscript.TestScript, neg bool, args []string) {
	var b bytes.Buffer
	ts.Check(png.Encode(&b, image.NewGray(image.Rect(0, 0, 60, 40))))
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), b.Bytes(), 0o644))
}

// replaced FROM TO OLD NEW writes a file with one passage replaced, so that a
// script of bad input says only what is bad.
func replaced(ts *testscript.TestScript, neg bool, args []string) {
	text := ts.ReadFile(args[0])
	out, n := replaceOnce(text, args[2], args[3])
	if n != 1 {
		ts.Fatalf("%q stands %d times in %s, want once or more", args[2], n, args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(out), 0o644))
}

func replaceOnce(text, old, new string) (string, int) {
	for i := 0; i+len(old) <= len(text); i++ {
		if text[i:i+len(old)] == old {
			return text[:i] + new + text[i+len(old):], 1
		}
	}
	return text, 0
}

// TestServe starts the whole program on a free port and follows the link of a
// printed code, as a phone would whose maker's host points here.
func TestServe(t *testing.T) {
	dir := t.TempDir()
	var printed bytes.Buffer
	if code := Run(t.Context(), []string{"demo", "--out", dir, "--json"}, nil, &printed, os.Stderr); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	var batch batchResult
	if err := json.Unmarshal(printed.Bytes(), &batch); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	said, out := io.Pipe()
	ended := make(chan int)
	go func() {
		ended <- Run(ctx, []string{"serve", "--addr", "127.0.0.1:0", "--workshop", filepath.Join(dir, "workshop")}, nil, out, os.Stderr)
	}()
	line, err := bufio.NewReader(said).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	base := strings.TrimSpace(line[strings.Index(line, "http://"):])
	for _, f := range []floatResult{batch.Floats[0], batch.Floats[len(batch.Floats)-1]} {
		link, err := url.Parse(f.Link)
		if err != nil {
			t.Fatal(err)
		}
		req, err := http.NewRequest(http.MethodGet, base+strings.TrimPrefix(link.Path, "/"), nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Host = link.Host // F.EXAMPLE: the maker's host, pointed at this machine
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		page, err := io.ReadAll(resp.Body)
		if err != nil || resp.Body.Close() != nil {
			t.Fatal(err)
		}
		if resp.StatusCode != http.StatusOK || !bytes.Contains(page, []byte(f.ID)) {
			t.Errorf("%s: status %d", f.Link, resp.StatusCode)
		}
	}
	stop()
	if code := <-ended; code != 0 {
		t.Errorf("serve ended with %d", code)
	}
}
