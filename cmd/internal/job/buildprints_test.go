package job

import (
	"testing"

	"floatmark/label/record"
)

// A print of some floats is in the list of those alone.
func TestFloatPrintOfSome(t *testing.T) {
	const all = `"floats":[{"number":3,"id":"2Y9F57","lines":["8 g"]},{"number":12,"id":"42BNPB","lines":["8 g"]}]`
	for _, c := range []struct {
		data, id string
		on       bool
	}{
		{`{` + all + `}`, "42BNPB", true},
		{`{"only":[3],` + all + `}`, "2Y9F57", true},
		{`{"only":[3],` + all + `}`, "42BNPB", false},
		{`{"only":[3,12],"from_ready":[12],` + all + `}`, "42BNPB", true},
		{`{` + all + `}`, "SWE3BD", false},
	} {
		if got, on, err := floatPrint(record.Print{Data: []byte(c.data)}, c.id); err != nil || on != c.on || on && len(got.Lines) != 1 {
			t.Errorf("%s of %s: %v, %v", c.id, c.data, on, err)
		}
	}
}
