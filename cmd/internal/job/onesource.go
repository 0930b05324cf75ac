package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"floatmark/cmd/internal/batch"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// The body of a single float: the mark sits on a straight run with a little
// body either side of it, and the water stands half-way up the tip. All three
// only place the mark, so they are round numbers.
const (
	singleAside       = 1.0  // mm of body above the mark, and below it where its place is not given
	singleShoulder    = 2.0  // mm from the body to the tip
	singleTip         = 20.0 // mm of tip
	singleTipAcross   = 3.0  // mm, a usual waggler insert; common practice, no source
	singleHeight      = 25.0 // mm, as the marks of the demonstration batch
	mostSingleAcross  = 80.0 // mm; beyond it is no float. Estimate
	leastSingleAcross = 1.0  // mm; no word has room below. Estimate
)

// shape is a single float's measures in mm.
type shape struct{ from, to, height, tip, above float64 }

func (s Single) shape() (shape, error) {
	h := shape{height: singleHeight, above: singleAside}
	for _, m := range []struct {
		flag, text  string
		to          *float64
		least, most float64
		needed      bool
	}{
		{"--diameter", s.Diameter, &h.from, leastSingleAcross, mostSingleAcross, true},
		{"--to-diameter", s.ToDiameter, &h.to, leastSingleAcross, mostSingleAcross, false},
		{"--height", s.Height, &h.height, 3, 200, false},
		{"--from", s.From, &h.above, singleAside, 500, false},
		{"--tip-diameter", s.TipAcross, &h.tip, 0.3, mostSingleAcross, false},
	} {
		if m.text == "" && !m.needed {
			continue
		}
		if m.text == "" {
			return h, fault.At(m.flag, fault.Inputf("measure it over the last colour coat, as in --diameter 16", "the body has no diameter"))
		}
		v, ok := unit.Decimal(m.text) // plain numbers are millimetres, as in --diameter MM
		if !ok {
			mm, err := unit.ParseMillimetre(m.text)
			if err != nil {
				return h, fault.At(m.flag, err)
			}
			v = float64(mm)
		}
		if !(v >= m.least && v <= m.most) {
			return h, fault.At(m.flag, fault.Inputf(fmt.Sprintf("give from %v to %v mm", m.least, m.most), "%s is out of range", m.text))
		}
		*m.to = v
	}
	if h.to == 0 {
		h.to = h.from
	}
	if h.tip == 0 {
		h.tip = min(singleTipAcross, h.to)
	}
	return h, nil
}

// singleSource writes the batch file of one float. Where no rating is declared
// it is what the figures come to, so that nothing is told of a nominal that
// nobody gave.
func (w *Workshop) singleSource(s Single) ([]byte, error) {
	h, err := s.shape()
	if err != nil {
		return nil, err
	}
	c, err := w.singleConvention(s)
	if err != nil {
		return nil, err
	}
	nominal, kind, err := s.nominal(c)
	if err != nil {
		return nil, err
	}
	src, err := s.source(h, c, nominal, kind)
	if err != nil || s.Rating != "" {
		return src, err
	}
	file, err := batch.Parse(singleFile, src, nil, w.settings)
	if err != nil {
		return nil, unplaced(err)
	}
	ratings, _, err := rate(file.Batch)
	if err != nil {
		return nil, unplaced(err)
	}
	return s.source(h, c, ratings[0].Printed, kind)
}

func (w *Workshop) singleConvention(s Single) (shot.Convention, error) {
	key := s.Convention
	if key == "" && w.settings != nil {
		key = w.settings.Convention
	}
	if key == "" {
		key = shot.Conventions()[0].Key
	}
	c, err := FindConvention(key, w.Own())
	return c, fault.At("--convention", err)
}

// nominal returns the declared rating, or built-in weight and add together, the
// add as a mass of the convention's metal; and the kind of float that makes it.
func (s Single) nominal(c shot.Convention) (unit.Gram, loading.Kind, error) {
	kind := loading.Unloaded
	var built unit.Gram
	if s.BuiltIn != "" {
		var err error
		if built, err = unit.ParseGram(s.BuiltIn); err != nil {
			return 0, kind, fault.At("--built-in", err)
		}
		kind = loading.Loaded
	}
	add, err := unit.ParseGram(s.Load)
	if err == nil && add == 0 && built > 0 {
		kind = loading.SelfCocking
	} else if add, _, _, err = shot.ParseLoad(s.Load, c); err != nil {
		return 0, kind, err
	}
	if s.Rating != "" {
		nominal, err := unit.ParseGram(s.Rating)
		return nominal, kind, fault.At("--rating", err)
	}
	if s.Hung != "" {
		metal, err := water.ParseMetal(s.Hung)
		if err != nil {
			return 0, kind, fault.At("--hung", err)
		}
		in := water.Water{TempC: s.TempC, Salinity: s.Salinity}
		if err := in.Check(); err != nil {
			return 0, kind, err
		}
		add = water.Equal(add, metal, c.Metal, in)
	}
	return built + add, kind, nil
}

// source is the batch file. Only what package batch reads goes in, so that a
// single float can do nothing a batch cannot.
func (s Single) source(h shape, c shot.Convention, nominal unit.Gram, kind loading.Kind) ([]byte, error) {
	var b strings.Builder
	var bad error
	text := func(key, value string) {
		if strings.ContainsFunc(value, unicode.IsControl) || strings.ToValidUTF8(value, "") != value {
			bad = fault.Inputf("write plain text", "%s: %q has letters that cannot be printed", key, value)
		}
		if value != "" {
			fmt.Fprintf(&b, "%s = \"%s\"\n", key, strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value))
		}
	}
	number := func(key string, v float64) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			bad = fault.Inputf("write a plain number", "%s is no number", key)
		}
		fmt.Fprintf(&b, "%s = %s\n", key, mm(v))
	}
	or := func(value, usual string) string {
		if value == "" {
			return usual
		}
		return value
	}
	top := h.above + h.height + singleAside
	rating := unit.Number(float64(nominal), 0, unit.Style{}) + " g" // to the milligram
	b.WriteString("format = 1\n")
	text("name", or(s.Name, singleFile))
	text("date", s.Date)
	b.WriteString("[maker]\n")
	text("name", or(s.Maker, "floatmark"))
	b.WriteString("[print]\n")
	text("convention", c.Key)
	text("ring", or(s.Ring, singleRing(nominal)))
	text("film", s.Film)
	b.WriteString("[tank]\n")
	text("metal", or(s.Hung, c.Metal.Key))
	number("water_c", s.TempC)
	number("salinity", s.Salinity)
	text("tip", s.Tip)
	text("scale", s.Scale)
	b.WriteString("[[rating]]\n")
	text("load", rating)
	b.WriteString("[[pattern]]\nkey = \"one\"\nname = \"Single float\"\n")
	text("kind", kind.String())
	text("line", s.Line)
	if kind != loading.Unloaded {
		text("weight", map[bool]string{false: "inside", true: "outside"}[s.Outside])
	}
	fmt.Fprintf(&b, "stations_mm = [[0, %s], [%s, %s], [%s, %s], [%s, %s], [%s, %s], [%s, %s]]\n", mm(h.from), mm(h.above), mm(h.from),
		mm(h.above+h.height), mm(h.to), mm(top), mm(h.to),
		mm(top+singleShoulder), mm(h.tip), mm(top+singleShoulder+singleTip), mm(h.tip))
	number("waterline_mm", top+singleShoulder+singleTip/2)
	number("tip_from_mm", top+singleShoulder)
	text("body", "#26262b")
	text("tip", "#e4572e")
	text("mark", or(s.Style, "full"))
	number("mark_from_mm", h.above)
	number("mark_height_mm", h.height)
	b.WriteString("[[float]]\nnumber = 1\npattern = \"one\"\n")
	text("rating", rating)
	if s.BuiltIn != "" {
		text("built_in", s.BuiltIn)
		text("metal", or(s.Metal, "brass"))
	}
	text("reading", s.Load)
	return []byte(b.String()), bad
}

// singleRing chooses what a thin ring stands for: at most ten thin rings' worth,
// so that they are counted at a glance and leave room for words. Estimate.
func singleRing(rating unit.Gram) string {
	for _, ring := range []unit.Gram{0.1, 0.2, 0.5} {
		if rating <= 10*ring {
			return ring.Text(0.1, unit.Style{})
		}
	}
	return unit.Gram(1).Text(0.1, unit.Style{})
}

// unplaced takes the places in the batch file off, which nobody wrote.
func unplaced(err error) error {
	var all []error
	for _, e := range fault.List(err) {
		c := *e
		if strings.HasPrefix(c.Where, singleFile+":") {
			c.Where = ""
		}
		all = append(all, &c)
	}
	return join(all)
}

// mm writes a plain number of a batch file.
func mm(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
