package nest

import (
	"fmt"
	"math"
	"testing"
)

// batchMix is the mix that layouts are compared on: sets of five ratings, each
// with six full sectors (upper radius, lower radius, slant of a frustum, mm) and
// four stem pieces (π·diameter + 1 of overlap, length, mm), and squares of 9 mm
// for codes on their own. 60 pieces are 1 set and 10 squares, 1,000 are 17 and 150.
func batchMix(sets, squares int) []Piece {
	var all []Piece
	for range sets {
		for _, r := range [][5]float64{{2, 4, 12, 2.5, 9}, {2, 5, 12, 3, 9}, {3, 6, 14, 3, 10}, {4, 8, 12, 4, 10}, {5, 9.5, 20, 5, 12}} {
			inner := r[0] * r[2] / (r[1] - r[0])
			for range 6 {
				all = append(all, sector(fmt.Sprint("float ", len(all)+1), inner, inner+r[2], 360*(r[1]-r[0])/r[2], every...))
			}
			for range 4 {
				all = append(all, box(fmt.Sprint("stem ", len(all)+1), math.Pi*r[3]+1, r[4], every...))
			}
		}
	}
	for range squares {
		all = append(all, box(fmt.Sprint("code ", len(all)+1), 9, 9, every...))
	}
	return all
}

func benchmarkPack(b *testing.B, o Options) {
	pieces := batchMix(17, 150)
	var r Report
	for b.Loop() {
		_, r = pack(b, pieces, nil, a4Sheet, o)
	}
	b.ReportMetric(100*r.Net(), "%net")
	b.ReportMetric(r.Sheets(a4Sheet), "sheets")
}

func BenchmarkQuick1000(b *testing.B)     { benchmarkPack(b, Options{Gap: 2, Quick: true}) }
func BenchmarkPortfolio1000(b *testing.B) { benchmarkPack(b, Options{Gap: 2}) }
func BenchmarkRows1000(b *testing.B) {
	pieces := batchMix(17, 150)
	var u Used
	for b.Loop() {
		var err error
		if _, u, err = Rows(pieces, a4, 5, 2); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(100*u.Net(), "%net")
	b.ReportMetric(u.Spent/(200*287), "sheets")
}
