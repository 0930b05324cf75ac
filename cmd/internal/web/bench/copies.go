package bench

import (
	"archive/zip"
	"errors"
	"io"
	"io/fs"
	"mime"
	"net/http"
	"os"
	"path/filepath"
	"time"

	"floatmark/loading/fault"
)

// dated is a name with the day in it, so that copies of different days are told
// apart among downloads.
func dated(name, ext string) string { return name + "-" + time.Now().Format(time.DateOnly) + ext }

// beside works in a folder of its own for a moment: copies are whole before any of
// them is sent.
func beside(do func(dir string) error) error {
	dir, err := os.MkdirTemp("", "floatmark-*")
	if err != nil {
		return fault.New(fault.Machine, "", "there is no room for the copy: "+err.Error(), "make room on the disc, or write it with the command", err)
	}
	defer os.RemoveAll(dir)
	return do(dir)
}

// headed says what is sent and under which name it is saved.
func headed(w http.ResponseWriter, name string) {
	h := w.Header()
	h.Set("Content-Type", kinds[filepath.Ext(name)])
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
	h.Set("Cache-Control", "no-store")
}

// sendCopy sends a file that may be too large to be held.
func sendCopy(w http.ResponseWriter, path, name string) error {
	f, err := os.Open(path)
	if err != nil {
		return fault.New(fault.Machine, path, "cannot be read: "+err.Error(), "try again", err)
	}
	defer f.Close()
	headed(w, name)
	_, _ = io.Copy(w, f) // the reader's connection may be gone
	return nil
}

func (s *server) backup(w http.ResponseWriter, r *http.Request) error {
	return beside(func(dir string) error {
		file := filepath.Join(dir, "backup.db")
		if _, err := s.shop().Backup(r.Context(), file); err != nil {
			return err
		}
		return sendCopy(w, file, dated("floatmark-backup", ".db"))
	})
}

func (s *server) floatsCSV(w http.ResponseWriter, r *http.Request) error {
	return beside(func(dir string) error {
		file := filepath.Join(dir, "floats.csv")
		if _, err := s.shop().Export(r.Context(), file); err != nil {
			return err
		}
		return sendCopy(w, file, dated("floats", ".csv"))
	})
}

func (s *server) exportZip(w http.ResponseWriter, r *http.Request) error {
	return beside(func(dir string) error {
		dir = filepath.Join(dir, "export")
		if _, err := s.shop().Export(r.Context(), dir); err != nil {
			return err
		}
		return sendFolder(w, dir, "floatmark-export")
	})
}

// siteZip sends what was published, packed.
func (s *server) siteZip(w http.ResponseWriter, _ *http.Request) error {
	if _, err := os.Stat(s.siteDir()); errors.Is(err, fs.ErrNotExist) {
		return fault.New(fault.NotFound, "", "nothing was published yet", "publish first")
	}
	return sendFolder(w, s.siteDir(), "site")
}

// sendFolder packs a folder on the way, in the order of its names and without
// times: the same files, the same bytes.
func sendFolder(w http.ResponseWriter, dir, name string) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fault.New(fault.Machine, dir, "cannot be read: "+err.Error(), "try again", err)
	}
	defer root.Close()
	headed(w, dated(name, ".zip"))
	z := zip.NewWriter(w)
	err = fs.WalkDir(root.FS(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		in, err := z.CreateHeader(&zip.FileHeader{Name: name + "/" + path, Method: zip.Deflate})
		if err != nil {
			return err
		}
		f, err := root.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		_, err = io.Copy(in, f)
		return err
	})
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		panic(http.ErrAbortHandler) // half of it is sent: the browser must not take that for the whole
	}
	return nil
}
