package label

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/label/words"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func english(t testing.TB) words.Words {
	t.Helper()
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// loaded is an 8 g float with 7.2 g of brass in it and 0.8 g of tin to add.
func loaded(t testing.TB) (*Batch, *Float, loading.Rating) {
	t.Helper()
	p, err := body.New([]body.Station{{Z: 0, D: 4}, {Z: 30, D: 16}, {Z: 60, D: 13}, {Z: 174, D: 3}})
	if err != nil {
		t.Fatal(err)
	}
	modern, _ := shot.ByKey("gb-modern")
	brass, _ := water.MetalByKey("brass")
	w := water.Usual()
	pattern := &Pattern{Key: "sedge", Name: "Sedge waggler", Kind: loading.Loaded, Profile: p, Waterline: 160, Zones: []Zone{{Show: FullShow()}}}
	b := &Batch{Name: "26-11", Maker: Maker{Name: "Withy Sluice Floats", Host: "f.example", Currency: "GBP"},
		Convention: modern, Water: w, Ring: 1, Ratings: []Rating{{Nominal: 8, Band: Colour{0xc8, 0x40, 0x2f}, Price: "6.50"}}}
	f := &Float{Number: 7, ID: "9KYA3C", Pattern: pattern, Nominal: 8, Weight: &loading.Weight{Mass: 7.2, Metal: brass}}
	r := loading.Rating{Kind: loading.Loaded, Nominal: 8, Printed: 8, BuiltIn: 7.2, Add: 0.8, Step: 0.05, Weight: f.Weight,
		Metal: modern.Metal, Water: w, AddPull: water.Pull(0.8, modern.Metal, w)}
	return b, f, r
}

func TestComposeSaysEverythingInWords(t *testing.T) {
	b, f, r := loaded(t)
	eq := r.Equivalents(b.Convention, shot.Limits{TipDiameter: 3, Water: b.Water})
	if len(eq) == 0 {
		t.Fatal("no shot makes 0.8 g")
	}
	m := Compose(b, f, r, b.Convention, &eq[0], english(t))
	want := map[Role]string{RoleRating: "8 g", RoleBuiltIn: "built in 7.2 g", RoleAdd: "add 0.8 g", RoleShot: "1 AAA",
		RoleMetal: "tin, fresh water", RoleID: "9KYA3C"}
	for role, text := range want {
		if got := m.Find(role); got != text {
			t.Errorf("role %d is %q, want %q", role, got, text)
		}
	}
	if m.Code != "HTTPS://F.EXAMPLE/9KYA3C" || m.Tally != (Tally{Thick: 1, Thin: 3, Ring: 1}) {
		t.Errorf("code %q, tally %+v", m.Code, m.Tally)
	}
	// Two opposite readings of a+b are in print: it is never printed bare.
	for _, l := range m.Lines {
		if strings.Contains(l.Text, "7.2+") || strings.Contains(l.Text, "7.2 +") {
			t.Errorf("%q can be read two ways", l.Text)
		}
	}
}

func TestUnloadedPrintsItsRatingOnce(t *testing.T) {
	b, f, r := loaded(t)
	f.Weight, r.Weight, r.BuiltIn, r.Kind = nil, nil, 0, loading.Unloaded
	r.Printed, r.Add = 4.5, 4.5
	least := *f.Pattern
	least.Zones, least.Kind = []Zone{{Show: LeastShow()}}, loading.Unloaded
	f.Pattern = &least
	m := Compose(b, f, r, b.Convention, nil, english(t))
	if len(m.Lines) != 2 || m.Find(RoleRating) != "4.5 g" || m.Find(RoleID) != "9KYA3C" || m.Code != "" {
		t.Errorf("%+v", m)
	}
}

func TestAboutAndNothingToAdd(t *testing.T) {
	_, _, r := loaded(t)
	r.About = true
	if f := FiguresOf(r, english(t)); f.Add != "about 0.8 g" || f.Rating != "about 8 g" || f.BuiltIn != "7.2 g" {
		t.Errorf("%+v", f)
	}
	r.About, r.Add, r.BuiltIn, r.Kind = false, 0, 8, loading.SelfCocking
	if f := FiguresOf(r, english(t)); f.Add != "nothing to add" {
		t.Errorf("%+v", f)
	}
}

func TestPlainTextCodeWithoutAHost(t *testing.T) {
	_, _, r := loaded(t)
	if h := HostOf(Link(Maker{Host: "f.example"}, "9KYA3C", r)); h != "f.example" {
		t.Errorf("host %q", h)
	}
	if got := Link(Maker{}, "9KYA3C", r); got != "8G ADD 0.8G 9KYA3C" || HostOf(got) != "" {
		t.Errorf("%q", got)
	}
	r.Kind = loading.Unloaded
	if got := Link(Maker{}, "9KYA3C", r); got != "8G 9KYA3C" {
		t.Errorf("%q", got)
	}
}

// Rings count back to the rating within half a ring.
func TestTallyCountsTheRating(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := rapid.SampledFrom([]unit.Gram{0.1, 0.2, 0.5, 1}).Draw(t, "ring")
		rating := unit.Gram(rapid.Float64Range(0.1, 40).Draw(t, "rating"))
		n := TallyOf(rating, ring)
		back := ring * unit.Gram(5*n.Thick+n.Thin)
		if math.Abs(float64(back-rating)) > float64(ring)/2+1e-9 || n.Thin > 4 {
			t.Fatalf("%v in rings of %v: %+v", rating, ring, n)
		}
	})
	if TallyOf(8, 0) != (Tally{}) {
		t.Error("a ring that stands for nothing counts")
	}
}

func TestRingFor(t *testing.T) {
	for _, c := range []struct {
		ratings []unit.Gram
		want    unit.Gram
	}{{[]unit.Gram{6, 8, 10}, 1}, {[]unit.Gram{2.5, 4.5, 6}, 0.5}, {[]unit.Gram{0.6, 1.2}, 0.2}, {[]unit.Gram{0.35}, 0.1}} {
		if got := RingFor(c.ratings); got != c.want {
			t.Errorf("RingFor(%v) = %v, want %v", c.ratings, got, c.want)
		}
	}
}

// The card's rows each stand in their own metal: 0.8 g of tin (7.28) pulls as
// much as 0.757 g of lead (11.34), k 0.8628 and 0.9119 in fresh water of 15 °C.
func TestRowsStandInTheirOwnMetal(t *testing.T) {
	b, f, r := loaded(t)
	trad, _ := shot.ByKey("gb-traditional")
	both := []shot.Convention{b.Convention, trad}
	eq := r.Equivalents(trad, shot.Limits{TipDiameter: 3, Water: b.Water, MaxShots: 8})
	if len(eq) == 0 {
		t.Fatal("no traditional shot makes it")
	}
	rows := RowsOf(r, both, []*shot.Equivalent{nil, &eq[0]}, english(t))
	if rows[0].Gram != "0.8 g" || rows[0].Shot != "0.8 g" {
		t.Errorf("tin: %+v; without shot, grams stand in its place", rows[0])
	}
	if rows[0].Convention != "British present-day, tin" {
		t.Errorf("%q does not name its metal", rows[0].Convention)
	}
	if rows[1].Gram != "0.76 g" || rows[1].Shot != eq[0].Text() {
		t.Errorf("lead: %+v", rows[1])
	}
	card, err := ComposeCard(b, f, r, rows, english(t))
	if err != nil {
		t.Fatal(err)
	}
	if card.Price != "£6.50" || card.Cautions[0] != "built-in weight: brass, no lead" || card.Rings != "thick ring 5 g, thin ring 1 g" {
		t.Errorf("%+v", card)
	}
	lead, _ := water.MetalByKey("lead")
	f.Weight = &loading.Weight{Mass: 7, Metal: lead}
	if text := WeightText(f.Weight, english(t)); !strings.Contains(text, "contains lead") {
		t.Errorf("%q", text)
	}
	b.Ratings[0].Price = "six fifty"
	if _, err := ComposeCard(b, f, r, rows, english(t)); fault.ClassOf(err) != fault.Input {
		t.Errorf("a price in words: %v", err)
	}
}

func TestParseColour(t *testing.T) {
	if c, err := ParseColour("#c8402f"); err != nil || c != (Colour{0xc8, 0x40, 0x2f}) || c.String() != "#c8402f" {
		t.Errorf("%v %v", c, err)
	}
	for _, bad := range []string{"", "red", "c8402f", "#c84", "#c8402g", "##c8402", "#-12345"} {
		if _, err := ParseColour(bad); err == nil {
			t.Errorf("%q was taken for a colour", bad)
		}
	}
}

// The metals and conventions that are printed are named in every language.
func TestNamesInEveryLanguage(t *testing.T) {
	for _, tag := range words.Tags() {
		w, err := words.For(tag)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range water.Metals() {
			if w.Names[m.Name] == "" {
				t.Errorf("%s: %q has no name", tag, m.Name)
			}
		}
		for _, c := range shot.Conventions() {
			if w.Names[c.Name] == "" {
				t.Errorf("%s: %q has no name", tag, c.Name)
			}
		}
	}
}
