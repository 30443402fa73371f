package shotfile

// repeats finds the balls of a file that stand in it before: a ball is known by its
// numbers.
type repeats struct {
	*reader
	prints []string
	many   []bool // by ball, whether its numbers are enough to know it
	drop   map[int]bool
}

// twice drops balls that stand in the file before: those of one sheet that another
// holds too, and in one sheet three and more in a row, as where each export of a device
// holds all balls before it too.
func (r *reader) twice() {
	f := repeats{reader: r, drop: map[int]bool{}}
	for _, s := range r.table.Shots {
		print, n := s.Values.Print()
		f.prints, f.many = append(f.prints, print), append(f.many, n >= 4)
	}
	f.find()
	if len(f.drop) == 0 {
		return
	}
	r.note("%d balls stand in the file more than once and are taken once", len(f.drop))
	r.clubs.names, r.people, r.sheets, r.breaks = without(r.clubs.names, f.drop), without(r.people, f.drop), without(r.sheets, f.drop), without(r.breaks, f.drop)
	r.table.Shots = without(r.table.Shots, f.drop)
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

func (f *repeats) find() {
	first := map[string]int{}
	for i, print := range f.prints {
		if f.drop[i] || !f.many[i] {
			continue
		}
		k, known := first[print]
		if !known {
			first[print] = i
			continue
		}
		other := f.sheets[k] != f.sheets[i]
		same := func(d int) bool { // whether the balls d after these two are one too
			a, b := k+d, i+d
			return a >= 0 && b < len(f.prints) && (d < 0 || a < i) && !f.drop[b] && f.prints[a] == f.prints[b] && f.sheets[a] == f.sheets[k] && f.sheets[b] == f.sheets[i] && (other || f.alike(a, b))
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
			f.fill(k+d, i+d)
			f.drop[i+d] = true
		}
	}
}

// fill gives ball k what ball i, the same one again, says of it besides.
func (f *repeats) fill(k, i int) {
	if f.table.Shots[k].Setting.Key() == "" {
		f.table.Shots[k].Setting = f.table.Shots[i].Setting
	}
	if f.clubs.names[k] == "" {
		f.clubs.names[k] = f.clubs.names[i]
	}
}

// alike reports whether nothing beside the numbers of two balls says that they are two.
func (f *repeats) alike(k, i int) bool {
	a, b := f.table.Shots[k], f.table.Shots[i]
	same := func(x, y string) bool { return x == y || x == "" || y == "" }
	return same(a.Setting.Key(), b.Setting.Key()) && same(a.Clock, b.Clock) && same(a.Session, b.Session) && same(f.clubs.names[k], f.clubs.names[i]) && same(f.people[k], f.people[i])
}
