package shotfile

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/typed"
)

// textOf is a cell of a column of numbers as it is read: shown signs made
// plain, the side from its own column put beside the number.
func (c *column) textOf(l line) string {
	t := typed.Plain(cellOf(l, c.at))
	if c.sides != nil && t != "" {
		if side := cellOf(l, c.sides.at); side != "" {
			return t + " " + side
		}
	}
	return t
}

// sideColumns gives a column of sides ("Left", "R") to the column of numbers
// without signs that it belongs to: the nearest to its left, else to its right.
func (p *part) sideColumns() {
	for i, c := range p.cols {
		if c.fixed || c.role == roleSetting || c.role == roleSleeve || c.role == roleTag || c.role == roleNote {
			continue
		}
		sides, both, shapes := p.holdsSides(c)
		if !sides || c.role == roleHand || c.role == rolePlayer {
			continue
		}
		var target *column
		for k := i - 1; k >= 0 && target == nil; k-- {
			target = sideless(p.sec.rows, p.cols[k], shapes)
		}
		for k := i + 1; k < len(p.cols) && target == nil; k++ {
			target = sideless(p.sec.rows, p.cols[k], shapes)
		}
		if !both && (i == 0 || target != p.cols[i-1]) { // one side alone may say something else of the balls
			continue
		}
		if target == nil {
			continue
		}
		target.sides, c.sideOf = c, target
		c.quantity, c.role = "", roleSide
		c.evidence = nil
		c.say("problem.side-of", strconv.Quote(target.header))
		p.r.note("problem.own-side", strconv.Quote(target.header), strconv.Quote(c.header))
	}
}

// holdsSides reports whether a column says right or left in each row and nothing
// else, whether both occur, and whether it does so by shapes: a draw may land anywhere.
func (p *part) holdsSides(c *column) (sides, both, shapes bool) {
	k, _ := shot.KindOf(shot.Offline)
	seen, n := map[float64]bool{}, 0
	letters := map[typed.Direction]int{}
	for _, l := range p.sec.rows {
		if d := typed.Meaning(strings.ToLower(typed.Fold(cellOf(l.line, c.at)))); d != 0 {
			letters[d]++
			shapes = shapes || !d.IsSide() && !d.IsLetter()
		}
	}
	language := cmp.Or(typed.LetterLanguage(letters), p.language)
	for _, l := range p.sec.rows {
		t := strings.ToLower(typed.Fold(cellOf(l.line, c.at)))
		if isMissing(t) || t == "0" || typed.Level(t) {
			continue
		}
		sign, ok := typed.Meaning(t).Sign(k, frame.Right, language)
		if !ok {
			return false, false, shapes
		}
		seen[sign], n = true, n+1
	}
	return len(seen) > 0 && n*2 >= len(p.sec.rows), len(seen) == 2, shapes
}

// sideless is c when it holds sizes whose side is missing. A shape says the
// side of a curve alone.
func sideless(rows []row, c *column, shapes bool) *column {
	if !c.kind.Compass || c.quantity == "" || c.sides != nil || shapes && c.quantity != shot.Curve {
		return nil
	}
	for _, l := range rows {
		t := typed.Plain(cellOf(l.line, c.at))
		parts, ok := typed.Split(t)
		if ok && (strings.HasPrefix(parts.Number, "-") || slices.ContainsFunc(parts.Words, func(w string) bool { return typed.Meaning(w) != 0 })) {
			return nil
		}
	}
	return c
}
