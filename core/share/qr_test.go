package share

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"rsc.io/qr"
)

// The path, painted, is the code: every module once, none besides.
func TestQRPathPaintsTheCode(t *testing.T) {
	for name, text := range map[string]string{
		"a link":                    "https://example.invalid/shared#s=" + strings.Repeat("aB3_", 225),
		"digits":                    "1234567890",
		"capitals":                  "CAPITALS 1:2",
		"a letter beyond ASCII":     "ü",
		"nothing":                   "",
		"as many digits as may be":  strings.Repeat("7", longestCode),
		"as many letters as may be": strings.Repeat("x", longestCode),
	} {
		t.Run(name, func(t *testing.T) {
			path, size, err := QR(text)
			if err != nil {
				t.Fatal(err)
			}
			painted := map[[2]int]bool{}
			for _, part := range strings.Split(strings.TrimSuffix(path, "z"), "z") {
				var x, y, run, back int
				if n, err := fmt.Sscanf(part, "M%d %dh%dv1h-%d", &x, &y, &run, &back); n != 4 || err != nil || run != back {
					t.Fatalf("part %q", part)
				}
				for i := range run {
					if painted[[2]int{x + i, y}] {
						t.Fatalf("%d, %d painted twice", x+i, y)
					}
					painted[[2]int{x + i, y}] = true
				}
			}
			code, _ := qr.Encode(text, qr.L)
			if size != code.Size+8 {
				t.Errorf("size %d of a code of %d", size, code.Size)
			}
			for y := -4; y < code.Size+4; y++ {
				for x := -4; x < code.Size+4; x++ {
					if painted[[2]int{x + 4, y + 4}] != code.Black(x, y) {
						t.Fatalf("module %d, %d is wrong", x, y)
					}
				}
			}
		})
	}
	if _, _, err := QR(strings.Repeat("x", longestCode+1)); !errors.Is(err, errTooLongForCode) {
		t.Errorf("too long: %v", err)
	}
	svg, err := QRSVG("https://example.invalid/", `a "code" & <more>`)
	if err != nil || !strings.Contains(svg, `aria-label="a &#34;code&#34; &amp; &lt;more&gt;"`) {
		t.Errorf("svg %.200s, %v", svg, err)
	}
}
