package shotfile

import (
	"cmp"
	"strings"

	"ferrule/core/message"
	"ferrule/core/typed"
)

// oneALine makes a table of a text that holds one value a line, as a page pasted
// from a phone does: the names first and the values after them; name and value
// in turn; or "name: value".
func (lx lexicon) oneALine(g grid) grid {
	var cells []line
	pairs := 0
	for _, l := range g.lines {
		if filled(l.cells) > 2 {
			return g
		}
		for _, c := range l.cells {
			name, value, cut := strings.Cut(c, ": ")
			if ms, _, _ := lx.meaning(name); cut && (len(ms) > 0 || isNumeric(value)) {
				cells = append(cells, line{l.n, []string{strings.TrimSpace(name)}}, line{l.n, []string{strings.TrimSpace(value)}})
				pairs++
			} else if c != "" {
				cells = append(cells, line{l.n, []string{strings.TrimSuffix(c, ":")}})
			}
		}
	}
	known := func(i int) bool {
		if i >= len(cells) {
			return false
		}
		ms, _, _ := lx.meaning(cells[i].cells[0])
		return len(ms) > 0
	}
	number := func(i int) bool {
		if i >= len(cells) {
			return false
		}
		_, ok := typed.Split(cells[i].cells[0])
		return ok && !known(i)
	}
	names, values := 0, 0
	different := map[string]bool{}
	for i := range cells {
		if known(i) {
			names++
			different[squeeze(cells[i].cells[0])] = true
		} else if number(i) {
			values++
		}
	}
	if len(different) < 3 || values < 2*len(different) && values < names {
		return g
	}
	if names > 2*len(different) || pairs > 0 {
		return inTurn(cells, known, g)
	}
	// The names stand together; as many values follow for each ball.
	from := 0
	for from < len(cells) && !known(from) {
		from++
	}
	to := from
	for to < len(cells) && (known(to) || !number(to) && to+1 < len(cells) && !number(to+1)) {
		to++
	}
	width := to - from
	if width < 3 || (len(cells)-to)/width < 1 {
		return g
	}
	out := grid{name: g.name, how: message.Of("problem.one-a-line")}
	row := func(from int) line {
		l := line{n: cells[from].n}
		for _, c := range cells[from : from+width] {
			l.cells = append(l.cells, c.cells[0])
		}
		return l
	}
	for at := from; at+width <= len(cells); at += width {
		out.lines = append(out.lines, row(at))
	}
	return out
}

// inTurn gathers names and values that stand in turn; a name that comes again
// begins the next ball.
func inTurn(cells []line, known func(int) bool, g grid) grid {
	out := grid{name: g.name, how: message.Of("problem.one-a-line")}
	at := map[string]int{}
	head := line{}
	var now line
	used := map[int]bool{}
	flush := func() {
		if len(used) > 0 {
			out.lines = append(out.lines, now)
		}
		now, used = line{}, map[int]bool{}
	}
	for i := 0; i+1 < len(cells); i++ {
		name := cells[i].cells[0]
		if !known(i) || known(i+1) {
			continue
		}
		k, ok := at[squeeze(name)]
		if !ok {
			k = len(head.cells)
			at[squeeze(name)] = k
			head.cells = append(head.cells, name)
			head.n = cells[i].n
		}
		if used[k] {
			flush()
		}
		for len(now.cells) <= k {
			now.cells = append(now.cells, "")
		}
		now.cells[k], used[k] = cells[i+1].cells[0], true
		now.n = cmp.Or(now.n, cells[i].n)
		i++
	}
	flush()
	if len(head.cells) < 3 || len(out.lines) == 0 {
		return g
	}
	out.lines = append([]line{head}, out.lines...)
	return out
}
