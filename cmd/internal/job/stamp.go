package job

import (
	"fmt"
	"os"
	"path/filepath"
)

// Stamp names what the workshop's records hold now: when it is the same, nothing
// was written meanwhile. It is cheap, and differs more often than it must.
func (w *Workshop) Stamp() string {
	out := ""
	for _, name := range []string{recordsFile, recordsFile + "-wal", settingsFile} {
		if info, err := os.Stat(filepath.Join(w.Dir, name)); err == nil {
			out += fmt.Sprintf("%x.%x-", info.ModTime().UnixNano(), info.Size())
		}
	}
	return out
}
