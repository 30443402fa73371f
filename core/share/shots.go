package share

import (
	"slices"
	"strconv"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// tags in the order of their numbers in version 1; tag 0 is none.
var tags = []shot.Tag{shot.TagNone, shot.TagMishit, shot.TagToe, shot.TagHeel, shot.TagHigh, shot.TagLow, shot.TagGood, shot.TagOut, shot.TagWarmup}

// shots are written by column, since neighbours in a column are alike: first
// which setting, ball, part and tag each has, then one quantity after another.
func (f *flow) shots(s *shot.Session) {
	list(f, &s.Shots, 5, maxShots)
	n := len(s.Shots)
	x := newIndex(s.Head)
	var settings []club.Setting
	f.runs(n, func(i int) int {
		for j, t := range settings {
			if t.Equal(s.Shots[i].Setting) {
				return j
			}
		}
		settings = append(settings, s.Shots[i].Setting)
		return len(settings) - 1
	}, func(i, j int) { s.Shots[i].Setting = settings[j] }, func(k int) {
		if f.r != nil {
			settings = append(settings, club.Setting{})
		}
		f.setting(&settings[k], x)
	})
	f.texts(n, func(i int) *string { return &s.Shots[i].Ball }, true)
	f.texts(n, func(i int) *string { return &s.Shots[i].Session }, false)
	if f.version >= 3 && len(s.Airs) > 0 {
		f.airs(s)
	}
	f.tags(s.Shots)
	for i := range s.Shots {
		if f.r != nil {
			s.Shots[i].ID, s.Shots[i].Values = shotID(i), shot.Values{}
		}
	}
	f.columns(s.Shots)
}

// texts writes a text of each shot: a list of the different ones and runs.
// Texts that may name a place or a person become plain numbers.
func (f *flow) texts(n int, of func(i int) *string, spelled bool) {
	var seen []string
	f.runs(n, func(i int) int {
		for j, t := range seen {
			if t == *of(i) {
				return j
			}
		}
		seen = append(seen, *of(i))
		return len(seen) - 1
	}, func(i, j int) { *of(i) = seen[j] }, func(k int) {
		if f.r != nil {
			seen = append(seen, "")
		}
		empty := seen[k] == ""
		if f.bool(&empty); empty {
			return
		}
		if spelled {
			f.text(&seen[k])
		} else if f.r != nil {
			seen[k] = strconv.Itoa(k + 1)
		}
	})
}

// runs writes which of several things each of n shots has. Things are hit in
// runs: flags say where another one begins. item(k) writes or reads thing k when
// it first appears; number(i) gives shot i's thing, set(i, k) takes it.
func (f *flow) runs(n int, number func(i int) int, set func(i, k int), item func(k int)) {
	begins, things := make([]bool, n), make([]int, n)
	for i := range begins {
		if f.w != nil {
			things[i] = number(i)
			begins[i] = i == 0 || things[i] != things[i-1]
		}
	}
	f.flags(n, begins)
	k, known := 0, 0
	for i := range begins {
		if f.r != nil && f.r.err != nil {
			return
		}
		if begins[i] || i == 0 {
			if k = things[i]; f.w != nil {
				f.w.uniform(int64(k), int64(known+1))
			} else {
				k = int(f.r.uniform(int64(known + 1)))
			}
			if k == known {
				item(k)
				known++
			}
		}
		if f.r != nil && f.r.err == nil {
			set(i, k)
		}
	}
}

func (f *flow) tags(shots []shot.Shot) {
	number := func(t shot.Tag) int { return max(0, slices.Index(tags, t)) }
	there := make([]bool, len(shots))
	for i, s := range shots {
		there[i] = number(s.Tag) > 0
	}
	f.flags(len(shots), there)
	for i := range shots {
		if !there[i] {
			continue
		}
		if f.w != nil {
			f.w.put(uint64(number(shots[i].Tag)-1), 3)
		} else {
			shots[i].Tag = tags[1+f.r.get(3)]
		}
	}
}

// airs writes in which of the session's airs each ball flew.
func (f *flow) airs(s *shot.Session) {
	var seen []int
	f.runs(len(s.Shots), func(i int) int {
		for j, k := range seen {
			if k == s.Shots[i].Air {
				return j
			}
		}
		seen = append(seen, s.Shots[i].Air)
		return len(seen) - 1
	}, func(i, j int) { s.Shots[i].Air = seen[j] }, func(k int) {
		if f.r != nil {
			seen = append(seen, 0)
		}
		if f.int(&seen[k], 1); f.r != nil && seen[k] > len(s.Airs) {
			f.r.fail("air %d of %d", seen[k], len(s.Airs))
		}
	})
}
