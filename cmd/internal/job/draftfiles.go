package job

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

// Files lists the names of the files that lie beside a draft, in order.
func (d Draft) Files() []string { return slices.Sorted(maps.Keys(d.beside)) }

// Kept returns a file that lies beside a draft.
func (d Draft) Kept(name string) ([]byte, bool) {
	data, ok := d.beside[base(name)]
	return data, ok
}

// EditDraftWith is EditDraft with files put beside the draft, by the last part of
// their names; one of the same name is replaced. Undoing takes them back too.
func (w *Workshop) EditDraftWith(ctx context.Context, name string, seen int64, what, by string, files map[string][]byte, edit func(*batch.Doc) error) (Draft, error) {
	s, err := w.opened()
	if err != nil {
		return Draft{}, err
	}
	defer s.Close()
	d, err := w.draft(s, name)
	if err != nil {
		return d, err
	}
	d.Doc, d.beside = d.Doc.Clone(), maps.Clone(d.beside)
	if d.beside == nil {
		d.beside = map[string][]byte{}
	}
	weight := 0
	for file, data := range files {
		if file = base(file); strings.TrimSpace(file) == "" {
			return d, fault.Inputf("give the file a name", "a file without a name cannot be kept")
		}
		d.beside[file] = data
	}
	for _, data := range d.beside {
		weight += len(data)
	}
	if len(files) > 0 && weight > mostTankFile {
		return d, fault.New(fault.Input, name, fmt.Sprintf("the files beside the batch file would weigh %d kB together, and %d kB are kept", weight>>10, mostTankFile>>10),
			"make pictures and drawings smaller")
	}
	if err := edit(d.Doc); err != nil {
		return d, err
	}
	if n := d.Doc.Text("name"); n != name {
		return d, fault.Inputf("begin a batch of that name", "a batch keeps its name: %q cannot become %q", name, n)
	}
	d.Version = seen
	return w.keep(ctx, s, d, what, by, 0)
}
