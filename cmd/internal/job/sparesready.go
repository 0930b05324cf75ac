package job

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/jobsheet"
	"floatmark/loading/fault"
)

// SparePlace is where a spare lies on its sheet of film; all zero where that was
// not noted, as of prints before it was, and of those for a print shop.
type SparePlace struct {
	Sheet int        `json:"sheet,omitempty"`       // its number
	Field string     `json:"field,omitempty"`       // of the job sheet's map, "B3"
	At    [2]float64 `json:"at_sheet_mm,omitempty"` // the middle of its first piece, mm from the sheet's upper left corner
}

// sparePlaces tells where the plan lays its spares, by their numbers.
func (p *Plan) sparePlaces() map[int]SparePlace {
	out := map[int]SparePlace{}
	pieces, size := p.sheetPieces(), p.film.Size
	for _, l := range p.Laid {
		for k, at := range p.places(l) {
			if k >= len(l.Pieces) || l.Number == 0 {
				break
			}
			one := pieces[l.Pieces[k]]
			var number int
			if _, err := fmt.Sscanf(one.name, "+%d", &number); err != nil {
				continue
			}
			if _, has := out[number]; has {
				continue
			}
			b := p.asPrinted(one.Piece, one.Outline).Transform(at).Bounds()
			middle := geom.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2}
			out[number] = SparePlace{l.Number, jobsheet.Field(size, middle), [2]float64{onStep(middle.X), onStep(middle.Y)}}
		}
	}
	return out
}

func placeOf(sp record.Spare) (at SparePlace) {
	if json.Unmarshal(sp.Data, &at) != nil {
		return SparePlace{}
	}
	return at
}

// SpareFit is a float that a spare can go on: it bears the same figures.
type SpareFit struct {
	ID, Batch string
	Number    int
}

// mostFits is how many floats a spare is offered, the latest made first.
const mostFits = 60

// SpareFits lists the floats that each of these spares can go on, by the figures
// that Figures and Pattern of the lines tell, one list for all spares alike. Keys
// are ids of spares.
func (w *Workshop) SpareFits(lines []SpareLine) (map[string][]SpareFit, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.Spares()
	if err != nil {
		return nil, err
	}
	figures, found, out := map[string][2]string{}, map[[2]string][]SpareFit{}, map[string][]SpareFit{}
	for _, sp := range all {
		figures[sp.ID] = [2]string{sp.Pattern, sp.Figures}
	}
	for _, l := range lines {
		of := figures[l.ID]
		if _, known := found[of]; !known {
			fits, err := s.FloatsBearing(of[0], of[1], mostFits)
			if err != nil {
				return nil, err
			}
			found[of] = []SpareFit{}
			for _, f := range fits {
				found[of] = append(found[of], SpareFit(f))
			}
		}
		out[l.ID] = found[of]
	}
	return out, nil
}

// GiveBackSpare takes a spare off the float that it was put on by mistake: it is
// ready again, and its history tells. by is who did. Errors: Input for an id that is
// none and a spare that is on no float; NotFound for an unknown one.
func (w *Workshop) GiveBackSpare(ctx context.Context, id, by string) error {
	parsed, err := ident.Parse(id)
	if err != nil {
		return err
	}
	return w.change(ctx, func(s *record.Store, now string) error { return s.GiveBackSpare(string(parsed), by, now) })
}

// CountMarks notes by hand how many unnumbered marks of a kind lie ready, whatever
// was known before. Figures are the key of MarksReady. Fewer than none is an Input
// fault, a kind of which there were none NotFound.
func (w *Workshop) CountMarks(ctx context.Context, stock, pattern, figures string, count int) error {
	if count < 0 {
		return fault.Inputf("give the count that lies there", "fewer than none cannot lie ready")
	}
	return w.change(ctx, func(s *record.Store, now string) error {
		all, err := s.MarksReady()
		if err != nil {
			return err
		}
		for _, m := range all {
			if m.Stock == stock && m.Pattern == pattern && m.Figures == figures {
				m.Count = count - m.Count // none is no change
				return s.MoveMarks(m, "counted", now)
			}
		}
		return fault.New(fault.NotFound, "", "no such marks lie ready", "choose some of the list")
	})
}

// FiguresText is a key of figures as people read it: "8 g · add 0.8 g".
func FiguresText(key string) string { return figuresText(key) }

// spareInk rings a spare in the picture of its sheet: seen on white and on grey.
var spareInk = draw.Ink{R: 0xc2, G: 0x18, B: 0x5b}

// A spare's ring in its picture, mm: as wide as a middling mark.
const spareRing, spareRingLine = 14.0, 2.5

// SparePNG is the picture of the sheet that a spare lies on, with a ring where.
// NotFound for an unknown spare and one whose place was not noted.
func (w *Workshop) SparePNG(id string) ([]byte, error) {
	all, err := w.SpareList()
	if err != nil {
		return nil, err
	}
	for _, l := range all {
		if !strings.EqualFold(l.ID, id) || l.Sheet == 0 {
			continue
		}
		sheet, err := w.sheetPicture(l.Sheet)
		if err != nil {
			return nil, err
		}
		ring := geom.Circle(geom.Point{X: l.At[0] + airRound, Y: l.At[1] + airRound}, spareRing)
		sheet.Add(draw.Guide, &draw.Stroke{Path: ring, Ink: spareInk, Width: spareRingLine})
		return fewColours(sheet, smallDPI)
	}
	return nil, fault.New(fault.NotFound, "", "where this spare lies is not noted", "look at its print's job sheet")
}
