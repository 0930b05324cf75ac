package web

import (
	"floatmark/label"
	"floatmark/loading/unit"
)

// column is one thing to type of an item.
type column struct {
	Name, Label string
	Long        bool   // more than one line
	Mode        string // of the keyboard of a phone
	Value       string
}

// listed is one list of the build record: its items and a form for the next.
type listed struct {
	List, Title string
	Items       []listedItem
	Next        []column
}

type listedItem struct {
	Path string
	From string // "batch" or "pattern" where it is noted there; "" on the record shown
	Cols []column
	Pic  *photo
}

// listsOf writes the lists of a build record with what can be typed of each.
func listsOf(b label.Build, say func(string) string, link func(photo int) string) []listed {
	materials := listed{List: label.ListMaterials, Title: say("Materials"), Next: materialColumns(say, label.Material{})}
	for _, i := range b.Materials {
		materials.Items = append(materials.Items, itemOf(i, b.Subject.Kind, materialColumns(say, i.Value)))
	}
	coats := listed{List: label.ListCoats, Title: say("Coats"), Next: coatColumns(say, label.Coat{})}
	for _, i := range b.Coats {
		coats.Items = append(coats.Items, itemOf(i, b.Subject.Kind, coatColumns(say, i.Value)))
	}
	notes := listed{List: label.ListNotes, Title: say("Notes"), Next: noteColumns(say, label.Note{})}
	for _, i := range b.Notes {
		notes.Items = append(notes.Items, itemOf(i, b.Subject.Kind, noteColumns(say, i.Value)))
	}
	fields := listed{List: label.ListFields, Title: say("Free fields"), Next: fieldColumns(say, label.Field{})}
	for _, i := range b.Fields {
		fields.Items = append(fields.Items, itemOf(i, b.Subject.Kind, fieldColumns(say, i.Value)))
	}
	photos := listed{List: label.ListPhotos, Title: say("Photographs")}
	for _, i := range b.Photos {
		one := itemOf(i, b.Subject.Kind, photoColumns(say, i.Value))
		one.Pic = &photo{link(i.Value.Photo), i.Value.Caption, i.Value.Width, i.Value.Height}
		photos.Items = append(photos.Items, one)
	}
	return []listed{photos, notes, coats, materials, fields}
}

func itemOf[T any](i label.Item[T], of string, cols []column) listedItem {
	one := listedItem{Path: i.Path, Cols: cols}
	if i.From != of {
		one.From = i.From
	}
	return one
}

const decimalKeys = "decimal"

func materialColumns(say func(string) string, m label.Material) []column {
	mass := ""
	if m.Mass > 0 {
		mass = m.Mass.Text(0.001, unit.Style{})
	}
	return []column{{Name: "part", Label: say("part"), Value: m.Part}, {Name: "what", Label: say("material"), Value: m.What},
		{Name: "mass", Label: say("mass, g"), Mode: decimalKeys, Value: mass}, {Name: "note", Label: say("note"), Value: m.Note}}
}

func coatColumns(say func(string) string, c label.Coat) []column {
	return []column{{Name: "product", Label: say("product"), Value: c.Product}, {Name: "date", Label: say("date"), Value: c.Date}, {Name: "note", Label: say("note"), Value: c.Note}}
}

func noteColumns(say func(string) string, n label.Note) []column {
	return []column{{Name: "text", Label: say("note"), Long: true, Value: n.Text}, {Name: "date", Label: say("date"), Value: n.Date}}
}

func fieldColumns(say func(string) string, f label.Field) []column {
	return []column{{Name: "name", Label: say("name"), Value: f.Name}, {Name: "text", Label: say("text"), Long: true, Value: f.Text}}
}

func photoColumns(say func(string) string, p label.Photo) []column {
	return []column{{Name: "caption", Label: say("caption"), Value: p.Caption}, {Name: "date", Label: say("date"), Value: p.Date}}
}
