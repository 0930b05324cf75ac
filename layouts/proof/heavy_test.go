package proof

import "os"

// heavy runs are asked for by FLOATMARK_HEAVY, as the checks before a landing do.
func heavy() bool { return os.Getenv("FLOATMARK_HEAVY") != "" }
