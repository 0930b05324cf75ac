package bench

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"mime/multipart"
	"net/http/httptest"
	"strings"
	"testing"

	"floatmark/label/symbol"
)

// A photograph of a code ticks its float off; one without a code is told.
func TestTickByPhotograph(t *testing.T) {
	a, ids := printed(t)
	m, err := symbol.QR("HTTPS://F.EXAMPLE/" + ids[1])
	if err != nil {
		t.Fatal(err)
	}
	const pixels = 8 // to a square
	shows := func(dark func(x, y int) bool) *bytes.Buffer {
		img := image.NewGray(image.Rect(0, 0, (m.N+2*quietEdge)*pixels, (m.N+2*quietEdge)*pixels))
		for y := range img.Rect.Dy() {
			for x := range img.Rect.Dx() {
				if !dark(x/pixels-quietEdge, y/pixels-quietEdge) {
					img.SetGray(x, y, color.Gray{Y: 255})
				}
			}
		}
		var body bytes.Buffer
		if err := png.Encode(&body, img); err != nil {
			t.Fatal(err)
		}
		return &body
	}
	send := func(picture *bytes.Buffer) *httptest.ResponseRecorder {
		var body bytes.Buffer
		form := multipart.NewWriter(&body)
		if err := form.WriteField("id", ""); err != nil {
			t.Fatal(err)
		}
		file, err := form.CreateFormFile("photo", "photo.png")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := file.Write(picture.Bytes()); err != nil {
			t.Fatal(err)
		}
		if err := form.Close(); err != nil {
			t.Fatal(err)
		}
		r := httptest.NewRequest("POST", Path+"b/26-11/tick/varnished", &body)
		r.Header.Set("Content-Type", form.FormDataContentType())
		return a.send(r)
	}
	if w := send(shows(m.Dark)); w.Code != 303 || !strings.HasSuffix(w.Header().Get("Location"), "?done="+ids[1]) {
		t.Errorf("%d %s", w.Code, text(w.Body.String()))
	}
	if w := send(shows(func(int, int) bool { return false })); w.Code != 422 || !strings.Contains(w.Body.String(), `role="alert"`) {
		t.Errorf("an empty picture: %d", w.Code)
	}
	if w := send(bytes.NewBufferString("no picture")); w.Code != 422 {
		t.Errorf("no picture: %d", w.Code)
	}
}
