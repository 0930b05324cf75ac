package stock

// Medium says how what is printed gets onto the body, and with that in which
// order it is done and which way round the sheet is printed.
type Medium int

// The media.
const (
	NoMedium     Medium = iota // card and paper: nothing of it goes on a float
	Waterslide                 // film that is soaked and slid off its paper
	Vinyl                      // self-adhesive: peeled and pressed on
	Tissue                     // thin tissue stuck down with varnish, which makes it clear
	RubOn                      // film rubbed down from its carrier, face down
	SkinTransfer               // film with its own glue, laid face down and wetted from behind
	ByHand                     // no film: words painted or written by a paper jig
)

// Media returns every medium by which marks go on floats, in a stated order.
func Media() []Medium { return []Medium{Waterslide, Vinyl, Tissue, RubOn, SkinTransfer, ByHand} }

// String returns the medium in plain words: "rub-on".
func (m Medium) String() string {
	switch m {
	case NoMedium:
		return "none"
	case Waterslide:
		return "waterslide"
	case Vinyl:
		return "sticker"
	case Tissue:
		return "tissue"
	case RubOn:
		return "rub-on"
	case SkinTransfer:
		return "skin-transfer"
	case ByHand:
		return "by-hand"
	}
	return "unknown"
}

// MarshalText gives the medium in plain words to JSON.
func (m Medium) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// Mirrored reports whether the sheet is printed mirrored left to right: what is
// put on with its printed face to the body is seen from its back.
func (m Medium) Mirrored() bool { return m == RubOn || m == SkinTransfer }

// ForMarks reports whether marks can be ordered on it: film, stickers, and by
// hand.
func (s Stock) ForMarks() bool { return s.Medium != NoMedium }

// ForCards reports whether backers can be printed on it: card and paper.
func (s Stock) ForCards() bool { return s.Medium == NoMedium }

// By returns the stock as one that goes on a body by another medium, and bears what
// the built-in stocks of that medium do; ok is false where one of the two has
// nothing to be laid on a body, or no sheet.
func (s Stock) By(m Medium) (other Stock, ok bool) {
	if !s.ForMarks() || s.Sheetless() || m == NoMedium || m == ByHand {
		return Stock{}, false
	}
	if s.Medium == m {
		return s, true
	}
	for _, one := range materials() {
		if one.medium == m {
			s.Medium, s.Kind, s.Bears = m, one.kind, one.bears
			return s, true
		}
	}
	return Stock{}, false
}

// Sheetless reports whether there is nothing to print on: marks by hand.
func (s Stock) Sheetless() bool { return s.Medium == ByHand }
