package shotfile

import (
	"strconv"
	"strings"

	"ferrule/core/message"
)

// line is one row of cells with its place in the file.
type line struct {
	n     int // 1-based
	cells []string
}

// grid is a table of texts, whatever it was written in.
type grid struct {
	name  string // of the sheet, or of the file in an archive
	lines []line
	how   message.Message // how it was taken apart, for the notes
}

// Limits of what is read; beyond them the file is refused with the figure. They
// keep a reading under 256 MB (TestMemoryIsBounded); a long day at the range has
// 500 balls.
const (
	maxBytes = 12 << 20 // of a file
	maxLines = 30_000
	maxCells = 1_000_000
	maxWidth = 512 // columns
	maxCell  = 4096
	maxFixed = 64 << 10 // bytes of a line that is cut at spaces
)

// splitText takes a text apart: the delimiter is the one under which header
// words appear, then the one that cuts most lines into the same number of cells.
func (lx lexicon) splitText(text string) (grid, error) {
	first, rest, _ := strings.Cut(text, "\n")
	var forced byte
	if f := strings.TrimSpace(strings.ToLower(first)); strings.HasPrefix(f, "sep=") && len(f) >= 4 {
		if len(f) > 4 {
			forced = f[4]
		} else {
			forced = '\t'
		}
		text = "\n" + rest
	}
	if forced != 0 {
		g, err := splitDelimited(text, forced, 0)
		g.how = message.Of("problem.first-line", message.Of("problem.separated", delimiterName(forced)))
		return g, err
	}
	best, bestScore := byte(0), 0.0
	for _, d := range []byte{',', ';', '\t', '|'} {
		if strings.IndexByte(text, d) < 0 {
			continue
		}
		g, _ := splitDelimited(text, d, 80)
		if s := lx.gridScore(g); s > bestScore {
			best, bestScore = d, s
		}
	}
	fixed := lx.splitFixed(text, 80)
	if s := lx.gridScore(fixed); best == '\t' && s > bestScore+.5 || best != '\t' && s > bestScore { // nobody writes a number with a tab
		g := lx.splitFixed(text, 0)
		g.how = message.Of("problem.spaces")
		if len(g.lines) > maxLines {
			return grid{}, tooBig(g.lines[maxLines].n, 1, message.Of("problem.lines"), maxLines)
		}
		return g, nil
	}
	if best == 0 {
		g, err := splitDelimited(text, 0, 0)
		g.how = message.Of("problem.one-column")
		return g, err
	}
	g, err := splitDelimited(text, best, 0)
	g.how = message.Of("problem.separated", delimiterName(best))
	return g, err
}

func delimiterName(d byte) message.Message {
	switch d {
	case ',':
		return message.Of("problem.commas")
	case ';':
		return message.Of("problem.semicolons")
	case '\t':
		return message.Of("problem.tabs")
	case '|':
		return message.Of("problem.bars")
	}
	return message.Plain(strconv.Quote(string(d)))
}

// gridScore prefers many known headers, then a steady number of cells.
func (lx lexicon) gridScore(g grid) float64 {
	if len(g.lines) == 0 {
		return 0
	}
	known, widths, mode := 0, map[int]int{}, 0
	for _, l := range g.lines {
		if w := len(l.cells); w > 1 {
			widths[w]++
			if widths[w] > widths[mode] || mode == 0 {
				mode = w
			}
		}
		if k := lx.knownIn(l.cells); k > known {
			known = k
		}
	}
	steady := 0.0
	if mode > 1 {
		steady = float64(widths[mode]) / float64(len(g.lines))
	}
	return 10*float64(known) + steady + 0.001*float64(min(mode, 100))
}

// knownIn counts the different known headers among the cells.
func (lx lexicon) knownIn(cells []string) int {
	n := 0
	for _, c := range cells {
		if len(c) > 80 {
			continue
		}
		if m, _, _ := lx.meaning(c); len(m) > 0 {
			n++
		}
	}
	return n
}

// splitDelimited cuts text at d outside quotes; d = 0 cuts at line ends only.
// A quote counts only at the start of a cell, "" inside it is a quote, and a
// quoted cell may run over a few lines; a quote that never closes is a letter.
// limit > 0 stops after that many lines.
func splitDelimited(text string, d byte, limit int) (grid, error) {
	var g grid
	cells, n, i := 0, 0, 0
	var width int
	for i < len(text) {
		n++
		start := n
		row := make([]string, 0, width)
		for {
			cell, next, lines, end := nextCell(text, i, d)
			n += lines
			row = append(row, cell)
			i = next
			if end {
				break
			}
			if len(row) > maxWidth {
				return g, refuse(start, maxWidth+1, message.Of("problem.more-than", maxWidth, message.Of("problem.cells")), message.Of("problem.want-line"))
			}
		}
		blank := true
		for _, c := range row {
			if c != "" {
				blank = false
				break
			}
		}
		if blank {
			continue
		}
		width = len(row)
		cells += len(row)
		g.lines = append(g.lines, line{start, row})
		if limit > 0 && len(g.lines) >= limit {
			return g, nil
		}
		if len(g.lines) > maxLines {
			return g, tooBig(start, 1, message.Of("problem.lines"), maxLines)
		}
		if cells > maxCells {
			return g, tooBig(start, len(row), message.Of("problem.cells"), maxCells)
		}
	}
	return g, nil
}

// nextCell returns the cell at i, where the next begins, how many line ends lay
// inside it and whether it ends its row.
func nextCell(text string, i int, d byte) (cell string, next, lines int, end bool) {
	j := i
	for j < len(text) && text[j] == ' ' {
		j++
	}
	if d != 0 && j < len(text) && text[j] == '"' {
		if c, after, ln, ok := quoted(text, j); ok {
			k := after
			for k < len(text) && text[k] == ' ' {
				k++
			}
			if k >= len(text) || text[k] == d || text[k] == '\n' || text[k] == '\r' {
				next, end = step(text, k)
				return strings.TrimSpace(c), next, ln, end
			}
		}
	}
	k := i
	for k < len(text) && text[k] != '\n' && text[k] != '\r' && (d == 0 || text[k] != d) {
		k++
	}
	next, end = step(text, k)
	return strings.TrimSpace(text[i:k]), next, 0, end
}

// step passes the delimiter or line end at k.
func step(text string, k int) (next int, end bool) {
	switch {
	case k >= len(text):
		return k, true
	case text[k] == '\r' && k+1 < len(text) && text[k+1] == '\n':
		return k + 2, true
	case text[k] == '\r' || text[k] == '\n':
		return k + 1, true
	}
	return k + 1, false
}

// quoted reads a quoted cell that begins at j.
func quoted(text string, j int) (cell string, after, lines int, ok bool) {
	doubled := false
	for k := j + 1; k < len(text) && k-j < maxCell; k++ {
		switch text[k] {
		case '\n':
			if lines++; lines > 20 {
				return "", 0, 0, false
			}
		case '"':
			if k+1 < len(text) && text[k+1] == '"' {
				doubled = true
				k++
				continue
			}
			cell = text[j+1 : k]
			if doubled {
				cell = strings.ReplaceAll(cell, `""`, `"`)
			}
			return cell, k + 1, lines, true
		}
	}
	return "", 0, 0, false
}

// splitFixed cuts a pasted table whose columns are set apart by two spaces or
// more; a line with as many words as the header has cells is cut at single
// spaces.
func (lx lexicon) splitFixed(text string, limit int) grid {
	var g grid
	want := 0
	n := 0
	for len(text) > 0 {
		n++
		var l string
		k := strings.IndexAny(text, "\r\n")
		if k < 0 {
			l, text = text, ""
		} else {
			l = text[:k]
			next, _ := step(text, k)
			text = text[next:]
		}
		if len(l) > maxFixed {
			l = l[:maxFixed]
		}
		l = strings.ReplaceAll(l, "\u3000", "  ")
		if strings.TrimSpace(l) == "" {
			continue
		}
		cells := cutSpaces(l)
		if len(cells) > maxWidth {
			cells = cells[:maxWidth]
		}
		if want == 0 && lx.knownIn(cells) >= 2 {
			want = len(cells)
		}
		if want > 0 && len(cells) != want {
			if words := strings.Fields(l); len(words) == want {
				cells = words
			}
		}
		g.lines = append(g.lines, line{n, cells})
		if limit > 0 && len(g.lines) >= limit || len(g.lines) > maxLines {
			return g
		}
	}
	return g
}

func cutSpaces(l string) []string {
	var out []string
	for _, part := range strings.Split(strings.ReplaceAll(strings.TrimSpace(l), "\t", "  "), "  ") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}
