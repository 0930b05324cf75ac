package batch

import (
	"fmt"
	"strings"

	"floatmark/loading/fault"
)

// list writes findings one a line, with their remedies.
func list(err error) string {
	var b strings.Builder
	for _, e := range fault.List(err) {
		fmt.Fprintf(&b, "%s -> %s\n", e.Error(), e.Do)
	}
	return b.String()
}
