package batch

// Skeleton is a batch file with nothing in it yet but what most makers begin
// with: British present-day sizes, white film on A4, a tank of fresh water.
func Skeleton(name, date string) []byte {
	d := &Doc{root: map[string]any{
		"format": int64(1), "name": name, "date": date,
		"maker": map[string]any{},
		"print": map[string]any{"convention": "gb-modern", "cards": []any{"gb-modern", "gb-traditional", "continental"}, "film": defaultFilm, "card": defaultCard},
		"tank":  map[string]any{"metal": "lead", "water_c": 15.0, "tip": "wet", "read_to_mm": 0.5, "scale": "0.01 g"},
	}}
	return d.Source()
}
