package batch

import (
	"errors"
	"strings"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// Workshop is the workshop file: who the maker is, and what holds for every
// batch. Its set keys win over those of a batch file.
type Workshop struct {
	Maker      label.Maker
	Convention string            // key of the default convention; "" when not set
	Own        []shot.Convention // the maker's own sets, which batch files name by key
	Stocks     []stock.Stock     // the maker's own film, card and paper
	Units      unit.System       // in which the maker's own pages show and take measures
	set        map[string]bool   // keys of [maker] that the file sets
}

// Stock finds a stock: the maker's own, or a built-in one.
func (w *Workshop) Stock(key string) (stock.Stock, bool) {
	if s, ok := stockByKey(w.Stocks, key); ok {
		return s, true
	}
	return stock.ByKey(key)
}

// workshopKeys are the keys of a workshop file.
var workshopKeys = []string{"format", "convention", "maker", "own_convention", "own_stock"}

// ParseWorkshop reads a workshop file as strictly as a batch file.
func ParseWorkshop(path string, src []byte) (*Workshop, error) {
	r, err := newReader(path)
	if err != nil {
		return nil, err
	}
	root := r.tree(src)
	if root == nil || !r.format(root) {
		return nil, r.err()
	}
	r.known(root, "", workshopKeys)
	w := &Workshop{Own: r.ownSets(root), set: map[string]bool{}}
	r.own = w.Own
	w.Stocks = r.ownStocks(root)
	if c := r.cell(root, "", "convention", optional, false); c.ok() {
		if _, ok := r.convention(c, "convention"); ok {
			w.Convention = c.text
		}
	}
	t := r.sub(root, "maker", workshopMakerKeys)
	w.Maker = r.makerTable(t)
	if c := r.cell(t, "[maker]", "units", optional, false); c.ok() {
		w.Units = r.units(c)
	}
	if t != nil {
		for _, e := range t.keys {
			w.set[e.name] = true
		}
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	return w, nil
}

// maker is a batch's maker, merged with the workshop's.
type maker struct{ label.Maker }

func (r *reader) maker(root *table, w *Workshop) maker {
	t := r.sub(root, "maker", makerKeys)
	m := r.makerTable(t)
	if w != nil {
		for _, k := range []struct {
			key      string
			to, from *string
		}{{"name", &m.Name, &w.Maker.Name}, {"contact", &m.Contact, &w.Maker.Contact}, {"host", &m.Host, &w.Maker.Host},
			{"language", &m.Language, &w.Maker.Language}, {"market", &m.Market, &w.Maker.Market}, {"currency", &m.Currency, &w.Maker.Currency}} {
			if w.set[k.key] {
				*k.to = *k.from
			}
		}
		if w.set["address"] {
			m.Address = w.Maker.Address
		}
	}
	if m.Name == "" && (t == nil || t.get("name") == nil) {
		at := root.at
		if t != nil {
			at = t.at
		}
		r.add(at, `add a table [maker] with `+examples["[maker] name"], "the maker has no name")
	}
	return maker{m}
}

func (r *reader) makerTable(t *table) label.Maker {
	const tab = "[maker]"
	m := label.Maker{Name: r.text(t, tab, "name", optional), Contact: r.text(t, tab, "contact", optional),
		Language: r.text(t, tab, "language", optional), Market: strings.ToUpper(r.text(t, tab, "market", optional)),
		Currency: strings.ToUpper(r.text(t, tab, "currency", optional))}
	for _, c := range r.texts(t, tab, "address") {
		if c.ok() {
			m.Address = append(m.Address, c.text)
		}
	}
	if c := r.cell(t, tab, "language", optional, false); c.ok() {
		if _, err := words.For(c.text); err != nil {
			r.addErr(c.at, in(tab, "language"), err)
		}
	}
	if c := r.cell(t, tab, "currency", optional, false); c.ok() {
		r.currency(c)
	}
	if c := r.cell(t, tab, "market", optional, false); c.ok() {
		r.market(c)
	}
	if c := r.cell(t, tab, "host", optional, false); c.ok() {
		m.Host = r.host(c)
	}
	return m
}

// units reads in which units the maker measures. Files are metric whatever it says.
func (r *reader) units(c cell) unit.System {
	of, ok := unit.SystemByName(c.text)
	if !ok || c.text == "" {
		r.add(c.at, "use one of: "+quoted(unit.Systems())+", or leave the key out", "[maker] units: %q is none that is known", c.text)
	}
	return of
}

// markets are where a batch can be sold; what each restricts is package shot's
// affair.
var markets = []string{"GB", "EU", "US", "US-NH", "US-NY", "US-MA", "US-ME", "US-VT"}

func (r *reader) market(c cell) {
	for _, m := range markets {
		if strings.EqualFold(c.text, m) {
			return
		}
	}
	r.add(c.at, "use one of: "+quoted(markets)+", or leave the key out", "[maker] market: %q is none that is known", c.text)
}

// currency checks that money can be written in it, before any price is read.
func (r *reader) currency(c cell) {
	english, err := words.For("en")
	if err != nil {
		return
	}
	if _, err := english.Price("1", strings.ToUpper(c.text)); err != nil {
		r.add(c.at, `write its three letters, as in "GBP"`, "[maker] currency: %q is none that is known", c.text)
	}
}

// host checks a host name: a link is HTTPS://HOST/ID, and what is not a plain
// name would break it or make the code larger.
func (r *reader) host(c cell) string {
	h, err := HostName(c.text)
	var e *fault.Error
	if errors.As(err, &e) {
		r.add(c.at, e.Do, "[maker] host: %s", e.What)
	}
	return h
}

// HostName reads the bare name of a host, in small letters; anything else is an
// Input error.
func HostName(text string) (string, error) {
	h := strings.ToLower(text)
	bad := strings.Contains(h, "://") || strings.ContainsFunc(h, func(x rune) bool {
		return (x < 'a' || x > 'z') && (x < '0' || x > '9') && x != '.' && x != '-' && x != ':'
	})
	if bad || strings.HasPrefix(h, ".") || strings.HasSuffix(h, ".") || strings.Contains(h, "..") || len(h) > 253 {
		plain := strings.TrimPrefix(strings.TrimPrefix(h, "https://"), "http://")
		plain, _, _ = strings.Cut(plain, "/")
		do := `write the bare host, as in "f.example"`
		if plain != "" && plain != h {
			do = "write \"" + plain + "\""
		}
		return "", fault.Inputf(do, "%q is no host name", text)
	}
	return h, nil
}
