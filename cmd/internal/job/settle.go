package job

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// change opens the records of a workshop that has some, for one short change.
func (w *Workshop) change(ctx context.Context, f func(s *record.Store, now string) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	path := filepath.Join(w.Dir, recordsFile)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return fault.New(fault.NotFound, path, "there is no record here yet", "print a batch first, or name the workshop folder that holds the record")
	}
	s, err := record.Open(path)
	if err != nil {
		return err
	}
	defer s.Close()
	return f(s, time.Now().UTC().Format(time.RFC3339))
}

// ConfirmPrint notes that the print of that number came out right. One that is
// settled already is an Input fault, an unknown one NotFound.
func (w *Workshop) ConfirmPrint(ctx context.Context, number int) error {
	return w.change(ctx, func(s *record.Store, now string) error { return s.ConfirmPrint(number, now) })
}

// CancelPrint gives up the print of that number: what it took of its sheets is
// free again, but for the sheets that were lost over it, which are written off.
// Errors are those of ConfirmPrint, and Input for a lost sheet that it does not
// lie on.
func (w *Workshop) CancelPrint(ctx context.Context, number int, lost []int) error {
	return w.change(ctx, func(s *record.Store, now string) error { return s.CancelPrint(number, lost, now) })
}

// WriteOff takes a sheet out of use, spoilt or lost. An unknown one is NotFound.
func (w *Workshop) WriteOff(ctx context.Context, sheet int, note string) error {
	return w.setSheet(ctx, sheet, record.SheetWrittenOff, note)
}

// UseUp notes that nothing more goes on a sheet. An unknown one is NotFound.
func (w *Workshop) UseUp(ctx context.Context, sheet int, note string) error {
	return w.setSheet(ctx, sheet, record.SheetUsedUp, note)
}

// Reopen puts a sheet that was written off or used up into use again. An unknown
// one is NotFound.
func (w *Workshop) Reopen(ctx context.Context, sheet int, note string) error {
	return w.setSheet(ctx, sheet, record.SheetOpen, note)
}

func (w *Workshop) setSheet(ctx context.Context, sheet int, state, note string) error {
	return w.change(ctx, func(s *record.Store, now string) error { return s.SetSheet(sheet, state, note, now) })
}

// CorrectSheet notes by hand that a part of a sheet is spent (add) or blank
// (free), mm on the sheet; one of the two is given. What is freed is one convex
// ring. Errors: NotFound for an unknown sheet; Input for one that is not open, a
// part that lies beside it, and a ring that cannot be freed.
func (w *Workshop) CorrectSheet(ctx context.Context, sheet int, add, free geom.Path, note string) error {
	part, freed := add, len(free) > 0
	if freed {
		part = free
	}
	if len(part) == 0 || len(add) > 0 && freed {
		return fault.New(fault.Ours, sheetName(sheet), "a correction adds a part or frees one", "")
	}
	if freed && !convex(part) {
		return fault.New(fault.Input, sheetName(sheet), "only a part without hollows can be noted as blank", "note it in several parts")
	}
	data, err := encodeRegion([]geom.Path{part})
	if err != nil {
		return err
	}
	return w.change(ctx, func(s *record.Store, now string) error {
		sh, _, ok, err := s.Sheet(sheet)
		if err != nil {
			return err
		}
		if size := w.sheetSize(sh); ok && size != (geom.Size{}) && !geom.XYWH(0, 0, size.W, size.H).Overlaps(part.Bounds()) {
			return fault.New(fault.Input, sheetName(sheet), "the part lies beside the sheet",
				"the sheet is "+millimetres(size.W)+" wide and "+millimetres(size.H)+" high")
		}
		return s.CorrectSheet(sheet, sh.Version, freed, data, note, now)
	})
}

func millimetres(v float64) string { return unit.Millimetre(v).Text(0.1, unit.Style{}) }

// ClaimSpare binds the spare of that id to a float of any batch that bears the
// same figures. Errors: Input for an id that is none, other figures, a spare that
// is on another float or not known to have come out right; NotFound for an
// unknown spare or float.
func (w *Workshop) ClaimSpare(ctx context.Context, id, batch string, number int) error {
	parsed, err := ident.Parse(id)
	if err != nil {
		return err
	}
	return w.change(ctx, func(s *record.Store, now string) error { return s.ClaimSpare(string(parsed), batch, number, now) })
}

// MoveMarks corrects by hand how many unnumbered marks of a kind lie ready, by n
// more or, below 0, fewer. Fewer than none is an Input fault.
func (w *Workshop) MoveMarks(ctx context.Context, m record.Marks, note string) error {
	return w.change(ctx, func(s *record.Store, now string) error { return s.MoveMarks(m, note, now) })
}

// MarksReady returns how many unnumbered marks of each kind lie ready.
func (w *Workshop) MarksReady() ([]record.Marks, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	return s.MarksReady()
}
