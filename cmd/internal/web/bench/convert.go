package bench

import (
	"fmt"
	"math"
	"net/http"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (s *server) convertPages() []route {
	return []route{s.get("convert", s.convert)}
}

// convertPage is a load in every convention.
type convertPage struct {
	Load, Tip string
	Of        []option
	Asked     bool
	Ends      []convertedShown // two of a range
	Examples  []string
}

type convertedShown struct {
	Mass, Pull, Metal string
	Near              bool // a pole size, whose mass is only near
	Told              []string
	Rows              []convertedRow
}

type convertedRow struct {
	Name, Mass, OneSize string
	Ways                []convertedWay
	Nearest             bool // nothing makes it; the ways are what comes nearest
	Barred              bool // nothing makes it without sizes that may not be used where the floats are sold
}

type convertedWay struct{ Shot, Off, Tip string }

// loadExamples are loads as anglers write them.
var loadExamples = []string{"4.2 g", "1/8 oz", "3AAA", "3AAA+2No4", "4x14"}

// usualTemp is the water that loads are worked out in where nobody says another,
// degrees Celsius.
const usualTemp = 15

// farOff is the part of a load from which on what comes nearest says nothing any
// more. Estimate.
const farOff = 0.2

func (s *server) convert(w http.ResponseWriter, r *http.Request) error {
	q := r.URL.Query()
	p := convertPage{Load: strings.TrimSpace(q.Get("load")), Tip: strings.TrimSpace(q.Get("tip")), Examples: loadExamples}
	of := q.Get("of")
	own := s.shop().Own()
	for _, c := range job.Conventions(own) {
		if of == "" {
			of = c.Key
		}
		p.Of = append(p.Of, option{c.Key, c.Name, c.Key == of})
	}
	f := frame{Title: "Convert a load"}
	status := http.StatusOK
	if p.Load != "" {
		p.Asked = true
		m := s.measures(r)
		c, err := s.converted(m, p, of)
		if err != nil {
			f.Findings, status = findings(err), http.StatusUnprocessableEntity
		} else {
			for at := &c; at != nil; at = at.UpTo {
				p.Ends = append(p.Ends, convertedIn(m, *at))
			}
		}
	}
	f.Body = p
	s.send(w, r, status, "convert", f)
	return nil
}

func (s *server) converted(m words.Measures, p convertPage, of string) (job.Conversion, error) {
	set, err := s.shop().Settings()
	if err != nil {
		return job.Conversion{}, err
	}
	q := job.Question{Load: p.Load, Convention: of, TempC: usualTemp, Market: set.Doc.Text("maker/market"), Own: s.shop().Own()}
	if p.Tip != "" {
		across, err := m.ReadLength(p.Tip)
		if err != nil {
			return job.Conversion{}, err
		}
		if across <= 0 {
			return job.Conversion{}, fault.Inputf("give a length above 0, or leave it out", "%q is nothing", p.Tip)
		}
		q.Tip = across.Text(0.001, unit.Style{})
	}
	return job.Convert(q)
}

// leastTip is how far a tip moves that anybody sees, mm.
const leastTip = 0.05

// convertedIn shows a conversion in a reader's measures.
func convertedIn(m words.Measures, c job.Conversion) convertedShown {
	const fine, coarse = 0.001, 0.01 // g
	out := convertedShown{Mass: m.Load(c.Gram, fine), Pull: m.Load(c.Pull, fine), Metal: c.Metal, Near: c.Near, Told: c.Notices}
	way := func(e job.ConversionChoice) convertedWay {
		off := unit.Gram(math.Abs(float64(e.Rest)))
		one := convertedWay{Shot: e.Shot, Off: "0"}
		if text := off.Text(fine, m.Number); off >= fine/2 {
			one.Off = "−" + text
			if e.Rest < 0 {
				one.Off = "+" + text
			}
		}
		if math.Abs(float64(e.Tip)) >= leastTip {
			sign := "↑ "
			if e.Tip < 0 {
				sign = "↓ "
			}
			one.Tip = sign + m.Length(unit.Millimetre(math.Abs(float64(e.Tip))), 0.1)
		}
		return one
	}
	for _, row := range c.Rows {
		shown := convertedRow{Name: row.Name, Mass: m.Load(row.Gram, coarse), OneSize: row.OneSize}
		for _, e := range row.Equivalents {
			shown.Ways = append(shown.Ways, way(e))
		}
		if len(shown.Ways) == 0 && row.Nearest != nil && math.Abs(float64(row.Nearest.Rest)) < farOff*float64(row.Gram) {
			shown.Ways, shown.Nearest = []convertedWay{way(*row.Nearest)}, true
		}
		shown.Barred = len(shown.Ways) == 0 && row.Barred()
		out.Rows = append(out.Rows, shown)
	}
	return out
}

// numbered is a name with the day, for a file that is saved.
func numbered(what, of, ext string) string {
	return dated(fmt.Sprintf("%s-%s", what, job.FolderName(of)), ext)
}
