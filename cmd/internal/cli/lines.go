package cli

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// said is what a word says: an id or a scanned text itself, a picture by its code.
func said(ctx context.Context, shop *job.Workshop, word string) (string, error) {
	switch strings.ToLower(filepath.Ext(word)) {
	case ".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp", ".gif":
		return shop.PhotoFile(ctx, word)
	}
	return word, nil
}

// stateWide is the room of the word that begins an answer, so that floats stand
// below one another.
const stateWide = 9

// state begins an answer with what came of it: whoever looks up from wet hands
// reads one word.
func state(word string) string { return fmt.Sprintf("%-*s", stateWide, word) }

// refusedLine is the JSON of a line that was refused.
type refusedLine struct {
	Line  string `json:"line"`
	Error string `json:"error"`
	Class string `json:"class"`
	Do    string `json:"do,omitempty"`
}

// refuse tells at once why a line was refused; the loop goes on.
func (a *app) refuse(line string, err error) {
	for _, e := range fault.Grouped(err) {
		if a.json {
			a.writeLine(refusedLine{line, e.Error(), e.Class.String(), e.Do})
			continue
		}
		a.prompt("\a") // eyes are on the float
		fmt.Fprintln(a.out, state("NO")+e.Error())
		if e.Do != "" {
			fmt.Fprintln(a.out, state("")+e.Do)
		}
	}
}

// refusals counts lines that were refused and keeps the class of the first.
type refusals struct {
	n     int
	class fault.Class
}

func (r *refusals) add(err error) error {
	if r.n == 0 {
		r.class = fault.ClassOf(err)
	}
	r.n++
	return err
}

// err says at the end, in the exit code too, that there were some.
func (r refusals) err() error {
	if r.n == 0 {
		return nil
	}
	return fault.New(r.class, "", counted(r.n, "line")+" refused, as told above", "the others stand")
}

// prompt asks for the next line where somebody sits before it.
func (a *app) prompt(text string) {
	if isTerminal(a.out) && !a.json {
		fmt.Fprint(a.out, text)
	}
}

// lines reads input line by line and stops waiting when its context ends.
type lines struct {
	ctx  context.Context
	read chan string
	err  error // set before read is closed
}

// mostLine bytes of a line: a link is far shorter.
const mostLine = 4096

func newLines(ctx context.Context, in io.Reader) *lines {
	l := &lines{ctx: ctx, read: make(chan string)}
	go func() {
		defer close(l.read)
		s := bufio.NewScanner(in)
		s.Buffer(nil, mostLine)
		for s.Scan() {
			select {
			case l.read <- strings.TrimSpace(s.Text()):
			case <-ctx.Done():
				return
			}
		}
		if err := s.Err(); errors.Is(err, bufio.ErrTooLong) {
			l.err = fault.Inputf("give one id to a line", "a line has more than %d bytes", mostLine)
		} else if err != nil {
			l.err = fault.New(fault.Machine, "", "the input cannot be read: "+err.Error(), "start it again; what was ticked stays ticked", err)
		}
	}()
	return l
}

// next returns the next line, without the blanks round it; false at the end of
// the input and when the context ends.
func (l *lines) next() (string, bool, error) {
	select {
	case line, ok := <-l.read:
		if !ok {
			return "", false, l.err
		}
		return line, true, nil
	case <-l.ctx.Done():
		return "", false, nil
	}
}

// writeLine writes a result as one line, for programs that read answers as they
// come. What cannot be written is noticed at the end of the process.
func (a *app) writeLine(v any) {
	e := json.NewEncoder(a.out)
	e.SetEscapeHTML(false)
	_ = e.Encode(v)
}
