package club

import "ferrule/core/units"

// What the rules allow, for checks and for the words of a caution. Every
// configuration of an adjustable club must conform, adjusting needs a tool,
// and no stroke may be made in a round with a club deliberately adjusted in
// it unless it is put back first [Rules4, 4.1a(3)].
const (
	RuleVolume          = 460e-6           // [m^3] of the head [RandA-Guide, ch. 7]
	RuleVolumeTolerance = 10e-6            // [m^3]
	RuleInertia         = 5900e-7          // [kg m^2] about the vertical axis [USGA-MOI]
	RuleInertiaMargin   = 100e-7           // [kg m^2] of the test
	RuleContact         = 239e-6           // [s] characteristic time [RandA-CT]
	RuleContactMargin   = 18e-6            // [s] of the test
	RuleLength          = 48 * units.Inch  // [m] of the club, putters apart [Rules2]
	RuleLengthLocal     = 46 * units.Inch  // [m] by an optional local rule since 2022
	RuleHeadWidth       = 5 * units.Inch   // [m] heel to toe [RandA-Guide, ch. 7]
	RuleHeadHeight      = 2.8 * units.Inch // [m] sole to crown
)

// LengthRule says how the club's length stands to the rules: "" within both
// limits or unknown, "local" above the optional local rule only, "over" above
// the limit for everybody.
func (h Head) LengthRule() string {
	switch {
	case h.Shaft.Length > RuleLength+1e-6:
		return "over"
	case h.Shaft.Length > RuleLengthLocal+1e-6:
		return "local"
	}
	return ""
}
