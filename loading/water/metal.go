package water

import (
	"strings"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Metal is what a weight is made of.
type Metal struct {
	Key     string  // short name used in files: "tin"
	Name    string  // the word printed: "tin"
	Density float64 // g/cm3
	Source  string  // where the density was read
	Lead    bool    // the rules on lead weights apply
}

// The tables the densities were read in.
const (
	twoTables = "two engineering tables agree: Density of Metal, typical densities of metals and alloys; Density of metals (specific gravity)"
	firstOnly = "engineering table: Density of Metal, typical densities of metals and alloys"
	gravity   = "engineering table: Density of metals (specific gravity)"
)

// Metals returns the known metals, lead first, then as a float maker meets
// them. Densities are in g/cm3 at room temperature; alloys vary, and the
// sources give the range where they have one.
func Metals() []Metal {
	return []Metal{
		{"lead", "lead", 11.34, twoTables + " (a third gives 11.342)", true},
		// Split shot is often hardened with antimony; 3 to 5 % of it gives 11.11
		// to 10.96 by the rule of mixtures.
		{"hard-lead", "hard lead", 10.90, firstOnly + ", antimonial lead", true},
		{"tin", "tin", 7.28, gravity + " (another article gives 7.287)", false},
		{"bismuth", "bismuth", 9.75, firstOnly + " (9.78 is the usual handbook value, from memory)", false},
		{"brass", "brass", 8.5, twoTables + ": rolled and drawn 8.43 to 8.73, 60/40 8.52", false},
		{"steel", "steel", 7.85, gravity + ", rolled steel", false},
		{"stainless", "stainless steel", 7.9, gravity + ": 7.48 to 8.00; 7.9 for the common austenitic grades, from memory", false},
		{"zinc", "zinc", 7.135, gravity, false},
		{"copper", "copper", 8.93, gravity, false},
		// 19.60 is also in print; 19.25 to 19.3 is the usual handbook value.
		// Tungsten putty is far lighter and differs by maker: it has to be given.
		{"tungsten", "tungsten", 19.25, "fly-fishing article comparing metals; the specific-gravity table gives 19.60", false},
	}
}

// MetalByKey returns the metal of that key, in any case of letters.
func MetalByKey(key string) (Metal, bool) {
	key = strings.ToLower(strings.TrimSpace(key))
	for _, m := range Metals() {
		if m.Key == key {
			return m, true
		}
	}
	return Metal{}, false
}

// The densities a weight can have: above every water by a margin that keeps
// the conversion steady, and not above osmium, 22.6 (handbook value, memory).
const (
	minMetalDensity = 1.5
	maxMetalDensity = 22.7
)

// Check returns an Input error when the density, in g/cm3, is none of a weight
// that sinks: outside 1.5 to 22.7.
func (m Metal) Check() error {
	if m.Density >= minMetalDensity && m.Density <= maxMetalDensity {
		return nil
	}
	name := m.Name
	if name == "" {
		name = "the metal"
	}
	return fault.Inputf("give its density in g/cm3: lead 11.34, tin 7.28, brass 8.5", "%s has no usable density: %v g/cm3", name, m.Density)
}

// part returns the share of a metal's mass that still pulls under water,
// 1 - rho_w/rho: 0.912 for lead in fresh water, 0.863 for tin.
func part(metal Metal, w Water) float64 { return 1 - w.Density()/metal.Density }

// Pull returns what a mass of metal pulls when it hangs under water, in grams:
// m(1 - rho_w/rho), Archimedes. The metal must pass Check.
func Pull(m unit.Gram, metal Metal, w Water) unit.Gram {
	return m * unit.Gram(part(metal, w))
}

// Mass returns the mass of metal, weighed in air, that pulls that much under
// water; the inverse of Pull.
func Mass(pull unit.Gram, metal Metal, w Water) unit.Gram {
	return pull / unit.Gram(part(metal, w))
}

// Equal returns the mass of metal to that pulls as much under water as mass m
// of metal from: 1 g of lead is 1.057 g of tin in fresh water.
func Equal(m unit.Gram, from, to Metal, w Water) unit.Gram {
	if from.Density == to.Density {
		return m // to the last digit, so that a figure survives its own metal
	}
	return Mass(Pull(m, from, w), to, w)
}

// Share returns how much of a float's pull a weight built into it uses, in
// grams of pull. Inside the hull the weight displaces no water of its own and
// uses its whole mass; outside, under water, only what it pulls there.
func Share(m unit.Gram, metal Metal, outside bool, w Water) unit.Gram {
	if outside {
		return Pull(m, metal, w)
	}
	return m
}
