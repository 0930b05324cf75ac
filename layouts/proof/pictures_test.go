package proof

import (
	"bufio"
	"flag"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"floatmark/label/symbol/scan"
)

var pictures = flag.String("pictures", "", "make the whole sets and write their pictures as PGM, and what they say in index.tsv, into this folder, for other readers")

// readsAs reports whether the built-in reader gets the text. Another text is an
// error: a correction code is there so that this never happens.
func readsAs(img *image.Gray, text string) (bool, error) {
	got, err := scan.QR(img)
	if err == nil && got != text {
		return false, fmt.Errorf("%q was read as %q", text, got)
	}
	return err == nil, nil
}

// eachOn does n things on all cores; each writes only what is its own.
func eachOn(t *testing.T, n int, do func(i int) error) {
	t.Helper()
	errs := make([]error, n)
	next := make(chan int)
	var w sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		w.Go(func() {
			for i := range next {
				errs[i] = do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	w.Wait()
	for _, err := range errs {
		if err != nil {
			t.Error(err)
		}
	}
}

// lines is the list of the pictures, one to a line: the file, two columns by
// which they are counted, whether the built-in reader read it, and the text.
type lines struct{ strings.Builder }

func (l *lines) add(file, kind, answer string, reads bool, text string) {
	got := 0
	if reads {
		got = 1
	}
	fmt.Fprintf(l, "%s\t%s\t%s\t%d\t%s\n", file, kind, answer, got, text)
}

func (l *lines) write(t *testing.T) {
	t.Helper()
	if *pictures == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(*pictures, "index.tsv"), []byte(l.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// keep writes a grey picture in the plainest format there is, if pictures are
// asked for.
func keep(name string, img *image.Gray) error {
	if *pictures == "" {
		return nil
	}
	f, err := os.Create(filepath.Join(*pictures, name))
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	b := img.Bounds()
	fmt.Fprintf(w, "P5\n%d %d\n255\n", b.Dx(), b.Dy())
	for y := range b.Dy() {
		w.Write(img.Pix[y*img.Stride:][:b.Dx()]) // the writer keeps its first error for Flush
	}
	if err := w.Flush(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
