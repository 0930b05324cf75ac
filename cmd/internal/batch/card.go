package batch

import (
	"errors"
	"math"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/label/words"
	"floatmark/layouts/backer"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Cards is what a batch file says of its cards under [card].
type Cards struct {
	Style    backer.Style
	Size     geom.Size // of the card as it hangs; the zero Size for the usual one
	Language string    // BCP 47 of the second language; "" for one
	ForSale  bool      // they must bear who answers for the floats
	NoEmblem bool      // the maker's own mark stays off them
	Set      int       // floats on one card, 1 or more
	Price    string    // of a set, plain decimal amount; "" for none
	EAN      string    // of a set
	// Unanswered is why cards for sale may not be made: nobody answers for the
	// floats on them.
	Unanswered error
}

// The keys of [card], in the order of the demonstration file.
var cardKeys = []string{"kind", "arrangement", "sides", "size", "hang", "holds", "picture", "overhang_mm", "corner_mm", "tube_mm", "tube_length_mm",
	"second_language", "ground", "ink", "accent", "board_g_m2", "own_mark", "for_sale", "set", "price", "ean"}

// Ranges that catch a slip of the unit: estimates.
const (
	mostOverhang                = 250 // mm
	mostCorner                  = 25  // mm
	leastTube, mostTube         = 15, 120
	leastLong, mostLong         = 60, 600
	leastGrammage, mostGrammage = 80, 800 // g/m²
	tubeShare                   = 2.0 / 3 // of a tube's girth that an insert covers, so that the float is seen
	tubeWall                    = 1.0     // mm that the insert is smaller across than the tube
)

// cards reads [card]; it comes after [maker] and [print].
func (r *reader) cards(root *table, f *File) {
	const tab = "[card]"
	t := r.sub(root, "card", cardKeys)
	c := Cards{}
	kind, _ := r.choice(t, tab, "kind", optional, backer.KindNames()...)
	c.Style.Kind = backer.Kind(kind)
	arranged, _ := r.choice(t, tab, "arrangement", optional, backer.ArrangementNames()...)
	c.Style.Arrangement = backer.Arrangement(arranged)
	hang, _ := r.choice(t, tab, "hang", optional, backer.HangNames()...)
	c.Style.Hang = backer.Hang(hang)
	holds, _ := r.choice(t, tab, "holds", optional, "auto", "none")
	c.Style.NoHolds = holds == 1
	picture, _ := r.choice(t, tab, "picture", optional, "drawn", "outline")
	c.Style.NoPicture = picture == 1
	sides, ok := r.number(t, tab, "sides", optional, 1, 2, 1)
	if ok && sides != math.Trunc(sides) {
		r.add(t.get("sides").val.at, "write 1 or 2", "%s: %v is no count", in(tab, "sides"), sides)
	}
	c.Style.Sides = int(sides)
	c.Style.Overhang, _ = r.number(t, tab, "overhang_mm", optional, 0, mostOverhang, 0)
	c.Style.Corner, _ = r.number(t, tab, "corner_mm", optional, 0, mostCorner, 0)
	c.Style.Grammage, _ = r.number(t, tab, "board_g_m2", optional, leastGrammage, mostGrammage, 0)
	c.Style.Ground, c.Style.Ink, c.Style.Accent = r.cardInk(t, "ground"), r.cardInk(t, "ink"), r.cardInk(t, "accent")
	c.NoEmblem = r.flag(t, tab, "own_mark") == no
	c.Size = r.namedSize(t, f, c.Style.Kind)
	if l := r.cell(t, tab, "second_language", optional, false); l.ok() {
		if _, err := words.For(l.text); err != nil {
			r.addErr(l.at, in(tab, "second_language"), err)
		}
		c.Language = l.text
	}
	r.set(t, f, &c)
	sold := f.Batch.ForSale() || c.Price != "" || c.EAN != ""
	switch r.flag(t, tab, "for_sale") {
	case yes:
		sold = true
	case no:
		sold = false
	}
	c.ForSale = sold
	if sold {
		c.Unanswered = r.answers(root, f.Batch.Maker)
	}
	f.Cards = c
}

// set reads how many floats go on a card, and what such a set costs.
func (r *reader) set(t *table, f *File, c *Cards) {
	const tab = "[card]"
	set, ok := r.number(t, tab, "set", optional, 1, backer.MostOfSet, 1)
	if ok && set != math.Trunc(set) {
		r.add(t.get("set").val.at, "give a whole number", "%s: %v is no count", in(tab, "set"), set)
	}
	c.Set = int(set)
	if t == nil {
		return
	}
	c.Price, c.EAN = r.price(t, tab, maker{f.Batch.Maker}), r.ean(t, tab)
	for _, key := range []string{"price", "ean"} {
		if e := t.get(key); e != nil && c.Set < 2 {
			r.add(e.at, "give set = 3, or move it to [[rating]]", "%s is that of a set, and there is one float on a card", in(tab, key))
		}
	}
	if n := len(f.Batch.Floats); c.Set > 1 && n%c.Set != 0 {
		r.add(t.get("set").val.at, "leave floats out, or take another set", "%s: %d floats make no whole sets of %d", in(tab, "set"), n, c.Set)
	}
}

// flagged is what a key of true or false says.
type flagged int

const (
	unsaid flagged = iota
	yes
	no
)

func (r *reader) flag(t *table, tab, key string) flagged {
	e := t.get(key)
	switch {
	case e == nil:
		return unsaid
	case e.val.kind != unstable.Bool:
		r.add(e.val.at, "write "+key+" = true or "+key+" = false", "%s is neither true nor false", in(tab, key))
		return unsaid
	case e.val.text == "true":
		return yes
	}
	return no
}

func (r *reader) cardInk(t *table, key string) *draw.Ink {
	if t.get(key) == nil {
		return nil
	}
	c := r.colour(t, "[card]", key, optional, label.Colour{})
	return &draw.Ink{R: c.R, G: c.G, B: c.B}
}

// namedSize is the card's size: by its name, by the tube it goes into, or by
// card_size_mm of [print]. A header over a bag is lower than a card with a float.
func (r *reader) namedSize(t *table, f *File, kind backer.Kind) geom.Size {
	const tab = "[card]"
	size := geom.Size{W: f.CardSize[0], H: f.CardSize[1]}
	given := size != geom.Size{}
	if c := r.cell(t, tab, "size", optional, false); c.ok() {
		var keys []string
		for _, one := range backer.Formats() {
			keys = append(keys, one.Key)
		}
		one, ok := backer.FormatByKey(strings.ToLower(c.text))
		switch {
		case !ok:
			r.add(c.at, instead(c.text, keys)+", or give card_size_mm in [print]", "%s: there is no size %q", in(tab, "size"), c.text)
		case given:
			r.add(c.at, "keep one of them", "%s stands beside card_size_mm of [print]", in(tab, "size"))
		}
		return one.Size
	}
	tube, has := r.number(t, tab, "tube_mm", optional, leastTube, mostTube, 0)
	long, _ := r.number(t, tab, "tube_length_mm", optional, leastLong, mostLong, 0)
	switch {
	case has && tube > 0 && kind != backer.Insert:
		r.add(t.get("tube_mm").val.at, `write kind = "insert", or remove it`, "%s is for a tube's insert", in(tab, "tube_mm"))
	case has && tube > 0:
		if long == 0 {
			long = backer.ThirdA4.H
		}
		const step = 0.5 // mm
		return geom.Size{W: math.Floor(tubeShare*math.Pi*(tube-tubeWall)/step) * step, H: long}
	case !given && kind == backer.Header:
		return backer.HeaderPanel
	}
	return size
}

// answers returns the Input errors of cards for sale that do not say who answers
// for the floats, nil when they do.
//
// Article 9 of Regulation (EU) 2023/988 asks a maker for name, postal and
// electronic address, on the product or, where its size prevents that, on the
// pack. In Great Britain the General Product Safety Regulations 2005 (SI
// 2005/1803) apply; that they ask for name and address in reg. 7 is from memory.
// Neither is quoted; both change.
func (r *reader) answers(root *table, m label.Maker) error {
	market := strings.ToUpper(m.Market)
	if strings.HasPrefix(market, "US") {
		return nil // no rule of that kind was found for it
	}
	const eu = "Regulation (EU) 2023/988, Article 9, asks for the maker's name, postal and electronic address"
	const gb = "in Great Britain the General Product Safety Regulations 2005 (SI 2005/1803) ask for the maker's name and address"
	rule := eu + "; " + gb
	switch market {
	case "EU":
		rule = eu
	case "GB":
		rule = gb
	}
	at := root.at
	if t := root.get("maker"); t != nil && t.val != nil {
		at = t.val.at
	}
	const change = ", or write for_sale = false in [card] for cards that are not sold"
	var all []error
	tell := func(key, what string) {
		all = append(all, fault.At(r.where(at), fault.Inputf("add "+key+" to [maker]"+change, "cards for sale have no %s: %s; rules change, look them up", what, rule)))
	}
	if len(m.Address) == 0 {
		tell(`address = ["1 Weir Lane", "Exampleton EX1 1EX"]`, "postal address")
	}
	if m.Contact == "" && market != "GB" {
		tell(`contact = "bench@withysluice.example"`, "electronic address")
	}
	return errors.Join(all...)
}

// ean reads a trade item number; "" when there is none.
func (r *reader) ean(t *table, tab string) string {
	c := r.cell(t, tab, "ean", optional, false)
	if !c.ok() {
		return ""
	}
	bars, err := symbol.EAN13(c.text)
	if err != nil {
		r.addErr(c.at, in(tab, "ean"), err)
	}
	return bars.Text
}

// articles refuses one trade item number on two articles: a pattern in one
// rating is an article.
func (r *reader) articles(root *table, b *label.Batch) {
	type article struct {
		pattern *label.Pattern
		rating  float64
	}
	first := map[string]article{}
	told := map[string]bool{}
	for i := range b.Floats {
		f := &b.Floats[i]
		if f.Pattern == nil {
			continue
		}
		number, is := b.EANOf(f), article{f.Pattern, float64(f.Nominal)}
		was, seen := first[number]
		if number == "" || told[number] {
			continue
		}
		if !seen {
			first[number] = is
			continue
		}
		if was != is {
			told[number] = true
			r.add(root.at, "give each pattern in each rating a number of its own: ean stands in [[rating]] where one pattern has that rating, else in [[pattern]]",
				"the EAN-13 %s would stand on two articles, %s and %s", number, was.pattern.Name, is.pattern.Name)
		}
	}
}
