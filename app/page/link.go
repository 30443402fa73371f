package page

import (
	"strconv"
	"strings"

	"rsc.io/qr"

	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
)

// makeLink packs a session and its answer into the text of a link.
func makeLink(s shot.Session, r report.Report, names bool) (string, error) {
	return share.Encode(s, &r, share.Options{Names: names})
}

// openLink opens the text of a link.
func openLink(text string) (share.Link, error) { return share.Decode(text) }

// longestCode is the length [characters] above which a code has too many
// squares to be scanned from a phone's screen; common practice, no source.
const longestCode = 1400

// makeQR draws a link as a code, one SVG path; empty when it is too long.
func makeQR(link string) string {
	if len(link) > longestCode {
		return ""
	}
	code, err := qr.Encode(link, qr.L)
	if err != nil {
		return ""
	}
	const quiet = 4 // modules of white around it, as the standard asks
	size := strconv.Itoa(code.Size + 2*quiet)
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + size + " " + size + `" role="img" aria-label="QR" shape-rendering="crispEdges"><rect width="` + size + `" height="` + size + `" fill="#fff"/><path fill="#000" d="`)
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			if !code.Black(x, y) {
				continue
			}
			run := 1
			for x+run < code.Size && code.Black(x+run, y) {
				run++
			}
			n := strconv.Itoa(run)
			b.WriteString("M" + strconv.Itoa(x+quiet) + " " + strconv.Itoa(y+quiet) + "h" + n + "v1h-" + n + "z")
			x += run - 1
		}
	}
	b.WriteString(`"/></svg>`)
	return b.String()
}
