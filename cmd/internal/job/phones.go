package job

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// phonesFile is there where phones are let in each time the bench is opened. Like
// the unlock word it is of this computer and no record: a copy of the records on
// another computer opens nothing there.
const phonesFile = "phones.txt"

// PhonesEachTime reports whether phones are to be let in each time the bench is
// opened.
func (w *Workshop) PhonesEachTime() (bool, error) {
	return w.hasFile(phonesFile)
}

// SetPhonesEachTime says whether phones are to be let in each time the bench is
// opened.
func (w *Workshop) SetPhonesEachTime(on bool) error {
	path := filepath.Join(w.Dir, phonesFile)
	if !on {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return machine(path, "cannot be taken away", err)
		}
		return nil
	}
	if err := os.MkdirAll(w.Dir, 0o755); err != nil {
		return machine(w.Dir, "cannot be made", err)
	}
	if err := os.WriteFile(path, []byte("each time\n"), unlockPermissions); err != nil {
		return machine(path, "cannot be written", err)
	}
	return nil
}
