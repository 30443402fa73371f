//go:build !js

package intl

// Use changes nothing away from a browser.
func Use() {}

// Language is English away from a browser.
func Language() string { return string(pick(nil)) }
