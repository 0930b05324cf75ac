package job

import (
	"slices"
	"strings"
	"sync"

	"floatmark/label"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// The waters an angler chooses between.
const (
	FreshWater = "fresh"
	SeaWater   = "sea"
)

// openSea is the salinity of the sea when nothing else is known: 35, the usual
// mean of the open sea (handbook value, from memory).
const openSea = 35.0

// Choice is how an angler wants the add of a float told. Each part may be "" for
// what stands on the mark: its convention, that convention's metal, its water.
type Choice struct {
	Convention string // key
	Metal      string // key of water.Metals
	Water      string // FreshWater or SeaWater
}

// Angler is the add of one float as an angler wants it told. Masses are grams in
// air.
type Angler struct {
	Choice     Choice           // every part filled in, but for the metal of the set, ""
	Convention shot.Convention  // its metal is the one chosen
	Water      water.Water      // what the figures hold for
	Own        string           // key of the metal the set is of
	OtherWater bool             // another water than the mark's: worked out from the float's shape
	Add        unit.Gram        // to add, of Convention.Metal; 0 when nothing is, below 0 when the float sinks
	Step       unit.Gram        // what Add is worth telling to
	Shot       *shot.Equivalent // nil when no shot comes near enough
	Nearest    *shot.Equivalent // then, the nearest; nil when there is none
	LeadOut    bool             // lead that the market's rule forbids was left out
	// Keep is how much higher than its mark the tip stands when the shot of the mark
	// hangs in another water; KeepSinks that the float then goes under.
	Keep      unit.Millimetre
	KeepSinks bool
	Fixed     shot.Fixing
	FixedSaid bool              // how the line is fixed is known
	Parts     *shot.Arrangement // where the shot goes; nil when not known
}

// AnglerSets lists the conventions and metals that a page offers: the built-in
// sets and the maker's own; the metals split shot is sold in. What stands in the
// conventions is shared and not to be changed.
func AnglerSets(own []shot.Convention) ([]shot.Convention, []water.Metal) {
	var metals []water.Metal
	for _, m := range water.Metals() {
		switch m.Key {
		case "lead", "tin", "bismuth", "steel", "zinc", "tungsten":
			metals = append(metals, m)
		}
	}
	return append(slices.Clip(builtIn()), own...), metals
}

// builtIn are the built-in sets, read once: a page looks through them several
// times. Nobody changes what is in them.
var builtIn = sync.OnceValue(shot.Conventions)

// ForAngler works the add of a stored float out in the angler's convention,
// metal and water. A convention, metal or water that is not there is an Input
// error. An entry whose own convention is no longer there is told in the first.
//
// Another water lifts the float by its density times the volume under its
// waterline (Archimedes); that volume is the drawn shape's, and that of a weight
// outside it.
func ForAngler(e label.Entry, c Choice, own []shot.Convention) (Angler, error) {
	a := Angler{Choice: c, Step: anglerStep}
	if err := a.settle(e, own); err != nil {
		return Angler{}, err
	}
	on := water.Water{TempC: e.WaterTempC, Salinity: e.SalinityPSU}
	if on.Check() != nil {
		on = water.Usual()
	}
	a.Water = on
	if at := waterKey(on); a.Choice.Water == "" {
		a.Choice.Water = at
	} else if a.Choice.Water != at {
		a.OtherWater = true
		a.Water.Salinity = openSea
		if a.Choice.Water == FreshWater {
			a.Water.Salinity = 0
		}
	}
	shape, err := body.New(e.Stations)
	shaped := err == nil && e.Waterline > shape.Base() && e.Waterline < shape.Top()
	if a.OtherWater && !shaped {
		return Angler{}, fault.New(fault.NoFit, "record "+e.ID, "the record does not hold the float's shape, so that its add in another water is not known", "choose the water of its mark")
	}
	pull := e.AddPullG
	if a.OtherWater {
		pull += unit.Gram((a.Water.Density() - on.Density()) * under(e, shape))
		a.keep(e, shape, on, pull)
		// The step of the mark, for the shape is drawn and not measured.
		a.Step = max(a.Step, e.StepG)
	}
	a.Add = water.Mass(pull, a.Convention.Metal, a.Water)
	if !a.OtherWater && a.Convention.Metal.Key == metalKey(e) {
		a.Add = e.AddG // as printed, to the last digit
	}
	a.Fixed, a.FixedSaid = FixingOf(e.Line)
	lim := shot.Limits{Water: a.Water, Market: e.Market, MaxShots: mostShot, Tolerance: e.StepG}
	if shaped {
		lim.TipDiameter = shape.Diameter(e.Waterline)
	}
	return a, a.shot(lim)
}

// anglerStep is how an add in another metal is told, as on a card.
const anglerStep unit.Gram = 0.01

// settle finds the convention and metal.
func (a *Angler) settle(e label.Entry, own []shot.Convention) error {
	sets, _ := AnglerSets(own)
	find := func(key string) bool {
		for _, s := range sets {
			if s.Key == key {
				a.Convention = s
				return true
			}
		}
		return false
	}
	switch {
	case a.Choice.Convention == "":
		if !find(e.Convention) {
			a.Convention = sets[0]
		}
	case !find(a.Choice.Convention):
		return fault.Inputf("choose one of the list", "there is no set of shot sizes %q", a.Choice.Convention)
	}
	a.Choice.Convention = a.Convention.Key
	a.Own = a.Convention.Metal.Key
	if a.Choice.Metal != "" {
		m, ok := water.MetalByKey(a.Choice.Metal)
		if !ok {
			return fault.Inputf("choose one of the list", "there is no metal %q", a.Choice.Metal)
		}
		if m.Key == a.Own {
			a.Choice.Metal = ""
		} else {
			a.Convention.Metal = m
		}
	}
	if w := a.Choice.Water; w != "" && w != FreshWater && w != SeaWater {
		return fault.Inputf("choose fresh or sea water", "there is no water %q", w)
	}
	return nil
}

func waterKey(w water.Water) string {
	if w.Salinity > 0 {
		return SeaWater
	}
	return FreshWater
}

// metalKey is the metal of the mark; records that do not name it by its key do
// by its word.
func metalKey(e label.Entry) string {
	for _, m := range water.Metals() {
		if e.MetalKey == "" && m.Name == e.Metal {
			return m.Key
		}
	}
	return e.MetalKey
}

// cubicMillimetres are in one cm3.
const cubicMillimetres = 1000

// under returns the volume below the waterline in cm3.
func under(e label.Entry, p body.Profile) float64 {
	v := p.Volume(p.Base(), e.Waterline) / cubicMillimetres
	if e.BuiltInOutside && e.BuiltInDensity > 0 {
		v += float64(e.WeighedG) / e.BuiltInDensity
	}
	return v
}

// keep works out where the tip stands with the shot of the mark in another water
// that asks for that pull.
func (a *Angler) keep(e label.Entry, p body.Profile, on water.Water, pull unit.Gram) {
	hangs := unit.Gram(0)
	if e.AddG > 0 {
		// The share of the shot that pulls goes with its density, which the printed
		// mass and its pull give.
		displaces := (float64(e.AddG) - float64(e.AddPullG)) / on.Density() // cm3
		hangs = e.AddG - unit.Gram(displaces*a.Water.Density())
	}
	lift := float64(pull-hangs) / a.Water.Density() // cm3 more than needed
	z, ok := waterlineFor(p, e.Waterline, lift*cubicMillimetres)
	a.Keep, a.KeepSinks = e.Waterline-z, !ok
}

// waterlineFor returns the height over the base at which the float then swims
// when it displaces so much less, in mm3, than at its waterline; false when it
// has not got so much more above it.
func waterlineFor(p body.Profile, waterline unit.Millimetre, less float64) (unit.Millimetre, bool) {
	lo, hi := p.Base(), waterline
	if less < 0 {
		lo, hi = waterline, p.Top()
		if -less >= p.Volume(lo, hi) {
			return hi, false
		}
	} else if less >= p.Volume(lo, hi) {
		return lo, true
	}
	const halvings = 40 // of some 300 mm: far below a micrometre
	for range halvings {
		mid := (lo + hi) / 2
		v := p.Volume(min(mid, waterline), max(mid, waterline))
		if mid > waterline {
			v = -v
		}
		if v > less { // too far down
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, true
}

// shot finds the shot and where it goes.
func (a *Angler) shot(lim shot.Limits) error {
	if !(a.Add > 0) || a.Convention.Unit != "" {
		return nil
	}
	r, err := shot.Solve(a.Add, a.Convention, lim)
	if err != nil {
		if fault.ClassOf(err) == fault.Input {
			return nil // no load of shot: heavier than any line carries
		}
		return err
	}
	for _, out := range r.LeftOut {
		a.LeadOut = a.LeadOut || out.Why == shot.ByMarket
	}
	if len(r.List) > 0 {
		a.Shot = &r.List[0]
	}
	a.Nearest = r.Nearest
	if !a.FixedSaid {
		return nil
	}
	list, err := shot.Split(a.Add, a.Convention, lim, a.Fixed, shot.Share{})
	if err == nil && len(list) > 0 {
		a.Parts = &list[0]
	}
	return nil
}

// fixingWords are words that batch files use, beside the three of shot.Fixing,
// for how the line is fixed; the first that is found decides. Common practice, no
// source.
var fixingWords = []struct {
	word  string
	fixed shot.Fixing
}{
	{"slid", shot.Sliding}, {"running", shot.Sliding},
	{"both ends", shot.TopAndBottom}, {"top and bottom", shot.TopAndBottom}, {"double", shot.TopAndBottom}, {"rubber", shot.TopAndBottom}, {"sleeve", shot.TopAndBottom},
	{"bottom", shot.BottomEnd}, {"base", shot.BottomEnd}, {"foot", shot.BottomEnd}, {"peg", shot.BottomEnd}, {"swivel", shot.BottomEnd},
}

// FixingOf reads how the line is fixed from the words of a batch file: the three
// words of shot.Fixing, or as makers say it, "eye at the base", "rubbers at both
// ends"; false when they say nothing of it.
func FixingOf(line string) (shot.Fixing, bool) {
	if f, err := shot.ParseFixing(line); err == nil {
		return f, true
	}
	said := strings.Join(strings.FieldsFunc(strings.ToLower(line), func(r rune) bool { return r == '-' || r == ' ' }), " ")
	for _, w := range fixingWords {
		if strings.Contains(said, w.word) {
			return w.fixed, true
		}
	}
	return 0, false
}

// Unproven reports whether a size among the shot has a mass that was not found
// in print.
func (a Angler) Unproven() bool {
	if a.Shot == nil {
		return false
	}
	for _, n := range a.Shot.Counts {
		if n.Size.Caution() != "" {
			return true
		}
	}
	return false
}
