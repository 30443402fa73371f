package shotfile

import (
	"strings"

	"ferrule/core/typed"
)

// row is one line of data with the block it stands in: a run of lines under
// one header or one title.
type row struct {
	line
	block int
	title string // the last title above it, inside the table
}

// section is all the data under headers that read alike.
type section struct {
	names, units []string
	headLine     int
	labels       []bool // columns of a person's own words, where "std" or "max" is no summary
	rows         []row
}

// maxSections bounds the different headers of one file.
const maxSections = 64

// sections takes a grid apart: headers, units, titles and averages between the
// shots. Headers that repeat continue their section in a new block, so that
// each session of a file can be judged by itself.
func (r *reader) sections(g grid) []*section {
	var out []*section
	byHead := map[string]*section{}
	var now *section
	block, summaries, before, repeats := 0, 0, 0, 0
	title := ""
	seen := map[string]head{} // headers by their first line: files repeat them
	for i := 0; i < len(g.lines); i++ {
		l := g.lines[i]
		full := filled(l.cells)
		if full == 0 || strings.HasPrefix(l.cells[0], "#") && full == 1 && len(l.cells[0]) > 1 {
			continue
		}
		if now != nil && mostlyNumbers(l.cells, full) { // the usual line, judged quickly
			if isSummary(l.cells, now.labels) {
				summaries++
			} else {
				now.rows = append(now.rows, row{l, block, title})
			}
			continue
		}
		if texty(l) && (full > 1 || len(l.cells) == 1) {
			raw := strings.Join(l.cells, "\x00")
			h, ok := seen[raw]
			if ok = ok && i+1 < len(g.lines) && mostlyNumbers(g.lines[i+1].cells, filled(g.lines[i+1].cells)); ok {
				h.from, h.next = i, i+1
			} else if h, ok = r.lx.findHeader(g.lines, i); ok && h.next == i+1 && len(seen) < maxSections {
				seen[raw] = h // one line and no units: it reads the same each time above numbers
			}
			if ok {
				key := squeeze(strings.Join(h.names, "\x00") + "\x01" + strings.Join(h.units, "\x00"))
				if now = byHead[key]; now == nil && len(out) >= maxSections {
					r.note("the file has more than %d different headers; what stands under the others from line %d on is not read", maxSections, l.n)
					break
				} else if now == nil {
					now = &section{names: h.names, units: h.units, headLine: l.n, labels: r.lx.ownWords(h.names)}
					byHead[key] = now
					out = append(out, now)
				} else {
					repeats++
				}
				if len(out) == 1 && before > 0 && block == 0 {
					r.note("the header stands in line %d; the lines above it are passed over", l.n)
				}
				if h.units != nil && block == 0 {
					r.note("line %d holds the units", g.lines[h.next-1].n)
				}
				if h.next-h.from > 2 || h.next-h.from == 2 && h.units == nil {
					r.note("the header runs over lines %d and %d", l.n, g.lines[h.from+1].n)
				}
				block++
				i = h.next - 1
				continue
			}
		}
		switch {
		case now == nil:
			before++
		case isSummary(l.cells, now.labels):
			summaries++
		case isUnitRow(l.cells):
		case full == 1 && filled(now.names) > 2 && !isNumeric(firstFilled(l.cells)):
			title = typed.Fold(firstFilled(l.cells))
			block++
		default:
			now.rows = append(now.rows, row{l, block, title})
		}
	}
	if repeats > 0 {
		r.note("the header is repeated %d times", repeats)
	}
	if summaries > 0 {
		r.note("%d rows of averages or other summaries are left out", summaries)
	}
	return out
}

// ownWords marks the columns of settings, balls, tags and notes.
func (lx lexicon) ownWords(names []string) []bool {
	out := make([]bool, len(names))
	for i, n := range names {
		if ms, _, _ := lx.meaning(n); len(ms) > 0 {
			switch ms[0].role {
			case roleSetting, roleSleeve, roleWeight, roleBall, roleTag, roleNote, roleSession:
				out[i] = true
			}
		}
	}
	return out
}

// mostlyNumbers reports whether more than half of the filled cells begin with
// a digit or a sign: such a line is neither header, units nor title.
func mostlyNumbers(cells []string, full int) bool {
	n := 0
	for _, c := range cells {
		if c != "" && (c[0] >= '0' && c[0] <= '9' || len(c) > 1 && (c[0] == '-' || c[0] == '+') && c[1] >= '0' && c[1] <= '9') {
			n++
		}
	}
	return n*2 > full
}

func firstFilled(cells []string) string {
	for _, c := range cells {
		if c = strings.TrimSpace(c); c != "" {
			return c
		}
	}
	return ""
}

// isSummary reports whether a row is an average or the like: a summary word
// stands in one of its first filled cells, and the row is not a text of words.
func isSummary(cells []string, labels []bool) bool {
	seen := 0
	for i, c := range cells {
		if c = strings.TrimSpace(c); c == "" || i < len(labels) && labels[i] {
			continue
		}
		if len(c) < 40 && (c[0] < '0' || c[0] > '9') && summaryWords[squeeze(strings.TrimRight(c, ":"))] {
			return true
		}
		if seen++; seen == 3 {
			return false
		}
	}
	return false
}
