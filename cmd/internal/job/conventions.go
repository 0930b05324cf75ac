package job

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// ConventionLine is a convention on one line.
type ConventionLine struct {
	Key        string    `json:"key"`
	Name       string    `json:"name"`
	Revision   int       `json:"revision"`
	Metal      string    `json:"metal"`
	Density    float64   `json:"density_g_cm3"`
	Unit       string    `json:"unit,omitempty"` // "g" or "oz" of a plain unit of mass
	Sizes      int       `json:"sizes"`
	Heaviest   unit.Gram `json:"heaviest_g,omitempty"`
	Lightest   unit.Gram `json:"lightest_g,omitempty"`
	Unverified int       `json:"unverified"`
	Own        bool      `json:"own"`
}

// ConventionSheet is a convention with all that is known of it.
type ConventionSheet struct {
	ConventionLine
	List          []SizeLine         `json:"list"`
	Sources       []SourceLine       `json:"sources"`
	Disagreements []DisagreementLine `json:"disagreements"`
}

// SizeLine is one size.
type SizeLine struct {
	Name     string       `json:"name"`
	Mass     unit.Gram    `json:"mass_g"`
	Printed  string       `json:"printed,omitempty"` // as its source writes the mass
	Source   string       `json:"source"`
	Verified bool         `json:"verified"`
	Rounding unit.Gram    `json:"rounding_g,omitempty"` // half of the last printed digit, of 0.05 g and less
	Weighed  *WeighedLine `json:"weighed,omitempty"`
	Caution  string       `json:"caution,omitempty"`
}

// WeighedLine is what a maker's weighing of a size says.
type WeighedLine struct {
	N      int       `json:"n"`
	Times  int       `json:"weighings"`
	Spread unit.Gram `json:"spread_g"` // standard deviation from shot to shot; 0 when one weighing cannot tell
	U      unit.Gram `json:"u_g"`      // standard uncertainty of the mean
	Date   string    `json:"date"`
}

// SourceLine is a page that masses were read on.
type SourceLine struct {
	Key  string `json:"key"`
	Kind string `json:"kind"`
	What string `json:"what"`
}

// DisagreementLine is something that pages disagree on.
type DisagreementLine struct {
	Item     string        `json:"item"`
	Readings []ReadingLine `json:"readings"`
	Spread   float64       `json:"spread"` // heaviest over lightest, less one
	Remark   string        `json:"remark,omitempty"`
}

// ReadingLine is one of the values in print.
type ReadingLine struct {
	Where  string    `json:"where"`
	Mass   unit.Gram `json:"mass_g,omitempty"`
	Source string    `json:"source"`
}

// ComparisonSheet is two conventions side by side, by the names they share.
type ComparisonSheet struct {
	A     ConventionLine `json:"a"`
	B     ConventionLine `json:"b"`
	Water string         `json:"water"`
	Pairs []PairLine     `json:"pairs"`
	OnlyA []string       `json:"only_a"`
	OnlyB []string       `json:"only_b"`
}

// PairLine is one name in both; the shares say how much more B is than A.
type PairLine struct {
	Name string    `json:"name"`
	A    unit.Gram `json:"a_g"`
	B    unit.Gram `json:"b_g"`
	Mass float64   `json:"mass_difference"` // 0.18 is 18 %
	Pull float64   `json:"pull_difference"`
	// Caution stands where one of the two was not found in print.
	Caution string `json:"caution,omitempty"`
}

// Own returns the maker's own sets of shot that the workshop file holds.
func (w *Workshop) Own() []shot.Convention {
	if w.settings == nil {
		return nil
	}
	return slices.Clone(w.settings.Own)
}

// Conventions lists the built-in conventions and the maker's own.
func Conventions(own []shot.Convention) []ConventionLine {
	var all []ConventionLine
	for _, c := range append(shot.Conventions(), own...) {
		all = append(all, conventionLine(c))
	}
	return all
}

// FindConvention returns the convention of that key, own or built in, or reads
// it from a file when the name ends in .toml or .csv. NotFound when there is
// none, Input for a file that cannot be used.
func FindConvention(name string, own []shot.Convention) (shot.Convention, error) {
	key := strings.ToLower(strings.TrimSpace(name))
	for _, c := range append(shot.Conventions(), own...) {
		if c.Key == key {
			return c, nil
		}
	}
	kind := filepath.Ext(key)
	if kind != ".toml" && kind != ".csv" {
		return shot.Convention{}, fault.New(fault.Input, "", fmt.Sprintf("there is no convention %q", name),
			"choose one of: floatmark conventions; or name a .toml or .csv file of your own")
	}
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return shot.Convention{}, fault.New(fault.NotFound, name, "there is no such file", "check the name", err)
	case err == nil && info.Size() > mostSet:
		return shot.Convention{}, fault.New(fault.Input, name, "the file is larger than 1 MiB", "give the sizes of one set")
	}
	src, err := os.ReadFile(name)
	if err != nil {
		return shot.Convention{}, machine(name, "cannot be read", err)
	}
	if kind == ".toml" {
		return batch.ParseOwnSet(name, src)
	}
	c, err := shot.ParseOwnCSV(src, shot.Convention{Key: keyOf(name)})
	var all []error
	for _, e := range fault.List(err) {
		all = append(all, fault.At(name, e))
	}
	return c, errors.Join(all...)
}

// mostSet is the largest file of a set, 1 MiB: the most that is read as one.
const mostSet = 1 << 20

// keyOf makes a key of a file's name: "My tin 2026.csv" is "my-tin-2026".
func keyOf(path string) string {
	base := strings.ToLower(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)))
	return strings.Trim(strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '-'
	}, base), "-")
}

func conventionLine(c shot.Convention) ConventionLine {
	_, builtIn := shot.ByKey(c.Key)
	l := ConventionLine{Key: c.Key, Name: c.Name, Revision: c.Revision, Metal: c.Metal.Name, Density: c.Metal.Density, Unit: c.Unit,
		Sizes: len(c.Sizes), Own: !builtIn}
	for _, s := range c.Sizes {
		if !s.Verified {
			l.Unverified++
		}
	}
	if n := len(c.Sizes); n > 0 {
		l.Heaviest, l.Lightest = c.Sizes[0].Mass, c.Sizes[n-1].Mass
	}
	return l
}

// ShowConvention tells all that is known of a convention: its sizes, the pages
// they were read on and what pages disagree on.
func ShowConvention(c shot.Convention) ConventionSheet {
	s := ConventionSheet{ConventionLine: conventionLine(c), List: []SizeLine{}, Sources: []SourceLine{}, Disagreements: []DisagreementLine{}}
	used := map[string]bool{}
	for _, z := range c.Sizes {
		l := SizeLine{Name: z.Name, Mass: z.Mass, Printed: z.Printed, Source: z.Source, Verified: z.Verified, Rounding: z.Rounding, Caution: z.Caution()}
		if w := z.Weighed; w.N > 0 {
			l.Weighed = &WeighedLine{w.N, w.Times, w.Spread, w.U, w.Date}
		}
		s.List = append(s.List, l)
		used[z.Source] = true
	}
	for _, d := range shot.DisagreementsOn(c) {
		l := DisagreementLine{Item: d.Item, Spread: d.Spread(), Remark: d.Remark}
		for _, r := range d.Readings {
			l.Readings = append(l.Readings, ReadingLine{r.Where, r.Mass, r.Source})
			used[r.Source] = true
		}
		s.Disagreements = append(s.Disagreements, l)
	}
	for _, p := range shot.Sources() {
		if used[p.Key] {
			s.Sources = append(s.Sources, SourceLine{p.Key, p.Kind, p.What})
		}
	}
	return s
}

// CompareConventions sets two conventions side by side, pulls in fresh water at
// 15 °C.
func CompareConventions(a, b shot.Convention) ComparisonSheet {
	c := shot.Compare(a, b, water.Usual())
	s := ComparisonSheet{A: conventionLine(a), B: conventionLine(b), Water: waterText(water.Usual()),
		Pairs: []PairLine{}, OnlyA: append([]string{}, c.OnlyA...), OnlyB: append([]string{}, c.OnlyB...)}
	for _, p := range c.Pairs {
		s.Pairs = append(s.Pairs, PairLine{p.Name, p.A.Mass, p.B.Mass, p.Mass, p.Pull, cmp.Or(p.A.Caution(), p.B.Caution())})
	}
	return s
}
