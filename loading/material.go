package loading

import (
	"strings"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Stretch is a stretch of the axis made of one material, from where the one
// before it ends.
type Stretch struct {
	To       unit.Millimetre // height over the base end; 0 at the last: up to the top
	Material Material
}

// densityShare is how far a density given as a bare number may be off, as a
// share. Estimate: wood of one board differs by as much.
const densityShare = 0.2

// MaterialByName returns the usual material of that name, in any case of letters.
func MaterialByName(name string) (Material, bool) {
	for _, m := range Materials() {
		if strings.EqualFold(m.Name, strings.TrimSpace(name)) {
			return m, true
		}
	}
	return Material{}, false
}

// maxStretches is more than any float is joined from. Estimate.
const maxStretches = 20

// endWords stand before the height at which a stretch ends: "to", and as who reads
// the pages in another language writes it. The longer of two comes first.
const endWords = "to|bis|jusqu’à|jusqu'à|à|fino a|a|do"

// cutEnd parts a stretch into its material and where it ends.
func cutEnd(text string) (name, end string, ends bool) {
	for word := range strings.SplitSeq(endWords, "|") {
		if name, end, ends = strings.Cut(text, " "+word+" "); ends {
			return name, end, true
		}
	}
	return text, "", false
}

// ParseStretches reads what a float is made of, from the base end up: "balsa",
// "cane to 40 mm; balsa to 62 mm; plastic tip" or with densities in g/cm3 in
// place of names, "0.65 to 40 mm; 0.15". Every stretch but the last tells where
// it ends, by "to" or the word for it in another language of the pages. Anything
// else is an Input error without a place.
func ParseStretches(s string) ([]Stretch, error) {
	const do = `write names or densities in g/cm3, as in "balsa" or "cane to 40 mm; 0.15"`
	texts := strings.Split(s, ";")
	if len(texts) > maxStretches {
		return nil, fault.Inputf(do, "%d stretches are too many", len(texts))
	}
	var out []Stretch
	below := unit.Millimetre(0)
	for i, text := range texts {
		name, end, ends := cutEnd(strings.TrimSpace(text))
		m, ok := MaterialByName(name)
		if !ok {
			d, number := unit.Decimal(name)
			if !number || !(d > 0 && d <= maxSolid) {
				return nil, fault.Inputf(do+"; the names are: "+materialNames(), "%q is no material", strings.TrimSpace(name))
			}
			m = Material{Name: strings.TrimSpace(name) + " g/cm3", Density: d, Within: d * densityShare, Source: "as given"}
		}
		last := i == len(texts)-1
		if last == ends {
			return nil, fault.Inputf(do, "every stretch but the last tells where it ends, and %q stands as number %d of %d", strings.TrimSpace(text), i+1, len(texts))
		}
		st := Stretch{Material: m}
		if ends {
			to, err := unit.ParseMillimetre(end)
			if err != nil {
				return nil, err
			}
			if !(to > below && to <= body.MaxHeight) {
				return nil, fault.Inputf("go from the base end up", "%q does not end above the stretch before it", strings.TrimSpace(text))
			}
			st.To, below = to, to
		}
		out = append(out, st)
	}
	return out, nil
}

func materialNames() string {
	var names []string
	for _, m := range Materials() {
		names = append(names, m.Name)
	}
	return strings.Join(names, ", ")
}

// PartsOf cuts a profile into the parts its stretches say; an Input error when
// a stretch ends above its top.
func PartsOf(p body.Profile, list []Stretch) ([]Part, error) {
	from := p.Base()
	var parts []Part
	for _, s := range list {
		to := s.To
		if to == 0 {
			to = p.Top()
		}
		if !(from < to && to <= p.Top()) {
			return nil, fault.Inputf("end it below the top of the float, "+p.Top().Text(0.01, unit.Style{}), "the stretch of %s ends at %s", s.Material.Name, to.Text(0.01, unit.Style{}))
		}
		parts = append(parts, Part{Name: s.Material.Name, Profile: p, From: from, To: to, Material: s.Material})
		from = to
	}
	return parts, nil
}
