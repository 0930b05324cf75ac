package bench

import (
	"io"
	"net/http"
	"path/filepath"
	"strings"

	"floatmark/loading/fault"
)

type upload struct {
	name string
	data []byte
}

// uploaded reads the files of a form's field "file": the one batch file among
// them, and the others by name.
func uploaded(r *http.Request) (main upload, beside map[string][]byte, err error) {
	beside = map[string][]byte{}
	for _, h := range r.MultipartForm.File["file"] {
		f, err := h.Open()
		if err != nil {
			return main, nil, fault.New(fault.Machine, h.Filename, "it cannot be read", "try again", err)
		}
		data, err := io.ReadAll(f)
		f.Close()
		if err != nil {
			return main, nil, fault.New(fault.Machine, h.Filename, "it cannot be read", "try again", err)
		}
		if strings.EqualFold(filepath.Ext(h.Filename), ".toml") && main.name == "" {
			main = upload{h.Filename, data}
			continue
		}
		beside[h.Filename] = data
	}
	if main.name == "" {
		return main, nil, fault.Inputf("choose the file whose name ends in .toml, and with it the files it names", "there is no batch file among them")
	}
	return main, beside, nil
}
