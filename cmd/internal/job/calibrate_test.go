package job

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

const ruled = "x=181.080,y=248.500,d1=308.242,d2=306.710"

func paperFor(t testing.TB, key string) stock.Stock {
	t.Helper()
	s, ok := stock.ByKey(key)
	if !ok {
		t.Fatal(key)
	}
	return s
}

// The same readings in the ways people write them.
func TestParseReadings(t *testing.T) {
	a4 := paperFor(t, "a4-paper")
	want, err := parseReadings("x=181.08,y=248.5,d1=308.24,d2=306.71,margin=5,gain=2,top=0.5right/0.25up,bottom=0.25left/0down", a4)
	if err != nil {
		t.Fatal(err)
	}
	if want.Sides.W != 181.08 || want.Sides.H != 248.5 || want.Falling != 308.24 || want.Rising != 306.71 || want.Margin != 5 || want.OpenSlot != 2 ||
		want.Crosses.Top.X != 0.5 || want.Crosses.Top.Y != -0.25 || want.Crosses.Bottom.X != -0.25 || want.Crosses.Bottom.Y != 0 ||
		want.Crosses.Apart != 230 || want.Nominal.W != 180 || want.Nominal.H != 250 {
		t.Fatalf("%+v", want)
	}
	for _, text := range []string{
		"x=181,08,y=248,5,d1=308,24,d2=306,71,margin=5,gain=2,top=0,5right/0,25up,bottom=0,25left/0down",
		" D2 = 306.71 mm; d1=30.824cm ; Y=248.5 x=181.08mm, gain=2 dots margin=5mm bottom=0.25 mm left, 0 up; top= 0.5 Right 0.25 Up ",
	} {
		if got, err := parseReadings(text, a4); err != nil || math.Abs(got.Falling-want.Falling) > 1e-9 {
			t.Errorf("%q: %+v %v", text, got, err)
		} else if got.Falling = want.Falling; got != want {
			t.Errorf("%q: %+v, want %+v", text, got, want)
		}
	}
	if got, err := parseReadings("top=0 bottom=0", a4); err != nil || got.Crosses.Apart != 230 || got.Crosses.Top != got.Crosses.Bottom {
		t.Errorf("%+v %v", got, err)
	}
}

func TestParseReadingsRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"": "no reading", "181.08": "no reading", "181 x=181": "no reading", "x=": "x: the reading is missing", "x=____": "x: the reading is missing",
		"x=1,x=2": "given twice", "z=3": "z: there is no such", "x=wide": "x: ", "x=181.08.2": "x: ", "x=1e3": "x: ", "x=NaN": "x: ", "x=0,y=1": "x: it cannot be nothing",
		"gain=0": "gain: ", "gain=7": "gain: ", "gain=1.5": "gain: ", "gain=none": "gain: ", "gain=-1": "gain: ", "margin=0": "margin: ", "margin=-2": "margin: ",
		"top=0": "one of them is missing", "top=0.5,bottom=0": "top: ", "top=-0.5right/0up,bottom=0": "top: ", "top=0.5right,bottom=0": "one way of two",
		"top=0.5right/0.2left,bottom=0": "same way twice", "top=right,bottom=0": "top: ",
	} {
		_, err := parseReadings(text, paperFor(t, "a4-paper"))
		if fault.ClassOf(err) != fault.Input || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func FuzzParseReadings(f *testing.F) {
	for _, s := range []string{ruled, "gain=2", "top=0.5right/0.25up,bottom=0", "x=18,1cm;y= ", "=,=", "margin=5 x", "top=0.5rightright"} {
		f.Add(s)
	}
	a4, ok := stock.ByKey("a4-paper")
	if !ok {
		f.Fatal("no paper")
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := parseReadings(s, a4)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("%q: %v is not the user's", s, err)
			}
			return
		}
		// Whatever is taken is a printer or told to be none.
		if p, err := stock.Plain().Measured(r); err == nil && p.Sound() != nil || err != nil && fault.ClassOf(err) != fault.Input {
			t.Fatalf("%q: %+v %v", s, p, err)
		}
	})
}

// Asking makes nothing; each sheet's readings are added to what was known.
func TestCalibratePrinter(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if p, ok, err := w.Printer("office"); ok || err != nil {
		t.Fatal(p, ok, err)
	}
	if all, err := w.Printers(); len(all) != 0 || err != nil {
		t.Fatal(all, err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Fatal("asking made a workshop")
	}
	store := func(c Calibration, number int) stock.Printer {
		t.Helper()
		c.Printer = "office"
		m, err := w.CalibratePrinter(t.Context(), c)
		if err != nil || m.Number != number || len(m.Left) < 3 {
			t.Fatalf("%+v %v, want profile %d", m, err, number)
		}
		p, ok, err := w.Printer("office")
		if !ok || err != nil || p != m.printer() || p.Calibrated == "" || p.Name != "office" {
			t.Fatalf("%+v %v %v, want %+v", p, ok, err, m)
		}
		return p
	}
	p := store(Calibration{Measured: ruled}, 1)
	if math.Abs(p.ScaleX-1.006) > 1e-5 || math.Abs(p.ScaleY-0.994) > 1e-5 || math.Abs(p.Shear*180/math.Pi-0.3) > 2e-4 || p.DPI != 600 {
		t.Errorf("%+v", p)
	}
	yes := true
	p = store(Calibration{Measured: "gain=3", DPI: 1200, WhiteInk: &yes}, 2)
	if math.Abs(p.ScaleX-1.006) > 1e-5 || p.DPI != 1200 || p.Reduction() != 2 || !p.WhiteInk {
		t.Errorf("%+v", p)
	}
	p = store(Calibration{Measured: "top=0.5right/0.25up,bottom=0.5right/0.25up,margin=4"}, 3)
	if p.Duplex != (stock.Offset{X: 0.5, Y: -0.25}) || p.Margin != 4 || p.Reduction() != 2 || p.DPI != 1200 || !p.WhiteInk {
		t.Errorf("%+v", p)
	}
	// A corrected sheet that comes out true changes nothing but how well it is known.
	again := store(Calibration{Measured: "x=180,y=250,d1=308.058,d2=308.058", CorrectedBy: 3, ReadTo: 0.1}, 4)
	if math.Abs(again.ScaleX-p.ScaleX) > 1e-9 || math.Abs(again.ScaleY-p.ScaleY) > 1e-9 || math.Abs(again.Shear-p.Shear) > 1e-9 || !(again.U.ScaleX < p.U.ScaleX/2) {
		t.Errorf("%+v, before %+v", again, p)
	}
	if p, ok, err := w.Printer("attic"); ok || err != nil {
		t.Errorf("another printer is known: %+v %v", p, err)
	}
}

func TestCalibratePrinterRefuses(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]Calibration{
		"no name": {Measured: ruled}, "the placeholder": {Printer: "NAME", Measured: ruled}, "plain": {Printer: "plain", Measured: ruled},
		"two words": {Printer: "the office", Measured: ruled}, "a flag": {Printer: "--out", Measured: ruled}, "long": {Printer: strings.Repeat("x", 41), Measured: ruled},
		"nothing read": {Printer: "office"}, "paper": {Printer: "office", Measured: ruled, Paper: "nosuch"}, "another paper": {Printer: "office", Measured: ruled, Paper: "a5-paper"},
		"dpi": {Printer: "office", Measured: ruled, DPI: -1}, "dpi NaN": {Printer: "office", Measured: ruled, DPI: math.NaN()}, "read to": {Printer: "office", Measured: ruled, ReadTo: 5},
		"a number": {Printer: "office", Measured: ruled, CorrectedBy: -1}, "slip": {Printer: "office", Measured: "x=1810.8,y=248.5,d1=308.242,d2=306.710"},
		"a diagonal": {Printer: "office", Measured: "x=181.08,y=248.5,d1=308.242"}, "negative": {Printer: "office", Measured: "x=-181.08,y=248.5,d1=308.242,d2=306.710"},
	} {
		if m, err := w.CalibratePrinter(t.Context(), c); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%s: %+v %v, want an input error", name, m, err)
		}
	}
	if _, err := w.CalibratePrinter(t.Context(), Calibration{Printer: "office", Measured: ruled, CorrectedBy: 1}); fault.ClassOf(err) != fault.NotFound || err == nil {
		t.Errorf("corrected by a profile that is not there: %v", err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := w.CalibratePrinter(stopped, Calibration{Printer: "office", Measured: ruled}); err == nil {
		t.Error("a stopped call stores")
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("a refusal made a workshop")
	}
	// A sheet of an older profile tells nothing of the present one.
	for i := range 2 {
		if _, err := w.CalibratePrinter(t.Context(), Calibration{Printer: "office", Measured: ruled}); err != nil {
			t.Fatal(i, err)
		}
	}
	for _, c := range []Calibration{{Printer: "office", Measured: ruled, CorrectedBy: 1}, {Printer: "office", Measured: "margin=4", CorrectedBy: 2}} {
		if _, err := w.CalibratePrinter(t.Context(), c); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%+v: %v, want an input error", c, err)
		}
	}
}
