package act

import (
	"ferrule/core/shot"
	"ferrule/core/store"
)

// SessionFile is a session as one file, as the store keeps it. Files for other
// programs are written by package export.
func SessionFile(s shot.Session) ([]byte, error) { return store.Encode(s) }
