package bench

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
)

func (s *server) stocksPages() []route {
	return []route{
		s.get("stocks", s.stocks),
		s.post("stocks", s.addStock),
		s.post("stocks/{key}/remove", s.removeStock),
	}
}

// stocksPage is the film, card and paper that batches can name.
type stocksPage struct {
	Own, Built []stockShown
	Fields     []field
	Locked     bool // workshop.toml lists the maker's own
}

type stockShown struct {
	job.StockLine
	Colour string // for a swatch
	Wide   string // and high
	Bears  string // per cent; "" where nothing of it goes round a body
	Labels string // "3 × 8"
}

const ownStocks = "own_stock"

// stockFields are what is typed of a stock of one's own.
func stockFields(m words.Measures, like []option) []field {
	return []field{
		{Path: "name", Label: "What you call it", Required: true},
		{Path: "like", Label: "It is like", Options: like, Hint: "It goes on and is printed as this one."},
		{Path: "wide", Label: "Width of the sheet, %s", Unit: m.LengthSign(), Mode: lengthKeys(m), Hint: "Empty: as the one it is like."},
		{Path: "high", Label: "Height of the sheet, %s", Unit: m.LengthSign(), Mode: lengthKeys(m)},
		{Path: "margin", Label: "Margin that the printer cannot reach, %s", Unit: m.LengthSign(), Mode: lengthKeys(m)},
		{Path: "thick", Label: "Thickness, %s", Unit: m.LengthSign(), Mode: lengthKeys(m)},
	}
}

func (s *server) stocks(w http.ResponseWriter, r *http.Request) error {
	return s.showStocks(w, r, http.StatusOK, nil)
}

func (s *server) showStocks(w http.ResponseWriter, r *http.Request, status int, found []finding) error {
	all, err := s.shop().StockLines()
	if err != nil {
		return err
	}
	set, err := s.shop().Settings()
	if err != nil {
		return err
	}
	m := s.measures(r)
	p := stocksPage{Locked: set.Locked(ownStocks)}
	var like []option
	for _, one := range all {
		shown := stockShown{StockLine: one, Colour: one.Stock.Colour.String()}
		if one.Limit > 0 {
			shown.Bears = m.Plain(float64(int(one.Limit*percent*10+0.5)) / 10)
		}
		if one.Grid != nil {
			shown.Labels = fmt.Sprintf("%d × %d", one.Grid.Columns, one.Grid.Rows)
		}
		if one.Own {
			p.Own = append(p.Own, shown)
			continue
		}
		p.Built = append(p.Built, shown)
		if !one.Sheetless() {
			like = append(like, option{one.Key, one.Name, one.Key == "a4-film-white"})
		}
	}
	p.Fields = stockFields(m, like)
	for i := range p.Fields {
		f := &p.Fields[i]
		if r.PostForm.Has(f.Path) {
			f.Value = r.PostFormValue(f.Path)
			if len(f.Options) > 0 {
				f.Options = chosen(f.Options, f.Value)
			}
		}
	}
	s.send(w, r, status, "stocks", frame{Title: "Film, card and paper", Version: set.Version, Undoes: set.Undoes, UndoOn: "stocks", Findings: found, Body: p})
	return nil
}

// keyOf makes a key of a name: small letters, digits and hyphens.
func keyOf(name string) string {
	key := strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			return c
		}
		return '-'
	}, strings.ToLower(name))
	for strings.Contains(key, "--") {
		key = strings.ReplaceAll(key, "--", "-")
	}
	if key = strings.Trim(key, "-"); key == "" {
		return "own"
	}
	return key
}

// addStock adds a stock of the maker's own to the settings.
func (s *server) addStock(w http.ResponseWriter, r *http.Request) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	table, err := typedStock(s.measures(r), r)
	if err == nil {
		var taken []any
		for _, one := range s.shop().Stocks() {
			taken = append(taken, one.Key)
		}
		key := keyOf(table["name"].(string))
		table["key"] = key
		for n := 2; slices.Contains(taken, table["key"]); n++ {
			table["key"] = key + "-" + strconv.Itoa(n)
		}
		shop := *s.shop()
		_, err = shop.EditSettings(r.Context(), seen, "add a stock", job.ByBench, func(d *batch.Doc) error {
			return d.Set(ownStocks+"/"+strconv.Itoa(d.Len(ownStocks)), table)
		})
	}
	if err != nil {
		if job.IsChanged(err) {
			return err
		}
		found := findings(err)
		for i, f := range found {
			if strings.HasPrefix(f.Where, "workshop.toml:") {
				found[i].Where = "" // a line of what was not stored
			}
		}
		return s.showStocks(w, r, http.StatusUnprocessableEntity, found)
	}
	s.reopen()
	return back(w, r, "stocks")
}

// typedStock is the table of a stock as a form has it.
func typedStock(m words.Measures, r *http.Request) (map[string]any, error) {
	name := strings.TrimSpace(r.PostFormValue("name"))
	if name == "" {
		return nil, fault.Inputf("write what stands on its packet, such as its maker and number", "the stock needs a name")
	}
	table := map[string]any{"name": name, "like": r.PostFormValue("like")}
	lengths := map[string]float64{}
	for _, one := range []string{"wide", "high", "margin", "thick"} {
		text := strings.TrimSpace(r.PostFormValue(one))
		if text == "" {
			continue
		}
		v, err := m.ReadLength(text)
		if err != nil {
			return nil, err
		}
		lengths[one] = float64(v)
	}
	wide, hasWide := lengths["wide"]
	high, hasHigh := lengths["high"]
	if hasWide != hasHigh {
		return nil, fault.Inputf("give both, or neither", "of the sheet's size one measure is missing")
	}
	if hasWide {
		table["size_mm"] = []any{wide, high}
	}
	for name, key := range map[string]string{"margin": "margin_mm", "thick": "thickness_mm"} {
		if v, ok := lengths[name]; ok {
			table[key] = v
		}
	}
	return table, nil
}

// removeStock takes a stock of the maker's own out of the settings.
func (s *server) removeStock(w http.ResponseWriter, r *http.Request) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	shop := *s.shop()
	_, err = shop.EditSettings(r.Context(), seen, "remove a stock", job.ByBench, func(d *batch.Doc) error {
		for i := range d.Len(ownStocks) {
			if at := ownStocks + "/" + strconv.Itoa(i); d.Text(at+"/key") == r.PathValue("key") {
				return d.Set(at, nil)
			}
		}
		return fault.New(fault.NotFound, r.PathValue("key"), "there is no such stock of your own here", "look whether workshop.toml lists it")
	})
	if err != nil {
		return err
	}
	s.reopen()
	return back(w, r, "stocks")
}
