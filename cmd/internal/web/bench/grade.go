package bench

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/svg"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (s *server) gradePages() []route {
	return []route{
		s.get("b/{batch}/grade", s.grade),
		s.get("b/{batch}/grade/spread.svg", s.spread),
		s.post("b/{batch}/grade/rating", s.regrade),
	}
}

// mostFigures is of how many floats the figures stand open: on a phone each takes a
// quarter of the screen. Own choice.
const mostFigures = 60

// gradePage is how the floats of a batch lie about their ratings, and what is
// printed of each.
type gradePage struct {
	Batch   string
	Plot    string // path of the spread plot; "" where no float was tested
	Within  string // the tolerance
	Ratings []gradedRating
	Outside []gradedFloat // that do not keep their rating
	Floats  []figureRow
	Long    bool // the figures of so many floats are folded away
}

type gradedRating struct {
	Rating                   string
	Tested, Untested, Inside int
	Mean, Deviation, Range   string
	Sums                     []printedSum
}

// printedSum is a sum that marks of a rating bear, and how many do.
type printedSum struct {
	Sum string
	N   int
}

type gradedFloat struct {
	Number   int
	Pattern  string
	Advice   string
	Doubtful bool
	Verdict  string
	To       string // the rating that it comes to, to be stored; "" where it stays
	Place    int    // of the float in the batch file
}

// figureRow are the figures of one float as they are printed.
type figureRow struct {
	Number                                             int
	Pattern, Rating, BuiltIn, Add, U, Metal, Shot, Tip string
	About, Regraded                                    bool
}

func (s *server) grade(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	f := s.batchFrame(d, "grade", "Grade")
	page := &gradePage{Batch: d.Name}
	f.Body = page
	p, err := s.figures(r.Context(), d)
	if err != nil && forMaker(err) {
		f.Missing, f.Findings = told(d, err)
		f.Next = &link{"Look at the floats", Path + batchPath(d.Name, "floats")}
		if d.Err == nil { // the batch is whole, and what was read does not go with it
			f.Next = &link{"Readings, one by one", Path + batchPath(d.Name, "tank/readings")}
		}
		return s.show(w, r, "grade", f)
	}
	if err != nil {
		return err
	}
	said, err := words.For(s.language(r))
	if err != nil {
		return err
	}
	page.fill(p, d, said, s.measures(r))
	if p.Spread != nil {
		page.Plot = Path + batchPath(d.Name, "grade/spread.svg?v="+s.stamp(d))
	} else {
		f.Next = &link{"Test them at the tank", Path + batchPath(d.Name, "tank")}
		return s.show(w, r, "grade", f)
	}
	f.Next = &link{"Look at the marks", Path + batchPath(d.Name, "marks")}
	return s.show(w, r, "grade", f)
}

// forMaker reports whether an error is one that the maker mends in the batch.
func forMaker(err error) bool {
	c := fault.ClassOf(err)
	return c == fault.Input || c == fault.NoFit || c == fault.NotFound
}

// fine is the step of means and deviations, g: a digit finer than one float.
const fine unit.Gram = 0.001

func (g *gradePage) fill(p *job.Plan, d job.Draft, said words.Words, m words.Measures) {
	g.Within = said.Gram(p.Graded.Tolerance, fine)
	for _, one := range p.Graded.Ratings {
		row := gradedRating{Rating: m.Load(one.Rating, fine), Tested: one.Tested, Untested: one.Untested, Inside: one.Inside}
		if one.Tested > 0 {
			row.Mean = said.FixedGram(one.Mean, fine)
		}
		if one.Tested > 1 {
			row.Deviation = said.FixedGram(one.Deviation, fine)
			row.Range = unit.Fixed(float64(one.Least), float64(fine), said.Number) + "–" + said.FixedGram(one.Most, fine)
		}
		row.Sums = sums(p, one.Rating, said)
		g.Ratings = append(g.Ratings, row)
	}
	names := map[int]string{}
	for i := range p.Floats {
		fp := &p.Floats[i]
		r := fp.Rating
		names[fp.Float.Number] = fp.Float.Pattern.Name
		add, u := r.Add.Apart(r.U, r.Step, said.Number)
		row := figureRow{Number: fp.Float.Number, Pattern: fp.Float.Pattern.Name, Rating: said.FixedGram(r.Printed, r.Step), Add: m.Beside(add, r.Add),
			U: u, Metal: said.Name(r.Metal.Name), About: r.About, Regraded: r.Regraded}
		if r.BuiltIn > 0 {
			row.BuiltIn = said.FixedGram(r.BuiltIn, r.Step)
		}
		if fp.Shot != nil {
			row.Shot, row.Tip = fp.Shot.Text(), m.Told(label.TipText(*fp.Shot, said))
		}
		g.Floats = append(g.Floats, row)
	}
	g.Long = len(g.Floats) > mostFigures
	for _, one := range p.Graded.Floats {
		if one.Advice == "" {
			continue
		}
		row := gradedFloat{Number: one.Number, Pattern: names[one.Number], Advice: one.Advice, Doubtful: one.Doubtful, Verdict: one.Verdict, Place: -1}
		for i := range d.Doc.Len("float") {
			if d.Doc.Text(fmt.Sprintf("float/%d/number", i)) == strconv.Itoa(one.Number) {
				row.Place = i
			}
		}
		if one.Verdict == regrades && row.Place >= 0 && d.Doc.Len(fmt.Sprintf("float/%d/setup", row.Place)) == 0 {
			row.To = one.Rating.Text(fine, unit.Style{})
		}
		g.Outside = append(g.Outside, row)
	}
	slices.SortStableFunc(g.Outside, func(a, b gradedFloat) int { return a.Number - b.Number })
}

// regrades is the verdict on a float that comes to another rating of the batch.
const regrades = "regrade"

// sums counts the sums that marks of floats made as a rating bear, the lightest
// first.
func sums(p *job.Plan, rating unit.Gram, said words.Words) []printedSum {
	type sum struct {
		printedSum
		mass unit.Gram
	}
	var all []sum
	for i := range p.Floats {
		r := p.Floats[i].Rating
		if r.Nominal != rating {
			continue
		}
		text := said.Gram(r.Printed, r.Step)
		if at := slices.IndexFunc(all, func(s sum) bool { return s.Sum == text }); at >= 0 {
			all[at].N++
		} else {
			all = append(all, sum{printedSum{text, 1}, r.Printed})
		}
	}
	slices.SortStableFunc(all, func(a, b sum) int {
		if a.mass < b.mass {
			return -1
		}
		return 1
	})
	var out []printedSum
	for _, one := range all {
		out = append(out, one.printedSum)
	}
	return out
}

// spread sends the plot of the floats about their ratings.
func (s *server) spread(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	p, err := s.figures(r.Context(), d)
	if err != nil {
		return err
	}
	if p.Spread == nil {
		return fault.New(fault.NotFound, "", "no float of the batch was tested", "test them at the tank")
	}
	var buf bytes.Buffer
	plot := p.Spread
	if r.URL.Query().Has("narrow") {
		if plot, err = p.NarrowSpread(); err != nil {
			return err
		}
	}
	if err := svg.Write(&buf, plot); err != nil {
		return err
	}
	return sendPicture(w, r, "image/svg+xml", buf.Bytes(), s.stamp(d))
}

// regrade makes a float one of the rating that it comes to.
func (s *server) regrade(w http.ResponseWriter, r *http.Request) error {
	at := "grade"
	if n, err := strconv.Atoi(r.PostFormValue("number")); err == nil {
		at += fmt.Sprintf("#f%d", n) // its line in the table of figures
	}
	return s.edit(w, r, "regrade a float", at, func(d *batch.Doc) error {
		n, err := placed(d, r.PostFormValue("place"))
		if err != nil {
			return err
		}
		return d.Set(fmt.Sprintf("float/%d/rating", n), grams(r.PostFormValue("rating")))
	})
}
