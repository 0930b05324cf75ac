package job

import (
	"encoding/hex"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/crypto/argon2"

	"floatmark/loading/fault"
)

// A known answer, so that a word set today is read by every later version: the
// test vector of RFC 9106, section 5.3, needs a secret, which this package's
// function has not; so the line of one set-up is kept here and checked with the
// function itself beside.
func TestUnlockWord(t *testing.T) {
	w := &Workshop{Dir: filepath.Join(t.TempDir(), "new")}
	if has, err := w.HasUnlock(); has || err != nil {
		t.Fatalf("%v, %v", has, err)
	}
	if ok, err := w.CheckUnlock("anything"); ok || err != nil {
		t.Fatalf("no word is set, and one fits: %v", err)
	}
	for _, bad := range []string{"short", strings.Repeat("x", 201), "with\x00zero", "not \xff text"} {
		if err := w.SetUnlock(bad); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %v", bad, err)
		}
	}
	if err := w.SetUnlock("Wehrstube übt"); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(w.Dir, unlockFile)
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != unlockPermissions {
		t.Errorf("the file: %v, %v", info.Mode(), err)
	}
	src, _ := os.ReadFile(path)
	if !strings.HasPrefix(string(src), "$argon2id$v=19$m=65536,t=3,p=4$") || strings.Contains(string(src), "Wehr") {
		t.Errorf("the file holds %q", src)
	}
	for word, want := range map[string]bool{"Wehrstube übt": true, "Wehrstube u\u0308bt": true, "wehrstube übt": false, "": false, strings.Repeat("x", 1<<20): false} {
		if ok, err := w.CheckUnlock(word); ok != want || err != nil {
			t.Errorf("%.20q: %v, %v", word, ok, err)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(w.Dir, "*")); len(left) != 1 {
		t.Errorf("left over: %v", left)
	}
	if err := os.WriteFile(path, []byte("$argon2id$v=19$m=4294967295,t=3,p=4$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAA"), 0o600); err != nil {
		t.Fatal(err)
	}
	if ok, err := w.CheckUnlock("x"); ok || fault.ClassOf(err) != fault.Machine {
		t.Errorf("a damaged file: %v, %v", ok, err)
	}
	if err := w.SetUnlock(""); err != nil {
		t.Fatal(err)
	}
	if has, _ := w.HasUnlock(); has {
		t.Error("the word is still set")
	}
}

// argon2id against the reference program: echo -n "password" | argon2 somesalt
// -id -t 2 -m 16 -p 1 gives this tag (the example of its manual, from memory).
func TestUnlockHash(t *testing.T) {
	got := argon2.IDKey([]byte("password"), []byte("somesalt"), 2, 1<<16, 1, 32)
	if want := "09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7"; hex.EncodeToString(got) != want {
		t.Errorf("%x, want %s", got, want)
	}
	h, ok := parseUnlock("$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHApl8ArZWb2GRPPc")
	if !ok || h.kib != 1<<16 || h.passes != 2 || h.lanes != 1 || string(h.salt) != "somesalt" {
		t.Errorf("%+v, %v", h, ok)
	}
}

func FuzzParseUnlock(f *testing.F) {
	f.Add("$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHApl8ArZWb2GRPPc")
	f.Add("$$$$$")
	f.Add("$argon2id$v=19$m=8,t=0,p=0$$")
	f.Fuzz(func(t *testing.T, line string) {
		h, ok := parseUnlock(line)
		if ok && (h.kib > unlockMostKiB || h.passes == 0 || h.lanes == 0 || len(h.tag) < 16) {
			t.Fatalf("%q gives %+v", line, h)
		}
	})
}
