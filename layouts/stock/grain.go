package stock

// Grain says which way the fibres of a paper run, or a film was drawn. Paper bends
// more readily round an axis along its grain and lifts where it was bent across
// it: common practice, no source. So where the grain binds, a piece lies with the
// axis of its float along it.
type Grain int

// The grains, by the words of the paper trade.
const (
	FreeGrain  Grain = iota // it binds nothing: film, and paper whose grain is not known
	LongGrain               // along the height of the sheet, which lies upright
	ShortGrain              // across it
)

// Grains returns them in their order.
func Grains() []Grain { return []Grain{FreeGrain, LongGrain, ShortGrain} }

// String returns the grain as one word: "long".
func (g Grain) String() string {
	switch g {
	case FreeGrain:
		return "free"
	case LongGrain:
		return "long"
	case ShortGrain:
		return "short"
	}
	return "unknown"
}

// MarshalText gives the grain as one word to JSON.
func (g Grain) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// Binds reports whether pieces may not be turned freely.
func (g Grain) Binds() bool { return g == LongGrain || g == ShortGrain }

// Allows reports whether a piece may be turned by so many quarter turns.
func (g Grain) Allows(quarter int) bool {
	odd := quarter%2 != 0
	return !g.Binds() || odd == (g == ShortGrain)
}
