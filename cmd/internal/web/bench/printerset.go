package bench

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// measured stores what was read at a step and shows what follows from it. What was
// typed stays on the page where it is wrong.
func (s *server) measured(w http.ResponseWriter, r *http.Request, step measureStep) error {
	if err := r.ParseForm(); err != nil {
		return fault.Inputf("send it again", "the form cannot be read: %v", err)
	}
	typed := r.PostForm
	q := url.Values{"stored": {"1"}}
	for _, key := range []string{"name", "paper", "film"} {
		if v := strings.TrimSpace(typed.Get(key)); v != "" {
			q.Set(key, v)
		}
	}
	err := s.keepReadings(r.Context(), step.Key, typed, q)
	if err != nil {
		if class := fault.ClassOf(err); class == fault.Input || class == fault.NotFound || class == fault.NoFit {
			return s.measure(w, r, http.StatusUnprocessableEntity, step, typed, ofTheForm(findings(err)))
		}
		return err
	}
	s.forget() // marks come out otherwise now
	return back(w, r, "printer/"+step.Key+"?"+q.Encode())
}

// ofTheForm takes the names that the command line has for fields out of findings.
func ofTheForm(all []finding) []finding {
	for i := range all {
		for _, flag := range []string{"--measured", "--printer", "--corrected-by", "--reads", "--paper", "--dpi"} {
			all[i].Where = strings.Trim(strings.ReplaceAll(all[i].Where, flag, ""), " :,")
		}
		all[i].Do = strings.NewReplacer("name one that this lists: floatmark stocks", "choose one of the list",
			"; for another printer add --dpi or --printer", "", "leave --dpi out", "leave the dots an inch empty",
			"read it on a sheet printed without --printer", "read it on the plain sheet").Replace(all[i].Do)
	}
	return all
}

func (s *server) keepReadings(ctx context.Context, key string, typed, q url.Values) error {
	name := strings.TrimSpace(typed.Get("name"))
	switch key {
	case "codes":
		dpi, err := dotsAnInch(typed.Get("dpi"))
		if err != nil {
			return err
		}
		if name != "" {
			dpi = 0
		}
		reads, err := s.codeReads(name, dpi, typed)
		if err != nil {
			return err
		}
		_, err = s.shop().SetCodeSizes(ctx, job.CodesRead{Reads: reads, Printer: name, DPI: dpi})
		return err
	case "stretch":
		height, err := unit.ParseMillimetre(withMillimetres(typed.Get("band")))
		if err != nil {
			return err
		}
		_, err = s.shop().SetFilmLimit(ctx, typed.Get("film"), height)
		return err
	}
	if name == "" {
		return fault.Inputf("name it in one word of your own, such as office", "which printer is it?")
	}
	c := job.Calibration{Printer: name, Paper: typed.Get("paper")}
	var err error
	if c.DPI, err = dotsAnInch(typed.Get("dpi")); err != nil {
		return err
	}
	if text := strings.TrimSpace(typed.Get("read-to")); text != "" {
		v, ok := unit.Decimal(text)
		if !ok || v <= 0 {
			return fault.Inputf("give millimetres, such as 0.25", "%q does not say how near lengths were read", text)
		}
		c.ReadTo = v
	}
	if typed.Get("corrected") != "" {
		if c.CorrectedBy, err = strconv.Atoi(typed.Get("corrected")); err != nil {
			return fault.Inputf("choose one of the two", "the form does not say which sheet was measured")
		}
	}
	if key == "ruler" {
		white := typed.Get("white") != ""
		c.WhiteInk = &white
	}
	if c.Measured, err = readingsOf(key, typed); err != nil {
		return err
	}
	m, err := s.shop().CalibratePrinter(ctx, c)
	if err == nil && m.Closing != nil {
		const told = 0.05 // mm: nearer than that no rule is read
		q.Set("gap", unit.Millimetre(max(told, *m.Closing)).Text(0.01, unit.Style{}))
	}
	return err
}

// readingsOf writes the readings of a form as the command line takes them.
func readingsOf(key string, typed url.Values) (string, error) {
	var parts []string
	put := func(name, value string) {
		if value = strings.TrimSpace(value); value != "" {
			parts = append(parts, name+"="+strings.NewReplacer("=", "", ";", "").Replace(value))
		}
	}
	switch key {
	case "ruler":
		for _, one := range []string{"x", "y", "d1", "d2", "margin"} {
			put(one, typed.Get(one))
		}
	case "gain":
		put("gain", typed.Get("gain"))
	case "duplex":
		for _, cross := range []string{"top", "bottom"} {
			across, down := strings.TrimSpace(typed.Get(cross+"-across")), strings.TrimSpace(typed.Get(cross+"-down"))
			if across == "" || down == "" {
				return "", fault.Inputf("type 0 where it lies right behind", "of both crosses, how far off are they, across and up or down?")
			}
			put(cross, across+typed.Get(cross+"-aside")+"/"+down+typed.Get(cross+"-along"))
		}
	}
	if len(parts) == 0 {
		return "", fault.Inputf("measure the printed sheet and type what you read", "nothing was typed")
	}
	return strings.Join(parts, ";"), nil
}

// codeReads writes the answers of a form as the command line takes them.
func (s *server) codeReads(name string, dpi float64, typed url.Values) (string, error) {
	sizes, err := s.shop().CodeSizeChoices(name, dpi)
	if err != nil {
		return "", err
	}
	var parts []string
	for _, z := range sizes {
		if v := typed.Get("size-" + z.Name); v != "" {
			parts = append(parts, z.Name+"="+v)
		}
	}
	if len(parts) == 0 {
		return "", fault.Inputf("choose the thinnest dowel for at least one size", "no size was tried")
	}
	return strings.Join(parts, "; "), nil
}

// withMillimetres takes a number alone for millimetres.
func withMillimetres(text string) string {
	text = strings.TrimSpace(text)
	if _, ok := unit.Decimal(text); ok {
		return text + " mm"
	}
	return text
}
