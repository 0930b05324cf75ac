package job

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/water"
)

// Noted is a reading as it is written down, every field as text.
type Noted = batch.Noted

// TankAdded says what was stored.
type TankAdded struct {
	Added  int         `json:"added"`
	Known  int         `json:"known"` // stored before, and kept as they are
	Floats []TankFloat `json:"floats"`
}

// AddReading stores a reading of the float that n names, by its number in the
// batch file path or by its id. Readings are only ever added: the same one twice
// is a repeat, unless key, which may be "", says that it is one and the same.
func (w *Workshop) AddReading(path string, n Noted, key string) (TankAdded, error) {
	if n.Date == "" {
		n.Date = time.Now().Format(time.DateOnly)
	}
	return w.addReadings(path, []Noted{n}, func(have map[string]bool, content string, _ int) string {
		if key != "" {
			return "given " + key
		}
		for i := 1; ; i++ {
			if k := ordinal(content, i); !have[k] {
				return k
			}
		}
	})
}

// ImportReadings stores the readings of a CSV file; path is the batch file of
// those named by number, "" when all are named by id. Reading the same file
// again adds nothing; lines that say the same are repeats.
func (w *Workshop) ImportReadings(csvPath, path string) (TankAdded, error) {
	src, err := readBatch(csvPath)
	if err != nil {
		return TankAdded{}, err
	}
	all, err := batch.ParseReadings(csvPath, src)
	if err != nil {
		return TankAdded{}, err
	}
	return w.addReadings(path, all, func(_ map[string]bool, content string, i int) string { return ordinal(content, i) })
}

// ordinal is the key of the i-th reading that says the same.
func ordinal(content string, i int) string { return content + "-" + strconv.Itoa(i) }

// addReadings understands all readings before it stores any. key names each, by
// the keys there are, a hash of what it says and how often the list has said so.
func (w *Workshop) addReadings(path string, all []Noted, key func(have map[string]bool, content string, i int) string) (TankAdded, error) {
	var file *batch.File
	if path != "" {
		src, err := readBatch(path)
		if err != nil {
			return TankAdded{}, err
		}
		beside := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(path), name)) }
		if file, err = batch.Parse(path, src, beside, w.settings); err != nil {
			return TankAdded{}, err
		}
	}
	old, err := w.records()
	if err != nil {
		return TankAdded{}, err
	}
	if old != nil {
		defer old.Close()
	}
	var out []record.Reading
	var findings []error
	said := map[string]int{}
	have := map[string]map[string]bool{}
	now := time.Now().UTC().Format(time.RFC3339)
	for _, n := range all {
		one, err := w.understand(old, file, n)
		if err != nil {
			findings = append(findings, placed(n.Where, err)...)
			continue
		}
		if have[one.Batch], err = keysOf(old, one.Batch, have[one.Batch]); err != nil {
			return TankAdded{}, err
		}
		sum := sha256.Sum256(append([]byte(one.Batch+"\x00"+strconv.Itoa(one.Number)+"\x00"), one.Data...))
		content := hex.EncodeToString(sum[:16])
		said[content]++
		one.Key, one.Made = key(have[one.Batch], content, said[content]), now
		out = append(out, one)
	}
	if err := join(findings); err != nil {
		return TankAdded{}, err
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		return TankAdded{}, err
	}
	defer s.Close()
	added, err := s.AddReadings(out)
	if err != nil {
		return TankAdded{}, err
	}
	result := TankAdded{Added: added, Known: len(out) - added}
	touched := map[string]map[int]bool{}
	for _, r := range out {
		if touched[r.Batch] == nil {
			touched[r.Batch] = map[int]bool{}
		}
		touched[r.Batch][r.Number] = true
	}
	report, err := tankReport(s, func(b string, number int) bool { return touched[b][number] })
	result.Floats = report.Floats
	return result, err
}

// placed puts a place before findings that have none of that file yet.
func placed(where string, err error) (all []error) {
	for _, e := range fault.List(err) {
		if where == "" || strings.HasPrefix(e.Where, where) {
			all = append(all, e)
		} else {
			all = append(all, fault.At(where, e))
		}
	}
	return all
}

// keysOf returns the keys of a batch's readings, looked up once.
func keysOf(s *record.Store, name string, have map[string]bool) (map[string]bool, error) {
	if have != nil {
		return have, nil
	}
	have = map[string]bool{}
	if s == nil {
		return have, nil
	}
	all, err := s.Readings(name)
	for _, r := range all {
		have[r.Key] = true
	}
	return have, err
}

// understand finds the float of a reading and reads it as floats of its batch
// are read.
func (w *Workshop) understand(s *record.Store, file *batch.File, n Noted) (record.Reading, error) {
	where, how, out, err := "", batch.Tank{}, record.Reading{}, error(nil)
	var pattern string
	switch {
	case n.ID != "":
		where = n.ID
		out.Batch, out.Number, pattern, how, err = w.printedFloat(s, n)
	case file == nil:
		return out, fault.Inputf("name the batch file too, or the float by its id", "%q is the number of a float without its batch", n.Number)
	default:
		where = "float " + n.Number
		var f *label.Float
		if f, err = floatOf(file, n.Number); err == nil {
			out.Batch, out.Number, pattern, how = file.Batch.Name, f.Number, f.Pattern.Key, file.Tank.For(f)
		}
	}
	if err != nil {
		return out, err
	}
	d, err := n.Read(how)
	if err != nil {
		if n.Where != "" {
			return out, err // it has its place in the file
		}
		var findings []error
		for _, e := range fault.List(err) {
			findings = append(findings, fault.At(where, e))
		}
		return out, join(findings)
	}
	r := stored(d, how.Shot)
	r.Noted, r.Date, r.By, r.Note, r.Pattern = n.Reading, n.Date, n.By, n.Note, pattern
	out.Data, err = json.Marshal(r)
	return out, err
}

func floatOf(file *batch.File, number string) (*label.Float, error) {
	for i := range file.Batch.Floats {
		f := &file.Batch.Floats[i]
		if strconv.Itoa(f.Number) != strings.TrimSpace(number) {
			continue
		}
		if f.Pattern.Kind == loading.Exchangeable {
			return nil, fault.Inputf("write its readings into the batch file, each in the [[float.setup]] it belongs to",
				"float %d is exchangeable: a reading holds for one set-up only", f.Number)
		}
		return f, nil
	}
	return nil, fault.New(fault.NotFound, file.Path, fmt.Sprintf("there is no float %q in batch %s", number, file.Batch.Name), "give its place on the drying board")
}

// printedFloat finds a float by the id it bears, and how it is read: at the tip
// its record tells, in the water its figures hold for. Which metal hung and how
// far the float was made, the record does not know.
func (w *Workshop) printedFloat(s *record.Store, n Noted) (name string, number int, pattern string, how batch.Tank, err error) {
	id, err := ident.Parse(n.ID)
	if err != nil {
		return "", 0, "", how, err
	}
	var e label.Entry
	ok := false
	if s != nil {
		if e, ok, err = entryOf(s, string(id)); err != nil {
			return "", 0, "", how, err
		}
	}
	if !ok {
		return "", 0, "", how, fault.New(fault.NotFound, "", fmt.Sprintf("no float bears the id %s in %s", id, w.Dir), "check the id, or name another folder with --workshop DIR")
	}
	if len(e.Setups) > 0 {
		return "", 0, "", how, fault.Inputf("write its readings into the batch file, each in the [[float.setup]] it belongs to",
			"%s is exchangeable: a reading holds for one set-up only", id)
	}
	if n.Stage == "" {
		return "", 0, "", how, fault.Inputf("add the stage: bare, beneath, fitted or varnished", "a reading of %s does not say how far the float was made", id)
	}
	how.Water = water.Water{TempC: e.WaterTempC, Salinity: e.SalinityPSU}
	if p, err := body.New(e.Stations); err == nil {
		how.TipDiameter = p.Diameter(e.Waterline)
	}
	how.Shot, ok = shot.ByKey(e.Convention)
	if !ok {
		how.Shot = shot.Conventions()[0]
		for _, own := range w.Own() {
			if own.Key == e.Convention {
				how.Shot = own
			}
		}
	}
	f, _, err := s.Float(string(id)) // its pattern's key; the entry has the name
	return e.Batch, e.Number, f.Pattern, how, err
}
