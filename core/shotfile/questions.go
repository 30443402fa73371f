package shotfile

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// Questions. Each has an id that is the same in every file of one shape, and
// choices of which none is proposed. An answer comes back in Options.Answers;
// what is said of a column ("column Zq", "unit Carry", "side Curve") is a
// correction of that column, whether it was asked or not.

// maxSaid bounds notes and questions: more are read by nobody.
const maxSaid = 100

// asRead accepts a question's numbers as they were read.
const asRead = "as read"

// question puts a question on the list and returns its answer, if it has one.
func (r *dialogue) question(q shot.Question) (answer string, ok bool) {
	for _, old := range r.table.Questions {
		if old.ID == q.ID {
			return old.Answer, !old.Open
		}
	}
	q.Answer, ok = r.opt.Answers[q.ID]
	if ok && !q.Allows(q.Answer) {
		r.note("problem.no-choice", strconv.Quote(clip(q.Answer)), strconv.Quote(q.ID))
		q.Answer, ok = "", false
	}
	q.Open = !ok
	r.list(q)
	return q.Answer, ok
}

// asNumbers reads numbers against what is written of them, as the identities say.
const asNumbers = "as the numbers say"

// repaired lists a disagreement of the file with itself whose repair is far more
// probable than the file as it is written: it is made, shown, and taken back by
// one tap. It reports whether it is made.
func (r *dialogue) repaired(id string, text message.Message) bool {
	if r.sheet != "" {
		id += " of " + r.sheet
	}
	answer := r.opt.Answers[id]
	if answer != asRead {
		answer = asNumbers
	}
	r.list(shot.Question{ID: id, Text: text, Answer: answer, Taken: true, Choices: []shot.Choice{{Value: asNumbers, Text: message.Of("problem.as-numbers")}, {Value: asRead, Text: message.Of("problem.as-read")}}})
	return answer == asNumbers
}

// list puts a question on the list, once.
func (r *dialogue) list(q shot.Question) {
	same := func(o shot.Question) bool { return o.ID == q.ID }
	if len(r.table.Questions) < maxSaid && !slices.ContainsFunc(r.table.Questions, same) {
		r.table.Questions = append(r.table.Questions, q)
		if q.Open {
			r.table.Ask = addOnce(r.table.Ask, q.Text)
		}
	}
}

func (r *dialogue) answered(id string) bool { _, ok := r.opt.Answers[id]; return ok }

// sideQuestions turns what the audit of the signs asked into questions: for
// each column that it names, whether a positive number means right.
func (p *part) sideQuestions(asked []sideQuestion) {
	for _, a := range asked {
		q := shot.Question{Text: a.text}
		for _, c := range p.cols {
			if c.quantity != "" && c.kind.Compass && slices.Contains(a.of, c) {
				q.ID = cmp.Or(q.ID, "side "+c.key)
				q.Choices = append(q.Choices, shot.Choice{Value: "right " + c.key, Text: message.Of("problem.means-right", strconv.Quote(c.header))},
					shot.Choice{Value: "left " + c.key, Text: message.Of("problem.means-left", strconv.Quote(c.header))})
			}
		}
		q.ID = cmp.Or(q.ID, "accept "+clip(a.text.String()))
		q.Choices = append(q.Choices, shot.Choice{Value: asRead, Text: message.Of("problem.as-read")})
		p.r.question(q)
	}
}

// unitQuestion asks for the unit of a column, or of some lines of it.
func (r *dialogue) unitQuestion(id string, text message.Message, us []units.Unit) (answer string, ok bool) {
	q := shot.Question{ID: "unit " + id, Text: text}
	for _, u := range us {
		q.Choices = append(q.Choices, shot.Choice{Value: u.Symbol, Text: message.Plain(u.Symbol)})
	}
	return r.question(q)
}

// said is what the answers say of a column, as a correction: "column KEY" is
// "carry yd", "setting" or "skip"; "unit KEY" a unit; "side KEY" and the values
// of side questions turn it; "what KEY" is a quantity.
func (r *dialogue) said(c *column) (fix shot.Column, ok bool) {
	fix = shot.Column{Header: c.key, Quantity: c.quantity, Role: c.role, Flipped: false}
	if v, has := r.opt.Answers["column "+c.key]; has {
		what, unit, _ := strings.Cut(v, " ")
		fix.Quantity, fix.Role, fix.Unit, ok = "", "", unit, true
		if _, is := shot.KindOf(shot.Quantity(what)); is {
			fix.Quantity = shot.Quantity(what)
		} else {
			fix.Role = what
		}
	}
	if v, has := r.opt.Answers["what "+c.key]; has {
		fix.Quantity, ok = shot.Quantity(v), true
		if v == roleSkip {
			fix.Quantity, fix.Role = "", roleSkip
		}
	}
	if v, has := r.opt.Answers["unit "+c.key]; has {
		if u, is := typed.Unit(v); is && (fix.Quantity == "" || fitsUnit(fix.Quantity, u)) {
			fix.Unit, ok = v, true
		}
	}
	for id, v := range r.opt.Answers {
		side, key, _ := strings.Cut(v, " ")
		if strings.HasPrefix(id, "side ") && (key == c.key || key == "" && id == "side "+c.key) && (side == "right" || side == "left") {
			fix.Flipped, ok = side == "left", true
		}
	}
	return fix, ok
}

func fitsUnit(q shot.Quantity, u units.Unit) bool {
	k, ok := shot.KindOf(q)
	return ok && typed.SameDim(k.Dim, u.Dim)
}

// letterQuestion asks what a letter beside the numbers of a column means.
func (r *dialogue) letterQuestion(c *column, letter string) {
	r.question(shot.Question{ID: "letter " + c.key, Text: message.Of("problem.letter", strconv.Quote(letter), strconv.Quote(c.header)),
		Choices: []shot.Choice{{Value: letter + " right", Text: message.Of("problem.letter-right", letter)}, {Value: letter + " left", Text: message.Of("problem.letter-left", letter)}, {Value: asRead, Text: message.Of("problem.not-used")}}})
}

// letterSign is the side that the answers give a letter of a column, 0 = none.
func (r *dialogue) letterSign(c *column, letter string) float64 {
	v, ok := r.opt.Answers["letter "+c.key]
	l, side, _ := strings.Cut(v, " ")
	if !ok || !strings.EqualFold(l, letter) {
		if ok && v != asRead && len(l) == 1 { // the column's other letter is the other side
			return map[string]float64{"left": 1, "right": -1}[side]
		}
		return 0
	}
	return map[string]float64{"right": 1, "left": -1}[side]
}
