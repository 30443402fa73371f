package shotfile

import (
	"slices"

	"ferrule/core/shot"
)

// Balls that stand in a file before, as where each export of a device holds all balls
// before it too. A ball is known by its numbers as they are written, whatever their units; those
// that stand again are dropped before anything is judged, so that each ball speaks once.

// known is a row by which a ball is known again.
type known struct {
	part       *part
	row, sheet int
	print      string
	many       bool // its numbers are enough to know it
	words      *rowWords
}

// once drops balls that stand in the file before: those of one sheet that another
// holds too, and in one sheet three and more in a row.
func (r *reader) once(sheets []table) {
	var rows []known
	for k, s := range sheets {
		from := len(rows)
		for _, p := range s.parts {
			v := shot.Values{}
			for i := range p.sec.rows {
				print, n := p.print(i, v)
				rows = append(rows, known{p, i, k, print, n >= 4, &p.words[i]})
			}
		}
		slices.SortStableFunc(rows[from:], func(a, b known) int { return a.part.sec.rows[a.row].n - b.part.sec.rows[b.row].n })
	}
	drop, dropped := map[*part]map[int]bool{}, 0
	for i, k := range repeats(rows) {
		if k < 0 {
			continue
		}
		x := rows[i]
		rows[k].words.fill(x.words)
		if drop[x.part] == nil {
			drop[x.part] = map[int]bool{}
		}
		drop[x.part][x.row] = true
		dropped++
	}
	if dropped > 0 {
		r.note("problem.repeated", dropped)
	}
	for p, rows := range drop {
		p.sec.rows, p.words = without(p.sec.rows, rows), without(p.words, rows)
		for _, c := range p.cols {
			c.v, c.read, c.si = without(c.v, rows), without(c.read, rows), without(c.si, rows)
		}
	}
}

// print is what the numbers of a row are known by, and how many it has but for zeros:
// false triggers are all alike. v is overwritten.
func (p *part) print(i int, v shot.Values) (text string, n int) {
	clear(v)
	for _, c := range p.cols {
		if c.quantity != "" && c.read[i] == cellRead {
			if v[c.quantity] = c.written(p.sec.rows[i].line, i); c.v[i] != 0 {
				n++
			}
		}
	}
	text, _ = v.Print()
	return text, n
}

func without[T any](list []T, drop map[int]bool) []T {
	out := list[:0]
	for i, x := range list {
		if !drop[i] {
			out = append(out, x)
		}
	}
	return out
}

// repeats says for each row which earlier one it repeats, -1 = none.
func repeats(rows []known) []int {
	first, of := map[string]int{}, slices.Repeat([]int{-1}, len(rows))
	for i, x := range rows {
		if of[i] >= 0 || !x.many {
			continue
		}
		k, is := first[x.print]
		if !is {
			first[x.print] = i
			continue
		}
		other := rows[k].sheet != x.sheet
		same := func(d int) bool { // whether the balls d after these two are one too
			a, b := k+d, i+d
			return a >= 0 && b < len(rows) && (d < 0 || a < i) && of[b] < 0 && rows[a].print == rows[b].print && rows[a].sheet == rows[k].sheet && rows[b].sheet == x.sheet && (other || rows[a].words.alike(rows[b].words))
		}
		from, until := 0, 0
		for same(until) {
			until++
		}
		for same(from - 1) {
			from--
		}
		if until-from < 3 && !other { // two may be written twice by hand, and are two for all that the file says
			continue
		}
		for d := from; d < until; d++ {
			of[i+d] = k + d
		}
	}
	return of
}

// fill takes what the same ball's other row says of it besides.
func (x *rowWords) fill(again *rowWords) {
	if x.setting.Key() == "" {
		x.setting = again.setting
	}
	if x.club == "" {
		x.club, x.kind = again.club, again.kind
	}
}

// alike reports whether nothing beside the numbers of two balls says that they are two.
func (x *rowWords) alike(y *rowWords) bool {
	same := func(x, y string) bool { return x == y || x == "" || y == "" }
	return same(x.setting.Key(), y.setting.Key()) && same(x.clock, y.clock) && same(x.session, y.session) && same(x.club, y.club) && same(x.player, y.player)
}
