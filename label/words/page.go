package words

import (
	"slices"
	"strings"
	"sync"

	"floatmark/loading/unit"
)

// Page is what the page of a float says beside the words of its mark and card,
// in one language. Phrases with a %s take what stands in their comment; they are
// whole phrases because words stand in another order elsewhere.
//
// Whatever is said on shotting, fishing and care is common practice, no source.
type Page struct {
	Language string // BCP 47, "en"
	Own      string // the language in itself, "English"
	Number   unit.Style

	// The entrance, and what is said when there is nothing to show.
	Find, FindLead, FindLabel, FindHint, Open     string
	NoFloat, NoFloatDo, Mistyped, MistypedDo      string
	SixLong, SixLongDo, NoPage, TooMany, TooManyD string

	// The figures.
	WhatItCarries, AllOfIt, OfFellows string
	Basis                             string // metal, water: "to add in tin, fresh water"
	HoldsFor                          string // water
	Alt                               string // length, height of the waterline

	// The add as the angler wants it.
	YourShot, Sizes, Metal, Water, Fresh, Sea, Show, Kept string
	OwnMetal                                              string // metal of the set: "as the set (tin)"
	Of                                                    string // mass, metal: "0.8 g of tin"
	AtMark                                                string // where the tip stands
	TipHigh, TipLow                                       string // length: "tip 1.5 mm high"
	TipHides                                              string // the tip goes under
	NoShot                                                string // no shot comes near enough
	Nearest                                               string // shot: "nearest: 1 AAA"
	LeadLeftOut                                           string // the market's rule
	SameMass                                              string // metal
	ByShape                                               string // what the water's change rests on
	KeepHigh, KeepLow                                     string // length; the shot of the mark in other water
	KeepSinks, Sinks                                      string
	NothingThere                                          string // it takes nothing in that water
	Revised                                               string // revision printed, revision used
	Weigh                                                 string // sizes without a mass found in print

	// How to shot it.
	HowToShot                                            string
	EachSide, Bulk, BulkBelow, Olivette, Evenly, Dropper string // shot
	FixedBottom, FixedBoth, FixedSliding                 string
	GuideBottom, GuideBoth, GuideSliding, GuideOther     []string
	Practice                                             string

	// The table of the card, and the facts.
	OnCard, SizesMetal, ShotColumn, GramColumn, FittedWith          string
	EverySet                                                        string
	HowMade, Weighed, Measured, LineFixed, MarkAt, ShotSizes, Maker string
	BoardNumber, Steps, Revision, Salinity, Temperature             string // number or mass
	MeasuredAdd                                                     string // mass, uncertainty, metal
	InTank, InTankFitted, InTankFellows                             string
	Care                                                            string
	CareLines                                                       []string
	Languages                                                       string
	MadeOn, Materials, Coats, Price, Status, Photographs            string
	IsRetired                                                       string            // on top of the page
	Statuses                                                        map[string]string // by the word of label.Status

	Metals      map[string]string // by key of the metal
	Conventions map[string]string // by key of the convention
}

// Pages lists the languages of the page in the order they are offered; the
// first stands in where none fits.
// What stands in them is shared and not to be changed.
func Pages() []Page { return slices.Clone(everyPage()) }

// everyPage makes them once: a server looks through them several times a page.
var everyPage = sync.OnceValue(func() []Page {
	return []Page{pageEnglish(), pageGerman(), pageFrench(), pageItalian(), pagePolish()}
})

// PageFor returns the phrases of the page in a language by its BCP 47 tag,
// English where there are none.
func PageFor(tag string) Page {
	base, _, _ := strings.Cut(strings.ToLower(tag), "-")
	all := everyPage()
	for _, p := range all {
		if p.Language == base {
			return p
		}
	}
	return all[0]
}

// Gram writes a mass rounded to step: "0.85 g".
func (p Page) Gram(g, step unit.Gram) string { return g.Text(step, p.Number) }

// Sure writes a mass with its uncertainty, as unit.Gram.Sure: "8.00 g ± 0.03 g".
func (p Page) Sure(g, u, step unit.Gram) string { return g.Sure(u, step, p.Number) }

// Millimetre writes a length rounded to step: "16 mm".
func (p Page) Millimetre(m, step unit.Millimetre) string { return m.Text(step, p.Number) }

// MetalName writes a metal by its key; the name given where the page has none,
// as for a metal of the user's own.
func (p Page) MetalName(key, name string) string {
	if s, ok := p.Metals[key]; ok {
		return s
	}
	return name
}

// ConventionName writes a convention by its key; the name given for a maker's own.
func (p Page) ConventionName(key, name string) string {
	if s, ok := p.Conventions[key]; ok {
		return s
	}
	return name
}

func pageEnglish() Page {
	return Page{
		Language: "en", Own: "English",
		Find: "find a float", FindLead: "Here a float maker keeps the record of every marked float: what it carries, what to add and how it was made.",
		FindLabel: "the six characters on the float or its card", FindHint: "Capitals do not matter, nor do spaces and hyphens; the letter O counts as 0, I and L as 1.", Open: "show",
		NoFloat: "no float has this id here", NoFloatDo: "Compare it with the float once more. If it is right, ask the maker whose name stands on the card.",
		Mistyped: "one character looks wrong", MistypedDo: "The last character checks the others, and they do not agree. Compare all six with the float.",
		SixLong: "an id has six characters", SixLongDo: "Type all six characters as they stand on the float or its card.",
		NoPage: "there is no such page", TooMany: "too many tries", TooManyD: "Wait a minute, then type the id as it stands on the float.",
		WhatItCarries: "what it carries", AllOfIt: "all of it", OfFellows: "The figures are the mean of tested fellows of this float.",
		Basis: "to add in %s, %s", HoldsFor: "holds for %s",
		Alt:      "The float from the side, %s long. It is shotted to the waterline, %s from its base.",
		YourShot: "to add, in your shot", Sizes: "shot sizes", Metal: "metal", Water: "water", Fresh: "fresh water", Sea: "sea water", Show: "show",
		Kept:     "Your choice is kept on this phone, and nothing else.",
		OwnMetal: "as the set (%s)", Of: "%s of %s", AtMark: "tip at its mark", TipHigh: "tip %s high", TipLow: "tip %s low", TipHides: "the tip goes under",
		NoShot: "No shot of this set comes near enough: weigh it out.", Nearest: "nearest: %s",
		LeadLeftOut: "Lead that may not be used where the float was sold is left out; rules change, look them up.",
		SameMass:    "Each size is taken to weigh in %s what it weighs in the set.",
		ByShape:     "Denser water lifts more, lighter water less; how much is worked out from the shape of the float.",
		KeepHigh:    "With the add of its mark the tip would stand %s high.", KeepLow: "With the add of its mark the tip would stand %s low.",
		KeepSinks: "With the add of its mark it would sink.", Sinks: "In this water the float sinks, even with nothing added.", NothingThere: "nothing to add",
		Revised: "The mark was printed with edition %s of this set; here edition %s is used.", Weigh: "The mass of a size was not found in print: weigh it before use.",
		HowToShot: "how to shot it", EachSide: "%s on each side of the float", Bulk: "%s in bulk", BulkBelow: "%s in bulk below the stop",
		Olivette: "an olivette of %s", Evenly: "%s evenly down the line", Dropper: "%s as droppers",
		FixedBottom: "at the bottom end", FixedBoth: "top and bottom", FixedSliding: "sliding",
		GuideBottom: []string{"The line goes through the eye at the base only. Lock the float with shot on both sides of the eye; that is half to three quarters of what you add.",
			"The rest goes down the line, the smallest shot nearest the hook."},
		GuideBoth: []string{"The line is held at the tip and at the base, by rubbers or an eye. No shot sits at the float: slide it along the line to set the depth.",
			"Put most of the weight together, about half-way down or lower, and a few small shot below it; in slow water spread them evenly."},
		GuideSliding: []string{"The float runs free on the line up to a stop set at the depth. No shot locks it.",
			"Put most of the weight together well above the hook, so that it pulls line through the eye, and a few small shot below."},
		GuideOther: []string{"Most of the weight goes together, the rest in small shot towards the hook, the smallest nearest to it."},
		Practice:   "Common practice, no source: wind, depth and the water decide.",
		OnCard:     "as printed on its card", SizesMetal: "sizes, metal", ShotColumn: "shot", GramColumn: "grams", FittedWith: "fitted with", EverySet: "in every set of sizes",
		HowMade: "how it was made", Weighed: "weighed", Measured: "measured", LineFixed: "line fixed", MarkAt: "mark", ShotSizes: "shot sizes", Maker: "maker",
		BoardNumber: "number %s on the drying board", Steps: "in steps of %s", Revision: "edition %s", Salinity: "salinity %s", Temperature: "%s °C",
		MeasuredAdd: "to add %s ± %s of %s", InTank: "on this float in the tank", InTankFitted: "on this float in the tank, weight fitted", InTankFellows: "as the mean of its tested fellows",
		Care: "care", CareLines: []string{"Let it dry before it goes into a closed box; rinse off salt.", "Keep it out of the sun behind glass and away from solvents: varnish and mark soften.",
			"Close shot with pliers, never with the teeth, and take it off before the float is put away."},
		Languages: "language",
		MadeOn:    "made", Materials: "materials", Coats: "coats", Price: "price", Status: "status", Photographs: "photographs",
		IsRetired: "This float is retired: it is no longer fished, and its record is kept.",
		Statuses:  map[string]string{"in work": "in work", "finished": "finished", "sold": "sold", "returned": "returned", "retired": "retired"},
		Metals: map[string]string{"lead": "lead", "hard-lead": "hard lead", "tin": "tin", "bismuth": "bismuth", "brass": "brass", "steel": "steel",
			"stainless": "stainless steel", "zinc": "zinc", "copper": "copper", "tungsten": "tungsten"},
		Conventions: map[string]string{"gb-modern": "British present-day", "gb-traditional": "British traditional", "gb-pellets": "English pellet scale", "continental": "Continental",
			"styl-rising": "Styl leads, rising scale", "styl-falling": "Styl leads, falling scale", "olivettes": "Olivettes", "us-split": "US split shot",
			"japan": "Japanese gan-dama, jintan and go", "grams": "Grams", "ounces": "Ounces"},
	}
}
