package batch

import (
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/shot"
)

// Names that can be read two ways never resolve silently in a reading; what the
// remedy offers is read as it says.
func TestCountedShotIsNeverAmbiguous(t *testing.T) {
	c, _ := shot.ByKey("gb-modern")
	for _, good := range []string{"3AAA+2No4", "2 SSG", "1 x 2SSG", "BB"} {
		if _, err := countedShot(good, c); err != nil {
			t.Errorf("%q: %v", good, err)
		}
	}
	for _, bad := range []string{"2SSG", "3AAA+2SSG"} {
		_, err := countedShot(bad, c)
		if fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), "2SSG") {
			t.Fatalf("%q: %v", bad, err)
		}
		for i, offer := range strings.Split(fault.List(err)[0].Do, `"`) {
			if i%2 == 1 {
				if _, err := countedShot(offer, c); err != nil {
					t.Errorf("the remedy %q is refused: %v", offer, err)
				}
			}
		}
	}
	if _, err := countedShot("4 XYZ", c); fault.ClassOf(err) != fault.Input {
		t.Errorf("an unknown size: %v", err)
	}
}
