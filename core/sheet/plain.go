package sheet

import (
	"strings"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// Plain is the sheet as text, for a message or a terminal.
func Plain(s shot.Session, r report.Report, to text.Reader, o Options) string {
	c := Make(s, r, to, o)
	var b strings.Builder
	line := func(parts ...string) {
		if t := strings.TrimSpace(strings.Join(parts, " ")); t != "" {
			b.WriteString(t + "\n")
		}
	}
	list := func(title string, lines []string) {
		if len(lines) == 0 {
			return
		}
		b.WriteString("\n" + title + "\n")
		for _, l := range lines {
			b.WriteString("- " + l + "\n")
		}
	}
	line(c.Title, "–", c.Subtitle)
	b.WriteByte('\n')
	line(c.Answer)
	line(c.Moves)
	line(c.Degrees)
	line(c.Headline)
	line(c.Verdict, c.Gain)
	for _, w := range c.Why {
		line("-", w)
	}
	if len(c.Compare.Rows) > 0 {
		b.WriteString("\n" + c.Compare.Caption + "\n")
		line(strings.Join(c.Compare.Head, " | "))
		for _, row := range c.Compare.Rows {
			line(strings.Join(row, " | "))
		}
	}
	list(to.Word("paper.expect"), c.Expect)
	list(to.Word("paper.behind.title"), c.Behind)
	list(to.Word("paper.nottried"), c.NotTried)
	list(to.Word("paper.next.title"), c.Next)
	list(to.Word("paper.check"), c.Check)
	list(to.Word("paper.again"), c.Again)
	list(to.Word("paper.cautions"), c.Cautions)
	for _, g := range c.Groups {
		b.WriteString("\n" + g.Title + "\n")
		for _, f := range g.Fields {
			line(f.Label + ": " + f.Value)
		}
	}
	if o.Link != "" {
		b.WriteString("\n" + to.Word("paper.link") + ": " + o.Link + "\n")
	}
	return b.String()
}
