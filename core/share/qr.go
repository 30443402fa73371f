package share

import (
	"errors"
	"strconv"
	"strings"

	"rsc.io/qr/coding"
)

// errTooLongForCode says that a text does not fit into a code that a phone's
// camera reads off a screen or a sheet.
var errTooLongForCode = errors.New("share: the link is too long for a code; send it, or use the file")

// longestCode is the length [characters] above which a code's squares become
// too small to be read from a screen.
const longestCode = 1200

// QR draws text as a QR code (ISO/IEC 18004, error level L): the data of one
// SVG path in a square of size modules, its quiet margin of four included.
func QR(text string) (path string, size int, err error) {
	if len(text) > longestCode {
		return "", 0, errTooLongForCode
	}
	code, err := codeOf(text)
	if err != nil {
		return "", 0, errTooLongForCode
	}
	black := func(x, y int) bool {
		return x < code.Size && code.Bitmap[y*code.Stride+x/8]&(0x80>>(x%8)) != 0
	}
	const margin = 4
	var b strings.Builder
	for y := 0; y < code.Size; y++ {
		for x := 0; x < code.Size; x++ {
			if !black(x, y) {
				continue
			}
			run := 1
			for black(x+run, y) { // outside is white
				run++
			}
			n := strconv.Itoa(run)
			b.WriteString("M" + strconv.Itoa(x+margin) + " " + strconv.Itoa(y+margin) + "h" + n + "v1h-" + n + "z")
			x += run
		}
	}
	return b.String(), code.Size + 2*margin, nil
}

// codeOf is Encode of package rsc.io/qr, without the pictures that come with
// it: the smallest version that holds the text, as digits or capitals if it can.
func codeOf(text string) (*coding.Code, error) {
	var data coding.Encoding = coding.String(text)
	if coding.Num(text).Check() == nil {
		data = coding.Num(text)
	} else if coding.Alpha(text).Check() == nil {
		data = coding.Alpha(text)
	}
	v := coding.Version(coding.MinVersion)
	for data.Bits(v) > 8*v.DataBytes(coding.L) {
		if v++; v > coding.MaxVersion {
			return nil, errTooLongForCode
		}
	}
	plan, err := coding.NewPlan(v, coding.L, 0)
	if err != nil {
		return nil, err
	}
	return plan.Encode(data)
}

// QRSVG is the whole picture: black on white in every theme, since cameras
// want it so; label is said by screen readers.
func QRSVG(text, label string) (string, error) {
	path, size, err := QR(text)
	if err != nil {
		return "", err
	}
	n := strconv.Itoa(size)
	esc := strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;")
	return `<svg xmlns="http://www.w3.org/2000/svg" class="qr" role="img" aria-label="` + esc.Replace(label) + `" viewBox="0 0 ` + n + " " + n +
		`" width="` + strconv.Itoa(4*size) + `" height="` + strconv.Itoa(4*size) + `" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h` + n + "v" + n + `H0z"/><path fill="#000" d="` + path + `"/></svg>`, nil
}
