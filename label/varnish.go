package label

// Varnish is how the last coat over a mark shines.
type Varnish int

// The varnishes. Satin is what is recommended over a code.
const (
	Satin Varnish = iota
	Matt
	Gloss
)

// VarnishNames lists the varnishes by name, in the order of their values.
func VarnishNames() []string { return []string{"satin", "matt", "gloss"} }
