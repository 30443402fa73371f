package shotfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ferrule/core/message"
	"ferrule/core/shot"
)

// sums are of the numbers of a column over some rows.
type sums struct{ total, square, n float64 }

// averaging looks for rows of averages among rows.
type averaging struct {
	*dialogue
	rows []row
	cols columns
	poor map[int]bool

	every, since, run         []sums // of all rows, of the block, since the last average; a column each
	count, rowsSince, rowsRun int    // the rows in each
}

// findAverages marks rows of averages that no word announces: most of their numbers
// are the means of their block, of the rows since the last one, or of all before it. Half of them
// do where a word says it in a column of people's own words. Two or three numbers do
// where a word says it or cells of the row are empty that are filled in nearly all others; else
// they are asked about.
func findAverages(d *dialogue, rows []row, all columns) (out []bool) {
	a := &averaging{dialogue: d, rows: rows}
	for _, c := range all {
		if c.quantity != "" {
			a.cols = append(a.cols, c)
		}
	}
	out = make([]bool, len(rows))
	if len(a.cols) < 2 {
		return out
	}
	a.poor, a.every, a.since, a.run = poorRows(rows, all), a.none(), a.none(), a.none()
	block, found := -1, 0
	for i, l := range rows {
		if i > 0 && l.past != rows[i-1].past {
			a.rowsRun, a.run = 0, a.none()
		}
		if l.block != block {
			block, a.rowsSince, a.since = l.block, 0, a.none()
		}
		switch {
		case a.rowsSince >= 2 && a.means(a.since, i, false), a.rowsRun >= 2 && a.means(a.run, i, false), a.count >= 2 && a.means(a.every, i, false):
			out[i] = true
		case i > 0 && out[i-1] && (a.rowsSince == 0 && a.means(a.every, i, true)):
			out[i] = true
		}
		if out[i] {
			found++
			a.rowsSince, a.since = 0, a.none()
			a.rowsRun, a.run = 0, a.none()
		} else {
			a.add(i)
		}
	}
	for i := range out {
		if out[i] {
			for _, c := range a.cols {
				c.read[i] = cellMissing
			}
		}
	}
	if found > 0 {
		d.note("problem.rows-of-averages", found)
	}
	return out
}

func (a *averaging) none() []sums { return make([]sums, len(a.cols)) }

// add counts row i among those that later ones may be the averages of.
func (a *averaging) add(i int) {
	a.count, a.rowsSince, a.rowsRun = a.count+1, a.rowsSince+1, a.rowsRun+1
	for k, c := range a.cols {
		if c.read[i] == cellRead {
			for _, s := range []*sums{&a.every[k], &a.since[k], &a.run[k]} {
				s.total, s.square, s.n = s.total+c.v[i], s.square+c.v[i]*c.v[i], s.n+1
			}
		}
	}
}

// means reports whether row i holds the means of s, or with sd its deviations.
func (a *averaging) means(s []sums, i int, sd bool) bool {
	same, told := 0, 0
	for k, c := range a.cols {
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
		room := decimal(cellOf(a.rows[i].line, c.at)) + 1e-9
		if w := c.written(a.rows[i].line, i); w != 0 {
			room *= c.v[i] / w
		}
		if math.Abs(c.v[i]-m) <= room || sd && math.Abs(c.v[i]-spread) <= room {
			same++
		}
	}
	if told <= 3 && same == told && told > 1 && !sd { // a ball may be that by chance
		last := i+1 == len(a.rows) || a.rows[i+1].block != a.rows[i].block
		return said(a.rows[i].cells) || (last || told == 3) && (a.poor[i] || askAverage(a.dialogue, a.rows[i].n))
	}
	return told >= 3 && same >= 3 && (same*10 >= told*8 || same*2 >= told && said(a.rows[i].cells))
}

// poorRows are the rows whose cells are empty where nearly all others are filled
// with words.
func poorRows(rows []row, cols columns) map[int]bool {
	poor := map[int]bool{}
	for _, c := range cols {
		var empty []int
		for i, l := range rows {
			if cellOf(l.line, c.at) == "" {
				empty = append(empty, i)
			}
		}
		if c.quantity == "" && len(empty)*5 < len(rows) {
			for _, i := range empty {
				poor[i] = true
			}
		}
	}
	return poor
}

// askAverage asks whether the last row of a block is a ball or the average of the
// others: a ball that is the average in two numbers is rare, but there is one.
func askAverage(d *dialogue, n int) bool {
	answer, _ := d.question(shot.Question{ID: fmt.Sprintf("average in %d", n), Text: message.Of("problem.average-line", n),
		Choices: []shot.Choice{{Value: "average", Text: message.Of("problem.an-average")}, {Value: "ball", Text: message.Of("problem.a-ball")}}})
	return answer == "average"
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
