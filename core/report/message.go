package report

import (
	"math"

	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Say is the message of a key and what fills its places.
func Say(key string, args ...Arg) Message { return Message{Key: key, Args: args} }

// Number is v [SI of d] with so many decimals, -1 = as d is usually shown.
func Number(v float64, d units.Dimension, digits int) Arg {
	return Arg{Form: message.FormNumber, Value: v, Dim: d, Digits: digits}
}

// Signed is Number with its sign always shown.
func Signed(v float64, d units.Dimension, digits int) Arg {
	return Arg{Form: message.FormSigned, Value: v, Dim: d, Digits: digits}
}

// Side is a length [m] to the right (positive) or the left.
func Side(v float64) Arg { return Arg{Form: message.FormSide, Value: v, Dim: units.Length, Digits: -1} }

// Percent is a share [1] in hundredths.
func Percent(p float64) Arg { return Arg{Form: message.FormPercent, Value: p} }

// Chance is how likely something is [1], in hundredths.
func Chance(p float64) Arg { return Arg{Form: message.FormChance, Value: p} }

// Marks is a chance or a share [1] as marks that can be counted, of Drives.
func Marks(p float64) int { return int(math.Round(Drives * math.Max(0, math.Min(1, p)))) }

// Count is a whole number.
func Count(n int) Arg { return Arg{Form: message.FormCount, Value: float64(n)} }

// Label is text as it is: the user's own.
func Label(s string) Arg { return Arg{Form: message.FormText, Text: s} }

// Quantity is the trade name of q.
func Quantity(q shot.Quantity) Arg { return Arg{Form: message.FormQuantity, Text: string(q)} }

// Gained is v in the unit u of a gain, with its unit.
func Gained(v float64, u Unit) Arg { return Arg{Form: message.FormWorth, Value: v, Text: string(u)} }
