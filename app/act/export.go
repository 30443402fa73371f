package act

import (
	"encoding/csv"
	"strconv"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/units"
)

// CSV writes the balls of a session as a table in the given units: one column
// a quantity that was measured, its unit in the header. Opened again, it gives
// the same balls. A cell that a spreadsheet would take for a formula gets an
// apostrophe before it.
func CSV(s shot.Session, system units.System) []byte {
	var used []shot.Kind
	for _, k := range shot.Kinds {
		for _, h := range s.Shots {
			if _, ok := h.Values.Get(k.Quantity); ok {
				used = append(used, k)
				break
			}
		}
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	head := []string{"shot", "sleeve", "weight", "ball", "time"}
	for _, k := range used {
		name := string(k.Quantity)
		if u := system.Unit(k.Dim); u.Symbol != "" {
			name += " (" + symbol(u) + ")"
		}
		head = append(head, name)
	}
	w.Write(append(head, "tag", "note"))
	for i, h := range s.Shots {
		ball := h.Ball
		if ball == "" {
			ball = s.Ball
		}
		row := []string{strconv.Itoa(i + 1), plainCell(h.Setting.Sleeve), plainCell(strings.Join(h.Setting.Weights, " / ")), plainCell(ball), plainCell(h.Clock)}
		for _, k := range used {
			cell := ""
			if v, ok := h.Values.Get(k.Quantity); ok {
				cell = strconv.FormatFloat(system.Unit(k.Dim).From(v), 'f', decimalsOf(k.Dim), 64)
			}
			row = append(row, cell)
		}
		w.Write(append(row, string(h.Tag), plainCell(h.Note)))
	}
	w.Flush()
	return []byte(b.String())
}

func symbol(u units.Unit) string {
	if u.Symbol == "°" {
		return "deg"
	}
	return u.Symbol
}

// decimalsOf keeps a written number finer than any device measures.
func decimalsOf(d units.Dimension) int {
	switch d {
	case units.Spin:
		return 0
	case units.None:
		return 3
	}
	return 2
}

func plainCell(s string) string {
	if s != "" && strings.ContainsAny(s[:1], "=+-@\t\r") {
		return "'" + s
	}
	return s
}

// SessionFile is the open session as one file, as the store keeps it.
func SessionFile(s shot.Session) ([]byte, error) { return store.Encode(s) }
