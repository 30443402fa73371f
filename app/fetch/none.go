//go:build !(js && wasm)

package fetch

// Example is nothing where there is no browser.
func Example(string) []byte { return nil }
