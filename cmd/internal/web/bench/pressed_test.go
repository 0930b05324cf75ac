package bench

import (
	"fmt"
	"net/http"
	"testing"
)

// A button that is pressed twice adds once and leads on; another form on the old
// version is refused as ever.
func TestPressedTwice(t *testing.T) {
	a := demo(t)
	on, floats := fmt.Sprint(a.draft().Version), a.draft().Doc.Len("float")
	add := []string{"version", on, "count", "3", "pattern", "rush", "rating", "2.5 g"}
	first := a.post(http.StatusSeeOther, "floats/add", add...)
	second := a.post(http.StatusSeeOther, "floats/add", add...)
	if n := a.draft().Doc.Len("float"); n != floats+3 || second.Header().Get("Location") != first.Header().Get("Location") {
		t.Errorf("%d floats were added; it led to %q and %q", n-floats, first.Header().Get("Location"), second.Header().Get("Location"))
	}
	a.post(http.StatusConflict, "floats/add", "version", on, "count", "2", "pattern", "rush", "rating", "2.5 g")
}
