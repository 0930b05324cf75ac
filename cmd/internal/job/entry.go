package job

import (
	"encoding/json"
	"strings"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/label/words"
)

// entryFormat is the version of label.Entry that is written.
const entryFormat = 1

// entry gathers what is stored of one float.
func entry(b *label.Batch, fp *FloatPlan, w words.Words, notices []Notice) label.Entry {
	r, f, p := fp.Rating, fp.Float, fp.Float.Pattern
	e := label.Entry{Format: entryFormat, ID: string(f.ID), Batch: b.Name, Number: f.Number, Date: b.Date,
		Maker: b.Maker.Name, Address: strings.Join(b.Maker.Address, ", "), Contact: b.Maker.Contact,
		Pattern: p.Name, Kind: fp.Card.Kind, Line: p.LineFixed,
		Rating: fp.Card.Rating, BuiltIn: fp.Card.BuiltIn, Add: fp.Card.Add, Metal: r.Metal.Name, Water: fp.Card.Water,
		WaterTempC: r.Water.TempC, SalinityPSU: r.Water.Salinity,
		RatingG: r.Printed, BuiltInG: r.BuiltIn, WeighedG: r.Weighed, AddG: r.Add, MeasuredG: r.Measured, UG: r.U, StepG: r.Step,
		AddPullG: r.AddPull, About: r.About, Weight: label.WeightText(f.Weight, w),
		Convention: b.Convention.Key, Revision: b.Convention.Revision, Shot: fp.Rows, Rings: fp.Card.Rings, Setups: fp.Card.Setups,
		Length: p.Profile.Length(), Waterline: p.Waterline, TipFrom: p.TipFrom, Stations: f.Shape().Stations(),
		BodyInk: p.Body.String(), TipInk: p.Tip.String(), BandInk: bandInk(p, fp.Card.Band), GroundInk: fp.Card.Ground.String(), Mark: p.Main().Style,
		MarkFrom: p.Main().From, MarkTo: p.Main().To(), Code: fp.Card.Code, Note: f.Note,
		Cautions: fp.Card.Cautions,
		Language: w.Language, Market: b.Maker.Market, KindKey: p.Kind.String(), MetalKey: r.Metal.Key}
	if e.Rings != "" {
		e.RingG = b.Ring
	}
	if m := f.Weight; m != nil {
		e.BuiltInMetal, e.BuiltInDensity, e.BuiltInLead, e.BuiltInOutside = m.Metal.Key, m.Metal.Density, m.Metal.Lead, m.Outside
	}
	for _, n := range notices {
		if n.Float == f.Number {
			e.Notices = append(e.Notices, n.Text)
		}
	}
	return e
}

// bandInk is the colour of the band on the body; "" where none is shown at the
// mark's upper edge.
func bandInk(p *label.Pattern, band label.Colour) string {
	if top := p.Main().Show.Top; len(top) == 0 || top[0] != label.PartBand {
		return ""
	}
	return band.String()
}

// entryOf reads the stored entry of the float that an id stands for, be it its
// own or that of a spare on it. Fields that a later version added are left out by
// an earlier one; that is why they are only ever added.
func entryOf(s *record.Store, id string) (label.Entry, bool, error) {
	f, ok, err := s.FloatOf(id)
	if err != nil || !ok {
		return label.Entry{}, false, err
	}
	var e label.Entry
	if err := json.Unmarshal(f.Data, &e); err != nil {
		return label.Entry{}, false, err
	}
	return e, true, nil
}

// Entries returns every float of the workshop, by batch and number.
func (w *Workshop) Entries() ([]label.Entry, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	batches, err := s.Batches()
	if err != nil {
		return nil, err
	}
	var all []label.Entry
	for _, b := range batches {
		floats, err := s.Floats(b)
		if err != nil {
			return nil, err
		}
		for _, f := range floats {
			var e label.Entry
			if err := json.Unmarshal(f.Data, &e); err != nil {
				return nil, err
			}
			all = append(all, e)
		}
	}
	return all, nil
}
