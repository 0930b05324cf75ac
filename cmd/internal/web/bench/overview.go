package bench

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

// overview is the first page of a batch: its patterns, its drying board, how far
// each float is, and what to do next.
type overview struct {
	Patterns []patternLook
	Floats   int
	Reached  []reached // one for each state, in their order
	Board    []peg
	Begun    bool // nothing was read or printed of it: it can be removed
}

// patternLook is a pattern's silhouette, which leads to its page.
type patternLook struct {
	Name, Picture, Page string
}

// reached is how many floats have come to a state, or past it.
type reached struct {
	Name  string
	Steps []bool // of pegSteps, those that are done
	N     int
	To    string // the page where floats come to it
}

// peg is a float's place on the drying board.
type peg struct {
	Number          int
	Pattern, Rating string
	State           string
	Steps           []bool // of pegSteps, those that are done
	To              string // the page of its next step
}

// pegSteps is the number of steps from a bare float to one on its card.
const pegSteps = int(job.BoardCarded)

// boardStates are the states of a float, and the pages where it goes on from there.
var boardStates = [...]struct{ Name, next string }{
	job.BoardUntested:  {Name: "to be tested", next: "tank"},
	job.BoardTested:    {Name: "tested", next: "print"},
	job.BoardPrinted:   {Name: "printed", next: "tick"},
	job.BoardVarnished: {Name: "under varnish", next: "tick#pack"},
	job.BoardCarded:    {Name: "on its card", next: "tick"},
}

func (s *server) overview(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	f := s.batchFrame(d, "", "")
	f.Name = fmt.Sprintf(words.Bench(s.language(r))("Batch %s"), d.Name)
	board, err := s.shop().Board(d)
	if err != nil {
		return err
	}
	said, err := words.For(s.language(r))
	if err != nil {
		return err
	}
	o := overview{Floats: max(len(board), d.Doc.Len("float")), Board: pegs(d.Name, board, said), Reached: reachedOf(d.Name, board)}
	for i := range d.Doc.Len("pattern") {
		page := Path + batchPath(d.Name, fmt.Sprintf("patterns/%d", i))
		one := patternLook{Name: d.Doc.Text(fmt.Sprintf("pattern/%d/name", i)), Page: page}
		if _, err := s.shop().DraftSilhouette(d, d.Doc, i, nil); err == nil { // its own page says what is wrong with it
			one.Picture = fmt.Sprintf("%s/silhouette.svg?v=%d", page, d.Version)
		}
		o.Patterns = append(o.Patterns, one)
	}
	prints, err := s.shop().BatchPrints(d.Name)
	if err != nil {
		return err
	}
	last := ""
	if len(prints) > 0 {
		last = prints[len(prints)-1].State
	}
	o.Begun = len(prints) == 0 && !slices.ContainsFunc(o.Reached, func(one reached) bool { return one.N > 0 })
	f.Body, f.Next = o, nextOf(d, o, last)
	return s.show(w, r, "batch", f)
}

// noLook is the picture of a batch that has no shape yet: the board's line alone.
const noLook = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 180 24"><path d="M4 12h172" stroke="#8a8a86" stroke-width=".6" stroke-dasharray="5 2 1 2"/></svg>`

// batchPicture is the silhouette of the pattern that a batch begins with.
func (s *server) batchPicture(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	picture := noLook
	first := 0 // the pattern of the first float
	for i := range d.Doc.Len("pattern") {
		if key := d.Doc.Text(fmt.Sprintf("pattern/%d/key", i)); key != "" && key == d.Doc.Text("float/0/pattern") {
			first = i
			break
		}
	}
	if shape, err := s.shop().DraftSilhouette(d, d.Doc, first, nil); d.Doc.Len("pattern") > 0 && err == nil { // its own page says what is wrong with it
		picture = silhouetteSVG(shape, false)
	}
	return sendPicture(w, r, "image/svg+xml", []byte(picture), strconv.FormatInt(d.Version, 10))
}

// nextOf is what to do next with a batch whose last print is in a state, "" for
// none.
func nextOf(d job.Draft, o overview, last string) *link {
	to := func(page, text string) *link { return &link{text, Path + batchPath(d.Name, page)} }
	all := func(s job.BoardState) bool { return len(o.Board) > 0 && o.Reached[s-1].N == len(o.Board) }
	switch {
	case len(o.Patterns) == 0:
		return to("patterns", "Describe the first pattern")
	case o.Floats == 0:
		return to("floats", "Say which floats there are")
	case last == "pending":
		return to("print", "Say how the print came out")
	case all(job.BoardCarded):
		return &link{"Look at the records", Path + "records"}
	case all(job.BoardVarnished):
		return to("tick", "Put the floats on their cards")
	case last == "confirmed" && all(job.BoardPrinted):
		return to("tick", "Tick the floats off after varnish")
	case !all(job.BoardTested):
		return to("tank", "Test them at the tank")
	default:
		return to("grade", "Grade them")
	}
}

func pegs(batch string, board []job.BoardFloat, said words.Words) []peg {
	out := make([]peg, len(board))
	for i, b := range board {
		st := boardStates[b.State]
		p := peg{Number: b.Number, Pattern: b.Pattern, Rating: said.Gram(b.Rating, gramStep), State: st.Name, Steps: done(b.State), To: Path + batchPath(batch, st.next)}
		if b.State == job.BoardUntested {
			p.To += fmt.Sprintf("?number=%d", b.Number)
		}
		out[i] = p
	}
	return out
}

// done are the steps that a state has behind it.
func done(s job.BoardState) []bool {
	out := make([]bool, pegSteps)
	for i := range out {
		out[i] = i < int(s)
	}
	return out
}

// reachedOf counts the floats that have come to each state.
func reachedOf(batch string, board []job.BoardFloat) []reached {
	var out []reached
	for state := job.BoardTested; state <= job.BoardCarded; state++ {
		before := boardStates[state-1]
		name := boardStates[state].Name
		if state == job.BoardCarded {
			name = "on their cards"
		}
		one := reached{Name: name, Steps: done(state), To: Path + batchPath(batch, before.next)}
		for _, b := range board {
			if b.State >= state {
				one.N++
			}
		}
		out = append(out, one)
	}
	return out
}
