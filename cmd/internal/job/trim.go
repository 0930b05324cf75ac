package job

import (
	"strings"

	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// TrimQuestion asks how a built-in weight comes to a wanted add. Every quantity
// is text with its unit.
type TrimQuestion struct {
	Weight   string // as it is now
	Material string // its metal
	Side     string // "inside" or "outside"
	Rod      string // its diameter when cut from rod; "" by mass alone
	Bore     string
	Takes    string // the add as hung with the weight fitted; or
	Bare     string // what the bare float takes
	Want     string // the add wanted; "0 g" for a self-cocking float
	Metal    string // of the shot hung and wanted
	Tip      string // how it was wetted: dry, wet or washed
	TipWide  string // its diameter at the waterline
	Scale    string // last digit of the scale
	TempC    float64
	Salinity float64
}

// TrimAnswer is the next step, with stable names.
type TrimAnswer struct {
	State  string          `json:"state"` // take, stop, past
	Sinks  bool            `json:"sinks"`
	Limit  unit.Gram       `json:"carries_at_most_g,omitempty"`
	Now    unit.Gram       `json:"add_now_g"`
	NowU   unit.Gram       `json:"uncertainty_g"`
	Want   unit.Gram       `json:"add_wanted_g"`
	Take   unit.Gram       `json:"take_off_g"`
	Length unit.Millimetre `json:"take_off_mm,omitempty"`
	Leaves unit.Gram       `json:"weight_then_g"`
	Expect unit.Gram       `json:"add_then_g"`
	More   unit.Gram       `json:"fit_more_g,omitempty"`
	Text   string          `json:"text"`
}

// Trim answers the question. What cannot be read is an Input error that names
// the flag.
func Trim(q TrimQuestion) (TrimAnswer, error) {
	t := loading.Trimming{Water: water.Water{TempC: q.TempC, Salinity: q.Salinity}}
	var findings []error
	note := func(flag string, err error) {
		if err != nil {
			findings = append(findings, fault.At(flag, err))
		}
	}
	mass := func(flag, s string, to *unit.Gram) {
		if s == "" {
			return
		}
		v, err := unit.ParseGram(s)
		note(flag, err)
		*to = v
	}
	length := func(flag, s string, to *unit.Millimetre) {
		if s == "" {
			return
		}
		v, err := unit.ParseMillimetre(s)
		note(flag, err)
		*to = v
	}
	mass("the weight", q.Weight, &t.Weight.Mass)
	mass("--want", q.Want, &t.Want)
	mass("--scale", q.Scale, &t.Scale)
	var err error
	t.Weight.Metal, err = water.ParseMetal(q.Material)
	note("--of", err)
	t.Metal, err = water.ParseMetal(q.Metal)
	note("--metal", err)
	switch strings.ToLower(strings.TrimSpace(q.Side)) {
	case "inside":
	case "outside":
		t.Weight.Outside = true
	default:
		note("--side", fault.Inputf("write inside for a weight in the hull, outside for one in the water", "%q is no side", q.Side))
	}
	if q.Rod != "" {
		t.Form = &loading.Cylinder{}
		length("--rod", q.Rod, &t.Form.Diameter)
		length("--bore", q.Bore, &t.Form.Bore)
	} else if q.Bore != "" {
		note("--bore", fault.Inputf("give the rod's diameter with --rod", "a bore alone makes no rod"))
	}
	how := tank.Reading{Metal: t.Metal, Water: t.Water, ScaleStep: t.Scale, Stage: tank.Fitted}
	how.Tip, err = tank.ParseTip(q.Tip)
	note("--tip", err)
	length("--tip-wide", q.TipWide, &how.TipDiameter)
	hung := q.Takes
	flag := "--takes"
	switch {
	case q.Want == "":
		note("--want", fault.Inputf(`give it, as in --want "0.8 g", 0 g for a self-cocking float`, "the add that is wanted is missing"))
	case (q.Takes == "") == (q.Bare == ""):
		note(flag, fault.Inputf("give --takes, what hung with the weight fitted, or --bare, what the float took without it", "one of the two readings is needed"))
	case q.Bare != "":
		hung, flag, how.Stage = q.Bare, "--bare", tank.Bare
	}
	mass(flag, hung, &how.Hung)
	if err := join(findings); err != nil {
		return TrimAnswer{}, err
	}
	load, err := how.Load()
	if err != nil {
		return TrimAnswer{}, fault.At(flag, err)
	}
	if how.Stage == tank.Bare {
		t.Bare = &load
	} else {
		t.Fitted = &load
	}
	a, err := loading.AdviseTrim(t)
	if err != nil {
		return TrimAnswer{}, err
	}
	return TrimAnswer{a.State.String(), a.Sinks, a.Limit, a.Now, a.NowU, a.Want, a.Take, a.Length, a.Leaves, a.Expect, a.More, a.Text()}, nil
}
