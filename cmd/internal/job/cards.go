package job

import (
	"fmt"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/backer"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/pdf"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// backers lays out every float's card and puts the cards on sheets.
func (p *Plan) backers() error {
	cards := p.File.Cards
	second := p.words
	if cards.Language != "" {
		w, err := words.For(cards.Language)
		if err != nil {
			return err
		}
		second = w
	}
	size := p.cardSize()
	per := max(cards.Set, 1) // floats on a card
	laid := make([]backer.Laid, len(p.Floats)/per)
	findings := make([]error, len(laid))
	memory := &backer.Memory{}
	step := map[*label.Pattern]int{} // cards of a pattern are set in one size
	first := func(i int) *FloatPlan { return &p.Floats[i*per] }
	lay := func(i int) {
		s, err := p.cardSpec(p.Floats[i*per:(i+1)*per], size, second)
		if err == nil {
			s.Memory, s.Step = memory, step[first(i).Float.Pattern]
			laid[i], err = backer.Lay(s)
		}
		findings[i] = fault.At(first(i).Float.Where, err)
	}
	eachOf(len(laid), lay)
	if err := join(findings); err != nil {
		return err
	}
	for i, l := range laid {
		of := first(i).Float.Pattern
		step[of] = max(step[of], l.Step)
	}
	eachOf(len(laid), func(i int) {
		if laid[i].Step < step[first(i).Float.Pattern] {
			lay(i)
		}
	})
	if err := join(findings); err != nil {
		return err
	}
	for i, l := range laid {
		for _, n := range l.Notices {
			p.Notices = append(p.Notices, Notice{first(i).Float.Number, n.Code, n.Text})
		}
	}
	sheets, err := backer.Impose(laid, backer.Imposition{Stock: p.card, Fonts: p.fonts, Words: p.words, Batch: p.File.Batch.Name})
	if err != nil {
		return err
	}
	p.cards, p.laidCards = sheets, laid
	p.Backers, err = cardPages(sheets, p.print)
	p.cardNotices()
	return err
}

// cardSize is the size of the batch's cards: the maker's; where he names none, the
// usual one, or the next that the longest float has room on.
func (p *Plan) cardSize() geom.Size {
	cards := p.File.Cards
	if cards.Size != (geom.Size{}) {
		return cards.Size
	}
	if p.File.CardSize != [2]float64{} {
		return geom.Size{W: p.File.CardSize[0], H: p.File.CardSize[1]}
	}
	usual := backer.ThirdA4
	if k := cards.Style.Kind; k != backer.Flat && k != backer.Fold || cards.Style.Overhang > 0 {
		return usual
	}
	long := 0.0
	for _, fp := range p.Floats {
		long = max(long, float64(fp.Float.Shape().Length()))
	}
	if long <= usual.H-2*backer.Safe {
		return usual
	}
	next, ok := backer.Next(usual, long)
	if !ok {
		return usual // and what does not fit is told where it is laid out
	}
	mm := func(v float64) string { return p.words.Millimetre(unit.Millimetre(v), 0.1) }
	p.Notices = append(p.Notices, Notice{Code: backer.NoticeSize, Text: "the longest float is " + mm(long) + ", more than the usual card has room for: cards are " +
		mm(next.Size.W) + " by " + mm(next.Size.H) + " (" + next.Key + ")"})
	return next.Size
}

// cardSpec is what the card of a float, or of a set of floats, is laid out from.
func (p *Plan) cardSpec(of []FloatPlan, size geom.Size, second words.Words) (backer.Spec, error) {
	b, cards := p.File.Batch, p.File.Cards
	two := second.Language != p.words.Language || second.Region != p.words.Region
	var own, also []label.Card
	var set []backer.Member
	for i := range of {
		fp := &of[i]
		fp.Card.Shotting = shottingOf(fp, b, p.words)
		own = append(own, fp.Card)
		set = append(set, backer.Member{Card: fp.Card, Body: fp.Float.Shape(), Pieces: fp.Decal.Pieces})
		if two {
			c, err := label.ComposeCard(b, fp.Float, fp.Rating, nil, second)
			if err != nil {
				return backer.Spec{}, err
			}
			also = append(also, c)
		}
	}
	s := backer.Spec{Card: own[0], Body: set[0].Body, Pieces: set[0].Pieces, Fonts: p.fonts, Size: size,
		Printer: p.print, Codes: p.prover.made, Words: p.words, Style: cards.Style}
	if two {
		s.Also, s.Second = &also[0], second
	}
	if !cards.NoEmblem {
		s.Emblem = p.File.OwnMark
	}
	if len(of) == 1 {
		return s, nil
	}
	s.Card, s.Set = label.SetOf(own, p.words), set
	s.Card.EAN = cards.EAN
	if cards.Price != "" {
		price, err := p.words.Price(cards.Price, b.Maker.Currency)
		if err != nil {
			return s, err
		}
		s.Card.Price = price
	}
	if two {
		c := label.SetOf(also, second)
		s.Also = &c
	}
	return s, nil
}

// cardNotices tells what a maker should know before cards are printed on two
// sides, or folded.
func (p *Plan) cardNotices() {
	if len(p.laidCards) == 0 {
		return
	}
	if n, ok := backer.GrainOf(p.laidCards[0], p.card); ok {
		p.Notices = append(p.Notices, Notice{Code: n.Code, Text: n.Text})
	}
	if p.laidCards[0].Back != nil && p.print.U.Duplex == 0 {
		p.Notices = append(p.Notices, Notice{Code: "card-duplex", Text: "front and back of the cards may miss each other by some millimetres: " +
			"measure where your printer puts the back (floatmark testsheet duplex)"})
	}
}

// CardSheets is how many sheets of card the cards take; printed on both sides,
// each is two pages of Backers.
func (p *Plan) CardSheets() int { return len(p.cards) }

// cardPages are the sheets' sides as this printer prints them, each front before
// its back.
func cardPages(sheets []backer.Sheet, printer stock.Printer) ([]*draw.Sheet, error) {
	var pages []*draw.Sheet
	for _, s := range sheets {
		front, err := stock.Calibrate(s.Front, printer)
		if err != nil {
			return nil, err
		}
		pages = append(pages, front)
		if s.Back == nil {
			continue
		}
		back, err := stock.CalibrateBack(s.Back, printer)
		if err != nil {
			return nil, err
		}
		pages = append(pages, back)
	}
	return pages, nil
}

// pressCards writes the cards for a print shop: as sheets, and each on a page of
// its own with its trim and bleed.
func (p *Plan) pressCards(add func(name string, doc draw.Document, o pdf.Options) error, o pdf.Options) error {
	press := stock.Plain()
	press.DPI = p.print.DPI
	sheets, err := cardPages(p.cards, press)
	if err != nil {
		return err
	}
	if err := add("backers-press.pdf", draw.Document{Title: p.words.Files.PressBackers, Sheets: sheets}, o); err != nil {
		return err
	}
	var single []*draw.Sheet
	for _, l := range p.laidCards {
		single = append(single, l.Single()...)
	}
	if single, err = calibrated(single, press); err != nil {
		return err
	}
	return add("cards-press.pdf", draw.Document{Title: p.words.Files.PressBackers, Sheets: single}, o)
}

// shottingOf is where the shot of the mark's convention goes on the line; nothing
// when the pattern does not say how it is fixed, or no parting comes near enough.
func shottingOf(fp *FloatPlan, b *label.Batch, w words.Words) []label.Shotting {
	f, c := fp.Float, b.Convention
	fixed, ok := FixingOf(f.Pattern.LineFixed)
	if !ok || c.Unit != "" || !(fp.Rating.Add > 0) {
		return nil
	}
	list, err := shot.Split(fp.Rating.In(c), c, limitsFor(f, b), fixed, shot.Share{})
	if err != nil || len(list) == 0 {
		return nil
	}
	a, page := list[0], words.PageFor(w.Language)
	var all []label.Shotting
	put := func(at label.Place, counts []shot.Count, share int, phrase string) {
		n, grams := 0, 0.0
		said := make([]shot.Count, len(counts))
		for i, one := range counts {
			n += one.N
			grams += float64(float64(one.N) * float64(one.Size.Mass))
			said[i] = shot.Count{Size: one.Size, N: one.N / share}
		}
		if n > 0 {
			all = append(all, label.Shotting{Place: at, Shots: n, Each: grams / float64(n), Text: fmt.Sprintf(phrase, shot.Equivalent{Counts: said}.Text())})
		}
	}
	const bothSides = 2
	put(label.AtFloat, a.Locking, bothSides, page.EachSide)
	if fixed == shot.Sliding {
		all = append(all, label.Shotting{Place: label.StopAbove, Text: words.CardFor(w.Language).Stop})
		put(label.Together, a.Bulk, 1, page.BulkBelow)
	} else {
		put(label.Together, a.Bulk, 1, page.Bulk)
	}
	put(label.Even, a.Spread, 1, page.Evenly)
	put(label.Downline, a.Droppers, 1, page.Dropper)
	return all
}
