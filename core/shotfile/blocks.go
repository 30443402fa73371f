package shotfile

import (
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

// blocks are the rows of a section, block by block.
type blocks struct {
	rows [][]int
	of   []int    // by row, its block
	why  []string // by row, why a block begins with it, "" = none does
}

// findBlocks cuts rows, of which clubs are known, into blocks and says why each begins.
func findBlocks(rows []row, cols columns, clubs bool) blocks {
	bs := blocks{why: make([]string, len(rows))}
	var last [4]string
	clock := math.NaN()
	for i, l := range rows {
		now := [4]string{strconv.Itoa(l.block)}
		at := math.NaN()
		for _, c := range cols {
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
			bs.why[i] = "start"
		case now[2] != last[2]:
			bs.why[i] = "day"
		case now[1] != last[1]:
			bs.why[i] = "session"
		case now[3] != last[3]:
			bs.why[i] = "player"
		case now[0] != last[0]:
			bs.why[i] = "title"
		case math.Abs(at-clock) >= gapMinutes:
			bs.why[i] = "gap"
		}
		last = now
		if !math.IsNaN(at) {
			clock = at
		}
	}
	bs.jumps(cols, clubs)
	bs.cut()
	return bs
}

// gapMinutes is a pause after which a device may be set up anew.
const gapMinutes = 45

// cut makes the blocks of the breaks.
func (bs *blocks) cut() {
	bs.of = make([]int, len(bs.why))
	for i, why := range bs.why {
		if why != "" {
			bs.rows = append(bs.rows, nil)
		}
		b := len(bs.rows) - 1
		bs.rows[b] = append(bs.rows[b], i)
		bs.of[i] = b
	}
	if len(bs.rows) > maxBlocks {
		clear(bs.of)
		bs.rows = [][]int{bs.every()}
	}
}

// every are all rows.
func (bs *blocks) every() []int {
	all := make([]int, len(bs.why))
	for i := range all {
		all[i] = i
	}
	return all
}

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
func (bs *blocks) jumps(cols columns, named bool) {
	ball, clubs, carry := cols.of(shot.BallSpeed), cols.of(shot.ClubSpeed), cols.of(shot.Carry)
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
	if named {
		least = .44 // clubs of different lengths make steps of their own
	}
	sizes := []func(i int) float64{ratio(ball, nil), ratio(clubs, nil), ratio(carry, nil)}
	for _, of := range []func(i int) float64{sizes[0], sizes[1], ratio(clubs, ball), ratio(carry, ball)} {
		last, before := math.NaN(), 0
		for i := range bs.why {
			v := of(i)
			if math.IsNaN(v) {
				continue
			}
			if math.Abs(v-last) > least/2 && bs.why[i] == "" && bs.jump(of, i, least) {
				at := i
				for k := i - 1; k > before; k-- { // rows without this number may be after the change already
					if slices.ContainsFunc(sizes, func(of func(i int) float64) bool { return math.Abs(of(k)-of(before)) > least/2 }) {
						at = k
					}
				}
				bs.why[at] = "units"
			}
			last, before = v, i
		}
	}
}

// jump reports whether the medians before and after row i, up to the next breaks
// or of eight balls, differ by more than least, with no ball of either side
// nearer to the other's.
func (bs *blocks) jump(of func(i int) float64, i int, least float64) bool {
	const span = 8
	var before, after []float64
	for k := i - 1; k >= 0 && len(before) < span; k-- {
		if v := of(k); !math.IsNaN(v) {
			if n := len(before); n > 0 && math.Abs(v-before[n-1]) > least/2 {
				break // another jump
			}
			before = append(before, v)
		}
		if bs.why[k] != "" {
			break
		}
	}
	for k := i; k < len(bs.why) && len(after) < span && (k == i || bs.why[k] == ""); k++ {
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

// sheetSettings takes the names of sheets as settings, where none of their
// balls has one and the names can be some.
func (r *reader) sheetSettings() {
	var names []string
	set := false
	for i, s := range r.table.Shots {
		set = set || s.Setting.Key() != ""
		if i == 0 || r.spots[i].sheet != r.spots[i-1].sheet {
			names = append(names, r.spots[i].sheet)
		}
	}
	labels := len(names) > 0
	for _, n := range names {
		labels = labels && r.labelled(n)
	}
	if set || !labels && !settingNames(names) && !r.mayBeSettings(names) {
		return
	}
	r.note("problem.sheet-settings")
	for i := range r.table.Shots {
		r.table.Shots[i].Setting = settingOf(r.spots[i].sheet, "", nil)
	}
}

// fileParts lists the runs of balls for the time line.
func (r *reader) fileParts() {
	t := &r.table
	for i, s := range t.Shots {
		why := r.spots[i].why
		if i > 0 && r.spots[i].sheet != r.spots[i-1].sheet {
			why = "sheet"
		}
		if i > 0 && why == "start" || why == "" && i > 0 && r.spots[i].club != r.spots[i-1].club {
			why = "club"
		}
		if i == 0 || why != "" && len(t.Parts) < maxBlocks {
			if i == 0 {
				why = ""
			}
			t.Parts = append(t.Parts, shot.FilePart{Sheet: r.spots[i].sheet, Day: day(s.Clock), Title: s.Session, From: i, Why: why})
		}
		t.Parts[len(t.Parts)-1].Balls++
	}
	if len(t.Parts) == maxBlocks {
		t.Parts = t.Parts[:0] // finer than anybody marks
	}
}
