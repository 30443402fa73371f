package shotfile

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/typed"
)

// row is one line of data with the block it stands in: a run of lines under
// one header or one title.
type row struct {
	line
	block int
	title string // the last title above it, inside the table
	past  int    // summaries above it
}

// section is all the data under headers that read alike.
type section struct {
	names, units []string
	headLine     int
	labels       []byte // columns of a person's own words, where "std" or "max" is no summary; of remarks, where "average" is none either
	rows         []row
}

// maxSections bounds the different headers of one file.
const maxSections = 64

// outline is a grid as far as it is taken apart.
type outline struct {
	r      *reader
	g      grid
	common map[string]bool
	out    []*section
	byHead map[string]*section
	seen   map[string]head // headers by their first line: files repeat them
	now    *section

	block, summaries, repeats int
	title                     string
	above                     bool   // whether the line before was a title
	led                       int    // repeated headers with a title of their own
	headAt, passed            int    // where the first header stands, and the notes before it
	before                    int    // lines above the first header,
	lead                      string // the last of them, where it may be a title,
	leadAt                    int    // and its line
}

// sections takes a grid apart: headers, units, titles and averages between the
// shots. Headers that repeat continue their section in a new block, so that
// each session of a file can be judged by itself.
func (r *reader) sections(g grid) []*section {
	o := &outline{r: r, g: g, common: commonWords(g), byHead: map[string]*section{}, seen: map[string]head{}}
	for i := 0; i < len(g.lines); {
		l := g.lines[i]
		full := filled(l.cells)
		if full == 0 || strings.HasPrefix(l.cells[0], "#") && full == 1 && len(l.cells[0]) > 1 {
			i++
			continue
		}
		if o.now != nil && mostlyNumbers(l.cells, full) && !(len(l.cells) == 1 && isTitle(l.cells, full, o.now)) { // the usual line, judged quickly
			o.ball(l)
			i++
			continue
		}
		if texty(l) && (full > 1 || len(l.cells) == 1) {
			if h, ok := o.header(i); ok {
				i = o.under(h, l)
				continue
			}
		}
		o.other(l, full)
		i++
	}
	return o.close()
}

// ball takes a line of numbers: a shot, unless a word calls it a summary.
func (o *outline) ball(l line) {
	if isSummary(l.cells, o.now.labels, o.common) {
		o.summaries++
	} else {
		o.now.rows = append(o.now.rows, row{l, o.block, o.title, o.summaries})
	}
}

// header reports the header that begins in line i.
func (o *outline) header(i int) (head, bool) {
	lines := o.g.lines
	raw := strings.Join(lines[i].cells, "\x00")
	h, ok := o.seen[raw]
	if ok = ok && i+1 < len(lines) && mostlyNumbers(lines[i+1].cells, filled(lines[i+1].cells)); ok {
		h.from, h.next = i, i+1
	} else if h, ok = o.r.lx.findHeader(lines, i); ok && h.next == i+1 && len(o.seen) < maxSections {
		o.seen[raw] = h // one line and no units: it reads the same each time above numbers
	}
	return h, ok
}

// under begins a block under the header h, whose first line is l, and returns the
// place of the line to go on with.
func (o *outline) under(h head, l line) int {
	key := squeeze(strings.Join(h.names, "\x00") + "\x01" + strings.Join(h.units, "\x00"))
	if o.now = o.byHead[key]; o.now == nil && len(o.out) >= maxSections {
		o.r.note("the file has more than %d different headers; what stands under the others from line %d on is not read", maxSections, l.n)
		return len(o.g.lines)
	} else if o.now == nil {
		o.now = &section{names: h.names, units: h.units, headLine: l.n, labels: o.r.lx.ownWords(h.names)}
		o.byHead[key] = o.now
		o.out = append(o.out, o.now)
	} else {
		o.repeats++
	}
	if o.block > 0 && o.above {
		o.led++
	}
	if o.block == 0 {
		o.headAt, o.passed = l.n, len(o.r.table.Notes)
	}
	if h.units != nil && o.block == 0 {
		o.r.note("problem.unit-line", o.g.lines[h.next-1].n)
	}
	if h.next-h.from > 2 || h.next-h.from == 2 && h.units == nil {
		o.r.note("problem.header-runs", l.n, o.g.lines[h.from+1].n)
	}
	o.block++
	return h.next
}

// other takes a line that is neither a header nor mostly numbers.
func (o *outline) other(l line, full int) {
	o.above = false
	switch {
	case o.now == nil:
		o.before++
		if o.lead = ""; full == 1 {
			o.lead, o.leadAt = typed.Fold(firstFilled(l.cells)), l.n
		}
	case isSummary(l.cells, o.now.labels, o.common):
		o.summaries++
	case isUnitRow(l.cells) && !isTitle(l.cells, full, o.now): // "second" alone in its line is a title
	case isTitle(l.cells, full, o.now):
		o.title, o.above = typed.Fold(firstFilled(l.cells)), true
		o.block++
	default:
		o.now.rows = append(o.now.rows, row{l, o.block, o.title, o.summaries})
	}
}

// close says what was passed over, and gives the first title, which stands above
// the headers, to its rows.
func (o *outline) close() []*section {
	if o.lead != "" && (o.led > 0 || o.leadAt == o.headAt-1 && o.r.titles(o.out, o.lead)) { // titles stand above the headers: the first of them too
		o.before--
		entitle(o.out, o.lead)
	}
	if o.before > 0 && len(o.out) > 0 {
		o.r.table.Notes = slices.Insert(o.r.table.Notes, o.passed, message.Of("problem.header-at", o.headAt))
	}
	if o.repeats > 0 {
		o.r.note("problem.header-again", o.repeats)
	}
	if o.summaries > 0 {
		o.r.note("problem.summaries", o.summaries)
	}
	return o.out
}

// titles reports whether a line right above the header is one of those that
// stand between the rows and name settings.
func (r *reader) titles(secs []*section, lead string) bool {
	names := []string{lead}
	for _, s := range secs {
		for _, l := range s.rows {
			if l.title != "" && names[len(names)-1] != l.title {
				names = append(names, l.title)
			}
		}
	}
	for _, w := range strings.Fields(lead) {
		if listWords[squeeze(w)] { // "Session report"
			return false
		}
	}
	return len(names) > 1 && (settingNames(names) || r.mayBeSettings(names))
}

// entitle gives the rows before the first title between the rows the one above
// the header.
func entitle(secs []*section, title string) {
	until := math.MaxInt
	for _, s := range secs {
		for _, l := range s.rows {
			if l.title != "" {
				until = min(until, l.block)
			}
		}
	}
	for _, s := range secs {
		for i := range s.rows {
			if s.rows[i].block < until {
				s.rows[i].title = title
			}
		}
	}
}

// isTitle reports whether a line is a title inside a table: one cell where
// there are several columns, and no number; "+1 deg" is a name when it stands
// alone in its line.
func isTitle(cells []string, full int, now *section) bool {
	if full != 1 || filled(now.names) < 3 {
		return false
	}
	c := firstFilled(cells)
	return !isNumeric(c) || len(cells) == 1 && strings.ContainsFunc(c, func(r rune) bool { return unicode.IsLetter(r) || r == '°' })
}

// settingTitles reports whether the titles between the rows name settings: they
// differ, and none is a date, a session, a place, an outcome or a club.
func (r *reader) settingTitles(secs []*section) bool {
	var titles []string
	for _, s := range secs {
		for _, l := range s.rows {
			if l.title != "" && (len(titles) == 0 || titles[len(titles)-1] != l.title) {
				if strings.HasPrefix(strings.ToLower(l.title), "setting") {
					return false
				}
				titles = append(titles, l.title)
			}
		}
	}
	return settingNames(titles) || r.mayBeSettings(titles)
}

// mayBeSettings asks whether titles between the rows name settings, where they
// differ, none is a club, a session or a number of a list, and not all are words of
// places and outcomes.
func (r *reader) mayBeSettings(titles []string) bool {
	seen, decoys := map[string]int{}, 0
	for _, t := range titles {
		digits, word := apartFromDigits(t)
		if headsClub(t) || sessionWords[word] || listWords[word] || digits > 3 || word == "" {
			return false
		}
		if seen[t]++; decoyWords[squeeze(t)] && seen[t] == 1 {
			decoys++
		}
	}
	if len(seen) < 2 || len(seen) > 16 || decoys == len(seen) {
		return false
	}
	answer, _ := r.question(shot.Question{ID: "titles", Text: message.Of("problem.titles-settings", quoted3(seen)),
		Choices: []shot.Choice{{Value: "settings", Text: message.Of("problem.yes-settings")}, {Value: "none", Text: message.Of("problem.none-of-them")}}})
	return answer == "settings"
}

// sessionWords are what a column of sessions is headed by: "Session 2" between
// the rows is no setting.
var sessionWords = func() map[string]bool {
	out := map[string]bool{}
	for _, h := range headerTable {
		if h.role != roleSession {
			continue
		}
		for _, words := range h.words {
			for _, w := range strings.Split(words, "|") {
				out[squeeze(w)] = w != ""
			}
		}
	}
	return out
}()

// The columns of a person's own words: of names, and of remarks beside a ball.
const (
	ownNames   = 1
	ownRemarks = 2
)

// ownWords marks the columns of settings, balls, tags and notes.
func (lx lexicon) ownWords(names []string) []byte {
	out := make([]byte, len(names))
	for i, n := range names {
		if ms, _, _ := lx.meaning(n); len(ms) > 0 {
			switch ms[0].role {
			case roleSetting, roleSleeve, roleWeight, roleBall, roleSession:
				out[i] = ownNames
			case roleTag, roleNote:
				out[i] = ownRemarks
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
func isSummary(cells []string, labels []byte, common map[string]bool) bool {
	seen := 0
	for i, c := range cells {
		if c = strings.TrimSpace(c); c == "" || i < len(labels) && (labels[i] == ownRemarks || labels[i] == ownNames && !meanWords[squeeze(strings.TrimRight(c, ":"))]) {
			continue
		}
		if len(c) < 40 && (c[0] < '0' || c[0] > '9') && summaryWords[squeeze(strings.TrimRight(c, ":"))] && !common[squeeze(c)] {
			return true
		}
		if seen++; seen == 3 {
			return false
		}
	}
	return false
}

// commonWords are words of summaries that stand in a quarter of a grid's lines:
// a "Range" in every second row is a place.
func commonWords(g grid) map[string]bool {
	n := map[string]int{}
	for _, l := range g.lines {
		for _, c := range l.cells {
			switch c {
			case "Range", "range", "Total", "total", "Best", "best", "Count", "Media", "Medel", "Max", "Sum":
				n[squeeze(c)]++
			}
		}
	}
	out := map[string]bool{}
	for w, k := range n {
		out[w] = k >= 4 && k*4 >= len(g.lines)
	}
	return out
}
