package label

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"floatmark/label/words"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// Row is one line of shot on a card or a page: the add, in one convention and
// in that convention's own metal.
type Row struct {
	Convention string `json:"convention"`     // "British present-day, tin"
	Shot       string `json:"shot"`           // "1 AAA", or grams where no shot makes it
	Gram       string `json:"gram"`           // the same add in that metal, "0.8 g"
	Tip        string `json:"tip,omitempty"`  // how far the tip then stands from its mark, "" when under half a millimetre
	Note       string `json:"note,omitempty"` // "unverified: weigh before use"
}

// SetupRow is one way to fit an exchangeable float, in words.
type SetupRow struct {
	Name    string `json:"name"`
	Rating  string `json:"rating"`
	BuiltIn string `json:"built_in,omitempty"`
	Add     string `json:"add"`
}

// SetupRows writes the set-ups of a float; ratings are theirs, in order.
func SetupRows(f *Float, ratings []loading.Rating, w words.Words) []SetupRow {
	var rows []SetupRow
	for i, r := range ratings {
		fig := FiguresOf(r, w)
		rows = append(rows, SetupRow{f.Setups[i].Name, fig.Rating, fig.BuiltIn, fig.Add})
	}
	return rows
}

// Card is what the backer of one float says.
type Card struct {
	Maker    Maker
	Pattern  *Pattern
	Kind     string // "loaded"
	Length   string // "174 mm long"
	Diameter string // "16 mm body"
	Rating   string
	BuiltIn  string
	Add      string
	Water    string // "fresh water"
	Rows     []Row
	ID, Code string
	Batch    string
	Number   int
	Price    string     // as money, "£6.50"; "" for none
	Cautions []string   // metal of the built-in weight first
	Setups   []SetupRow // of an exchangeable float; the first is the one its body bears
	Band     Colour
	Ground   Colour // what the mark is seen on: the film's colour, or the paint under clear film
	Tally    Tally
	Rings    string // what the rings stand for; "" when the mark has none

	EAN      string     // the maker's trade item number of the article, thirteen digits; "" for none
	Language string     // what the card's language calls itself, "Deutsch"
	Shotting []Shotting // where the shot goes on the line; empty when the pattern does not say how it is fixed
	Mass     unit.Gram  // of the float with what is built in, by what it displaces; 0 when not known
	Ballast  unit.Gram  // of that, the built-in weight
}

// Place is where shot goes on a line.
type Place int

// The places, from the float down.
const (
	AtFloat   Place = iota // half above its eye, half below: they lock it
	StopAbove              // the stop of a sliding float, no shot
	Together               // in bulk
	Even                   // in a chain
	Downline               // singly towards the hook
)

// Shotting is what goes at one place of the line.
type Shotting struct {
	Place Place
	Shots int
	Each  float64 // grams of one, in the mean
	Text  string  // "2 AAA on each side of the float"
}

// KindName writes a kind in words.
func KindName(k loading.Kind, w words.Words) string {
	switch k {
	case loading.Loaded:
		return w.Loaded
	case loading.SelfCocking:
		return w.SelfCocking
	case loading.Exchangeable:
		return w.Exchangeable
	}
	return w.Unloaded
}

// RowsOf writes the add in every convention of the batch's cards, each in its
// own metal. best holds the first-ranked equivalent per convention, nil where no
// shot makes the add.
func RowsOf(r loading.Rating, conventions []shot.Convention, best []*shot.Equivalent, w words.Words) []Row {
	var rows []Row
	for i, c := range conventions {
		gram := w.Gram(r.In(c), cardStep)
		row := Row{Convention: w.Name(c.Name) + ", " + w.Name(c.Metal.Name), Gram: gram, Shot: gram}
		if eq := best[i]; eq != nil {
			row.Shot = eq.Text()
			row.Tip = TipText(*eq, w)
			if eq.Rounding > 0 {
				row.Note = "±" + w.Gram(eq.Rounding, roundingStep) + " " + w.ByRounding
			}
			for _, n := range eq.Counts {
				if n.Size.Caution() != "" {
					row.Note = w.WeighBeforeUse
				}
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// roundingStep is fine enough for half the last digit of a printed mass.
const roundingStep unit.Gram = 0.0001

// TipText tells how far the tip stands from its mark with that shot: "tip 2.5 mm
// low"; "" when it is not known or under half a millimetre, which cannot be seen
// on the water.
func TipText(eq shot.Equivalent, w words.Words) string {
	const tellFrom = 0.5
	s, side := eq.TipShift, w.High
	if s < 0 {
		s, side = -s, w.Low
	}
	if !eq.TipKnown || s < tellFrom {
		return ""
	}
	return fmt.Sprintf("%s %s %s", w.Tip, w.Millimetre(s, tellFrom), side)
}

// cardStep is how grams in another metal are written: they are converted from
// the printed add, so a finer step would promise more than was measured.
const cardStep unit.Gram = 0.01

// ComposeCard writes the card of one float.
func ComposeCard(b *Batch, f *Float, r loading.Rating, rows []Row, w words.Words) (Card, error) {
	p := f.Pattern
	fig := FiguresOf(r, w)
	info := b.RatingOf(r.Nominal)
	c := Card{Maker: b.Maker, Pattern: p, Kind: KindName(p.Kind, w),
		Length:   w.Millimetre(p.Profile.Length(), 1) + " " + w.Long,
		Diameter: w.Millimetre(p.Profile.MaxDiameter(), 0.5) + " " + w.Body,
		Rating:   fig.Rating, BuiltIn: fig.BuiltIn, Add: fig.Add, Water: WaterName(r, w), Rows: rows,
		ID: string(f.ID), Code: Link(b.Maker, string(f.ID), r), Batch: b.Name, Number: f.Number,
		Band: info.Band, Tally: TallyOf(r.Printed, b.Ring), Rings: RingsText(b.Ring, w)}
	c.EAN = b.EANOf(f)
	c.Language = words.CardFor(w.Language).Own
	c.Mass, c.Ballast = massOf(f, r), r.Weighed
	if info.Price != "" {
		price, err := w.Price(info.Price, b.Maker.Currency)
		if err != nil {
			return Card{}, err
		}
		c.Price = price
	}
	c.Cautions = []string{WeightText(f.Weight, w), w.Toy + " · " + w.SmallParts, w.Children}
	return c, nil
}

// EANOf is the trade item number of a float's article: its rating's, else its
// pattern's; "" for none.
func (b *Batch) EANOf(f *Float) string {
	if number := b.RatingOf(f.Nominal).EAN; number != "" || f.Pattern == nil {
		return number
	}
	return f.Pattern.EAN
}

// ForSale reports whether the batch says that its floats are sold: they have a
// price or a trade item number.
func (b *Batch) ForSale() bool {
	for _, r := range b.Ratings {
		if r.Price != "" || r.EAN != "" {
			return true
		}
	}
	for _, p := range b.Patterns {
		if p.EAN != "" {
			return true
		}
	}
	return false
}

// SetOf is what one card says for a set of floats: what holds of all of them. Each
// float's own figures are its own card's. The set's price and number are the
// caller's to add. There must be a float in it.
func SetOf(cards []Card, w words.Words) Card {
	c := cards[0]
	c.Rating = fmt.Sprintf(words.CardFor(w.Language).Set, strconv.Itoa(len(cards)))
	c.BuiltIn, c.Add, c.Rows, c.Setups, c.Shotting = "", c.Rating, nil, nil, nil
	c.Code, c.Price, c.EAN, c.Tally, c.Rings = "", "", "", Tally{}, ""
	all := *c.Pattern // what it is drawn by stays the first float's
	names := []string{all.Name}
	for _, one := range cards[1:] {
		if one.Pattern != c.Pattern {
			c.Length, c.Diameter = "", ""
		}
		if !slices.Contains(names, one.Pattern.Name) {
			names = append(names, one.Pattern.Name)
		}
		if one.Pattern.LineFixed != all.LineFixed {
			all.LineFixed = ""
		}
		if one.Kind != c.Kind {
			c.Kind = ""
		}
		for _, caution := range one.Cautions {
			if !slices.Contains(c.Cautions, caution) {
				c.Cautions = append(slices.Clone(c.Cautions), caution)
			}
		}
	}
	all.Name = strings.Join(names, ", ")
	c.Pattern = &all
	return c
}

// massOf is what a float weighs with what is built in: the water it displaces up
// to its waterline carries it and the pull of its add (Archimedes). 0 when the
// shape does not say; what hangs outside the hull displaces water of its own.
func massOf(f *Float, r loading.Rating) unit.Gram {
	const perCubicCentimetre = 1000 // mm³
	shape, line := f.Shape(), f.Pattern.Waterline
	if len(shape.Stations()) == 0 || line <= shape.Base() || line > shape.Top() {
		return 0
	}
	v := shape.Volume(shape.Base(), line) / perCubicCentimetre
	if w := f.Weight; w != nil && w.Outside && w.Metal.Density > 0 {
		v += float64(w.Mass) / w.Metal.Density
	}
	return max(unit.Gram(v*r.Water.Density())-r.AddPull, r.Weighed)
}

// RingsText says what the rings stand for.
func RingsText(ring unit.Gram, w words.Words) string {
	if ring <= 0 {
		return ""
	}
	return fmt.Sprintf(w.RingIs, w.Gram(5*ring, ring/10), w.Gram(ring, ring/10))
}

// WeightText says what is built in and whether it is lead.
func WeightText(weight *loading.Weight, w words.Words) string {
	if weight == nil {
		return w.BuiltInWeight + w.Colon + w.Nothing + ", " + w.NoLead
	}
	lead := w.NoLead
	if weight.Metal.Lead {
		lead = w.ContainsLead + ", " + w.WashHands
	}
	return w.BuiltInWeight + w.Colon + w.Name(weight.Metal.Name) + ", " + lead
}

// Entry is the record of one float as it is stored and shown: figures as
// numbers and as printed, so that a page can answer years later without the
// batch file. Fields are added to, never renamed.
type Entry struct {
	Format  int    `json:"format"` // 1
	ID      string `json:"id"`
	Batch   string `json:"batch"`
	Number  int    `json:"number"`
	Date    string `json:"date"`
	Maker   string `json:"maker"`
	Address string `json:"address"`
	Contact string `json:"contact"`
	Pattern string `json:"pattern"`
	Kind    string `json:"kind"`
	Line    string `json:"line_fixed,omitempty"`

	Rating      string     `json:"rating"`
	BuiltIn     string     `json:"built_in,omitempty"`
	Add         string     `json:"add"`
	Metal       string     `json:"metal"`
	Water       string     `json:"water"`
	WaterTempC  float64    `json:"water_temp_c"`
	SalinityPSU float64    `json:"salinity"`
	RatingG     unit.Gram  `json:"rating_g"`
	BuiltInG    unit.Gram  `json:"built_in_g"`
	WeighedG    unit.Gram  `json:"weighed_g"`
	AddG        unit.Gram  `json:"add_g"`
	MeasuredG   unit.Gram  `json:"measured_add_g"`
	UG          unit.Gram  `json:"uncertainty_g"`
	StepG       unit.Gram  `json:"step_g"`
	AddPullG    unit.Gram  `json:"add_pull_g"`
	About       bool       `json:"about"`
	Weight      string     `json:"weight"`
	Convention  string     `json:"convention"`
	Revision    int        `json:"convention_revision"`
	Shot        []Row      `json:"shot"`
	Rings       string     `json:"rings,omitempty"`
	Setups      []SetupRow `json:"setups,omitempty"`

	Length    unit.Millimetre `json:"length_mm"`
	Waterline unit.Millimetre `json:"waterline_mm"`
	TipFrom   unit.Millimetre `json:"tip_from_mm"`
	Stations  []body.Station  `json:"stations"`
	BodyInk   string          `json:"body_colour"`
	TipInk    string          `json:"tip_colour"`
	BandInk   string          `json:"band_colour"`
	GroundInk string          `json:"ground_colour"`
	Mark      string          `json:"mark"` // "least" or "full"
	MarkFrom  unit.Millimetre `json:"mark_from_mm"`
	MarkTo    unit.Millimetre `json:"mark_to_mm"`
	Code      string          `json:"code"`
	Note      string          `json:"note,omitempty"`
	Cautions  []string        `json:"cautions"`
	Notices   []string        `json:"notices,omitempty"` // what the maker was told

	// Keys beside the words above, so that a page can say them in another language
	// and work the add out for another water; "" in records older than they are.
	Language       string  `json:"language,omitempty"`               // of the words, BCP 47
	Market         string  `json:"market,omitempty"`                 // where the float is sold
	KindKey        string  `json:"kind_key,omitempty"`               // "loaded"
	MetalKey       string  `json:"metal_key,omitempty"`              // of the add
	BuiltInMetal   string  `json:"built_in_metal,omitempty"`         // key of the weight's metal, "" for no weight
	BuiltInDensity float64 `json:"built_in_density_g_cm3,omitempty"` // of that metal
	BuiltInLead    bool    `json:"built_in_lead,omitempty"`
	BuiltInOutside bool    `json:"built_in_outside,omitempty"` // under water, beside the drawn shape

	RingG unit.Gram `json:"ring_g,omitempty"` // what a thin ring stands for
}
