package bench

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"mime"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// fileAbout tells of the files that are printed what they are for, in the order
// in which they are wanted at the printer.
var fileAbout = []struct{ name, about string }{
	{"decals.pdf", "The marks, for the film"},
	{"jig.pdf", "Jigs for marks put on by hand"},
	{"proof.pdf", "The same on plain paper, with rules, to try first"},
	{"jobsheet.pdf", "Job sheet: what goes where, on plain paper"},
	{"backers.pdf", "Cards to go with the floats"},
}

const (
	shopDir = "shop/" // where a print's files for a print shop are
	shopZip = "print-shop.zip"
	allZip  = "everything.zip"
)

// savedName is the name that a file of a print is saved under: what it is, of
// which batch and print, so that it is found again among downloads.
func savedName(name, batch string, number int) string {
	base := strings.ReplaceAll(name, "/", "-")
	ext := path.Ext(base)
	return strings.TrimSuffix(base, ext) + "-" + job.FolderName(batch) + "-print-" + strconv.Itoa(number) + ext
}

// shown gives a print's files names and places.
func (s *server) shown(batch string, p job.BatchPrint) printShown {
	out := printShown{BatchPrint: p, When: clockText(p.Made), FloatCount: len(p.Floats), Gone: len(p.Files) > 0}
	if p.Settled != "" {
		out.SettledWhen = clockText(p.Settled)
	}
	at := Path + batchPath(batch, "print") + "/" + strconv.Itoa(p.Number) + "/"
	one := func(f job.PrintFile, about string) fileShown {
		out.Gone = false
		return fileShown{Name: f.Name, About: about, To: at + f.Name, Save: savedName(f.Name, batch, p.Number), Size: sizeText(f.Bytes)}
	}
	out.All = at + allZip
	for _, known := range fileAbout {
		for _, f := range p.Files {
			if f.There && f.Name == known.name {
				out.Main = append(out.Main, one(f, known.about))
			}
		}
	}
	for _, f := range p.Files {
		known := slices.ContainsFunc(fileAbout, func(k struct{ name, about string }) bool { return k.name == f.Name })
		switch {
		case !f.There || known:
		case strings.HasPrefix(f.Name, shopDir):
			one(f, "")
			out.Zip = at + shopZip
		default:
			out.Others = append(out.Others, one(f, ""))
		}
	}
	return out
}

// sizeText is how large a file is, as people compare files.
func sizeText(n int) string {
	const kilo = 1000
	if n < kilo*kilo {
		return fmt.Sprintf("%d kB", (n+kilo-1)/kilo)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/(kilo*kilo))
}

// printFile sends a file of a print, or several of them packed.
func (s *server) printFile(w http.ResponseWriter, r *http.Request) error {
	number, _, err := s.printOf(r)
	if err != nil {
		return err
	}
	batch, name := r.PathValue("batch"), r.PathValue("file")
	if name == shopZip || name == allZip {
		return s.printZip(w, batch, number, name)
	}
	data, err := s.shop().ReadPrintFile(batch, number, name)
	if err != nil {
		return err
	}
	return sendFile(w, savedName(name, batch, number), data)
}

// printZip packs files of a print, the same files into the same bytes.
func (s *server) printZip(w http.ResponseWriter, batch string, number int, name string) error {
	all, err := s.shop().BatchPrints(batch)
	if err != nil {
		return err
	}
	var files []zipped
	for _, p := range all {
		if p.Number != number {
			continue
		}
		for _, f := range p.Files {
			in, isShop := strings.CutPrefix(f.Name, shopDir)
			if !f.There || name == shopZip && !isShop {
				continue
			}
			if name == allZip {
				in = f.Name
			}
			data, err := s.shop().ReadPrintFile(batch, number, f.Name)
			if err != nil {
				return err
			}
			files = append(files, zipped{in, data})
		}
	}
	if len(files) == 0 {
		return fault.New(fault.NotFound, name, "this print has no such files", "print it for a print shop")
	}
	folder := strings.TrimSuffix(savedName(name, batch, number), ".zip")
	var buf bytes.Buffer
	if err := zipInto(&buf, folder, files); err != nil {
		return err
	}
	return sendFile(w, folder+".zip", buf.Bytes())
}

type zipped struct {
	name string
	data []byte
}

// zipInto packs files into one folder, in the order of their names and without a
// time: the same files, the same bytes.
func zipInto(to io.Writer, folder string, files []zipped) error {
	slices.SortFunc(files, func(a, b zipped) int { return strings.Compare(a.name, b.name) })
	z := zip.NewWriter(to)
	for _, f := range files {
		in, err := z.CreateHeader(&zip.FileHeader{Name: folder + "/" + f.name, Method: zip.Deflate})
		if err != nil {
			return err
		}
		if _, err := in.Write(f.data); err != nil {
			return err
		}
	}
	return z.Close()
}

// kinds are the media types of what is sent; the system's own table differs from
// machine to machine.
var kinds = map[string]string{".pdf": "application/pdf", ".png": "image/png", ".svg": "image/svg+xml", ".zip": "application/zip",
	".csv": "text/csv; charset=utf-8", ".db": "application/octet-stream", ".json": "application/json"}

// sendFile sends a file under the name it is to be saved by. PDFs and pictures
// open in the browser, to be printed from there.
func sendFile(w http.ResponseWriter, name string, data []byte) error {
	kind, how := kinds[path.Ext(name)], "attachment"
	switch path.Ext(name) {
	case ".pdf", ".png", ".svg":
		how = "inline"
	case "":
		kind = "application/octet-stream"
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Length", strconv.Itoa(len(data)))
	h.Set("Content-Disposition", mime.FormatMediaType(how, map[string]string{"filename": name}))
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	if kind == kinds[".pdf"] {
		h.Del("Content-Security-Policy") // a browser's own viewer is no page of ours
	}
	_, _ = w.Write(data) // the reader's connection may be gone
	return nil
}
