package bench

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"net/http"
	"slices"
	"sync"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

// works is the long work that goes on here while pages come and go: a print, a
// site being published. Of each key there is one at a time.
type works struct {
	mu  sync.Mutex
	all map[string]*work
}

// work is one piece of long work; it stays when it has ended, so that its pages
// can tell what became of it.
type work struct {
	stop context.CancelFunc
	on   int64         // version of the batch file that it works on; 0 for none
	end  chan struct{} // closed when it has ended

	mu          sync.Mutex
	stage       string
	done, total int
	ended       bool
	result      any
	err         error
}

// begin begins work, unless some of that key goes on already. Whoever asked for it
// may go: it ends by itself or when it is stopped.
func (all *works) begin(key string, on int64, do func(ctx context.Context, tell job.Progress) (any, error)) bool {
	all.mu.Lock()
	defer all.mu.Unlock()
	if old := all.all[key]; old != nil && !old.over() {
		return false
	}
	if all.all == nil {
		all.all = map[string]*work{}
	}
	all.all[key] = started(on, do)
	return true
}

// started is work that goes on from now.
func started(on int64, do func(ctx context.Context, tell job.Progress) (any, error)) *work {
	ctx, stop := context.WithCancel(context.Background())
	w := &work{stop: stop, on: on, end: make(chan struct{})}
	go func() {
		defer stop()
		result, err := do(ctx, w.tell)
		w.mu.Lock()
		defer w.mu.Unlock()
		w.result, w.err, w.ended = result, err, true
		close(w.end)
	}()
	return w
}

// of finds the work of a key; nil for none.
func (all *works) of(key string) *work {
	all.mu.Lock()
	defer all.mu.Unlock()
	return all.all[key]
}

// busy reports whether work goes on, that of these keys apart.
func (all *works) busy(but ...string) bool {
	all.mu.Lock()
	defer all.mu.Unlock()
	for key, w := range all.all {
		if !slices.Contains(but, key) && !w.over() {
			return true
		}
	}
	return false
}

// clear forgets all work but that of a key.
func (all *works) clear(but string) {
	all.mu.Lock()
	defer all.mu.Unlock()
	maps.DeleteFunc(all.all, func(key string, _ *work) bool { return key != but })
}

// drop forgets work that has ended, once what became of it was told.
func (all *works) drop(key string) {
	all.mu.Lock()
	defer all.mu.Unlock()
	if w := all.all[key]; w != nil && w.over() {
		delete(all.all, key)
	}
}

func (w *work) tell(stage string, done, total int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.stage, w.done, w.total = stage, done, total
}

func (w *work) over() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.ended
}

// soon reports whether work ends within a time.
func (w *work) soon(within time.Duration) bool {
	enough := time.NewTimer(within)
	defer enough.Stop()
	select {
	case <-w.end:
	case <-enough.C:
	}
	return w.over()
}

// outcome is what became of work that has ended; stopped tells that somebody
// stopped it.
func (w *work) outcome() (result any, stopped bool, err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if errors.Is(w.err, context.Canceled) {
		return nil, true, nil
	}
	return w.result, false, w.err
}

// workState is what a page shows of work that goes on.
type workState struct {
	Running bool   `json:"running"`
	Text    string `json:"text"` // what is being done, in the reader's language
	Done    int    `json:"done"`
	Total   int    `json:"total"` // 0 where that is not known
	Now     string `json:"-"`     // where the state is asked for
	Stop    string `json:"-"`     // and where it is stopped
	Here    string `json:"-"`     // the page itself
	Again   string `json:"-"`     // it was stopped: where it is begun once more
}

// stageSentences say what is being done; keys are the stages of job.Progress.
var stageSentences = map[string]string{
	"":        "It begins",
	"figures": "Working out the figures",
	"marks":   "Laying out the marks",
	"codes":   "Trying the codes on pictures of the float",
	"sheets":  "Laying out the sheets",
	"nesting": "Packing the film",
	"files":   "Writing the files",
	"pages":   "Writing the pages",
	"links":   "Following the codes",
	"restore": "Putting the records in place",
	"index":   "Reading the records, so that they can be searched",
}

func (s *server) stateOf(r *http.Request, w *work) workState {
	if w == nil {
		return workState{}
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	text := stageSentences[w.stage]
	if text == "" {
		text = w.stage
	}
	return workState{Running: !w.ended, Text: words.Bench(s.language(r))(text), Done: w.done, Total: w.total}
}

// sendState answers what a script asks while work goes on.
func (s *server) sendState(w http.ResponseWriter, r *http.Request, one *work) error {
	data, err := json.Marshal(s.stateOf(r, one))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write(data) // the reader's connection may be gone
	return nil
}
