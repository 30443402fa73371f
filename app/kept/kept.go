// Package kept writes what the page keeps apart from sessions, preferences
// and drafts, as JSON and reads it back. In the browser, the browser parses it.
package kept

import "ferrule/core/jsontext"

// Write returns v as JSON, the bytes of encoding/json.
func Write(v any) (string, error) {
	text, err := jsontext.Marshal(v)
	return string(text), err
}
