package job

import (
	"fmt"
	"slices"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Question is a load to convert.
type Question struct {
	Load       string // "4.2g", "1/8oz", "3AAA+2No4", the pole size "4x14"
	Convention string // key of the convention a load in shot is written in, or a file, see FindConvention
	Metal      string // key of the metal of a load in grams; "" for the convention's
	TempC      float64
	Salinity   float64
	Tip        string // diameter at the waterline with its unit; "" when not known
	Market     string
	Own        []shot.Convention // the maker's own sets, answered in beside the built-in
}

// Conversion is the answer: the load in every convention, each in its own metal.
type Conversion struct {
	Gram  unit.Gram `json:"mass_g"`
	Metal string    `json:"metal"`
	Water string    `json:"water"`
	Pull  unit.Gram `json:"pull_g"`
	Near  bool      `json:"near,omitempty"` // the load is a pole size: its mass is only near
	// Notices tell what else the words of the load can mean.
	Notices []string        `json:"notices,omitempty"`
	Rows    []ConversionRow `json:"conventions"`
}

// ConversionRow is the load in one convention.
type ConversionRow struct {
	Key         string             `json:"key"`
	Name        string             `json:"name"`
	Revision    int                `json:"revision"`
	Gram        unit.Gram          `json:"mass_g"`
	Equivalents []ConversionChoice `json:"equivalents"`
}

// ConversionChoice is one way to make the load.
type ConversionChoice struct {
	Shot  string          `json:"shot"`
	Total unit.Gram       `json:"total_g"`
	Rest  unit.Gram       `json:"rest_g"`
	Tip   unit.Millimetre `json:"tip_shift_mm,omitempty"`
	Off   string          `json:"off"`
	Note  string          `json:"note,omitempty"`
}

// Convert works a load out in every convention. A load, metal or convention
// that cannot be read is an Input error.
func Convert(q Question) (Conversion, error) {
	from, err := FindConvention(q.Convention, q.Own)
	if err != nil {
		return Conversion{}, err
	}
	w := water.Water{TempC: q.TempC, Salinity: q.Salinity}
	if err := w.Check(); err != nil {
		return Conversion{}, err
	}
	load, err := shot.ReadLoad(q.Load, from)
	if err != nil {
		return Conversion{}, err
	}
	mass, metal := load.Mass, load.Metal
	if q.Metal != "" && load.Counts == nil {
		var ok bool
		if metal, ok = water.MetalByKey(q.Metal); !ok {
			return Conversion{}, fault.New(fault.Input, "", fmt.Sprintf("there is no metal %q", q.Metal), "use lead, tin, bismuth, brass, steel, zinc or tungsten")
		}
	}
	said, err := words.For("en")
	if err != nil {
		return Conversion{}, err
	}
	lim := shot.Limits{Water: w, Market: q.Market}
	if q.Tip != "" {
		if lim.TipDiameter, err = unit.ParseMillimetre(q.Tip); err != nil {
			return Conversion{}, fault.At("--tip", err)
		}
	}
	c := Conversion{Gram: mass, Metal: metal.Name, Water: waterText(w), Pull: water.Pull(mass, metal, w), Near: load.Near, Notices: load.Notices}
	if _, known := shot.RuleFor(q.Market); q.Market != "" && !known {
		c.Notices = append(c.Notices, fmt.Sprintf("no rule on lead is known here for %q: nothing is left out, and there may be one", q.Market))
	}
	all := append(shot.Conventions(), q.Own...)
	if !slices.ContainsFunc(all, func(k shot.Convention) bool { return k.Key == from.Key }) {
		all = append(all, from) // of a file
	}
	for _, to := range all {
		target := water.Equal(mass, metal, to.Metal, w)
		row := ConversionRow{Key: to.Key, Name: to.Name + ", " + to.Metal.Name, Revision: to.Revision, Gram: target}
		for _, e := range shot.Equivalents(target, to, lim) {
			row.Equivalents = append(row.Equivalents, choice(e, said))
		}
		if to.Unit != "" { // the mass is all there is to say
			row.Equivalents = []ConversionChoice{{Shot: to.MassText(target, unit.Style{}), Total: target, Off: "nothing"}}
		}
		c.Rows = append(c.Rows, row)
	}
	return c, nil
}

func choice(e shot.Equivalent, w words.Words) ConversionChoice {
	off := "nothing"
	if r := unit.Number(float64(e.Rest), 0.001, unit.Style{}); r != "0" {
		side := "too little"
		if e.Rest < 0 {
			side, r = "too much", r[1:]
		}
		off = r + " g " + side
	}
	c := ConversionChoice{Shot: e.Text(), Total: e.Total, Rest: e.Rest, Off: off}
	if e.TipKnown {
		c.Tip = e.TipShift
		if tip := label.TipText(e, w); tip != "" {
			c.Off += ", " + tip
		}
	}
	var open unit.Gram // by the rounding of small shot
	for _, n := range e.Counts {
		if caution := n.Size.Caution(); caution != "" {
			c.Note = caution
		}
		open += unit.Gram(float64(n.N) * float64(n.Size.Rounding))
	}
	if open > 0 && c.Note == "" {
		c.Note = "±" + open.Text(0.0001, unit.Style{}) + " by rounding"
	}
	return c
}

func waterText(w water.Water) string {
	kind := "fresh water"
	if w.Salinity > 0 {
		kind = "sea water of salinity " + unit.Number(w.Salinity, 0.1, unit.Style{})
	}
	return kind + " at " + unit.Number(w.TempC, 0.1, unit.Style{}) + " °C"
}
