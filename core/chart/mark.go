package chart

import (
	"math"
	"strconv"
	"strings"

	"ferrule/core/report"
)

// outlines are the shapes of marks, each around the middle with radius 1, all
// of about the same area so that none looks heavier.
var outlines = [][][2]float64{
	nil, // a circle
	{{-.88, -.88}, {.88, -.88}, {.88, .88}, {-.88, .88}},
	{{0, -1.25}, {1.12, .8}, {-1.12, .8}},
	{{0, -1.25}, {1.25, 0}, {0, 1.25}, {-1.25, 0}},
	{{0, 1.25}, {1.12, -.8}, {-1.12, -.8}},
	{{-1.35, -.58}, {1.35, -.58}, {1.35, .58}, {-1.35, .58}},
	{{-.58, -1.35}, {.58, -1.35}, {.58, 1.35}, {-.58, 1.35}},
	{{0, -1.4}, {.42, -.42}, {1.4, 0}, {.42, .42}, {0, 1.4}, {-.42, .42}, {-1.4, 0}, {-.42, -.42}},
}

// dashes tell lines apart.
var dashes = []string{"", "8 3", "2 3", "9 3 2 3", "5 2 1 2 1 2", "4 4"}

// color keeps the first of the series, which is ink, for the reference.
func (k key) color() role {
	if k.number == 1 {
		return series0
	}
	return series0 + 1 + role((k.number-2)%(Series-1))
}

func (k key) dash() string { return dashes[(k.number-1)%len(dashes)] }

func (k key) text() string { return strconv.Itoa(k.number) }

// mark draws the shape of key k at x, y. A hollow mark is filled with paper.
func (c *canvas) mark(k key, x, y, radius float64, hollow bool, attrs ...any) {
	fill := c.color(k.color())
	if hollow {
		fill = c.color(paper)
	}
	all := append([]any{"fill", fill, "stroke", c.color(k.color()), "stroke-width", 1.4}, attrs...)
	shape := outlines[(k.number-1)%len(outlines)]
	if shape == nil {
		c.el("circle", append([]any{"cx", x, "cy", y, "r", radius}, all...)...)
		return
	}
	var d strings.Builder
	for i, p := range shape {
		d.WriteByte("ML"[min(i, 1)])
		d.WriteString(num(x+p[0]*radius) + " " + num(y+p[1]*radius))
	}
	d.WriteByte('Z')
	c.el("path", append([]any{"d", d.String()}, all...)...)
}

// legend lists marks, numbers and labels from y on and returns the y below.
func (c *canvas) legend(r report.Report, ks []key, y float64, lines bool) float64 {
	const row = 24.0
	columns := 1
	if c.w >= 600 && len(ks) > 1 {
		columns = 2
	}
	wide := (c.w - 8) / float64(columns)
	c.open("class", "legend")
	for i, k := range ks {
		x := 6 + float64(i%columns)*wide
		at := y + row*float64(i/columns) + 12
		textAt := x + 22
		if lines {
			c.line(x, at, x+30, at, k.color(), 2, k.dash())
			c.mark(k, x+15, at, 4.2, false)
			textAt = x + 38
		} else {
			c.mark(k, x+8, at, 5, false)
		}
		name := k.text() + "  " + c.st.label(r.Settings[k.setting])
		if k.setting == r.Reference {
			name += " – " + c.st.Reader.Word("chart.reference")
		} else if !r.Settings[k.setting].Tested {
			name += " – " + c.st.Reader.Word("chart.predicted")
		}
		c.text(textAt, at+4, cut(name, wide-(textAt-x)-6, 12.5), "start", 12.5, ink)
		c.target(x+wide/2-4, at, wide-8, row, "data-setting", k.setting)
	}
	c.close()
	return y + row*math.Ceil(float64(len(ks))/float64(columns))
}

// Mark draws one setting's mark alone, as a key beside a row of a table: an
// svg of size px, hidden from screen readers because the label stands beside it.
func Mark(r report.Report, setting int, size float64, st Style) string {
	st.Only = []int{setting}
	ks := st.shown(r, nil)
	if len(ks) == 0 {
		return ""
	}
	c := newCanvas(st)
	c.mark(ks[0], size/2, size/2, size*0.33, false)
	var b strings.Builder
	write(&b, "svg", "xmlns", "http://www.w3.org/2000/svg", "class", "chart-mark", "viewBox", "0 0 "+num(size)+" "+num(size),
		"width", size, "height", size, "aria-hidden", "true", "focusable", "false")
	b.WriteByte('>')
	b.WriteString(c.b.String())
	b.WriteString("</svg>")
	return b.String()
}
