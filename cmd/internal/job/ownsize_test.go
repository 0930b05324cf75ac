package job

import (
	"math"
	"strings"
	"testing"

	"floatmark/layouts/geom"
)

// A batch file's own stock is known to the ledger by the size of its sheets: they
// are listed with it, and under the same key a sheet of another size is left
// alone and told, not printed on.
func TestSheetsOfAnotherSizeAreLeftAlone(t *testing.T) {
	shop := newShop(t)
	own := func(size string) []string {
		return []string{`film = "a4-film-white"`, `film = "mine"`, "[tank]", "[[own_stock]]\nkey = \"mine\"\nlike = \"a4-film-white\"\nsize_mm = " + size + "\n\n[tank]"}
	}
	first, err := printAs(t, shop, "a", own("[150, 210]")...)
	if err != nil {
		t.Fatal(err)
	}
	number := first.Laid[0].Number
	d, err := shop.Sheet(number)
	if err != nil {
		t.Fatal(err)
	}
	if _, known := shop.stock("mine"); known {
		t.Fatal("the workshop knows the stock: the check below shows nothing")
	}
	// The strip is spent over the whole width, from its foot up.
	spent := 0.0
	for _, p := range first.Laid[0].Spent {
		b := p.Bounds()
		spent = math.Max(spent, b.W()*b.H()/(150*210))
	}
	if d.Stock != "mine" || math.Abs(d.Spent-spent) > 0.01 {
		t.Errorf("%v of sheet %d is told as spent, want %v", d.Spent, number, spent)
	}
	if lines, err := d.Plot(); err != nil || len(lines) != 21 {
		t.Errorf("%d lines of plot, %v", len(lines), err)
	}

	other, err := printAs(t, shop, "b", own("[148, 210]")...)
	if err != nil {
		t.Fatal(err)
	}
	told := ""
	for _, n := range other.Notices {
		if n.Code == "other size" {
			told = n.Text
		}
	}
	if other.Laid[0].Number == number || !strings.Contains(told, "150 mm by 210 mm") || !strings.Contains(told, "148 mm by 210 mm") {
		t.Errorf("printed on sheet %d, told %q", other.Laid[0].Number, told)
	}
	again, err := printAs(t, shop, "c", own("[150, 210]")...)
	if err != nil {
		t.Fatal(err)
	}
	if again.Laid[0].Number != number || again.Laid[0].Open < 0 {
		t.Errorf("the part-used sheet %d is not filled first: sheet %d", number, again.Laid[0].Number)
	}
}

// Sheets printed on before sizes were noted are of the size that their stock has.
func TestSizeNotNoted(t *testing.T) {
	old := PartUsed{}
	if !old.Is(geom.Size{W: 210, H: 297}) {
		t.Error("a sheet of no noted size is left alone")
	}
	data, err := encodeRegion(nil)
	if err != nil || strings.Contains(string(data), "sheet_mm") {
		t.Errorf("%s, %v", data, err)
	}
}
