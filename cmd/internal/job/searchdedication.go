package job

import (
	"encoding/json"
	"fmt"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
)

// textsEdition names what the texts of the search hold: a new one has all of them
// renewed. The second has dedications.
const textsEdition = "2"

// dedications are whom floats are made for, by batch and number. They stand in the
// prints alone: what is stored of a float is made public, and a name is not.
type dedications map[string]map[int]string

// of returns whom a float was made for by the last print of its batch; "" for none.
func (d dedications) of(s *record.Store, f record.Float) (string, error) {
	all, known := d[f.Batch]
	if !known {
		var err error
		if all, err = dedicationsOf(s, f.Batch); err != nil {
			return "", err
		}
		d[f.Batch] = all
	}
	return all[f.Number], nil
}

// dedicationsOf reads the last print of a batch. One that cannot be read has none.
func dedicationsOf(s *record.Store, name string) (map[int]string, error) {
	number, _, ok, err := s.LastPrint(name)
	if err != nil || !ok {
		return nil, err
	}
	p, _, err := s.PrintByNumber(number)
	if err != nil {
		return nil, err
	}
	var last struct {
		Source string `json:"batch_file"`
		Floats []struct {
			Number     int    `json:"number"`
			Dedication string `json:"dedication"`
		} `json:"floats"`
	}
	if json.Unmarshal(p.Data, &last) != nil {
		return nil, nil
	}
	all := map[int]string{}
	if strings.Contains(last.Source, "dedication") { // prints of older programs have it there only
		if doc, err := batch.ParseDoc([]byte(last.Source)); err == nil {
			for i := range doc.Len("float") {
				at := fmt.Sprintf("float/%d/", i)
				if n, ok := valueAt(doc, at+"number").(int64); ok {
					all[int(n)] = doc.Text(at + "dedication")
				}
			}
		}
	}
	for _, f := range last.Floats {
		if f.Dedication != "" {
			all[f.Number] = f.Dedication
		}
	}
	return all, nil
}

func valueAt(d *batch.Doc, path string) any {
	v, _ := d.Get(path)
	return v
}
