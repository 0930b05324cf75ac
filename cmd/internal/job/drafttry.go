package job

import "floatmark/cmd/internal/batch"

// TryDraft reads a draft as if its text were doc's. Nothing is stored.
func (w *Workshop) TryDraft(d Draft, doc *batch.Doc) (Draft, error) {
	d.Undoes = ""
	return w.read(d, doc.Source())
}
