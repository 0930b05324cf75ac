package bench

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (s *server) printerPages() []route {
	list := []route{
		s.get("printer", s.printers),
		s.get("printer/sheet/{file}", s.testSheet),
	}
	for _, one := range measures {
		list = append(list,
			s.get("printer/"+one.Key, func(w http.ResponseWriter, r *http.Request) error {
				return s.measure(w, r, http.StatusOK, one, r.URL.Query(), nil)
			}),
			s.post("printer/"+one.Key, func(w http.ResponseWriter, r *http.Request) error { return s.measured(w, r, one) }))
	}
	return list
}

// measureStep is one thing to be measured, with its own page.
type measureStep struct {
	Key, Title, What string
	Steps            []string // what to do, in order
}

// measures are the steps in the order in which they are best taken.
var measures = []measureStep{
	{"ruler", "The ruler", "How true to size a printer prints, whether it leans, and the edge it leaves blank.", []string{
		"Print the sheet at actual size (100 %), not fitted to the page, with the tray and the settings that marks are printed with.",
		"Measure with a steel rule to a quarter of a millimetre, always from the middle of one line to the middle of the other.",
		"At each edge, look for the lowest number whose line is whole at all four edges: that is the margin.",
		"Type what you read. If a length is off by 3 % or more, the page was fitted to the paper: print it again."}},
	{"gain", "Ink gain", "How far ink spreads. Codes are then drawn thinner by as many dots.", []string{
		"Print the sheet at actual size on what codes are printed on, with the same settings, and let it dry.",
		"Look through a glass: which is the narrowest pale slot that is open from end to end?",
		"Where the slots that run down and those that run across differ, take the larger number."}},
	{"duplex", "Front and back", "Where the back of a sheet comes out. Only if you print cards on both sides.", []string{
		"Print both pages at actual size on the two sides of one sheet, turned over the long edge.",
		"Hold the sheet against a lamp, the front towards you and upright. Card lets no light through: prick it with a needle through the middle of both crosses on the back.",
		"Read on the scales of the front, whose ticks are 0.5 mm apart, how far off the middle of each cross of the back is, and which way."}},
	{"codes", "Codes on dowels", "Which codes your own phones read on how thin a body.", []string{
		"Print the sheet on what codes are printed on, and cut the strips out. Each goes round a dowel, a drill's shank or a float of its diameter.",
		"Hold the phone 12 cm away, straight in front of the code, then 2 cm higher, lower and to either side. A code is read if the phone says within two seconds what the strip says, every time.",
		"For each size, choose the thinnest dowel on which every phone of yours reads it."}},
	{"stretch", "Stretch of the film", "How far a film bears being laid round a curved body.", []string{
		"Print the sheet on the film, and cut the bands out on the dashed lines.",
		"Soak each band, with the softener you use for marks, and lay it round the middle of a table tennis ball of 40 mm. Press it down from the middle to its edges and let it dry.",
		"Look along both edges: a crease, a tuck or a lifted edge is too much. The tallest band that lies flat is the film's limit; where two trials differ, take the lower."}},
}

// printersPage is what is known of printers, films and phones.
type printersPage struct {
	Steps    []measureStep
	Printers []printerShown
	Codes    *job.CodeAnswer
	CodesAt  string
	Limits   []limitShown
}

type printerShown struct {
	job.MeasuredPrinter
	When string
	Left []string // what is made up for and what is left, without commands
}

type limitShown struct {
	Film, Height, Strain, When string
}

func (s *server) printers(w http.ResponseWriter, r *http.Request) error {
	p := printersPage{Steps: measures}
	all, err := s.shop().Printers()
	if err != nil {
		return err
	}
	for _, one := range all {
		p.Printers = append(p.Printers, shownPrinter(one))
	}
	codes, ok, err := s.shop().CodeSizes()
	if err != nil {
		return err
	}
	if ok {
		codes.Follows = withoutCommands(codes.Follows)
		p.Codes, p.CodesAt = &codes, clockText(codes.Made)
	}
	if p.Limits, err = s.limits(s.measures(r)); err != nil {
		return err
	}
	f := frame{Title: "Printer, film and phones", Body: p}
	if len(all) == 0 {
		f.Next = &link{"Begin with the ruler", Path + "printer/ruler"}
	}
	return s.show(w, r, "printer", f)
}

func shownPrinter(m job.MeasuredPrinter) printerShown {
	return printerShown{m, clockText(m.Made), withoutCommands(m.Left)}
}

func (s *server) limits(m words.Measures) ([]limitShown, error) {
	all, err := s.shop().FilmLimits()
	if err != nil {
		return nil, err
	}
	stocks, err := s.shop().StockLines()
	if err != nil {
		return nil, err
	}
	name := map[string]string{}
	for _, one := range stocks {
		name[one.Key] = one.Name
	}
	var out []limitShown
	for _, one := range all {
		out = append(out, limitShown{cmp.Or(name[one.Film], one.Film), one.Height.Text(0.1, m.Number), strainOf(m, one.Limit), clockText(one.Made)})
	}
	return out, nil
}

func strainOf(m words.Measures, v float64) string {
	return unit.Number(percent*v, 0.01, m.Number) + " %"
}

// withoutCommands leaves out what the command line adds to what is told: here a
// page stands for each.
func withoutCommands(lines []string) []string {
	plain := strings.NewReplacer(
		"; measure it with: floatmark testsheet ruler --out ruler.pdf", ".",
		"; measure it with: floatmark testsheet gain --out gain.pdf", ".",
		"; if you print both sides: floatmark testsheet duplex --out duplex.pdf", ".",
		", and say so with --read-to-mm", ", and say how near")
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = plain.Replace(l)
	}
	return out
}

// testSheet sends a test sheet under a name that says what it is of.
func (s *server) testSheet(w http.ResponseWriter, r *http.Request) error {
	kind, isPDF := strings.CutSuffix(r.PathValue("file"), ".pdf")
	q := r.URL.Query()
	if !isPDF || !slices.ContainsFunc(measures, func(m measureStep) bool { return m.Key == kind }) {
		return fault.New(fault.NotFound, "", "there is no such test sheet", "choose one of the list")
	}
	dpi, err := dotsAnInch(q.Get("dpi"))
	if err != nil {
		return err
	}
	name := kind + "-test"
	var data []byte
	if kind == "stretch" {
		film := q.Get("film")
		if dpi == 0 {
			dpi = job.DefaultDPI
		}
		data, err = s.shop().StretchSheet(film, dpi)
		name += "-" + job.FolderName(film)
	} else {
		o := job.SheetOrder{Kind: kind, Paper: q.Get("paper"), DPI: dpi, Printer: q.Get("name")}
		if o.Printer != "" {
			o.DPI = 0 // its profile tells
			name += "-" + job.FolderName(o.Printer)
		}
		data, err = s.shop().PrinterSheetPDF(r.Context(), o)
	}
	if err != nil {
		return err
	}
	return sendFile(w, name+".pdf", data)
}

// dotsAnInch reads a resolution; 0 for nothing typed.
func dotsAnInch(text string) (float64, error) {
	if text = strings.TrimSpace(text); text == "" {
		return 0, nil
	}
	v, ok := unit.Decimal(text)
	if !ok || v <= 0 {
		return 0, fault.Inputf("give its dots an inch, usually 600", "%q is no resolution of a printer", text)
	}
	return v, nil
}
