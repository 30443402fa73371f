package frame_test

import (
	"fmt"

	"ferrule/core/frame"
)

// Right is positive for everybody. What a left-hander measures is mirrored before it
// is computed with, and mirrored back.
func ExampleHand_Mirror() {
	offline := 8. // [m] right of the target
	fmt.Println(frame.Right.Mirror(offline), frame.Left.Mirror(offline), frame.Left.Mirror(frame.Left.Mirror(offline)))
	// Output:
	// 8 -8 8
}
