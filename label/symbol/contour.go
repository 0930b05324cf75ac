package symbol

// The four directions along an outline, clockwise on the page (y down).
const (
	right = iota
	down
	left
	up
	directions
)

var step = [directions][2]int{right: {1, 0}, down: {0, 1}, left: {-1, 0}, up: {0, -1}}

// Contour returns the outline of the dark squares as closed rings of corners,
// in whole squares from the top left corner of the code; a ring does not repeat
// its first corner. All rings together are one compound path: filled once by
// the non-zero rule (or the even-odd one) it is exactly the dark squares, with
// no seam between neighbours, as separate squares would leave on most screens
// and some printers.
//
// Rings round dark parts run clockwise on the page, rings round holes the other
// way. Where two dark squares meet only at a corner the rings touch there, and
// none crosses itself or another. The order is that of the rings' top left
// corners, row by row.
func (m Matrix) Contour() [][][2]int {
	// side holds, for every corner of the grid, the directions in which an edge
	// leaves it with a dark square on its right hand and a pale one on its left.
	w := m.N + 1
	side := make([][directions]bool, w*w)
	for y := range m.N {
		for x := range m.N {
			if !m.Dark(x, y) {
				continue
			}
			if !m.Dark(x, y-1) {
				side[y*w+x][right] = true
			}
			if !m.Dark(x+1, y) {
				side[y*w+x+1][down] = true
			}
			if !m.Dark(x, y+1) {
				side[(y+1)*w+x+1][left] = true
			}
			if !m.Dark(x-1, y) {
				side[(y+1)*w+x][up] = true
			}
		}
	}
	var rings [][][2]int
	for at := range side {
		for d := range directions {
			if side[at][d] {
				rings = append(rings, trace(side, w, at, d))
			}
		}
	}
	return rings
}

// trace walks one ring, taking its edges out of side, and returns its corners.
func trace(side [][directions]bool, w, at, d int) [][2]int {
	start, first := at, d
	ring := [][2]int{}
	for {
		side[at][d] = false
		at += step[d][1]*w + step[d][0]
		// Where two dark squares touch at a corner two edges leave; the turn to
		// the right stays with the same square.
		next := d
		for _, turn := range [...]int{1, 0, 3} {
			if side[at][(d+turn)%directions] {
				next = (d + turn) % directions
				break
			}
		}
		if at == start && !side[at][next] {
			if d != first {
				ring = append(ring, [2]int{at % w, at / w})
			}
			return ring
		}
		if next != d {
			ring = append(ring, [2]int{at % w, at / w})
		}
		d = next
	}
}
