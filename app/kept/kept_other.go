//go:build !js

package kept

import "encoding/json"

// Read fills what into points to; fields that the text does not name stay as they are. The
// error says why the text cannot be read; into may then be half filled.
func Read(text string, into any) error { return json.Unmarshal([]byte(text), into) }
