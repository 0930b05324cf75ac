package bench

import (
	"net/http"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
)

// setSheet corrects what is known of a sheet that lies on the bench.
func (s *server) setSheet(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(r.PathValue("number"))
	if err != nil {
		return fault.New(fault.NotFound, "", "there is no sheet of that number", "choose one of the list")
	}
	ctx, shop, note := r.Context(), s.shop(), strings.TrimSpace(r.PostFormValue("note"))
	switch r.PostFormValue("what") {
	case "used up":
		err = shop.UseUp(ctx, n, note)
	case "written off":
		err = shop.WriteOff(ctx, n, note)
	case "reopen":
		err = shop.Reopen(ctx, n, note)
	case "part":
		part, e := partOf(s.measures(r), r.PostFormValue("edge"), r.PostFormValue("deep"))
		if e != nil {
			return e
		}
		if r.PostFormValue("free") != "" {
			err = shop.FreePart(ctx, n, part, note)
		} else {
			err = shop.UsedPart(ctx, n, part, note)
		}
	default:
		err = fault.Inputf("press one of the page's buttons", "the form does not say what became of the sheet")
	}
	if err != nil {
		return err
	}
	s.forget() // plans count on it
	return back(w, r, batchPath(r.PathValue("batch"), "sheets"))
}

// partOf is a strip along an edge of a sheet, so deep.
func partOf(m words.Measures, edge, deep string) (p job.SheetPart, err error) {
	if v, e := m.ReadLength(deep); e == nil {
		deep = words.Measures{}.Bare(v) + " mm"
	}
	switch edge {
	case "top":
		p.Top = deep
	case "right":
		p.Right = deep
	case "bottom":
		p.Bottom = deep
	case "left":
		p.Left = deep
	default:
		return p, fault.Inputf("choose one of the four", "the form does not say from which edge")
	}
	return p, nil
}
