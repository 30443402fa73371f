package browsertest

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// printed is what a PDF shows: pages, and every run of letters on them.
type printed struct {
	pages  int
	w, h   float64 // [pt] of the page
	runs   []run
	shapes int
}

// run is letters written at one place.
type run struct {
	x, y float64 // [pt] where it begins, from the lower left
	size float64 // [pt] of the letters as they stand on the paper
	clip [4]float64
}

// readPDF reads what a browser writes when it prints (PDF 32000-1, sections 7.3,
// 8.3, 8.5.4 and 9.4): pages, matrices, clips of rectangles, sizes of text. It
// reads no more of PDF than that.
func readPDF(t *testing.T, pdf []byte) printed {
	t.Helper()
	p := printed{pages: len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(pdf, -1))}
	if box := regexp.MustCompile(`/MediaBox\s*\[\s*0 0 ([0-9.]+) ([0-9.]+)`).FindSubmatch(pdf); box != nil {
		p.w, _ = strconv.ParseFloat(string(box[1]), 64)
		p.h, _ = strconv.ParseFloat(string(box[2]), 64)
	}
	for _, m := range regexp.MustCompile(`(?s)<<([^<>]*(?:<<[^<>]*>>[^<>]*)*)>>\s*stream\r?\n`).FindAllSubmatchIndex(pdf, -1) {
		head := string(pdf[m[2]:m[3]])
		if !strings.Contains(head, "/FlateDecode") || strings.Contains(head, "/Image") || strings.Contains(head, "/Length1") {
			continue
		}
		body := pdf[m[1]:]
		r, err := zlib.NewReader(bytes.NewReader(body))
		if err != nil {
			continue
		}
		text, _ := io.ReadAll(r)
		if bytes.Contains(text, []byte(" Tf")) || bytes.Contains(text, []byte(" re")) && bytes.Contains(text, []byte(" cm")) {
			p.content(string(text))
		}
	}
	return p
}

type matrix [6]float64

func (a matrix) then(b matrix) matrix { // first a, then b
	return matrix{a[0]*b[0] + a[1]*b[2], a[0]*b[1] + a[1]*b[3], a[2]*b[0] + a[3]*b[2], a[2]*b[1] + a[3]*b[3], a[4]*b[0] + a[5]*b[2] + b[4], a[4]*b[1] + a[5]*b[3] + b[5]}
}

func (a matrix) at(x, y float64) (float64, float64) {
	return a[0]*x + a[2]*y + a[4], a[1]*x + a[3]*y + a[5]
}

// content follows one content stream.
func (p *printed) content(text string) {
	type state struct {
		m    matrix
		clip [4]float64
		size float64
	}
	now := state{m: matrix{1, 0, 0, 1, 0, 0}, clip: [4]float64{0, 0, p.w, p.h}}
	var stack []state
	var nums []float64
	var path [][2]float64
	var tm matrix
	clipping := false
	for _, w := range regexp.MustCompile(`\((?:\\.|[^\\)])*\)|<[0-9A-Fa-f\s]*>|\[|\]|/[^\s\[\]<>(/]+|[^\s\[\]<>(/]+`).FindAllString(text, -1) {
		if v, err := strconv.ParseFloat(w, 64); err == nil {
			nums = append(nums, v)
			continue
		}
		last := func(n int) []float64 {
			if len(nums) < n {
				return make([]float64, n)
			}
			return nums[len(nums)-n:]
		}
		point := func(x, y float64) { a, b := now.m.at(x, y); path = append(path, [2]float64{a, b}) }
		switch w {
		case "[", "]":
			continue
		case "q":
			stack = append(stack, now)
		case "Q":
			if n := len(stack); n > 0 {
				now, stack = stack[n-1], stack[:n-1]
			}
		case "cm":
			now.m = matrix(last(6)).then(now.m)
		case "re":
			v := last(4)
			point(v[0], v[1])
			point(v[0]+v[2], v[1]+v[3])
		case "m", "l":
			v := last(2)
			point(v[0], v[1])
		case "c":
			v := last(6)
			point(v[4], v[5])
		case "W", "W*":
			clipping = true
		case "n", "f", "f*", "S", "s", "B", "B*", "b", "b*":
			if clipping && len(path) > 0 {
				lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
				for _, q := range path {
					for k := range 2 {
						lo[k], hi[k] = math.Min(lo[k], q[k]), math.Max(hi[k], q[k])
					}
				}
				c := &now.clip
				c[0], c[1], c[2], c[3] = math.Max(c[0], lo[0]), math.Max(c[1], lo[1]), math.Min(c[2], hi[0]), math.Min(c[3], hi[1])
			} else if len(path) > 0 {
				p.shapes++
			}
			path, clipping = nil, false
		case "BT":
			tm = matrix{1, 0, 0, 1, 0, 0}
		case "Tf":
			now.size = last(1)[0]
		case "Tm":
			tm = matrix(last(6))
		case "Td", "TD":
			v := last(2)
			tm = matrix{1, 0, 0, 1, v[0], v[1]}.then(tm)
		case "Tj", "TJ", "'":
			m := tm.then(now.m)
			x, y := m.at(0, 0)
			p.runs = append(p.runs, run{x, y, now.size * math.Hypot(m[2], m[3]), now.clip})
		}
		nums = nums[:0]
	}
}

// onOnePage (capitals are .7 of their size high: common practice, no source) says what is wrong with a printed sheet: more than a page, letters
// under 10 pt, letters outside of the paper or of what they are clipped to.
func (p printed) onOnePage() (wrong []string) {
	if p.pages != 1 {
		wrong = append(wrong, fmt.Sprintf("%d pages", p.pages))
	}
	if len(p.runs) < 40 {
		wrong = append(wrong, fmt.Sprintf("%d runs of letters: this read no sheet", len(p.runs)))
	}
	small, cut := 0, 0
	least := math.Inf(1)
	for _, r := range p.runs {
		if least = math.Min(least, r.size); r.size < 9.95 {
			small++
		}
		if up := .7 * r.size; r.x < math.Max(r.clip[0], 14)-.5 || r.x > math.Min(r.clip[2], p.w-14) || r.y < math.Max(r.clip[1], 8) || r.y+up > math.Min(r.clip[3], p.h-8)+.5 {
			cut++
		}
	}
	if small > 0 {
		wrong = append(wrong, fmt.Sprintf("%d of %d runs of letters are under 10 pt, the least %.1f", small, len(p.runs), least))
	}
	if cut > 0 {
		wrong = append(wrong, fmt.Sprintf("%d of %d runs of letters are cut off", cut, len(p.runs)))
	}
	return wrong
}
