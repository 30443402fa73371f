package shotfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/units"
)

func (s *season) unit(q shot.Quantity, visit int) units.Unit {
	k, _ := shot.KindOf(q)
	return s.visits[visit].units.of(k)
}

func (s *season) name(club string, visit int) string {
	w := seasonWords[s.visits[visit].lang]
	if club == "driver" {
		return w.driver
	}
	return strings.Split(w.others, "|")[club[0]-'0']
}

// header is the line over the balls of a visit.
func (s *season) header(visit int) (row []string) {
	w := seasonWords[s.lang]
	for _, x := range []struct {
		on   bool
		head string
	}{{s.numbered, w.number}, {s.dated, w.date}, {s.sessions, w.session}, {s.club, w.club}, {s.second != "", w.second}, {s.sets, w.set}} {
		if x.on {
			row = append(row, x.head)
		}
	}
	for _, q := range s.cols {
		h := seasonHeads[q][s.lang]
		if u := s.unit(q, visit).Symbol; u != "" && (s.told == "head" || s.told == "again") {
			h += " (" + u + ")"
		}
		row = append(row, h)
		if q == shot.Offline && s.side == "column" {
			row = append(row, w.side)
		}
	}
	if s.decoy >= 0 {
		row = append(row, w.decoys[s.decoy][0])
	}
	return row
}

// number is a cell of quantity q, and the side beside it where that has a column.
func (s *season) number(q shot.Quantity, visit int, n float64) (cells []string) {
	k, _ := shot.KindOf(q)
	c := fmt.Sprintf("%.*f", seasonPlaces(q), math.Abs(n))
	if s.comma {
		c = strings.Replace(c, ".", ",", 1)
	}
	if u := s.unit(q, visit).Symbol; s.told == "cells" && u != "" {
		c += " " + u
	}
	apart := q == shot.Offline && s.side == "column"
	switch {
	case n >= 0 || apart:
	case s.brackets && k.Compass:
		c = "(" + c + ")"
	default:
		c = "-" + c
	}
	cells = append(cells, c)
	if apart {
		w := seasonWords[s.lang]
		cells = append(cells, map[bool]string{true: w.right, false: w.left}[n >= 0])
		if n == 0 {
			cells[1] = ""
		}
	}
	return cells
}

func seasonPlaces(q shot.Quantity) int {
	switch q {
	case shot.Smash:
		return 2
	case shot.Spin, shot.Backspin, shot.Sidespin:
		return 0
	}
	return 1
}

// numbers writes the numbers of ball x, once, and notes what can be read of it.
func (s *season) numbers(r *rand.Rand, x *seasonBall) []string {
	if x.cells != nil {
		return x.cells
	}
	day := s.visits[x.visit]
	x.want, x.n = shot.Values{}, map[shot.Quantity]float64{}
	for _, q := range s.cols {
		u := s.unit(q, x.visit)
		scale := math.Pow(10, float64(seasonPlaces(q)))
		n := math.Round(u.From(x.v[q])*scale) / scale
		if day.gone[q] || r.IntN(80) == 0 {
			x.cells = append(x.cells, pick(r, "", "", "-"))
			if q == shot.Offline && s.side == "column" {
				x.cells = append(x.cells, "")
			}
			continue
		}
		if x.want[q] = u.SI(n); n == 0 && zeroIsNoRead[q] {
			delete(x.want, q)
		}
		if day.left[q] {
			n = -n
		}
		x.n[q] = n
		x.cells = append(x.cells, s.number(q, x.visit, n)...)
	}
	return x.cells
}

// row is the line of ball x, the n-th of its sheet.
func (s *season) row(r *rand.Rand, x *seasonBall, n int) (row []string) {
	at := s.visits[x.visit]
	make := ""
	if s.second == "make" {
		make = "Aurora Mk II"
	}
	for i, c := range []string{fmt.Sprint(n), at.date, fmt.Sprint(at.session), s.name(x.club, x.visit), make, x.set} {
		if []bool{s.numbered, s.dated, s.sessions, s.club, s.second != "", s.sets}[i] {
			row = append(row, c)
		}
	}
	row = append(row, s.numbers(r, x)...)
	if s.decoy >= 0 {
		row = append(row, pick(r, strings.Split(seasonWords[s.lang].decoys[s.decoy][1], "|")...))
	}
	return row
}

// mean is the line of the averages of balls, as a device or a person writes it.
func (s *season) mean(balls []*seasonBall) (row []string) {
	word := map[string]string{"word": seasonWords[s.lang].mean}[s.means]
	for range strings.Count(strings.Join([]string{fmt.Sprint(s.numbered), fmt.Sprint(s.dated), fmt.Sprint(s.sessions), fmt.Sprint(s.club), fmt.Sprint(s.second != ""), fmt.Sprint(s.sets)}, " "), "true") {
		row = append(row, word)
		word = ""
	}
	for _, q := range s.cols {
		sum, n := 0., 0
		for _, x := range balls {
			if v, ok := x.n[q]; ok {
				sum, n = sum+v, n+1
			}
		}
		if n > 0 {
			scale := math.Pow(10, float64(seasonPlaces(q)))
			row = append(row, s.number(q, balls[0].visit, math.Round(sum/float64(n)*scale)/scale)...)
			continue
		}
		row = append(row, "")
		if q == shot.Offline && s.side == "column" {
			row = append(row, "")
		}
	}
	return row
}

// exports are the balls in the order of the file: where it grows, each visit's export
// holds all before it too.
func (s *season) exports() (runs [][]*seasonBall) {
	for i := range s.balls {
		x := &s.balls[i]
		if n := len(runs); n == 0 || s.grows && x.visit != runs[n-1][len(runs[n-1])-1].visit {
			runs = append(runs, nil)
			if n > 0 {
				runs[n] = slices.Clone(runs[n-1])
			}
		}
		runs[len(runs)-1] = append(runs[len(runs)-1], x)
	}
	return runs
}

func (s *season) write(r *rand.Rand) (name string, data []byte) {
	var sheets []sheetOf
	for k, run := range s.exports() {
		last, club, lines := -1, "", 0
		var since []*seasonBall
		summary := func() {
			if s.means != "" && len(since) > 2 && !s.mixed && (s.means != "word" || s.numbered || s.dated || s.sessions || s.club || s.sets) {
				to := &sheets[len(sheets)-1]
				to.rows = append(to.rows, s.mean(since))
			}
			since = nil
		}
		for i, x := range run {
			fresh := last < 0 && (k == 0 || s.sheets == "days") || !s.grows && last >= 0 && (s.sheets == "days" && x.visit != last || s.sheets == "clubs" && s.club && x.club != club)
			if last >= 0 && (fresh || x.visit != last || x.club != club) {
				summary()
			}
			if fresh {
				title := "Shots"
				switch {
				case s.sheets == "days":
					title = fmt.Sprint(s.visits[run[len(run)-1].visit].date)
					if !s.grows {
						title = s.visits[x.visit].date
					}
				case s.sheets == "clubs" && s.club:
					title = s.name(x.club, x.visit)
				}
				for slices.ContainsFunc(sheets, func(o sheetOf) bool { return o.name == title }) {
					title += " 2"
				}
				sheets, lines = append(sheets, sheetOf{name: title}), 0
			}
			to := &sheets[len(sheets)-1]
			if fresh || last < 0 || s.told == "again" && x.visit != last || s.again > 0 && lines > 0 && lines%s.again == 0 {
				to.rows = append(to.rows, s.header(x.visit))
			}
			last, club, lines = x.visit, x.club, lines+1
			to.rows, since = append(to.rows, s.row(r, x, lines)), append(since, x)
			if i == len(run)-1 {
				summary()
			}
		}
	}
	sep := pick(r, ",", ";", "\t")
	for _, to := range sheets {
		s.shown += "-- " + to.name + "\n"
		for _, l := range to.rows {
			s.shown += csvLine(l, sep)
		}
	}
	if len(sheets) == 1 && r.IntN(2) == 0 {
		_, text, _ := strings.Cut(s.shown, "\n")
		return "season.csv", []byte(text)
	}
	return "season.xlsx", bedBook(sheets...)
}
