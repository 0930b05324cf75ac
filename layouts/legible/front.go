package legible

import "math"

// FrontColumns returns the edges of the columns of a code that looks square from
// the front of a body of the given diameter: n+1 of them, mm from the code's
// middle, rising. A column whose edge is to appear x beside the middle lies
// r·asin(x/r) along the girth, put on the nearest whole dot. Only the symbol is
// widened so; its pale edge keeps its true length. It is nil when the code is so
// wide that its sides would turn more than 75 degrees from the phone, where
// nothing is seen of them.
func FrontColumns(n int, module, diameter, dot float64) []float64 {
	r := diameter / 2
	half := float64(n) * module / 2
	if !(half < r*math.Sin(steepestSide)) || !(dot > 0) {
		return nil
	}
	out := make([]float64, n+1)
	for i := range out {
		x := (float64(i) - float64(n)/2) * module
		out[i] = dot * math.Round(float64(r*math.Asin(x/r))/dot)
	}
	return out
}

const steepestSide = 75 * math.Pi / 180
