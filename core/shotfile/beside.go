package shotfile

import (
	"strings"

	"ferrule/core/shot"
	"ferrule/core/typed"
)

// Tables that stand side by side, a column of nothing between them: two blocks of
// balls under the same headers are two tables; a smaller one of other headers at the
// right of the balls is a summary of them.

// apart takes the tables of a grid apart that stand side by side.
func (r *reader) apart(g grid) []grid {
	used := []int{} // by column, the lines that have something in it
	for _, l := range g.lines {
		for i, c := range l.cells {
			for len(used) <= i {
				used = append(used, 0)
			}
			if strings.TrimSpace(c) != "" {
				used[i]++
			}
		}
	}
	for at, n := range used {
		if n > 0 || at == 0 || at+1 == len(used) {
			continue
		}
		left, right := g.between(0, at), g.between(at+1, len(used))
		l, r1 := r.lx.firstHeader(left), r.lx.firstHeader(right)
		same := 0
		for q := range r1 {
			if l[q] {
				same++
			}
		}
		switch {
		case len(l) < 2 || same == 0 || same < len(r1):
		case same*5 >= len(l)*3:
			more := r.apart(right)
			for _, g := range []*grid{&left, &more[0]} {
				if len(g.lines) > 0 && filled(g.lines[0].cells) == 1 { // a title of its own stands for a sheet's name
					g.name = typed.Fold(firstFilled(g.lines[0].cells))
				}
			}
			return append([]grid{left}, more...)
		case right.full()*2 < left.full():
			r.note("problem.table-beside", right.lines[0].n)
			return []grid{left}
		}
	}
	return []grid{g}
}

// between are the columns of a grid from one to before another, without the lines
// that have nothing there.
func (g grid) between(from, until int) grid {
	out := grid{name: g.name, how: g.how}
	for _, l := range g.lines {
		var cells []string
		if from < len(l.cells) {
			cells = l.cells[from:min(until, len(l.cells))]
		}
		if from == 0 || filled(cells) > 0 {
			out.lines = append(out.lines, line{l.n, cells})
		}
	}
	return out
}

// full is how many lines have something in them.
func (g grid) full() (n int) {
	for _, l := range g.lines {
		if filled(l.cells) > 0 {
			n++
		}
	}
	return n
}

// firstHeader are the quantities that the first header of a grid names.
func (lx lexicon) firstHeader(g grid) map[shot.Quantity]bool {
	for i, l := range g.lines {
		if i == 60 {
			break
		}
		of := map[shot.Quantity]bool{}
		for _, c := range l.cells {
			if ms, _, _ := lx.meaning(c); len(ms) > 0 && ms[0].quantity != "" {
				of[ms[0].quantity] = true
			}
		}
		if len(of) > 1 || len(of) == 1 && texty(l) && filled(l.cells) > 1 {
			return of
		}
	}
	return nil
}
