package batch

import (
	"fmt"
	"math"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/stock"
	"floatmark/loading/body"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// The ranges below catch a slip of the unit, not an odd wish: estimates.
const (
	leastDPI, mostDPI         = 72, 9600
	leastOverlap, mostOverlap = -50, 10  // mm; below zero is a gap
	leastStretch, mostStretch = 0.05, 15 // percent; film trade keeps vinyl under 15
	percent                   = 100
	mostSpares                = 10
	mostAhead                 = 500
	leastCard, mostCard       = 20, 1000 // mm
	leastBoard, mostBoard     = 9, 150   // mm; less than the first has no room for a number
	mostReadTo                = 20       // mm
	maxStep                   = unit.Gram(5)
	mostSalinity              = 42 // PSS-78, as the density formula's range
	mostTempC                 = 40 // degrees Celsius, likewise
)

// defaultFilm and defaultCard are the commonest sizes outside North America.
const (
	defaultFilm = "a4-film-white"
	defaultCard = "a4-card"
)

// print reads [print]: conventions, steps, stocks and the printer.
func (r *reader) print(root *table, f *File, w *Workshop) {
	const tab = "[print]"
	t := r.sub(root, "print", printKeys)
	b := f.Batch
	key := shot.Conventions()[0].Key
	if w != nil && w.Convention != "" {
		key = w.Convention
	}
	b.Convention, _ = r.conventionByKey(key)
	if c := r.cell(t, tab, "convention", optional, false); c.ok() {
		if v, ok := r.convention(c, in(tab, "convention")); ok {
			b.Convention = v
		}
	}
	seen := map[string]bool{}
	for _, c := range r.texts(t, tab, "cards") {
		v, ok := r.convention(c, in(tab, "cards"))
		switch {
		case ok && seen[v.Key]:
			r.add(c.at, "keep one of them", "%s: %q stands twice", in(tab, "cards"), c.text)
		case ok:
			seen[v.Key] = true
			b.Cards = append(b.Cards, v)
		}
	}
	if t.get("cards") == nil {
		b.Cards = []shot.Convention{b.Convention}
	}
	b.Step = r.step(t, tab, "step")
	b.Tolerance = r.step(t, tab, "tolerance")
	b.Ring = r.step(t, tab, "ring")
	r.bands = r.palette(t, tab)
	f.Film = r.stock(t, tab, "film", defaultFilm, "film or sticker", stock.Stock.ForMarks)
	f.Card = r.stock(t, tab, "card", defaultCard, "card or paper", stock.Stock.ForCards)
	f.CardSize = r.cardSize(t, tab)
	f.Boxes = r.stock(t, tab, "boxes", "", "sticker, card or paper", forBoxes)
	strip, _ := r.number(t, tab, "strip_mm", optional, 0, mostStrip, float64(body.PaperStrip))
	r.strip = unit.Millimetre(strip)
	f.DPI, _ = r.number(t, tab, "dpi", optional, leastDPI, mostDPI, DefaultDPI)
	f.Printer = r.text(t, tab, "printer", optional)
	if e := t.get("dpi"); e != nil && f.Printer != "" {
		r.add(e.at, "remove it: the printer's profile tells its dots", "%s stands beside %s", in(tab, "dpi"), in(tab, "printer"))
	}
	fill, _ := r.choice(t, tab, "fill", optional, "strip", "tight")
	f.Tight = fill == 1
	if e := t.get("keep_together"); e != nil {
		if e.val.kind != unstable.Bool {
			r.add(e.val.at, "write keep_together = true or keep_together = false", "%s is neither true nor false", in(tab, "keep_together"))
		}
		f.Together = e.val.text == "true"
	}
	ahead, whole := r.number(t, tab, "ahead", optional, 0, mostAhead, 0)
	if whole && ahead != math.Trunc(ahead) {
		r.add(t.get("ahead").val.at, "give a whole number", "%s: %v is no count", in(tab, "ahead"), ahead)
	}
	f.Ahead = int(ahead)
	f.Board, _ = r.number(t, tab, "board_mm", optional, leastBoard, mostBoard, 0)
	spares, ok := r.number(t, tab, "spares", optional, 0, mostSpares, 0)
	if ok && spares != math.Trunc(spares) {
		r.add(t.get("spares").val.at, "give a whole number", "%s: %v is no count", in(tab, "spares"), spares)
	}
	f.Spares = int(spares)
	f.Feed, _ = r.choice(t, tab, "feed", optional, "top", "right", "bottom", "left")
	overlap := DefaultOverlap
	if s, ok := f.Stock(f.Film); ok && s.Kind == stock.Sticker {
		overlap = -DefaultGap
	}
	f.Overlap, _ = r.number(t, tab, "overlap_mm", optional, leastOverlap, mostOverlap, overlap)
	f.Floor, _ = r.number(t, tab, "least_capitals_mm", optional, leastCapitals, mostCapitals, 0)
	stretch, _ := r.number(t, tab, "stretch_percent", optional, leastStretch, mostStretch, 0)
	f.Stretch = stretch / percent
	f.CodeHeld, _ = r.choice(t, tab, "code", optional, codeHeld...)
	f.OwnMark = r.ownMark(t, tab)
	r.marked = f.OwnMark != nil
}

// forBoxes reports whether stickers for boxes can be printed on a stock.
func forBoxes(s stock.Stock) bool { return s.Kind != stock.Film && !s.Sheetless() }

// codeHeld is how a phone may have to be held to read a code that is still put on
// a float: square to it, or as a hand happens to hold it.
var codeHeld = []string{"square", "anyhow"}

func (r *reader) convention(c cell, key string) (shot.Convention, bool) {
	if !c.ok() {
		return shot.Convention{}, false
	}
	v, ok := r.conventionByKey(c.text)
	if !ok {
		r.add(c.at, instead(c.text, r.conventionKeys()), "%s: there is no convention %q", key, c.text)
	}
	return v, ok
}

// step reads a mass that figures or rings are counted in; 0 when not given.
func (r *reader) step(t *table, tab, key string) unit.Gram {
	c := r.cell(t, tab, key, optional, true)
	m, ok := r.mass(c, in(tab, key), false)
	if ok && m > maxStep {
		r.add(c.at, "check the decimal sign and the unit", "%s: %q is more than %s", in(tab, key), c.text, maxStep.Text(1, unit.Style{}))
		return 0
	}
	return m
}

// stock reads the key of a stock that serves for what is printed; what is what
// such stocks are called.
func (r *reader) stock(t *table, tab, key, def, what string, serves func(stock.Stock) bool) string {
	c := r.cell(t, tab, key, optional, false)
	if !c.ok() {
		return def
	}
	var keys []string
	for _, s := range append(stock.Stocks(), r.ownStock...) {
		if serves(s) {
			keys = append(keys, s.Key)
		}
	}
	found, ok := stockByKey(r.ownStock, c.text)
	if !ok {
		found, ok = stock.ByKey(c.text)
	}
	switch {
	case ok && serves(found):
		return c.text
	case ok:
		r.add(c.at, "use one of: "+quoted(keys), "%s: %q is no %s", in(tab, key), c.text, what)
	default:
		r.add(c.at, instead(c.text, keys), "%s: there is no stock %q", in(tab, key), c.text)
	}
	return def
}

func (r *reader) cardSize(t *table, tab string) (size [2]float64) {
	e := t.get("card_size_mm")
	if e == nil {
		return size
	}
	const do = "write width and height as in card_size_mm = [99, 210]"
	if e.val.kind != unstable.Array || len(e.val.list) != 2 {
		r.add(e.val.at, do, "%s is no size", in(tab, "card_size_mm"))
		return size
	}
	for i, n := range e.val.list {
		v, ok := r.plain(n, in(tab, "card_size_mm"))
		if ok && !(v >= leastCard && v <= mostCard) {
			r.add(n.at, fmt.Sprintf("give a number from %d to %d mm", leastCard, mostCard), "%s: %s is out of range", in(tab, "card_size_mm"), n.text)
		}
		size[i] = v
	}
	return size
}

// tested is how all readings of the batch were taken.
type tested struct {
	metal water.Metal // of the shot hung; its key is "" when the file does not say
	told  bool        // that there is none was told already
	at    place       // where [tank] is, or would be
	water water.Water
	tip   tank.Tip
	to    unit.Millimetre
	scale unit.Gram
	shot  shot.Convention // of readings counted in shot
	with  []tank.Fitting  // what hung with the shot each time
}

// tips are the words for a wetted tip, in the order of package tank's.
var tips = []string{tank.TipUnknown.String(), tank.TipDry.String(), tank.TipWet.String(), tank.TipWashed.String()}

func (r *reader) tank(root *table, b *label.Batch) tested {
	const tab = "[tank]"
	t := r.sub(root, "tank", tankKeys)
	how := tested{at: root.at, shot: b.Convention}
	if t != nil {
		how.at, how.told = t.at, true
	}
	if c := r.cell(t, tab, "metal", needed, false); c.ok() {
		how.metal, _ = r.metal(c, in(tab, "metal"))
	}
	how.water.TempC, _ = r.number(t, tab, "water_c", optional, 0, mostTempC, water.Usual().TempC)
	how.water.Salinity, _ = r.number(t, tab, "salinity", optional, 0, mostSalinity, 0)
	tip, _ := r.choice(t, tab, "tip", optional, tips...)
	how.tip = tank.Tip(tip)
	to, _ := r.number(t, tab, "read_to_mm", optional, 0.01, mostReadTo, 0)
	how.to = unit.Millimetre(to)
	how.scale = r.step(t, tab, "scale")
	if c := r.cell(t, tab, "with", optional, false); c.ok() {
		fittings, err := parseFittings(c.text)
		if err != nil {
			r.addErr(c.at, in(tab, "with"), err)
		}
		how.with = fittings
	}
	b.Water = how.water
	return how
}

// metal reads a metal by its name, or by a name and a density, "putty:9.0".
func (r *reader) metal(c cell, key string) (water.Metal, bool) {
	m, err := water.ParseMetal(c.text)
	if err == nil {
		return m, true
	}
	var keys []string
	for _, k := range water.Metals() {
		keys = append(keys, k.Key)
	}
	if n := nearest(c.text, keys); n != "" {
		r.add(c.at, instead(c.text, keys), "%s: there is no metal %q", key, c.text)
	} else {
		r.addErr(c.at, key, err)
	}
	return m, false
}

func (r *reader) ratings(root *table, m maker) []label.Rating {
	const tab = "[[rating]]"
	var all []label.Rating
	named := map[int]bool{} // that have a band of their own
	for _, t := range r.subs(root, "rating", ratingKeys) {
		c := r.cell(t, tab, "load", needed, true)
		load, ok := r.mass(c, in(tab, "load"), false)
		if _, twice := rated(all, load); ok && twice {
			r.add(c.at, "keep one of them", "%s: %q stands twice", in(tab, "load"), c.text)
		}
		one := label.Rating{Nominal: load, Band: r.colour(t, tab, "band", optional, bandless), Price: r.price(t, tab, m), EAN: r.ean(t, tab)}
		if ok {
			named[len(all)] = t.get("band") != nil
			all = append(all, one)
		}
	}
	banded(all, named, r.bands)
	if root.get("rating") == nil {
		r.add(root.at, `add a table [[rating]] with load = "8 g" for each rating`, "the batch names no ratings")
	}
	return all
}

// sameMass is how near two masses must be, in grams, to be the same rating
// written in two ways: far below what any scale tells.
const sameMass = 1e-6

// rated returns the batch's rating of a mass.
func rated(all []label.Rating, m unit.Gram) (label.Rating, bool) {
	for _, one := range all {
		if math.Abs(float64(one.Nominal-m)) < sameMass {
			return one, true
		}
	}
	return label.Rating{}, false
}

func nominals(all []label.Rating) []unit.Gram {
	var list []unit.Gram
	for _, one := range all {
		list = append(list, one.Nominal)
	}
	return list
}

// price checks an amount of money and returns it with a decimal point.
func (r *reader) price(t *table, tab string, m maker) string {
	e := t.get("price")
	if e == nil {
		return ""
	}
	c := cell{text: e.val.text, at: e.val.at, set: true}
	if e.val.kind != unstable.Integer && e.val.kind != unstable.Float { // 6.50 without marks is as clear
		c = r.cell(t, tab, "price", optional, false)
		if !c.ok() {
			return ""
		}
	}
	const do = `write the number alone, as in "6.50"; the currency stands in [maker]`
	v, ok := unit.Decimal(c.text)
	if !ok || v < 0 || strings.ContainsAny(c.text, "/ ") {
		r.add(c.at, do, "%s: %q is no price", in(tab, "price"), c.text)
		return ""
	}
	amount := strings.Replace(c.text, ",", ".", 1)
	if m.Currency == "" {
		r.add(c.at, `add currency = "GBP" to [maker]`, "%s: there is no currency for it", in(tab, "price"))
		return ""
	}
	english, err := words.For("en")
	if err != nil {
		return amount
	}
	if _, err := english.Price("1", m.Currency); err != nil {
		return amount // the currency is told where it stands
	}
	if _, err := english.Price(amount, m.Currency); err != nil {
		r.add(c.at, do, "%s: %q is no price", in(tab, "price"), c.text)
	}
	return amount
}
