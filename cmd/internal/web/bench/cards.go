package bench

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (s *server) cardsPages() []route {
	return []route{
		s.get("b/{batch}/cards", s.cards),
		s.post("b/{batch}/cards", s.setCards),
		s.post("b/{batch}/cards/prices", s.setPrices),
		s.post("b/{batch}/cards/unsold", s.unsold),
		s.get("b/{batch}/cards/{picture}", s.cardPicture),
	}
}

// cardsPage is how the cards of a batch look and what stands on them.
type cardsPage struct {
	Batch    string
	Cards    []cardShown
	All      bool        // every float's card, not the first of each pattern and rating
	Count    int         // of all cards
	Work     *workState  // they are being worked out
	Sheets   []pageShown // the pages that are printed
	OfCard   int         // how many sheets of card that is
	Told     []string    // what is told of them
	Missing  []finding
	Prices   []priceRow
	Unpriced int
	Currency string
	Groups   []cardGroup
}

type cardShown struct {
	Numbers         []int // of the floats on it
	Pattern, Rating string
	Faces           []faceShown
	Width, Height   int // pixels of a picture
}

// faceShown is a side of a card: the paths of its picture and of a larger one.
type faceShown struct{ Small, Large string }

// pageShown is a page of cards: path and pixels of its picture.
type pageShown struct {
	Picture       string
	Width, Height int
}

// priceRow is what is sold: a rating.
type priceRow struct {
	Place            int
	Load, Price, EAN string
}

func (s *server) cards(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	f := s.batchFrame(d, "cards", "Cards")
	page := &cardsPage{Batch: d.Name, Groups: cardGroups(cardFields(s.measures(r), s.shop(), d)), Currency: s.currency(d), All: r.URL.Query().Has("all")}
	f.Body = page
	for i := range d.Doc.Len("rating") {
		at := fmt.Sprintf("rating/%d/", i)
		row := priceRow{i, d.Doc.Text(at + "load"), d.Doc.Text(at + "price"), d.Doc.Text(at + "ean")}
		if row.Price == "" {
			page.Unpriced++
		}
		page.Prices = append(page.Prices, row)
	}
	if d.File != nil && d.File.Cards.Unanswered != nil {
		page.Missing = findings(d.File.Cards.Unanswered)
		for i := range page.Missing {
			page.Missing[i].Where = "" // a line of a file that nobody sees here
		}
		f.Next = &link{"Say who answers for the floats", Path + "workshop"}
		return s.show(w, r, "cards", f)
	}
	if d.Err != nil {
		f.Next = &link{"Look at the floats", Path + batchPath(d.Name, "floats")}
		return s.show(w, r, "cards", f)
	}
	p, work, err := s.ready(r, d, "cards")
	if err != nil && forMaker(err) {
		f.Missing, f.Findings = told(d, err)
		f.Next = &link{"Look at the floats", Path + batchPath(d.Name, "floats")}
		return s.show(w, r, "cards", f)
	}
	if err != nil {
		return err
	}
	if page.Work = work; p != nil {
		page.fill(p, s.stamp(d))
	}
	f.Next = &link{"Print", Path + batchPath(d.Name, "print")}
	if printed, err := s.shop().Ticks(d.Name); err == nil && len(printed) > 0 {
		f.Next = &link{"Tick off and pack", Path + batchPath(d.Name, "tick")}
	}
	return s.show(w, r, "cards", f)
}

// Dots to the inch of a card's picture on the page, of one looked at by itself, and
// of a whole page of cards. Own choices: the first shows how it looks, the second
// has its smallest words.
const pictureDots, largeDots, pageDots = 110.0, 200.0, 100.0

func (c *cardsPage) fill(p *job.Plan, stamp string) {
	type article struct {
		pattern string
		rating  unit.Gram
	}
	seen := map[article]bool{}
	c.OfCard = p.CardSheets()
	path := func(name string) string { return Path + batchPath(c.Batch, "cards/"+name+"?v="+stamp) }
	for i, one := range p.Cards() {
		c.Count++
		first := one.Floats[0]
		if a := (article{first.Float.Pattern.Key, first.Float.Nominal}); !seen[a] || c.All {
			seen[a] = true
			card := cardShown{Pattern: first.Float.Pattern.Name, Rating: first.Card.Rating, Width: int(one.Size.W * pictureDots / 25.4), Height: int(one.Size.H * pictureDots / 25.4)}
			for _, f := range one.Floats {
				card.Numbers = append(card.Numbers, f.Float.Number)
			}
			for side := range one.Sides {
				card.Faces = append(card.Faces, faceShown{path(fmt.Sprintf("card-%d-%d.png", i+1, side+1)), path(fmt.Sprintf("large-%d-%d.png", i+1, side+1))})
			}
			c.Cards = append(c.Cards, card)
		}
	}
	for i, page := range p.Backers {
		c.Sheets = append(c.Sheets, pageShown{path(fmt.Sprintf("page-%d.png", i+1)), int(page.Size.W * pageDots / 25.4), int(page.Size.H * pageDots / 25.4)})
	}
	for _, n := range p.Notices {
		if !strings.HasPrefix(n.Code, "card-") {
			continue
		}
		text := n.Text
		if n.Float != 0 {
			text = fmt.Sprintf("%d: %s", n.Float, n.Text)
		}
		if !slices.Contains(c.Told, text) {
			c.Told = append(c.Told, text)
		}
	}
}

// cardPicture sends the picture of a card's side, "card-16-1.png" or larger
// "large-16-1.png", or of a page that is printed, "page-1.png"; all count from 1.
func (s *server) cardPicture(w http.ResponseWriter, r *http.Request) error {
	none := fault.New(fault.NotFound, "", "there is no such picture", "open the page of the cards again")
	name, ok := strings.CutSuffix(r.PathValue("picture"), ".png")
	parts := strings.Split(name, "-")
	var at [2]int
	for i, text := range parts[1:] {
		n, err := strconv.Atoi(text)
		if err != nil || i >= len(at) {
			return none
		}
		at[i] = n - 1
	}
	if dots := map[string]float64{"card": pictureDots, "large": largeDots}[parts[0]]; ok && dots > 0 && len(parts) == 3 {
		return s.cardDrawn(w, r, func(p *job.Plan) ([]byte, error) { return p.CardPicture(at[0], at[1], dots) })
	}
	if ok && parts[0] == "page" && len(parts) == 2 {
		return s.cardDrawn(w, r, func(p *job.Plan) ([]byte, error) { return p.CardPage(at[0], pageDots) })
	}
	return none
}

func (s *server) cardDrawn(w http.ResponseWriter, r *http.Request, drawn func(*job.Plan) ([]byte, error)) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	p, err := s.plan(r.Context(), d)
	if err != nil {
		return err
	}
	data, err := drawn(p)
	if err != nil {
		return err
	}
	return sendPicture(w, r, "image/png", data, s.stamp(d))
}

func (s *server) setCards(w http.ResponseWriter, r *http.Request) error {
	m := s.measures(r)
	return s.edit(w, r, "change the cards", "cards", func(d *batch.Doc) error {
		for path, as := range cardValues { // order does not matter: each has its own place
			if !r.PostForm.Has(path) {
				continue
			}
			v := as(m, r.PostFormValue(path), valueAt(d, path))
			if v == nil {
				if _, there := d.Get(path); !there {
					continue // an empty table is not made
				}
			}
			if err := d.Set(path, v); err != nil {
				return err
			}
		}
		if d.Text("card/size") != "" { // the one or the other
			return d.Set("print/card_size_mm", nil)
		}
		return nil
	})
}

// setPrices stores what ratings cost and their numbers of the trade.
func (s *server) setPrices(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "change prices", "cards", func(d *batch.Doc) error {
		for i := range d.Len("rating") {
			for _, key := range []string{"price", "ean"} {
				name, at := fmt.Sprintf("rating.%d.%s", i, key), fmt.Sprintf("rating/%d/%s", i, key)
				typed := r.PostFormValue(name)
				if key == "price" {
					typed = pointed(typed)
				}
				if !r.PostForm.Has(name) || typed == d.Text(at) {
					continue
				}
				if err := d.Set(at, word(typed)); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// unsold says that the cards are not for sale.
func (s *server) unsold(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "cards that are not for sale", "cards", func(d *batch.Doc) error { return d.Set("card/for_sale", false) })
}
