package bench

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// togetherShown is a print of several batches with what a person needs at the
// printer.
type togetherShown struct {
	Key, When string
	File      *fileShown // the common sheets; nil where it is gone
	Sheets    []job.PrintSheet
	Batches   []togetherBatch
}

// togetherBatch is one batch's print among those on common sheets.
type togetherBatch struct {
	printShown
	Name string
}

// Open reports whether somebody is still to say how it came out.
func (t togetherShown) Open() bool {
	return slices.ContainsFunc(t.Batches, func(b togetherBatch) bool { return b.State == "pending" })
}

// togetherPrints are the prints of this batch with others, the latest first.
func (s *server) togetherPrints(batch string) ([]togetherShown, error) {
	all, err := s.shop().TogetherPrints()
	if err != nil {
		return nil, err
	}
	var out []togetherShown
	for _, one := range all {
		if !slices.ContainsFunc(one.Prints, func(p job.PrintLine) bool { return p.Batch == batch }) {
			continue
		}
		shown := togetherShown{Key: one.Key, When: clockText(one.Prints[0].Made)}
		if one.Bytes > 0 {
			name := commonName(one)
			shown.File = &fileShown{Name: name, To: Path + "together/" + one.Key + "/" + name, Save: name, Size: sizeText(one.Bytes)}
		}
		for _, line := range one.Prints {
			prints, err := s.shop().BatchPrints(line.Batch)
			if err != nil {
				return nil, err
			}
			for _, p := range prints {
				if p.Number != line.Number {
					continue
				}
				b := togetherBatch{s.shown(line.Batch, p), line.Batch}
				b.Main = slices.DeleteFunc(b.Main, func(f fileShown) bool { return f.Name == "decals.pdf" })
				shown.Batches = append(shown.Batches, b)
				for _, sheet := range p.Sheets { // a later batch finds a sheet part-used by the one before it
					if !slices.ContainsFunc(shown.Sheets, func(o job.PrintSheet) bool { return o.Number == sheet.Number }) {
						shown.Sheets = append(shown.Sheets, sheet)
					}
				}
			}
		}
		slices.SortFunc(shown.Sheets, func(a, b job.PrintSheet) int { return a.Number - b.Number })
		out = append(out, shown)
	}
	return out, nil
}

// commonName is the name that the common file of several batches is saved under.
func commonName(p job.TogetherPrint) string {
	var names []string
	for _, one := range p.Prints {
		names = append(names, job.FolderName(one.Batch))
	}
	return "decals-" + strings.Join(names, "-") + "-prints-" + p.Key + ".pdf"
}

// printTogether begins to print the chosen batches on common sheets.
func (s *server) printTogether(w http.ResponseWriter, r *http.Request) error {
	if _, err := version(r); err != nil {
		return err
	}
	names, seen := r.PostForm["with"], r.PostForm["seen"]
	if len(names) == 0 || len(names) != len(seen) {
		return fault.Inputf("tick one of the list", "no other batch was chosen")
	}
	names, seen = append([]string{r.PathValue("batch")}, names...), append([]string{r.PostFormValue("version")}, seen...)
	var drafts []job.Draft
	for i, name := range names {
		d, err := s.shop().Draft(name)
		if err != nil {
			return err
		}
		if strconv.FormatInt(d.Version, 10) != seen[i] {
			return fault.New(fault.Input, d.Name, "the batch was changed since this page was shown, so nothing was printed", "look at it again, then print", job.ErrChanged)
		}
		drafts = append(drafts, d)
	}
	shop, o := s.shop(), job.PrintOrder{Coarse: r.PostFormValue("coarse") != ""}
	s.works.begin(togetherKey(r), drafts[0].Version, func(ctx context.Context, tell job.Progress) (any, error) {
		key, err := shop.PrintDrafts(ctx, drafts, o, tell)
		s.forget() // the sheets are other now
		return key, err
	})
	return back(w, r, batchPath(drafts[0].Name, "together"))
}

func (s *server) togetherState(w http.ResponseWriter, r *http.Request) error {
	if one := s.works.of(togetherKey(r)); one != nil && !one.over() {
		return s.sendState(w, r, one)
	}
	return s.sendState(w, r, s.works.of(comparedKey(r)))
}

func (s *server) stopTogether(w http.ResponseWriter, r *http.Request) error {
	for _, key := range []string{togetherKey(r), comparedKey(r)} {
		if one := s.works.of(key); one != nil {
			one.stop()
		}
	}
	return back(w, r, batchPath(r.PathValue("batch"), "together"))
}

// settleTogether notes how a print of several batches came out, for all of them or
// for one.
func (s *server) settleTogether(w http.ResponseWriter, r *http.Request) error {
	all, err := s.togetherPrints(r.PathValue("batch"))
	if err != nil {
		return err
	}
	i := slices.IndexFunc(all, func(t togetherShown) bool { return t.Key == r.PathValue("key") })
	if i < 0 {
		return fault.New(fault.NotFound, "", "the batch has no print of that number", "choose one of its list")
	}
	how, only, done := r.PostFormValue("how"), r.PostFormValue("number"), 0
	want := map[string]string{"right": "confirmed", "spoilt": "cancelled"}[how]
	said := 0 // batches of which just this was said before, as by a button pressed twice
	var lost []int
	for _, text := range r.PostForm["lost"] {
		n, err := strconv.Atoi(text)
		if err != nil {
			return fault.Inputf("tick the sheets of the list", "%q is no number of a sheet", text)
		}
		lost = append(lost, n)
	}
	for _, b := range all[i].Batches {
		if only != "" && strconv.Itoa(b.Number) != only {
			continue
		}
		if b.State != "pending" {
			if b.State == want {
				said++
			}
			continue
		}
		switch how {
		case "right":
			err = s.shop().ConfirmPrint(r.Context(), b.Number)
		case "spoilt":
			mine := slices.DeleteFunc(slices.Clone(lost), func(n int) bool {
				return !slices.ContainsFunc(b.Sheets, func(p job.PrintSheet) bool { return p.Number == n })
			})
			err = s.shop().CancelPrint(r.Context(), b.Number, mine)
		default:
			err = fault.Inputf("press one of the page's buttons", "the form does not say how the print came out")
		}
		if err != nil {
			return fault.At(fmt.Sprintf("%s, print %d", b.Name, b.Number), err)
		}
		done++
	}
	if done == 0 && said == 0 {
		return fault.Inputf("open the page again", "it was said already how that print came out")
	}
	s.forget()
	return back(w, r, batchPath(r.PathValue("batch"), "together"))
}

// togetherFile sends the common sheets of several batches.
func (s *server) togetherFile(w http.ResponseWriter, r *http.Request) error {
	data, err := s.shop().TogetherFile(r.PathValue("key"))
	if err != nil {
		return err
	}
	return sendFile(w, r.PathValue("file"), data)
}
