package job

import (
	"bytes"
	"context"
	"image/png"
	"strings"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// A card's picture is what is laid out for the sheets, on card of its colour, and
// nothing of it lies beyond the trim.
func TestCardPictures(t *testing.T) {
	src, _, _ := strings.Cut(string(DemoSource()), "[[float]]\nnumber = 5\n")
	src = strings.Replace(src, "\n[tank]", "\n[card]\nset = 2\nsides = 2\narrangement = \"stream\"\nground = \"#f2ecdc\"\nsize = \"a5\"\n[tank]", 1)
	src = strings.Replace(src, "\ncard_size_mm", "\n# card_size_mm", 1)
	p, err := bench(t).PlanSource(context.Background(), "a.toml", []byte(src), nil)
	if err != nil {
		t.Fatal(err)
	}
	cards := p.Cards()
	if len(cards) != 2 || cards[1].Sides != 2 || len(cards[1].Floats) != 2 || cards[1].Floats[0].Float.Number != 3 || cards[1].Size.W != 148 {
		t.Fatalf("%+v", cards)
	}
	for side, laid := range []*draw.Sheet{p.laidCards[0].Front, p.laidCards[0].Back} {
		got := p.cardFace(0, side)
		ground := got.Bounds(draw.Ground)
		if ground.Min.X < 0 || ground.Min.Y < 0 || ground.W() != laid.Size.W || ground.H() != laid.Size.H {
			t.Errorf("side %d: the ground is %v on a card of %v", side, ground, laid.Size)
		}
		if got.Bounds(draw.Colour) != laid.Bounds(draw.Colour) {
			t.Errorf("side %d is not what was laid out", side)
		}
	}
	data, err := p.CardPicture(1, 1, 25.4)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil || img.Bounds().Dx() != 148 || img.Bounds().Dy() != 210 {
		t.Errorf("%v", err)
	}
	for _, no := range [][2]int{{2, 0}, {-1, 0}, {0, 2}, {0, -1}} {
		if _, err := p.CardPicture(no[0], no[1], 25.4); fault.ClassOf(err) != fault.NotFound {
			t.Errorf("%v: %v", no, err)
		}
	}
	if _, err := p.CardPage(len(p.Backers), 25.4); fault.ClassOf(err) != fault.NotFound {
		t.Error(err)
	}
}
