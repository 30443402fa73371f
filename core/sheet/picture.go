package sheet

import (
	"cmp"
	"strings"

	"ferrule/core/chart"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// Picture is the answer as one drawing (SVG) for a chat: the setting, what to
// turn, how sure, the two patterns. A report that names no setting gives "".
func Picture(s shot.Session, r report.Report, to text.Reader, o Options) string {
	c := Make(s, r, to, o)
	if c.Setting < 0 {
		return ""
	}
	said := cmp.Or(c.Headline, strings.TrimSpace(c.Verdict+" "+c.Gain))
	st := chart.Style{ID: "picture", Width: 400, Reader: to, Theme: &white, Print: true}
	above := []chart.PictureLine{{Text: c.Subtitle, Size: 12}, {Text: c.Answer, Size: 26, Strong: true}, {Text: c.Moves, Size: 14}, {Text: said, Size: 14}}
	below := []chart.PictureLine{{Text: to.Word("paper.expect.estimate"), Size: 12}, {Text: to.Word("paper.caution.rule"), Size: 12}}
	return chart.Picture(above, []chart.Drawing{turn(s, r, c.Setting, to), plan(r, to)}, below, st)
}
