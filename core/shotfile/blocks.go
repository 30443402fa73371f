package shotfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
)

// Blocks: runs of balls that were written alike. Units, signs and habits may
// change where the header repeats, a title stands, the session, the day, the
// player or the sheet changes, the clock stands still for long, or the numbers
// themselves change by a unit's factor.

// maxBlocks bounds how finely a file is judged; more blocks are one.
const maxBlocks = 200

// findBlocks cuts the rows into blocks and says why each begins.
func (p *part) findBlocks() {
	n := len(p.sec.rows)
	p.blockOf, p.why = make([]int, n), make([]string, n)
	var last [4]string
	clock := math.NaN()
	for i, l := range p.sec.rows {
		now := [4]string{strconv.Itoa(l.block)}
		at := math.NaN()
		for _, c := range p.cols {
			switch c.role {
			case roleSession:
				now[1] += "\x00" + cellOf(l.line, c.at)
			case roleTime:
				t := cellOf(l.line, c.at)
				now[2] += "\x00" + day(t)
				if m, ok := minutes(t); ok {
					at = m
				}
			case rolePlayer:
				now[3] += "\x00" + cellOf(l.line, c.at)
			}
		}
		switch {
		case i == 0:
			p.why[i] = "start"
		case now[2] != last[2]:
			p.why[i] = "day"
		case now[1] != last[1]:
			p.why[i] = "session"
		case now[3] != last[3]:
			p.why[i] = "player"
		case now[0] != last[0]:
			p.why[i] = "title"
		case math.Abs(at-clock) >= gapMinutes:
			p.why[i] = "gap"
		}
		last = now
		if !math.IsNaN(at) {
			clock = at
		}
	}
	p.jumps()
	p.cut()
}

// gapMinutes is a pause after which a device may be set up anew.
const gapMinutes = 45

// cut makes the blocks of the breaks.
func (p *part) cut() {
	p.blocks = nil
	for i := range p.sec.rows {
		if p.why[i] != "" {
			p.blocks = append(p.blocks, nil)
		}
		b := len(p.blocks) - 1
		p.blocks[b] = append(p.blocks[b], i)
		p.blockOf[i] = b
	}
	if len(p.blocks) > maxBlocks {
		clear(p.blockOf)
		p.blocks = [][]int{p.every()}
	}
}

// every are all rows.
func (p *part) every() []int {
	all := make([]int, len(p.sec.rows))
	for i := range all {
		all[i] = i
	}
	return all
}

// breakAt is why a block begins with row i.
func (p *part) breakAt(i int) string { return p.why[i] }

// minutes reads the time of day in a text: "10:32", "2026-05-01 2:32:05 PM".
func minutes(text string) (float64, bool) {
	t := strings.ToLower(typed.Fold(text))
	if v, err := strconv.ParseFloat(t, 64); err == nil && v > 20000 && v < 80000 { // a spreadsheet's serial day
		return math.Mod(v, 1) * 1440, v != math.Trunc(v)
	}
	k := strings.IndexByte(t, ':')
	if k < 1 {
		return 0, false
	}
	from := k
	for from > 0 && t[from-1] >= '0' && t[from-1] <= '9' {
		from--
	}
	h, err := strconv.Atoi(t[from:k])
	if err != nil || len(t) < k+3 {
		return 0, false
	}
	m, err := strconv.Atoi(t[k+1 : k+3])
	if err != nil || h > 24 || m > 59 {
		return 0, false
	}
	switch {
	case strings.Contains(t[k:], "pm") && h < 12, strings.Contains(t, "下午") && h < 12, strings.Contains(t, "午後") && h < 12, strings.Contains(t, "오후") && h < 12:
		h += 12
	case strings.Contains(t[k:], "am") && h == 12:
		h = 0
	}
	return float64(60*h + m), true
}

// Minutes reads the time of day in a shot's clock, in minutes since midnight.
func Minutes(clock string) (float64, bool) { return minutes(clock) }

// Setting is the setting that a text names: "sleeve / weight / weight".
func Setting(text string) club.Setting { return settingOf(text, "", nil) }

// jumps adds a break where the size of a speed, or of club against ball, or of
// carry against ball changes by the factor of another unit and stays there.
func (p *part) jumps() {
	ball, clubs, carry := p.columnOf(shot.BallSpeed), p.columnOf(shot.ClubSpeed), p.columnOf(shot.Carry)
	ratio := func(a, b *column) func(i int) float64 {
		return func(i int) float64 {
			if a == nil || a.read[i] != cellRead || a.v[i] <= 0 || a.si[i] {
				return math.NaN()
			}
			if b == nil {
				return math.Log(a.v[i])
			}
			if b.read[i] != cellRead || b.v[i] <= 0 || b.si[i] {
				return math.NaN()
			}
			return math.Log(a.v[i] / b.v[i])
		}
	}
	least := .4
	if len(p.clubs) > 0 {
		least = .44 // clubs of different lengths make steps of their own
	}
	sizes := []func(i int) float64{ratio(ball, nil), ratio(clubs, nil), ratio(carry, nil)}
	for _, of := range []func(i int) float64{sizes[0], sizes[1], ratio(clubs, ball), ratio(carry, ball)} {
		last, before := math.NaN(), 0
		for i := range p.sec.rows {
			v := of(i)
			if math.IsNaN(v) {
				continue
			}
			if math.Abs(v-last) > least/2 && p.why[i] == "" && p.jump(of, i, least) {
				at := i
				for k := i - 1; k > before; k-- { // rows without this number may be after the change already
					if slices.ContainsFunc(sizes, func(of func(i int) float64) bool { return math.Abs(of(k)-of(before)) > least/2 }) {
						at = k
					}
				}
				p.why[at] = "units"
			}
			last, before = v, i
		}
	}
}

// jump reports whether the medians before and after row i, up to the next breaks
// or of eight balls, differ by more than least, with no ball of either side
// nearer to the other's.
func (p *part) jump(of func(i int) float64, i int, least float64) bool {
	const span = 8
	var before, after []float64
	for k := i - 1; k >= 0 && len(before) < span; k-- {
		if v := of(k); !math.IsNaN(v) {
			if n := len(before); n > 0 && math.Abs(v-before[n-1]) > least/2 {
				break // another jump
			}
			before = append(before, v)
		}
		if p.why[k] != "" {
			break
		}
	}
	for k := i; k < len(p.sec.rows) && len(after) < span && (k == i || p.why[k] == ""); k++ {
		if v := of(k); !math.IsNaN(v) {
			if n := len(after); n > 0 && math.Abs(v-after[n-1]) > least/2 {
				break
			}
			after = append(after, v)
		}
	}
	if len(before) < 3 || len(after) < 3 {
		return false
	}
	a, b := robust.Median(before), robust.Median(after)
	step := math.Abs(a - b)
	for _, v := range before {
		if math.Abs(v-a) >= step/2 {
			return false
		}
	}
	for _, v := range after {
		if math.Abs(v-b) >= step/2 {
			return false
		}
	}
	return step > least
}

// averages marks rows of averages that no word announces: most of their numbers
// are the means of their block, of the rows since the last one, or of all before it. Half of them
// do where a word says it in a column of people's own words. Two or three numbers do
// where a word says it or cells of the row are empty that are filled in nearly all others; else
// they are asked about.
func (p *part) averages() {
	type sums struct{ total, square, n float64 }
	cols := []*column{}
	for _, c := range p.cols {
		if c.quantity != "" {
			cols = append(cols, c)
		}
	}
	if len(cols) < 2 {
		return
	}
	poor := p.poorRows()
	every, since, run := make([]sums, len(cols)), make([]sums, len(cols)), make([]sums, len(cols)) // of all rows, of the block, since the last average
	count, rowsSince, rowsRun, block := 0, 0, 0, -1
	p.out = make([]bool, len(p.sec.rows))
	found := 0
	means := func(s []sums, i int, sd bool) bool {
		same, told := 0, 0
		for k, c := range cols {
			if c.read[i] != cellRead || s[k].n < 2 {
				continue
			}
			m := s[k].total / s[k].n
			spread := math.Sqrt(math.Max(0, s[k].square/s[k].n-m*m))
			if spread < 1e-9*math.Abs(m) || spread == 0 {
				continue
			}
			if sd {
				m = spread * math.Sqrt(s[k].n/math.Max(1, s[k].n-1))
			}
			told++
			if !c.si[i] && math.Abs(c.v[i]-m) > 1 && !sd { // farther than any digit leaves room for
				continue
			}
			room := decimal(cellOf(p.sec.rows[i].line, c.at)) + 1e-9
			if w := c.written(p.sec.rows[i].line, i); w != 0 {
				room *= c.v[i] / w
			}
			if math.Abs(c.v[i]-m) <= room || sd && math.Abs(c.v[i]-spread) <= room {
				same++
			}
		}
		if told <= 3 && same == told && told > 1 && !sd { // a ball may be that by chance
			last := i+1 == len(p.sec.rows) || p.sec.rows[i+1].block != p.sec.rows[i].block
			return said(p.sec.rows[i].cells) || (last || told == 3) && (poor[i] || p.askAverage(i))
		}
		return told >= 3 && same >= 3 && (same*10 >= told*8 || same*2 >= told && said(p.sec.rows[i].cells))
	}
	for i, l := range p.sec.rows {
		if i > 0 && l.past != p.sec.rows[i-1].past {
			rowsRun, run = 0, make([]sums, len(cols))
		}
		if l.block != block {
			block, rowsSince, since = l.block, 0, make([]sums, len(cols))
		}
		switch {
		case rowsSince >= 2 && means(since, i, false), rowsRun >= 2 && means(run, i, false), count >= 2 && means(every, i, false):
			p.out[i] = true
		case i > 0 && p.out[i-1] && (rowsSince == 0 && means(every, i, true)):
			p.out[i] = true
		}
		if p.out[i] {
			found++
			rowsSince, since = 0, make([]sums, len(cols))
			rowsRun, run = 0, make([]sums, len(cols))
			continue
		}
		count, rowsSince, rowsRun = count+1, rowsSince+1, rowsRun+1
		for k, c := range cols {
			if c.read[i] == cellRead {
				for _, s := range []*sums{&every[k], &since[k], &run[k]} {
					s.total, s.square, s.n = s.total+c.v[i], s.square+c.v[i]*c.v[i], s.n+1
				}
			}
		}
	}
	for i, out := range p.out {
		if out {
			for _, c := range cols {
				c.read[i] = cellMissing
			}
		}
	}
	if found > 0 {
		p.r.note("%d rows are the averages of those above them and are left out", found)
	}
}

// poorRows are the rows whose cells are empty where nearly all others are filled
// with words.
func (p *part) poorRows() map[int]bool {
	poor := map[int]bool{}
	for _, c := range p.cols {
		var empty []int
		for i, l := range p.sec.rows {
			if cellOf(l.line, c.at) == "" {
				empty = append(empty, i)
			}
		}
		if c.quantity == "" && len(empty)*5 < len(p.sec.rows) {
			for _, i := range empty {
				poor[i] = true
			}
		}
	}
	return poor
}

// askAverage asks whether the last row of a block is a ball or the average of the
// others: a ball that is the average in two numbers is rare, but there is one.
func (p *part) askAverage(i int) bool {
	n := p.sec.rows[i].n
	answer, _ := p.r.question(shot.Question{ID: fmt.Sprintf("average in %d", n), Text: fmt.Sprintf("line %d holds the averages of the balls above it. Is it a ball all the same?", n),
		Choices: []shot.Choice{{Value: "average", Text: "an average"}, {Value: "ball", Text: "a ball"}}})
	return answer == "average"
}

// written is the number of row i without the unit that its cell may name.
func (c *column) written(l line, i int) float64 {
	if c.si[i] {
		parts, ok := typed.Split(c.textOf(l))
		if v, err := number(parts.Number, c.mark); ok && err == nil {
			return math.Copysign(v, c.v[i])
		}
	}
	return c.v[i]
}

// said reports whether a word of a summary stands in a line.
func said(cells []string) bool {
	return slices.ContainsFunc(cells, func(c string) bool { return c != "" && len(c) < 40 && summaryWords[squeeze(c)] })
}

// decimal is the room that a number's last written digit leaves: of an average
// of rounded numbers, six tenths of it.
func decimal(text string) float64 {
	k := strings.LastIndexAny(text, ".,")
	if k < 0 {
		return .6
	}
	n := 0
	for _, r := range text[k+1:] {
		if r < '0' || r > '9' {
			break
		}
		n++
	}
	return .6 * math.Pow(10, -float64(n))
}

// sheetSettings takes the names of sheets as settings, where none of their
// balls has one and the names can be some.
func (r *reader) sheetSettings() {
	var names []string
	set := false
	for i, s := range r.table.Shots {
		set = set || s.Setting.Key() != ""
		if i == 0 || r.sheets[i] != r.sheets[i-1] {
			names = append(names, r.sheets[i])
		}
	}
	labels := len(names) > 0
	for _, n := range names {
		labels = labels && r.labelled(n)
	}
	if set || !labels && !settingNames(names) && !r.mayBeSettings(names) {
		return
	}
	r.note("the names of the sheets are taken as settings")
	for i := range r.table.Shots {
		r.table.Shots[i].Setting = settingOf(r.sheets[i], "", nil)
	}
}

// fileParts lists the runs of balls for the time line.
func (r *reader) fileParts() {
	t := &r.table
	for i, s := range t.Shots {
		why := r.breaks[i]
		if i > 0 && r.sheets[i] != r.sheets[i-1] {
			why = "sheet"
		}
		if i > 0 && why == "start" || why == "" && i > 0 && r.clubs.names[i] != r.clubs.names[i-1] {
			why = "club"
		}
		if i == 0 || why != "" && len(t.Parts) < maxBlocks {
			if i == 0 {
				why = ""
			}
			t.Parts = append(t.Parts, shot.FilePart{Sheet: r.sheets[i], Day: day(s.Clock), Title: s.Session, From: i, Why: why})
		}
		t.Parts[len(t.Parts)-1].Balls++
	}
	if len(t.Parts) == maxBlocks {
		t.Parts = t.Parts[:0] // finer than anybody marks
	}
}
