package chart

import (
	"strconv"
	"strings"
)

// PictureLine is a text of a Picture, broken into lines where it is long.
type PictureLine struct {
	Text   string
	Size   float64 // [px]
	Strong bool
}

// Picture stacks texts and drawings into one picture that needs nothing around
// it: what is sent where a page cannot be. It is st.Width wide, as its
// drawings are at most, and as high as it takes.
func Picture(above []PictureLine, drawings []Drawing, below []PictureLine, st Style) string {
	c := newCanvas(st)
	y := 20.0
	lines := func(all []PictureLine) {
		for _, l := range all {
			if l.Text == "" {
				continue
			}
			weight := "400"
			if l.Strong {
				weight = "700"
			}
			for _, t := range wrap(l.Text, c.w-32, l.Size, 6) {
				y += l.Size
				c.text(16, y, t, "start", l.Size, ink, "font-weight", weight)
				y += .35 * l.Size
			}
			y += 6
		}
	}
	lines(above)
	for _, d := range drawings {
		w, h := sizeOf(d.SVG)
		if w <= 0 {
			continue
		}
		c.b.WriteString(strings.Replace(d.SVG, "<svg ", `<svg x="`+num((c.w-w)/2)+`" y="`+num(y)+`" `, 1))
		y += h + 8
	}
	lines(below)
	c.h = y + 16
	return c.finish("picture", st.Reader.Word("paper.title"), "", Table{}).SVG
}

// sizeOf is the size of a finished drawing [px].
func sizeOf(svg string) (w, h float64) {
	_, box, _ := strings.Cut(svg, `viewBox="0 0 `)
	box, _, _ = strings.Cut(box, `"`)
	a, b, _ := strings.Cut(box, " ")
	w, _ = strconv.ParseFloat(a, 64)
	h, _ = strconv.ParseFloat(b, 64)
	return w, h
}
