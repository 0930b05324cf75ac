package ident

// The two moduli of ISO/IEC 7064, system MOD 37,36.
const (
	modulus = 36
	prime   = modulus + 1
)

// Check returns the check character of s by ISO/IEC 7064, hybrid system MOD
// 37,36: one of 0-9 and A-Z. s may have any length and all 36 characters; for
// an identity it is the five before the check character. A character outside
// 0-9 and A-Z makes it 0, the zero byte and not the digit.
func Check(s string) byte {
	p := modulus
	for i := 0; i < len(s); i++ {
		v, ok := value(s[i])
		if !ok {
			return 0
		}
		p = (p + v) % modulus
		if p == 0 {
			p = modulus
		}
		p = 2 * p % prime
	}
	return character((modulus + 1 - p) % modulus) // p and the check add to 1, modulo 36
}

// value is the standard's number of a character: digits first, then letters.
func value(c byte) (int, bool) {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0'), true
	case c >= 'A' && c <= 'Z':
		return int(c-'A') + 10, true
	}
	return 0, false
}

func character(v int) byte {
	if v < 0 {
		v += modulus
	}
	if v < 10 {
		return byte('0' + v)
	}
	return byte('A' + v - 10)
}
