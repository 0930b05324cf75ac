package proof

import (
	"testing"

	"floatmark/label/symbol/scan"
)

// One pose: the picture alone, and with its reading.
func BenchmarkPicture(b *testing.B) {
	st, err := newStudio(onCone(b, 1, 0.3, 12, 3))
	if err != nil {
		b.Fatal(err)
	}
	poses := Poses(Casual)
	for i := 0; b.Loop(); i++ {
		st.picture(poses[i%len(poses)], 0)
	}
}

func BenchmarkPictureAndReading(b *testing.B) {
	st, err := newStudio(onCone(b, 1, 0.3, 12, 3))
	if err != nil {
		b.Fatal(err)
	}
	poses := Poses(Casual)
	for i := 0; b.Loop(); i++ {
		_, _ = scan.QR(st.picture(poses[i%len(poses)], 0)) // whether it reads is tested elsewhere
	}
}

// The look along single rays.
func BenchmarkForesee(b *testing.B) {
	st, err := newStudio(onCone(b, 1, 0.3, 12, 3))
	if err != nil {
		b.Fatal(err)
	}
	poses := Poses(Casual)
	for i := 0; b.Loop(); i++ {
		st.foresee(poses[i%len(poses)], 0)
	}
}

// A whole design for casual use: films, the look ahead and 32 pictures.
func BenchmarkProve(b *testing.B) {
	d := onCone(b, 1, 0.3, 18, 3)
	for b.Loop() {
		if v, err := Prove(b.Context(), d, Casual, nil); err != nil || v.Grade != Casual {
			b.Fatal(v.Grade, err)
		}
	}
}

// The making ready: the body's table and four films.
func BenchmarkStudio(b *testing.B) {
	d := onCone(b, 1, 0.3, 18, 3)
	for b.Loop() {
		if _, err := newStudio(d); err != nil {
			b.Fatal(err)
		}
	}
}
