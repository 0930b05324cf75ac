package job

import (
	"math"
	"strconv"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// PartUsed is a sheet that was printed on before and has room left.
type PartUsed struct {
	Number  int         // written on the sheet
	Version int         // counts what became of it; a print says by it what it was planned on
	Feed    string      // edge that goes into the printer first: "top", "right", "bottom", "left"
	Taken   []geom.Path // what is spent, mm on the sheet, one ring each
	Size    geom.Size   // of the sheet, mm; nothing where it was not noted
}

// Is reports whether the sheet is of that size, as far as that was noted.
func (p PartUsed) Is(size geom.Size) bool {
	const same = 0.5 // mm: nobody measures paper closer
	return p.Size == geom.Size{} || math.Abs(p.Size.W-size.W) <= same && math.Abs(p.Size.H-size.H) <= same
}

// OpenSheets returns the part-used sheets of the stock of that key, by number. A
// workshop without records has none.
func (w *Workshop) OpenSheets(key string) ([]PartUsed, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	sheets, err := s.OpenSheets(key)
	if err != nil {
		return nil, err
	}
	var out []PartUsed
	for _, sh := range sheets {
		taken, err := takenOf(sh.Parts)
		if err != nil {
			return nil, fault.At(sheetName(sh.Number), err)
		}
		out = append(out, PartUsed{sh.Number, sh.Version, sh.Feed, taken, sizeOf(sh.Parts)})
	}
	return out, nil
}

func sheetName(number int) string { return "sheet " + strconv.Itoa(number) }

func printName(number int) string { return "print " + strconv.Itoa(number) }
