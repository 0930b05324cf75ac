package bench

import (
	"bytes"
	"context"
	"image/png"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
)

var pictures = regexp.MustCompile(`/-/bench/b/26-11/cards/(?:card|large|page)-[0-9-]+\.png\?v=[0-9a-z]+`)

// The cards are shown as they will be printed, and follow what is chosen.
func TestCards(t *testing.T) {
	a := few(t)
	size := func(path string) (int, int) {
		t.Helper()
		w := a.send(httptest.NewRequest("GET", path, nil))
		img, err := png.Decode(bytes.NewReader(w.Body.Bytes()))
		if err != nil {
			t.Fatalf("%s: %d %v", path, w.Code, err)
		}
		if w.Header().Get("Cache-Control") != "private, max-age=86400" {
			t.Errorf("%s: %v", path, w.Header())
		}
		return img.Bounds().Dx(), img.Bounds().Dy()
	}
	page := a.page("cards")
	shown := pictures.FindAllString(page, -1)
	if len(shown) < 3 || !strings.Contains(page, "All cards: 2") || !strings.Contains(page, "?all") {
		t.Fatalf("%d pictures: %s", len(shown), text(page))
	}
	if w, h := size(shown[1]); w != 429 || h != 909 { // 99 by 210 mm at 110 dots to the inch
		t.Errorf("a card is %d by %d", w, h)
	}
	if n := len(pictures.FindAllString(a.page("cards?all"), -1)); n <= len(shown) {
		t.Errorf("all cards have %d pictures", n)
	}
	a.post(303, "cards", "card/arrangement", "pennant", "card/sides", "2", "card/size", "a5", "print/card_size_mm", "", "card/hang", "slot", "card/for_sale", "",
		"card/own_mark", "", "card/corner_mm", "3", "card/second_language", "de")
	d := a.draft()
	if d.Err != nil {
		t.Fatal(d.Err)
	}
	if c := d.File.Cards; c.Style.Sides != 2 || c.Size.W != 148 || c.Style.Corner != 3 || c.Language != "de" || !c.ForSale || d.Doc.Text("print/card_size_mm") != "" {
		t.Errorf("%+v", c)
	}
	page = a.page("cards")
	if shown = pictures.FindAllString(page, -1); len(shown) < 5 {
		t.Errorf("a card of two sides has %d pictures", len(shown))
	}
	if w, _ := size(shown[0]); w != 1165 { // 148 mm at 200 dots to the inch
		t.Errorf("a large card is %d wide", w)
	}
	if !strings.Contains(text(page), "front and back of the cards may miss each other") {
		t.Error("what is told of cards is not shown")
	}
	for _, no := range []string{"card-9-1.png", "card-1-3.png", "card-0-1.png", "page-0.png", "card-1.png", "card-x-1.png", "card-1-1.svg", "card-1-1-1.png", "x.png"} {
		if w := a.send(httptest.NewRequest("GET", Path+"b/26-11/cards/"+no, nil)); w.Code != 404 {
			t.Errorf("%s: %d", no, w.Code)
		}
	}
}

// Prices that are missing and an address that the law asks for are told, and what
// to do is a press away.
func TestCardsForSale(t *testing.T) {
	a := few(t)
	_, err := a.shop.EditDraft(context.Background(), "26-11", a.draft().Version, "no address", job.ByBench, func(d *batch.Doc) error {
		if err := d.Set("rating/0/price", nil); err != nil {
			return err
		}
		return d.Set("maker/address", nil)
	})
	if err != nil {
		t.Fatal(err)
	}
	page := a.page("cards")
	for _, want := range []string{"Regulation (EU) 2023/988", "These cards are not for sale", "whose cards bear none: 1."} {
		if !strings.Contains(text(page), want) {
			t.Errorf("%q is not said: %s", want, text(page))
		}
	}
	a.post(303, "cards/unsold")
	a.post(303, "cards/prices", "rating.0.price", "2.90", "rating.1.price", "4.10")
	d := a.draft()
	if d.Err != nil || d.File.Batch.Ratings[0].Price != "2.90" {
		t.Errorf("%v", d.Err)
	}
	if page := a.page("cards"); len(pictures.FindAllString(page, -1)) == 0 || strings.Contains(page, "who answers") {
		t.Errorf("%s", text(page))
	}
}
