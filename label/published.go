package label

// The groups of fields that a maker publishes or keeps, one choice each.
const (
	GroupFigures   = "figures"   // rating, built in, add, and how it is shotted: what the mark says anyway
	GroupPattern   = "pattern"   // name of the pattern, shape and length
	GroupBatch     = "batch"     // batch and number
	GroupDates     = "dates"     // when it was made
	GroupMaterials = "materials" // parts, what they are made of, their masses
	GroupCoats     = "coats"     // coats with dates and product names
	GroupPhotos    = "photos"    // photographs with captions and dates
	GroupStatus    = "status"    // in work, finished, sold, returned; that a float is retired is always told
	GroupCare      = "care"      // the maker's own words on care
	GroupTank      = "tank"      // readings of the test tank
	GroupFields    = "fields"    // free fields
	GroupNotes     = "notes"     // notes
	GroupPrice     = "price"     // price
	GroupBuyer     = "buyer"     // whom it was sold to
)

// Choice is whether a group is published when the maker has chosen nothing.
type Choice struct {
	Group   string `json:"group"`
	Default bool   `json:"default"`
}

// Choices lists the groups in the order of a page. What says how to use the
// float and what it is made of is published unless the maker says no; trade
// names of products, photographs, free fields, notes, prices and buyers are kept
// until the maker says yes: they may name people or give a recipe away.
func Choices() []Choice {
	return []Choice{
		{GroupFigures, true}, {GroupPattern, true}, {GroupBatch, true}, {GroupDates, true}, {GroupMaterials, true},
		{GroupCare, true}, {GroupTank, true},
		{GroupCoats, false}, {GroupPhotos, false}, {GroupStatus, false}, {GroupFields, false}, {GroupNotes, false},
		{GroupPrice, false}, {GroupBuyer, false},
	}
}

// Builds is what bears on one float: its own record and those of its batch, its
// pattern and the workshop.
type Builds struct {
	Float    Build `json:"float"`
	Batch    Build `json:"batch"`
	Pattern  Build `json:"pattern"`
	Workshop Build `json:"workshop"`
}

// Published reports whether a group of the float is published: the nearest
// choice counts, of the float, its batch, its pattern, the workshop; then the
// default. A group that there is none of is not published.
func (b Builds) Published(group string) bool {
	for _, near := range []Build{b.Float, b.Batch, b.Pattern, b.Workshop} {
		if yes, ok := near.Publish[group]; ok {
			return yes
		}
	}
	for _, c := range Choices() {
		if c.Group == group {
			return c.Default
		}
	}
	return false
}

// All gathers the float's record with what was noted on its pattern and its
// batch: lists one after the other, pattern first; of what stands alone the
// nearest. It is for the maker's eyes.
func (b Builds) All() Build {
	all := b.Float
	all.Publish = nil
	for _, c := range Choices() {
		if all.Publish == nil {
			all.Publish = map[string]bool{}
		}
		all.Publish[c.Group] = b.Published(c.Group)
	}
	all.Materials = append(append(append([]Item[Material](nil), b.Pattern.Materials...), b.Batch.Materials...), b.Float.Materials...)
	all.Coats = append(append(append([]Item[Coat](nil), b.Pattern.Coats...), b.Batch.Coats...), b.Float.Coats...)
	all.Notes = append(append(append([]Item[Note](nil), b.Pattern.Notes...), b.Batch.Notes...), b.Float.Notes...)
	all.Fields = append(append(append([]Item[Field](nil), b.Pattern.Fields...), b.Batch.Fields...), b.Float.Fields...)
	all.Photos = append(append(append([]Item[Photo](nil), b.Pattern.Photos...), b.Batch.Photos...), b.Float.Photos...)
	for _, from := range []Build{b.Batch, b.Pattern, b.Workshop} {
		for _, f := range []struct {
			to   *string
			have string
		}{{&all.Made, from.Made}, {&all.Care, from.Care}, {&all.Price, from.Price}} {
			if *f.to == "" {
				*f.to = f.have
			}
		}
	}
	return all
}

// Public is All without what is not published. Of the status only "retired" is
// left where the status is kept.
func (b Builds) Public() Build {
	p := b.All()
	for _, c := range []struct {
		group string
		drop  func()
	}{
		{GroupDates, func() {
			p.Made = ""
			for i := range p.Coats {
				p.Coats[i].Value.Date = ""
			}
			for i := range p.Photos {
				p.Photos[i].Value.Date = ""
			}
		}},
		{GroupCare, func() { p.Care = "" }},
		{GroupPrice, func() { p.Price = "" }},
		{GroupBuyer, func() { p.Buyer = "" }},
		{GroupMaterials, func() { p.Materials = nil }},
		{GroupCoats, func() { p.Coats = nil }},
		{GroupNotes, func() { p.Notes = nil }},
		{GroupFields, func() { p.Fields = nil }},
		{GroupPhotos, func() { p.Photos = nil }},
		{GroupStatus, func() {
			if p.Status != Retired {
				p.Status = ""
			}
		}},
	} {
		if !p.Publish[c.group] {
			c.drop()
		}
	}
	return p
}
