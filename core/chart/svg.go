package chart

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// canvas collects the body of one drawing.
type canvas struct {
	b    strings.Builder
	defs strings.Builder
	st   Style
	w, h float64
}

func newCanvas(st Style) *canvas { return &canvas{st: st, w: st.width()} }

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;")

// Escape makes text safe inside an element or a quoted attribute. Characters
// that XML forbids become U+FFFD, so that the drawing stays readable as XML.
func Escape(s string) string {
	return escaper.Replace(strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return 0xFFFD
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD")))
}

// num writes a coordinate with one decimal: a tenth of a pixel is finer than
// any screen, and the last bits of a float differ between machines.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', 1, 64)
	s = strings.TrimSuffix(s, ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

// write puts one element's opening with its attributes given as pairs of name
// and value (text or number), without closing it.
func write(b *strings.Builder, name string, attrs ...any) {
	b.WriteByte('<')
	b.WriteString(name)
	for i := 0; i+1 < len(attrs); i += 2 {
		var v string
		switch x := attrs[i+1].(type) {
		case string:
			v = Escape(x)
		case float64:
			v = num(x)
		case int:
			v = strconv.Itoa(x)
		}
		b.WriteByte(' ')
		b.WriteString(attrs[i].(string))
		b.WriteString(`="`)
		b.WriteString(v)
		b.WriteByte('"')
	}
}

// el writes a closed element.
func (c *canvas) el(name string, attrs ...any) {
	write(&c.b, name, attrs...)
	c.b.WriteString("/>")
}

// open begins a group; close ends it.
func (c *canvas) open(attrs ...any) {
	write(&c.b, "g", attrs...)
	c.b.WriteByte('>')
}

func (c *canvas) close() { c.b.WriteString("</g>\n") }

// text writes s at x, y; anchor is "start", "middle" or "end".
func (c *canvas) text(x, y float64, s, anchor string, size float64, color role, attrs ...any) {
	all := append([]any{"x", x, "y", y, "font-size", size, "fill", c.color(color)}, attrs...)
	if anchor != "start" {
		all = append(all, "text-anchor", anchor)
	}
	write(&c.b, "text", all...)
	c.b.WriteByte('>')
	c.b.WriteString(Escape(s))
	c.b.WriteString("</text>")
}

// halo writes text with a rim of paper behind it, so that it is read over lines.
func (c *canvas) halo(x, y float64, s, anchor string, size float64, color role, attrs ...any) {
	c.text(x, y, s, anchor, size, color, append([]any{"stroke", c.color(paper), "stroke-width", 3.0,
		"paint-order", "stroke", "stroke-linejoin", "round"}, attrs...)...)
}

// label writes a text with a rim beside a point, in two lines where one is too
// short for it, on paper in as many as four.
func (c *canvas) label(x, y, room float64, s, anchor string, color role, attrs ...any) {
	most := 2
	if c.st.Print {
		s, most = broken(s, room, 12), 4
	}
	lines := wrap(s, room, 12, most)
	for i, l := range lines {
		c.halo(x, y+13*(float64(i)-float64(len(lines)-1)/2), l, anchor, 12, color, attrs...)
	}
}

// line draws a straight line; dash "" is solid.
func (c *canvas) line(x1, y1, x2, y2 float64, color role, width float64, dash string, attrs ...any) {
	all := []any{"x1", x1, "y1", y1, "x2", x2, "y2", y2, "stroke", c.color(color), "stroke-width", width}
	if dash != "" {
		all = append(all, "stroke-dasharray", dash)
	}
	c.el("line", append(all, attrs...)...)
}

// target lays a transparent square of at least 24 px over a mark.
func (c *canvas) target(x, y, w, h float64, attrs ...any) {
	if c.st.Print {
		return
	}
	w, h = math.Max(w, 24), math.Max(h, 24)
	c.el("rect", append([]any{"class", "tap", "x", x - w/2, "y", y - h/2, "width", w, "height", h,
		"fill", "transparent"}, attrs...)...)
}

// hatch defines a pattern of slanted lines and returns the fill that uses it.
func (c *canvas) hatch(name string, color role, gap float64) string {
	id := c.st.ID + "-" + name
	write(&c.defs, "pattern", "id", id, "width", gap, "height", gap, "patternUnits", "userSpaceOnUse",
		"patternTransform", "rotate(45)")
	c.defs.WriteByte('>')
	write(&c.defs, "line", "x1", 0, "y1", 0, "x2", 0, "y2", gap, "stroke", c.color(color), "stroke-width", 2.0)
	c.defs.WriteString("/></pattern>")
	return "url(#" + id + ")"
}

// clip defines a rectangle to clip to and returns the attribute's value.
func (c *canvas) clip(name string, x, y, w, h float64) string {
	id := c.st.ID + "-" + name
	write(&c.defs, "clipPath", "id", id)
	c.defs.WriteByte('>')
	write(&c.defs, "rect", "x", x, "y", y, "width", w, "height", h)
	c.defs.WriteString("/></clipPath>")
	return "url(#" + id + ")"
}

// finish wraps the body into one accessible svg element.
func (c *canvas) finish(class, title, summary string, table Table) Drawing {
	var b strings.Builder
	id := c.st.ID
	write(&b, "svg", "xmlns", "http://www.w3.org/2000/svg", "class", "chart "+class,
		"viewBox", "0 0 "+num(c.w)+" "+num(c.h), "width", c.w, "height", c.h,
		"role", "img", "aria-labelledby", id+"-title "+id+"-desc",
		"font-family", "system-ui, sans-serif", "font-size", 12.0, "fill", c.color(ink))
	b.WriteByte('>')
	write(&b, "title", "id", id+"-title")
	b.WriteString(">" + Escape(title) + "</title>\n")
	write(&b, "desc", "id", id+"-desc")
	b.WriteString(">" + Escape(summary) + "</desc>\n")
	if c.defs.Len() > 0 {
		b.WriteString("<defs>" + c.defs.String() + "</defs>\n")
	}
	if c.st.Theme != nil {
		write(&b, "rect", "width", c.w, "height", c.h, "fill", c.color(paper))
		b.WriteString("/>\n")
	}
	b.WriteString(c.b.String())
	b.WriteString("</svg>\n")
	table.Caption = title
	return Drawing{Title: title, Summary: summary, SVG: b.String(), Table: table}
}

// textWidth estimates the width of s [px]: sans-serif letters are a little
// over half their size wide on average, East Asian ones a full size.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case r >= 0x1100:
			w++
		case strings.ContainsRune("iljtfrI.,:;'|! ()", r):
			w += 0.36
		case strings.ContainsRune("mwMW—", r):
			w += 0.95
		default:
			w += 0.62
		}
	}
	return w * size
}

// cut shortens s to width px with an ellipsis.
func cut(s string, width, size float64) string {
	if textWidth(s, size) <= width {
		return s
	}
	rs := []rune(s)
	for len(rs) > 1 && textWidth(string(rs)+"…", size) > width {
		rs = rs[:len(rs)-1]
	}
	return strings.TrimRight(string(rs), " ,/") + "…"
}

// breakable cuts a text where a line may end: after spaces, and between
// Japanese letters, which have none. What closes a phrase, a small kana and a
// long vowel stay with the letter before them; Korean is broken at its spaces.
func breakable(s string) []string {
	var out []string
	start, before := 0, rune(0)
	for i, r := range s {
		japanese := r >= 0x3040 && r <= 0x30ff || r >= 0x4e00 && r <= 0x9fff
		ends := before == ' ' || japanese && before >= 0x3000 && !strings.ContainsRune("「『（〔", before) && !strings.ContainsRune("ぁぃぅぇぉっゃゅょァィゥェォッャュョー", r)
		if i > start && ends && r != ' ' {
			out, start = append(out, s[start:i]), i
		}
		before = r
	}
	return append(out, s[start:])
}

// broken marks where wrap may break a word that is wider than a line of width px,
// in as few parts as fit, of one length.
func broken(s string, width, size float64) string {
	var out []string
	for _, word := range strings.SplitAfter(strings.NewReplacer(" ", " \x00", "-", "-\x00").Replace(s), "\x00") {
		rs := []rune(strings.TrimSuffix(word, "\x00"))
		wide := func(part []rune) bool { return textWidth(strings.TrimSpace(string(part)), size) > width }
		for n := 1; n <= len(rs); n++ {
			parts := slices.Collect(slices.Chunk(rs, (len(rs)+n-1)/n))
			if n < len(rs) && slices.ContainsFunc(parts, wide) {
				continue
			}
			for _, p := range parts {
				out = append(out, string(p))
			}
			break
		}
	}
	return strings.Join(out, "\x00")
}

// wrap breaks s after spaces and hyphens, and between Japanese letters, into
// at most n lines of width px.
func wrap(s string, width, size float64, n int) []string {
	var lines []string
	line := ""
	for _, part := range strings.SplitAfter(strings.ReplaceAll(strings.Join(strings.Fields(s), " "), "-", "-\x00"), "\x00") {
		for _, word := range breakable(strings.TrimSuffix(part, "\x00")) {
			if line != "" && textWidth(strings.TrimRight(line+word, " "), size) > width && len(lines) < n-1 {
				lines, line = append(lines, strings.TrimRight(line, " ")), ""
			}
			line += word
		}
	}
	if line = strings.TrimRight(line, " "); line != "" {
		lines = append(lines, line)
	}
	for i := range lines {
		lines[i] = cut(lines[i], width, size)
	}
	return lines
}

// heading draws the title and returns the y below it.
func (c *canvas) heading(title string) float64 {
	y := 20.0
	for _, l := range wrap(title, c.w-12, 15.5, 3) {
		c.text(6, y, l, "start", 14, ink, "font-weight", "600")
		y += 18
	}
	return y - 4
}

// paragraph writes s broken into lines below y and returns the y below it.
func (c *canvas) paragraph(x, y, width float64, s string, size float64, color role) float64 {
	for _, l := range wrap(s, width, size, 6) {
		c.text(x, y, l, "start", size, color)
		y += size * 1.35
	}
	return y
}
