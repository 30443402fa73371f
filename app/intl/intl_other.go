//go:build !js

package intl

import (
	"ferrule/core/text"
	"ferrule/core/units"
)

// Use changes nothing away from a browser.
func Use() {}

// Load does nothing away from a browser: there a program carries all words.
func Load(text.Language) {}

// Language is English away from a browser.
func Language() string { return string(pick(nil)) }

// System is imperial away from a browser.
func System() units.System { return SystemOf(pick(nil), nil) }
