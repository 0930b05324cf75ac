// Package ident makes and reads the short identity of a float: six characters
// that are printed on the body, typed by hand and read out over a telephone.
//
// An identity is five characters of a 32-letter alphabet and one check
// character. It says nothing about the float: what it stands for is in the
// record. The package knows no store, no clock and no source of randomness;
// whether an identity is already taken is the caller's question, and the
// answer is the next attempt.
package ident

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"strings"

	"floatmark/loading/fault"
)

// Alphabet holds the 32 characters an identity is made of: the ten digits and
// the capitals without I, L, O and U. I, L and O look like 1 and 0 at a
// millimetre's height; without U few words come about by chance.
const Alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// Length is the number of characters of an identity, the check character
// included. Five characters of 32 give 33.5 million, far more than one
// workshop makes, and six fit the smallest code with a short link.
const Length = 6

// body is the length without the check character.
const body = Length - 1

// ID is an identity in its one written form: six capitals and digits, no
// spaces. Only Make and Parse give sound ones.
type ID string

// String returns the six characters.
func (id ID) String() string { return string(id) }

// domain keeps these identities apart from anything else that is ever worked
// out from the same key. Changing it changes every identity.
const domain = "floatmark identity 1"

// Make returns the identity of a float of a batch. The same key, batch, number
// and attempt always give the same one; attempt 0 is the first, and a caller
// that finds it taken asks for the next. Without the key nobody can tell one
// float's identity from another's.
//
// Roughly one draw in eight is passed over inside: what is never issued is
// told at Parse.
func Make(key []byte, batch string, number, attempt int) ID {
	// Each field has its length or a fixed width, so that no two sets of
	// fields are ever the same bytes.
	msg := make([]byte, 0, len(domain)+len(batch)+32)
	msg = append(msg, domain...)
	msg = binary.BigEndian.AppendUint64(msg, uint64(len(batch)))
	msg = append(msg, batch...)
	msg = binary.BigEndian.AppendUint64(msg, uint64(int64(number)))
	msg = binary.BigEndian.AppendUint64(msg, uint64(int64(attempt)))
	mac := hmac.New(sha256.New, key)
	for draw := uint32(0); ; draw++ {
		mac.Reset()
		mac.Write(msg)
		mac.Write(binary.BigEndian.AppendUint32(nil, draw))
		// 25 of the 256 bits: a power of two, so every identity is equally likely.
		bits := binary.BigEndian.Uint32(mac.Sum(nil))
		var five [body]byte
		for i := range five {
			five[i] = Alphabet[bits&31]
			bits >>= 5
		}
		if s := string(five[:]); issued(s) {
			return ID(s + string(Check(s)))
		}
	}
}

// Parse reads an identity as people write it: in either case, with the letter
// O for 0 and I or L for 1, with spaces or hyphens anywhere. After that it is
// strict: six characters of the alphabet with the right check character, else
// an Input error without a place.
//
// An identity is never issued, and so not read, if its check character would
// be outside the alphabet, or if changing two neighbours would give another
// sound one: MOD 37,36 catches every wrong character but misses about 0.14 %
// of such changes.
func Parse(s string) (ID, error) {
	const do = "copy the six characters from the float or its card"
	var six []byte
	for _, r := range strings.ToUpper(strings.TrimSpace(s)) {
		switch {
		case r == ' ' || r == '-':
			continue
		case r == 'O':
			r = '0'
		case r == 'I' || r == 'L':
			r = '1'
		case r > 'Z' || strings.IndexByte(Alphabet, byte(r)) < 0:
			return "", fault.Inputf(do, "%q has the character %q, which no id has", clip(s), r)
		}
		if len(six) == Length {
			return "", fault.Inputf(do, "%q has more than six characters", clip(s))
		}
		six = append(six, byte(r))
	}
	if len(six) < Length {
		return "", fault.Inputf(do, "%q has %d characters of the six of an id", clip(s), len(six))
	}
	id := string(six)
	if Check(id[:body]) != id[body] || !issued(id[:body]) {
		return "", fault.Inputf(do, "%q is not an id: a character is wrong, or two have changed places", clip(s))
	}
	return ID(id), nil
}

// clip keeps a pasted page out of an error message.
func clip(s string) string {
	const most = 24
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "..."
}

// issued reports whether an identity may begin with these five characters.
func issued(five string) bool {
	c := Check(five)
	if strings.IndexByte(Alphabet, c) < 0 {
		return false
	}
	six := []byte(five + string(c))
	for i := 0; i < body; i++ {
		if six[i] == six[i+1] {
			continue
		}
		six[i], six[i+1] = six[i+1], six[i]
		missed := Check(string(six[:body])) == six[body]
		six[i], six[i+1] = six[i+1], six[i]
		if missed {
			return false
		}
	}
	return true
}
