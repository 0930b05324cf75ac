package job

import (
	"encoding/json"

	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// readingFormat is the version of reading that is written.
const readingFormat = 1

// reading is the stored shape of a reading: what was noted, and every figure it
// was understood as, so that a later table of shot or metals changes nothing.
type reading struct {
	Format     int             `json:"format"`
	Noted      string          `json:"noted"` // as written: "0.85 g", "3AAA+2No4"
	Date       string          `json:"date,omitempty"`
	By         string          `json:"by,omitempty"`
	Note       string          `json:"note,omitempty"`
	Pattern    string          `json:"pattern,omitempty"`
	Stage      string          `json:"stage"`
	Tip        string          `json:"tip"`
	Hung       unit.Gram       `json:"hung_g,omitempty"`
	Counted    []countedShot   `json:"counted,omitempty"`
	Convention string          `json:"convention,omitempty"` // of counted shot
	Revision   int             `json:"convention_revision,omitempty"`
	Metal      storedMetal     `json:"metal"`
	WaterC     float64         `json:"water_c"`
	Salinity   float64         `json:"salinity"`
	TipMM      unit.Millimetre `json:"tip_mm,omitempty"`
	AboveMM    unit.Millimetre `json:"above_mm,omitempty"`
	ReadToMM   unit.Millimetre `json:"read_to_mm,omitempty"`
	ScaleG     unit.Gram       `json:"scale_g,omitempty"`
	With       []storedFitting `json:"with,omitempty"`
}

type countedShot struct {
	Size     string    `json:"size"`
	Mass     unit.Gram `json:"mass_g"`
	Verified bool      `json:"verified"`
	N        int       `json:"count"`
}

type storedMetal struct {
	Key     string  `json:"key"`
	Name    string  `json:"name"`
	Density float64 `json:"density_g_cm3"`
	Lead    bool    `json:"lead,omitempty"`
}

type storedFitting struct {
	Name  string      `json:"name"`
	Mass  unit.Gram   `json:"mass_g"`
	Metal storedMetal `json:"metal"`
}

func storeMetal(m water.Metal) storedMetal { return storedMetal{m.Key, m.Name, m.Density, m.Lead} }

func (m storedMetal) metal() water.Metal {
	return water.Metal{Key: m.Key, Name: m.Name, Density: m.Density, Source: "as stored with the reading", Lead: m.Lead}
}

// stored writes a reading down; the caller adds who, when and what was noted.
func stored(d tank.Reading, c shot.Convention) reading {
	r := reading{Format: readingFormat, Stage: d.Stage.String(), Tip: d.Tip.String(), Hung: d.Hung, Metal: storeMetal(d.Metal),
		WaterC: d.Water.TempC, Salinity: d.Water.Salinity, TipMM: d.TipDiameter, AboveMM: d.Above, ReadToMM: d.ReadTo, ScaleG: d.ScaleStep}
	for _, n := range d.Counted {
		r.Counted = append(r.Counted, countedShot{n.Size.Name, n.Size.Mass, n.Size.Verified, n.N})
		r.Convention, r.Revision = c.Key, c.Revision
	}
	for _, f := range d.With {
		r.With = append(r.With, storedFitting{f.Name, f.Mass, storeMetal(f.Metal)})
	}
	return r
}

// readingOf reads a stored reading.
func readingOf(from record.Reading) (reading, tank.Reading, error) {
	var r reading
	if err := json.Unmarshal(from.Data, &r); err != nil {
		return reading{}, tank.Reading{}, fault.New(fault.Ours, from.Batch, "a stored reading cannot be read: "+err.Error(), "", err)
	}
	if r.Format > readingFormat {
		return reading{}, tank.Reading{}, fault.New(fault.Input, from.Batch, "a reading was stored by a newer floatmark", "use the newer floatmark")
	}
	stage, err := tank.ParseStage(r.Stage)
	if err != nil {
		return reading{}, tank.Reading{}, err
	}
	tip, err := tank.ParseTip(r.Tip)
	if err != nil {
		return reading{}, tank.Reading{}, err
	}
	d := tank.Reading{Hung: r.Hung, Metal: r.Metal.metal(), Water: water.Water{TempC: r.WaterC, Salinity: r.Salinity}, Stage: stage, Tip: tip,
		TipDiameter: r.TipMM, Above: r.AboveMM, ReadTo: r.ReadToMM, ScaleStep: r.ScaleG}
	for _, n := range r.Counted {
		d.Counted = append(d.Counted, shot.Count{Size: shot.Size{Name: n.Size, Mass: n.Mass, Verified: n.Verified}, N: n.N})
	}
	for _, f := range r.With {
		d.With = append(d.With, tank.Fitting{Name: f.Name, Mass: f.Mass, Metal: f.Metal.metal()})
	}
	if r.Date == "" && len(from.Made) >= len("2026-11-20") {
		r.Date = from.Made[:len("2026-11-20")]
	}
	return r, d, nil
}
