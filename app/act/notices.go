package act

import (
	"time"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/store"
)

// Notices are the short words to the person, one at a time.
type Notices struct {
	loop *Loop
	now  Notice

	update bool
}

// SetUpdate notes that a newer version of the program waits.
func (n *Notices) SetUpdate() { n.update = true; n.loop.changed() }

// Notice is a short word to the person, with an undo where that is possible.
type Notice struct {
	Serial int // raised by each notice, so that the same words are said again
	Key    string
	Args   []report.Arg
	Undo   bool
	Alert  bool // something went wrong
}

// Tell shows a short notice; undo offers to take back the last edit.
func (n *Notices) Tell(key string, undo bool, args ...report.Arg) {
	n.now = Notice{Serial: n.now.Serial + 1, Key: key, Args: args, Undo: undo}
	serial := n.now.Serial
	n.loop.later(9*time.Second, func() {
		if n.now.Serial == serial {
			n.Dismiss()
		}
	})
	n.loop.changed()
}

// Warn shows that something went wrong; it stays until dismissed.
func (n *Notices) Warn(key string, args ...report.Arg) {
	n.now = Notice{Serial: n.now.Serial + 1, Key: key, Args: args, Alert: true}
	n.loop.changed()
}

// edited takes away an Undo that would now take back another edit.
func (n *Notices) edited() {
	if n.now.Undo && n.now.Key != sessionRemoved {
		n.now = Notice{Serial: n.now.Serial}
	}
}

// Dismiss takes the notice away.
func (n *Notices) Dismiss() {
	n.now = Notice{Serial: n.now.Serial}
	n.loop.changed()
}

func textArg(form, text string) report.Arg {
	if form == "key" {
		return report.Arg{Form: message.FormKey, Text: text}
	}
	return report.Arg{Form: message.FormText, Text: text}
}

func countArg(n int) report.Arg {
	return report.Arg{Form: message.FormCount, Value: float64(n)}
}

// reason is err in the words that a person reads of a store.
func reason(err error) error {
	if key := store.Key(err); key != "" {
		return message.New(key)
	}
	return err
}

// Reason says why something was refused, in the person's language where it can.
func Reason(err error) report.Arg { return message.ArgOf(reason(err)) }
