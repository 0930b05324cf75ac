package job

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

const (
	demoFile     = "demo.toml"
	demoWorkshop = "workshop"
)

// DemoSource is the demo batch file.
func DemoSource() []byte { return batch.Demo() }

// Demo puts the demo batch file into dir and returns the demo's workshop and
// the file's path. The workshop's key is fixed, so that the demo prints the
// same ids everywhere. A file that was edited is never overwritten.
func Demo(dir string) (*Workshop, string, error) {
	path := filepath.Join(dir, demoFile)
	old, err := os.ReadFile(path)
	switch {
	case err == nil && !bytes.Equal(old, batch.Demo()):
		return nil, "", fault.New(fault.Input, path, "this demo batch was edited and is left alone",
			"print it with: floatmark print "+path+" --out "+dir+" --workshop "+filepath.Join(dir, demoWorkshop))
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nil, "", machine(path, "cannot be read", err)
	case err != nil:
		made, err := makeDirs(dir)
		if err != nil {
			return nil, "", err
		}
		if err := os.WriteFile(path, batch.Demo(), 0o644); err != nil {
			removeDirs(made)
			return nil, "", machine(path, "cannot be written", err)
		}
	}
	shop, err := Open(filepath.Join(dir, demoWorkshop))
	if err != nil {
		return nil, "", err
	}
	shop.newKey = func() ([]byte, error) {
		key := sha256.Sum256([]byte("floatmark demo"))
		return key[:], nil
	}
	return shop, path, nil
}
