package sheet

import (
	"math"
	"strconv"
	"strings"

	"ferrule/core/chart"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// style is the whole style sheet of the printed page: A4 and Letter both hold
// it, since no width is fixed; black on white, one accent, tabular figures.
const style = `@page{margin:7mm 11mm}
*{box-sizing:border-box}
html{color-scheme:light}
body{margin:0 auto;padding:10px;max-width:190mm;font:9pt/1.32 system-ui,sans-serif;color:#1b1e21;background:#fff;font-variant-numeric:tabular-nums}
h1{font-size:11pt;margin:0}h2{font-size:9.5pt;margin:0 0 1mm;border-bottom:.3mm solid #1b1e21}
p,ul,dl{margin:0 0 1mm}ul{padding-left:4mm}li{margin:0 0 .3mm}
header{display:flex;justify-content:space-between;align-items:baseline;gap:4mm;border-bottom:.6mm solid #1b1e21;margin-bottom:2mm;flex-wrap:wrap}
.answer{font-size:19pt;line-height:1.15;font-weight:700;margin:0}
.degrees{font-size:10.5pt;color:#0b6b57;font-weight:600}
.columns{display:grid;grid-template-columns:1fr 1fr;gap:0 6mm}
.three{display:grid;grid-template-columns:1fr 1fr 1fr;gap:0 5mm}
section{break-inside:avoid;margin-bottom:2mm}
table{border-collapse:collapse;width:100%;font-size:8.5pt}
caption{text-align:left;font-weight:700;font-size:9.5pt}
th,td{text-align:left;padding:.35mm 1mm;border-bottom:.15mm solid #a9a7a0;vertical-align:top}
th{font-weight:600}
dl{display:grid;grid-template-columns:auto 1fr;gap:0 2mm;font-size:8pt}
dt{color:#565c61}dd{margin:0;overflow-wrap:anywhere}
.missing{color:#565c61;font-style:italic;border-bottom:.15mm dotted #565c61}
.cautions{border:.4mm solid #1b1e21;padding:1.5mm 2mm;font-size:8.5pt}
figure{margin:0;break-inside:avoid}.code{display:none}svg{max-width:100%;height:auto;display:block}
footer{font-size:8pt;color:#565c61;display:flex;gap:4mm;align-items:center;overflow-wrap:anywhere}
@media print{.code{display:block}body{padding:0;font-size:7pt;line-height:1.14;max-width:none}.answer{font-size:16pt}.degrees{font-size:9pt}h2,caption{font-size:8pt}table{font-size:7pt}th,td{padding:.2mm 1mm}td,tbody th{white-space:nowrap}dl,footer{font-size:6.6pt}.cautions{font-size:6.9pt;padding:.8mm 2mm}section{margin-bottom:1mm}.lead ul{columns:2;column-gap:6mm}figure{display:flex;gap:3mm;align-items:flex-start}figure svg{width:42mm}figure svg.code{width:36mm;height:36mm}footer svg{display:none}.cautions ul{columns:3;column-gap:6mm}dl{line-height:1.1}}
@media (max-width:560px){.columns,.three{display:block}body{font-size:11pt}dl,table,.cautions{font-size:10pt}.wide tr{display:grid;grid-template-columns:1fr 1fr;border-bottom:.15mm solid #a9a7a0;padding:.5mm 0}.wide th,.wide td{border:0}.wide tbody th{grid-column:1/-1}.wide thead th:first-child{display:none}}
`

// HTML is the sheet of session s and its report r for reader to: one document
// that needs nothing else, holds no script, and prints on A4 and Letter.
func HTML(s shot.Session, r report.Report, to text.Reader, o Options) string {
	c := Make(s, r, to, o)
	var b strings.Builder
	lang := string(to.Language)
	if lang == "" {
		lang = "en"
	}
	b.WriteString("<!doctype html>\n<html lang=\"" + chart.Escape(lang) + "\"><head><meta charset=\"utf-8\">" +
		"<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">" +
		"<meta name=\"referrer\" content=\"no-referrer\"><title>" + chart.Escape(c.Title+" – "+c.Answer) + "</title>\n<style>" + style + "</style></head>\n<body><main>\n")
	b.WriteString("<header>" + element("h1", "", c.Title) + element("span", "", c.Subtitle) + "</header>\n")
	b.WriteString("<section class=\"lead\">" + element("p", "answer", c.Answer) + element("p", "degrees", c.Moves) + element("p", "degrees", c.Degrees) +
		element("p", "", c.Headline) + element("p", "", strings.TrimSpace(c.Verdict+" "+c.Gain)) + items(c.Why) + "</section>\n")
	if c.Setting >= 0 {
		b.WriteString("<section class=\"wide\">" + table(c.Compare) + "</section>\n")
		b.WriteString("<div class=\"columns\"><div><figure>" + plan(r, c.Setting, to) + code(to, o, "code") + "</figure>" + section(to.Word("paper.check"), c.Check) + "</div><div>")
		for _, part := range []struct {
			word  string
			lines []string
		}{{"paper.expect", c.Expect}, {"paper.behind.title", c.Behind}, {"paper.nottried", c.NotTried}, {"paper.next.title", c.Next}, {"paper.again", c.Again}} {
			b.WriteString(section(to.Word(part.word), part.lines))
		}
		b.WriteString("</div></div>\n")
	}
	b.WriteString("<section class=\"cautions\"><h2>" + chart.Escape(to.Word("paper.cautions")) + "</h2>" + items(c.Cautions) + "</section>\n")
	b.WriteString("<div class=\"three\">")
	for i, g := range c.Groups {
		if i < len(c.Groups)-1 {
			b.WriteString(group(g, i == 1, c.Groups[len(c.Groups)-1]))
		}
	}
	b.WriteString("</div>\n" + footer(to, o) + "</main></body></html>\n")
	return b.String()
}

// element writes a text in a tag, and nothing for no text.
func element(tag, class, s string) string {
	if s == "" {
		return ""
	}
	if class != "" {
		return "<" + tag + " class=\"" + class + "\">" + chart.Escape(s) + "</" + tag + ">"
	}
	return "<" + tag + ">" + chart.Escape(s) + "</" + tag + ">"
}

func items(lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("<ul>")
	for _, l := range lines {
		b.WriteString(element("li", "", l))
	}
	b.WriteString("</ul>")
	return b.String()
}

func section(title string, lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	return "<section>" + element("h2", "", title) + items(lines) + "</section>"
}

// group writes fields as a list of terms; the short last group stands below
// the second one.
func group(g Group, withLast bool, last Group) string {
	var b strings.Builder
	b.WriteString("<section>")
	list := []Group{g}
	if withLast {
		list = append(list, last)
	}
	for _, g := range list {
		b.WriteString(element("h2", "", g.Title) + "<dl>")
		for _, f := range g.Fields {
			class := ""
			if f.Missing {
				class = "missing"
			}
			b.WriteString(element("dt", "", f.Label) + element("dd", class, f.Value))
		}
		b.WriteString("</dl>")
	}
	b.WriteString("</section>")
	return b.String()
}

// table has its roles in words: on a phone a row is a grid of two columns, and
// a browser may then forget that it is a row.
func table(t chart.Table) string {
	var b strings.Builder
	b.WriteString("<table role=\"table\">" + element("caption", "", t.Caption) + "<thead role=\"rowgroup\"><tr role=\"row\">")
	for _, h := range t.Head {
		b.WriteString("<th scope=\"col\" role=\"columnheader\">" + chart.Escape(h) + "</th>")
	}
	b.WriteString("</tr></thead><tbody role=\"rowgroup\">")
	for _, row := range t.Rows {
		b.WriteString("<tr role=\"row\">")
		for i, cell := range row {
			if i == 0 {
				b.WriteString("<th scope=\"row\" role=\"rowheader\">" + chart.Escape(cell) + "</th>")
			} else {
				b.WriteString("<td role=\"cell\">" + chart.Escape(cell) + "</td>")
			}
		}
		b.WriteString("</tr>")
	}
	b.WriteString("</tbody></table>")
	return b.String()
}

// plan is the landing plan of before and after alone: other settings would
// only hide the two that the sheet speaks of.
func plan(r report.Report, choice int, to text.Reader) string {
	only := []int{r.Reference}
	if choice != r.Reference {
		only = append(only, choice)
	}
	return chart.Landing(r, chart.Style{ID: "plan", Width: 320, Reader: to, Theme: &white, Print: true, Only: only}).SVG
}

// white is the light theme on white paper.
var white = func() chart.Theme { t := chart.Light; t.Paper = "#ffffff"; return t }()

// code is the picture of the link: on a screen below the sheet, on paper, where
// every line counts, beside the plan.
func code(to text.Reader, o Options, class string) string {
	if o.QR == "" || o.QRSize <= 0 {
		return ""
	}
	return qr(o.QR, o.QRSize, to.Word("paper.qr"), class)
}

// moduleWidth is the width of a code's square on paper at which a phone still
// reads it (common practice, no source). [CSS px] 0.33 mm
const moduleWidth = 1.25

// qr draws a code whose path is ready, with its margin inside.
func qr(path string, size int, title, class string) string {
	n, wide := strconv.Itoa(size), strconv.Itoa(int(math.Round(moduleWidth*float64(size))))
	return "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"" + class + "\" role=\"img\" aria-label=\"" + chart.Escape(title) + "\" viewBox=\"0 0 " + n + " " + n +
		"\" width=\"" + wide + "\" height=\"" + wide + "\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h" + n + "v" + n + "H0z\"/><path fill=\"#000\" d=\"" + chart.Escape(path) + "\"/></svg>"
}

func footer(to text.Reader, o Options) string {
	var b strings.Builder
	b.WriteString("<footer>")
	b.WriteString(code(to, o, ""))
	b.WriteString("<span>" + chart.Escape(to.Word("paper.made")))
	if o.Link != "" {
		b.WriteString(" <a href=\"" + chart.Escape(o.Link) + "\">" + chart.Escape(to.Word("paper.link")) + "</a>")
	}
	b.WriteString("</span></footer>\n")
	return b.String()
}
