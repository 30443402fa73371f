package sheet

import (
	"cmp"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"ferrule/core/chart"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// style is the whole style sheet of the sheet. On paper it is one page of A4
// or Letter: no width is fixed, no text is below 10 pt, and what only a screen
// has room for (.screen) is left away. On a screen its letters are as large as the
// reader has them. Black on white, one accent, tabular figures.
const style = `@page{margin:6mm 11mm}
*{box-sizing:border-box}
html{color-scheme:light}
body{margin:0 auto;padding:10px;max-width:190mm;font:.92rem/1.3 system-ui,sans-serif;color:#1b1e21;background:#fff;font-variant-numeric:tabular-nums}
li,dd{line-break:strict}:lang(ko){word-break:keep-all}
h1{font-size:1rem;margin:0}h2{font-size:.92rem;margin:0 0 .5mm;border-bottom:.3mm solid #1b1e21}
p,ul,dl{margin:0 0 1mm}ul{padding-left:4mm}li{margin:0 0 .3mm}
header{display:flex;justify-content:space-between;align-items:baseline;gap:4mm;border-bottom:.6mm solid #1b1e21;margin-bottom:2mm;flex-wrap:wrap}
.answer{font-size:1.67rem;line-height:1.1;font-weight:700;margin:0}
.degrees{color:#0b6b57;font-weight:600}
.columns{display:grid;grid-template-columns:1fr 1fr;gap:0 6mm}
section{break-inside:avoid;margin-bottom:2mm}
table{border-collapse:collapse;width:100%}
caption{text-align:left;font-weight:700}
th,td{text-align:left;padding:.3mm 1mm;border-bottom:.15mm solid #a9a7a0;vertical-align:top}
th{font-weight:600}
dl{display:grid;grid-template-columns:auto 1fr;gap:0 2mm}
dl div{display:contents}dt{color:#565c61}dd{margin:0;overflow-wrap:anywhere}
.cautions{border:.4mm solid #1b1e21;padding:1mm 2mm}
figure{margin:0 0 1mm;break-inside:avoid}svg{max-width:100%;height:auto;display:block}figure svg{width:100%}
footer{display:flex;gap:4mm;align-items:center;overflow-wrap:anywhere}footer span{flex:1}
@media print{body{padding:0;font-size:10pt;line-height:1.06;max-width:none}.screen{display:none}h1{font-size:11pt}h2{font-size:10pt}header{margin-bottom:.5mm}section,figure{margin-bottom:.4mm}p,ul,dl{margin-bottom:.2mm}.answer{font-size:18pt}.long{font-size:13pt}li{margin:0}th,td{padding:0 1mm}.wide tbody :is(th,td):not(:nth-child(3)){white-space:nowrap}.wide th:nth-child(3){width:38%}.wide caption{display:none}.wide :is(th,td):last-child,.wide tbody tr:last-child{display:none}.lead{margin:0}.cautions{padding:.4mm 2mm;margin:0}.cautions ul{columns:2;column-gap:6mm}.facts dl{columns:3;column-gap:4mm}.facts dl{display:block}.facts div{display:block;break-inside:avoid}.facts dt,.facts dd{display:inline}.facts .screen{display:none}li{break-inside:avoid}}
@media screen and (max-width:35rem){.columns{display:block}.wide tr{display:grid;grid-template-columns:1fr 1fr;border-bottom:.15mm solid #a9a7a0;padding:.5mm 0}.wide th,.wide td{border:0}.wide tbody th{grid-column:1/-1}.wide thead th:first-child{display:none}}
`

// HTML is the sheet of session s and its report r for reader to: one document
// that needs nothing else, holds no script, and prints on one page of A4 or Letter.
func HTML(s shot.Session, r report.Report, to text.Reader, o Options) string {
	c := Make(s, r, to, o)
	var b strings.Builder
	lang := cmp.Or(string(to.Language), "en")
	b.WriteString("<!doctype html>\n<html lang=\"" + chart.Escape(lang) + "\"><head><meta charset=\"utf-8\">" +
		"<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">" +
		"<meta name=\"referrer\" content=\"no-referrer\"><title>" + chart.Escape(c.Title+" – "+c.Answer) + "</title>\n<style>" + style + "</style></head>\n<body><main>\n")
	b.WriteString("<header>" + element("h1", "", c.Title) + element("span", "", c.Subtitle) + "</header>\n")
	own := "degrees"
	if c.Moves != "" { // what to change is enough on paper
		own += " screen"
	}
	lead := "<section class=\"lead\">" + element("p", named(c.Answer), c.Answer) + element("p", "degrees", c.Moves) + element("p", own, c.Degrees)
	verdict := c.Verdict
	if c.Headline != "" { // it says the same with its reason
		verdict = ""
	}
	said := element("p", "", c.Headline) + element("p", "", strings.TrimSpace(verdict+" "+c.Gain)) + "</section>\n"
	if c.Setting < 0 {
		b.WriteString(lead + said)
	} else {
		b.WriteString("<div class=\"columns\"><div>" + lead + "<figure>" + turn(s, r, c.Setting, to).SVG + "</figure>" + said + "</div><div><figure>" + plan(r, to).SVG + "</figure>" + section(to.Word("paper.expect"), c.Expect) + "</div></div>\n")
		b.WriteString("<section class=\"wide\">" + table(c.Compare, c.Answer) + "</section>\n")
		b.WriteString("<div class=\"columns\"><div>" + section(to.Word("paper.check"), c.Check) + "</div><div>" + section(to.Word("paper.again"), c.Again) + "</div></div>\n")
		b.WriteString("<div class=\"screen\">")
		for _, part := range []struct {
			word  string
			lines []string
		}{{"paper.why", c.Why}, {"paper.behind.title", c.Behind}, {"paper.nottried", c.NotTried}, {"paper.next.title", c.Next}} {
			b.WriteString(section(to.Word(part.word), part.lines))
		}
		b.WriteString("</div>\n")
	}
	b.WriteString(facts(c.Groups))
	b.WriteString("<section class=\"cautions\"><h2>" + chart.Escape(to.Word("paper.cautions")) + "</h2>" + items(c.Cautions) + "</section>\n")
	b.WriteString(footer(to, o) + "</main></body></html>\n")
	return b.String()
}

// named is the class of a setting's name: a long one is written smaller on paper,
// where all has to stand on one page.
func named(setting string) string {
	if long(setting) {
		return "answer long"
	}
	return "answer"
}

func long(setting string) bool { return utf8.RuneCountInString(setting) > 26 }

// facts are what is known of session and club.
func facts(groups []Group) string {
	var b strings.Builder
	for _, g := range groups {
		for _, f := range g.Fields {
			class := ""
			if f.Above {
				class = ` class="screen"`
			}
			b.WriteString("<div" + class + ">" + element("dt", "", f.Label) + " " + element("dd", "", f.Value) + "</div>")
		}
	}
	if b.Len() == 0 {
		return ""
	}
	return "<section class=\"facts\"><dl>" + b.String() + "</dl></section>\n"
}

// turn draws what the golfer does with the tool.
func turn(s shot.Session, r report.Report, choice int, to text.Reader) chart.Drawing {
	from, set := r.Settings[r.Reference].Setting, r.Settings[choice].Setting
	h := s.HeadOf(set)
	if from.Club != set.Club { // of another club: from how it is set itself
		from = h.Settings()[0]
	}
	return chart.Turn(chart.Move{Head: h, From: from, To: set, Hand: s.Player.Hand},
		chart.Style{ID: "turn", Width: drawn, Reader: to, Theme: &white, Print: true})
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

// table has its roles in words: on a phone a row is a grid of two columns, and
// a browser may then forget that it is a row. A long name of the advised setting is
// left out of its head on paper: it stands large above.
func table(t chart.Table, advised string) string {
	var b strings.Builder
	b.WriteString("<table role=\"table\">" + element("caption", "", t.Caption) + "<thead role=\"rowgroup\"><tr role=\"row\">")
	for _, h := range t.Head {
		h = chart.Escape(h)
		if long(advised) {
			h = strings.Replace(h, chart.Escape(advised), element("span", "screen", advised), 1)
		}
		b.WriteString("<th scope=\"col\" role=\"columnheader\">" + h + "</th>")
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

// plan is where the balls of before and after land.
func plan(r report.Report, to text.Reader) chart.Drawing {
	return chart.Patterns(r, r.Reference, r.Answer.Other, chart.Style{ID: "plan", Width: drawn, Reader: to, Theme: &white, Print: true})
}

// drawn is how wide a drawing is made [px]: half of a page is 344 px of A4, so
// that its letters of 12 px are 10 pt there.
const drawn = 296

// white is the light theme on white paper.
var white = func() chart.Theme { t := chart.Light; t.Paper = "#ffffff"; return t }()

// code is the picture of the link.
func code(to text.Reader, o Options) string {
	if o.QR == "" || o.QRSize <= 0 {
		return ""
	}
	return qr(o.QR, o.QRSize, to.Word("paper.qr"))
}

// moduleWidth is the width of a code's square on paper at which a phone still
// reads it (common practice, no source). [CSS px] 0.33 mm
const moduleWidth = 1.25

// qr draws a code whose path is ready, with its margin inside.
func qr(path string, size int, title string) string {
	n, wide := strconv.Itoa(size), strconv.Itoa(int(math.Round(moduleWidth*float64(size))))
	return "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"code\" role=\"img\" aria-label=\"" + chart.Escape(title) + "\" viewBox=\"0 0 " + n + " " + n +
		"\" width=\"" + wide + "\" height=\"" + wide + "\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h" + n + "v" + n + "H0z\"/><path fill=\"#000\" d=\"" + chart.Escape(path) + "\"/></svg>"
}

func footer(to text.Reader, o Options) string {
	var b strings.Builder
	b.WriteString("<footer>")
	b.WriteString(code(to, o))
	b.WriteString("<span>" + chart.Escape(to.Word("paper.made")))
	if o.Link != "" {
		b.WriteString(" <a href=\"" + chart.Escape(o.Link) + "\">" + chart.Escape(to.Word("paper.link")) + "</a>")
	}
	b.WriteString("</span></footer>\n")
	return b.String()
}
