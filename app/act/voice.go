package act

import (
	"context"

	"ferrule/core/wire"
)

// Voice has what was said read as a ball. Nothing is entered by it.
type Voice struct {
	loop    *Loop
	notices *Notices
	prefs   *Preferences
}

// Hear tells the carry and the side that were said as a person types them, or
// nothing, on the screen's goroutine.
func (v *Voice) Hear(said string, told func(ball []string)) {
	req := wire.Request{Hear: &wire.Hear{Text: said, Language: v.prefs.now.Language}}
	v.loop.elsewhere(func() func() {
		res, err := wrong(v.loop.deps.Worker.Do(context.Background(), req))
		return func() {
			if err != nil {
				v.notices.Warn("error.answer", Reason(err))
				return
			}
			told(res.Heard)
			v.loop.changed()
		}
	})
}
