//go:build !js

package intl

import "ferrule/core/units"

// Use changes nothing away from a browser.
func Use() {}

// Language is English away from a browser.
func Language() string { return string(pick(nil)) }

// System is imperial away from a browser.
func System() units.System { return system(pick(nil), nil) }
