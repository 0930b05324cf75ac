package job

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// BatchPrint is one print of a batch, with what a person needs at the printer.
type BatchPrint struct {
	Number  int
	State   string // "pending", "confirmed" or "cancelled"
	Made    string // UTC, RFC 3339
	Settled string // when it was confirmed or cancelled
	Floats  []int  // numbers of those whose marks it bears
	Film    string // key of the stock
	ForShop bool
	Sheets  []PrintSheet // in the order of the pages; none for a shop and for marks by hand
	Files   []PrintFile
}

// PrintSheet is a sheet of film that a print lies on.
type PrintSheet struct {
	Number   int
	PartUsed bool
	Feed     string // the edge that goes into the printer first: "top", "right", "bottom", "left"
}

// PrintFile is one file of a print; There tells whether it still lies in the
// print's folder.
type PrintFile struct {
	Name  string // below the folder, with "/" between
	Bytes int
	There bool
}

// BatchPrints returns the prints of a batch by number. A workshop without records
// has none.
func (w *Workshop) BatchPrints(batch string) ([]BatchPrint, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.Prints(batch)
	if err != nil {
		return nil, err
	}
	feeds := map[int]string{}
	out := make([]BatchPrint, 0, len(all))
	for _, p := range all {
		one, err := w.batchPrint(s, p, feeds)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

func (w *Workshop) batchPrint(s *record.Store, p record.Print, feeds map[int]string) (BatchPrint, error) {
	out := BatchPrint{Number: p.Number, State: p.State, Made: p.Made, Settled: p.Settled}
	var data struct { // of printed, what is told: the layouts are long
		Film   string  `json:"film"`
		Only   []int   `json:"only"`
		Ledger *Ledger `json:"ledger"`
		Floats []struct {
			Number int `json:"number"`
		} `json:"floats"`
		Files []Output `json:"files"`
	}
	if len(p.Data) > 0 {
		if err := json.Unmarshal(p.Data, &data); err != nil {
			return out, fault.New(fault.Ours, printName(p.Number), "what it printed cannot be read: "+err.Error(), "", err)
		}
	}
	out.Film = data.Film
	if out.Floats = data.Only; len(out.Floats) == 0 {
		for _, f := range data.Floats {
			out.Floats = append(out.Floats, f.Number)
		}
	}
	dir := w.PrintDir(p.Batch, p.Number)
	for _, f := range data.Files {
		info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(f.Name)))
		out.Files = append(out.Files, PrintFile{filepath.ToSlash(f.Name), f.Bytes, err == nil && info.Mode().IsRegular()})
		out.ForShop = out.ForShop || strings.HasPrefix(f.Name, shopFolder+"/")
	}
	for _, r := range p.Regions {
		if r.Number == 0 {
			continue
		}
		if _, ok := feeds[r.Number]; !ok {
			sh, _, _, err := s.Sheet(r.Number)
			if err != nil {
				return out, err
			}
			feeds[r.Number] = sh.Feed
		}
		used := data.Ledger != nil && slices.ContainsFunc(data.Ledger.Open, func(o PartUsed) bool { return o.Number == r.Number })
		out.Sheets = append(out.Sheets, PrintSheet{r.Number, used, feeds[r.Number]})
	}
	return out, nil
}

// ReadPrintFile reads a file of a print: NotFound for one that the print has not,
// or that lies there no more.
func (w *Workshop) ReadPrintFile(batch string, number int, name string) ([]byte, error) {
	gone := func(err error) error {
		return fault.New(fault.NotFound, name, "this file is not there any more", "print it again: the same marks make the same files", err)
	}
	root, err := os.OpenRoot(w.PrintDir(batch, number))
	if err != nil {
		return nil, gone(err)
	}
	defer root.Close()
	data, err := root.ReadFile(filepath.FromSlash(name))
	if err != nil {
		return nil, gone(err)
	}
	return data, nil
}
