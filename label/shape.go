package label

import "floatmark/loading/body"

// Shape is the float's own shape where it was measured, else its pattern's; the
// zero Profile where it has no pattern.
func (f *Float) Shape() body.Profile {
	switch {
	case f.Measured:
		return f.Profile
	case f.Pattern == nil:
		return body.Profile{}
	}
	return f.Pattern.Profile
}
