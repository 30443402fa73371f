package pipeline

import (
	"strings"

	"ferrule/core/spoken"
	"ferrule/core/text"
	"ferrule/core/wire"
)

// heard writes what was said of a ball as a person types it: carry and side; nothing
// where it is not understood.
func heard(q wire.Hear) []string {
	to := text.Reader{Language: text.Language(q.Language)}
	b, ok := spoken.Read(q.Text, text.Said(to.Language))
	if !ok {
		return nil
	}
	side := ""
	switch {
	case b.Left:
		side = to.Word("side.l")
	case b.Right:
		side = to.Word("side.r")
	}
	written := func(parts ...string) string {
		return strings.TrimSpace(strings.Replace(strings.Join(parts, " "), ".", to.DecimalMark(), 1))
	}
	return []string{written(b.Carry, b.CarryUnit), strings.Join(strings.Fields(written(b.Side, b.SideUnit, side)), " ")}
}
