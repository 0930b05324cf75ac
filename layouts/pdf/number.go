package pdf

import (
	"math"
	"strconv"
)

// tens are the powers of ten that numbers are counted in.
var tens = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7}

// appendNumber writes x with at most so many decimals and no useless zeros:
// short numbers pack far better.
func appendNumber(b []byte, x float64, decimals int) []byte {
	return appendFixed(b, fixed(x, decimals), decimals)
}

// fixed counts x in its last decimal, to the nearest.
func fixed(x float64, decimals int) int64 { return int64(math.Round(x * tens[decimals])) }

// appendFixed writes v units of the last decimal.
func appendFixed(b []byte, v int64, decimals int) []byte {
	if v < 0 {
		b, v = append(b, '-'), -v
	}
	for decimals > 0 && v%10 == 0 {
		v, decimals = v/10, decimals-1
	}
	if decimals == 0 {
		return strconv.AppendInt(b, v, 10)
	}
	ten := int64(tens[decimals])
	b = append(strconv.AppendInt(b, v/ten, 10), '.')
	rest := v % ten
	for ten /= 10; ten > 0; ten /= 10 {
		b = append(b, byte('0'+rest/ten%10))
	}
	return b
}

const hexDigits = "0123456789ABCDEF"

func appendHex(b []byte, v uint16) []byte {
	return append(b, hexDigits[v>>12], hexDigits[v>>8&15], hexDigits[v>>4&15], hexDigits[v&15])
}
