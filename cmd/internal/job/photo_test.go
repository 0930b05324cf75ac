package job

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/label/symbol"
	"floatmark/layouts/view"
	"floatmark/loading/fault"
)

// A picture of the printed float itself, traced from 12 cm away as a phone holds
// it, leads to its record, on paint, film and a tapering body and beside all that
// is printed round the code.
func TestPhotographOfAPrintedFloatOpensItsRecord(t *testing.T) {
	shop, plan, _ := printDemo(t, t.TempDir())
	read := 0
	for _, fp := range plan.firsts() {
		if !fp.Decal.CodeOn {
			continue
		}
		zone := fp.Float.Pattern.Main()
		scene, err := plan.Scene(fp).Prepare(view.Camera{From: zone.From - 10, To: zone.To() + 10, Width: 1200, Height: 900, Distance: 120})
		if err != nil {
			t.Fatal(err)
		}
		const turn = 0.1 // radians: nobody holds it quite square
		var photo bytes.Buffer
		if err := jpeg.Encode(&photo, scene.Render(turn), &jpeg.Options{Quality: 85}); err != nil {
			t.Fatal(err)
		}
		code, err := shop.PhotoCode(t.Context(), &photo)
		if err != nil {
			t.Errorf("float %d: %v", fp.Float.Number, err)
			continue
		}
		m, err := shop.Find(code)
		if err != nil || m.ID != string(fp.Float.ID) || m.Number != fp.Float.Number || code != fp.Mark.Code {
			t.Errorf("float %d, %s: %q leads to %+v, %v", fp.Float.Number, fp.Float.ID, code, m, err)
		}
		read++
	}
	if read < 2 {
		t.Errorf("only %d photographs", read)
	}
}

// aCode is a plain picture of a code.
func aCode(t *testing.T, text string) []byte {
	t.Helper()
	m, err := symbol.QR(text)
	if err != nil {
		t.Fatal(err)
	}
	const px, edge = 6, 4
	img := image.NewGray(image.Rect(0, 0, (m.N+2*edge)*px, (m.N+2*edge)*px))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	for y := range m.N {
		for x := range m.N {
			if m.Dark(x, y) {
				draw.Draw(img, image.Rect((x+edge)*px, (y+edge)*px, (x+edge+1)*px, (y+edge+1)*px), image.NewUniform(color.Black), image.Point{}, draw.Src)
			}
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPhotoFiles(t *testing.T) {
	shop, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(shop.Dir, "code.PNG")
	if err := os.WriteFile(path, aCode(t, "8G ADD 0.8G 9KYA3C"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got, err := shop.PhotoFile(t.Context(), path); err != nil || got != "8G ADD 0.8G 9KYA3C" {
		t.Errorf("%q, %v", got, err)
	}
	_, err = shop.PhotoFile(t.Context(), filepath.Join(shop.Dir, "none.jpg"))
	faulty(t, err, fault.NotFound, "none.jpg: there is no such picture")
	_, err = shop.PhotoFile(t.Context(), shop.Dir)
	faulty(t, err, fault.Machine, shop.Dir)
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := shop.PhotoFile(ctx, path); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// tickShop is a workshop with a batch "autumn" of three floats, a spare on the
// second and one on none; codes are links to f.example but for float 3, whose
// maker had no host.
func tickShop(t *testing.T) *Workshop {
	t.Helper()
	w, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var floats []record.Float
	for i, id := range autumn() {
		code := "HTTPS://F.EXAMPLE/" + id
		if i == 2 {
			code = "8G ADD 0.8G " + id
		}
		e := label.Entry{Format: 1, ID: id, Batch: "autumn", Number: i + 1, Pattern: "Sedge waggler", Rating: "8 g", Code: code}
		floats = append(floats, record.Float{ID: id, Batch: "autumn", Number: i + 1, Pattern: "sedge", Data: mustJSON(t, e), Figures: "8 g", Created: ledgerDay})
	}
	spares := []record.Spare{{ID: spareOn, Batch: "autumn", Number: 1, Pattern: "sedge", Figures: "8 g"}, {ID: spareFree, Batch: "autumn", Number: 2, Pattern: "sedge", Figures: "8 g"}}
	err = s.SavePrint(record.Print{Key: "k", Batch: "autumn", Made: ledgerDay, Spares: spares}, floats)
	if err == nil {
		err = s.ConfirmPrint(1, ledgerDay)
	}
	if err == nil {
		err = s.ClaimSpare(spareOn, "autumn", 2, ledgerDay)
	}
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// Ids as they are given; the spares' too.
func autumn() []string { return []string{"9KYA3C", "CKWB6V", "RDSKJF"} }

const spareOn, spareFree = "JPPHHE", "TP8MDS"

func TestFind(t *testing.T) {
	w := tickShop(t)
	for text, number := range map[string]int{
		"9KYA3C": 1, " 9kya-3c\n": 1, "HTTPS://F.EXAMPLE/9KYA3C": 1, "https://f.example/9kya3c": 1, "Https://F.Example/CKWB6V": 2,
		spareOn: 2, "HTTPS://F.EXAMPLE/" + spareOn: 2, "8G ADD 0.8G RDSKJF": 3, "2.5g rdskjf": 3, "RDSKJF": 3,
	} {
		m, err := w.Find(text)
		if err != nil || m.Number != number || m.ID != autumn()[number-1] || m.Batch != "autumn" || m.Pattern != "Sedge waggler" || m.Rating != "8 g" {
			t.Errorf("%q: %+v, %v", text, m, err)
		}
		if on := strings.Contains(text, spareOn); on != (m.Spare == spareOn) {
			t.Errorf("%q: spare %q", text, m.Spare)
		}
	}
	for _, c := range []struct {
		text  string
		class fault.Class
		says  string
	}{
		{"HTTPS://ELSEWHERE.EXAMPLE/9KYA3C", fault.Input, `the code says "HTTPS://ELSEWHERE.EXAMPLE/9KYA3C"`},
		{"HTTPS://F.EXAMPLE.ELSEWHERE.EXAMPLE/9KYA3C", fault.Input, "the code says"},
		{"HTTPS://F.EXAMPLE@ELSEWHERE.EXAMPLE/9KYA3C", fault.Input, "the code says"},
		{"HTTP://F.EXAMPLE/9KYA3C", fault.Input, "the code says"},
		{"HTTPS://F.EXAMPLE/9KYA3C/MORE", fault.Input, "the code says"},
		{"HTTPS://F.EXAMPLE/9KYA3C?X=1", fault.Input, "the code says"},
		{"HTTPS://F.EXAMPLE/", fault.Input, "the code says"},
		{"HTTPS:///9KYA3C", fault.Input, "the code says"},
		{"WIFI:T:WPA;S:bench;P:secret;;", fault.Input, "no id, and no code that was printed here"},
		{strings.Repeat("words ", 400), fault.Input, "..."},
		{"", fault.Input, "0 characters"},
		{"HTTPS://F.EXAMPLE/QRW5D1", fault.NotFound, "no float bears the id QRW5D1"},
		{"QRW5D1", fault.NotFound, "no float bears the id QRW5D1"},
		{spareFree, fault.NotFound, "spare 2 of autumn, which is on no float yet"},
		{"HTTPS://F.EXAMPLE/" + spareFree, fault.NotFound, "on no float yet"},
	} {
		_, err := w.Find(c.text)
		faulty(t, err, c.class, c.says)
		if len(err.Error()) > 300 {
			t.Errorf("%.30q: a message of %d bytes", c.text, len(err.Error()))
		}
	}
	none, err := Open(filepath.Join(t.TempDir(), "none"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = none.Find("9KYA3C")
	faulty(t, err, fault.NotFound, "no float bears")
	_, err = none.Find("HTTPS://F.EXAMPLE/9KYA3C")
	faulty(t, err, fault.Input, "the code says")
}

// A slip names the floats and spares that may be meant, of this workshop alone.
func TestFindSuggests(t *testing.T) {
	w := tickShop(t)
	for text, want := range map[string]string{
		"9KYA3D": "did you mean 9KYA3C (float 1 of autumn)?", "9KY3AC": "did you mean 9KYA3C (float 1 of autumn)?", "9kya 3": "did you mean 9KYA3C (float 1 of autumn)?",
		"CKWBGV": "did you mean CKWB6V (float 2 of autumn)?", "JPPHEH": "did you mean JPPHHE (float 2 of autumn)?", "TPBMDS": "did you mean TP8MDS (spare 2 of autumn)?",
	} {
		_, err := w.Find(text)
		var e *fault.Error
		if !errors.As(err, &e) || e.Class != fault.Input || e.Do != want {
			t.Errorf("%s: %v, %q; want %q", text, err, e.Do, want)
		}
	}
	_, err := w.Find("QRW5D2") // one off QRW5D1, which is nobody's here
	var e *fault.Error
	if !errors.As(err, &e) || strings.Contains(e.Do, "did you mean") {
		t.Errorf("%v", err)
	}
}

func TestPhotographTakesTooLong(t *testing.T) {
	shop, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	ctx, stop := context.WithTimeout(t.Context(), 10*time.Millisecond)
	defer stop()
	_, err = shop.PhotoCode(ctx, slow{ctx})
	if !errors.Is(err, context.DeadlineExceeded) || time.Since(start) > 5*time.Second {
		t.Errorf("%v after %v", err, time.Since(start))
	}
}

// slow gives a byte now and then, for ever.
type slow struct{ ctx context.Context }

func (s slow) Read(p []byte) (int, error) {
	time.Sleep(time.Millisecond)
	p[0] = 0xff
	return 1, nil
}
