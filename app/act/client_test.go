package act

import (
	"testing"

	"ferrule/core/shot"
)

// A client's page holds all of his and nothing of anybody else's.
func TestAClientIsShownAlone(t *testing.T) {
	r := newRig(t)
	first := r.keeps("Ann", "spring", "red")
	r.Editor.Edit(Change{Key: "edit.adopt", Quiet: true}, func(s *shot.Session) {
		s.Adopted = &shot.Decision{When: s.Created, Goal: shot.GoalCarry}
		s.Aim.Goal = shot.GoalCarry
	})
	r.rest()
	r.keeps("Annabel", "summer", "green")
	second := r.keeps("ann ", "autumn", "blue")
	r.keeps("Ben", "winter", "black")
	r.Clients.Show("Ben")
	r.Clients.Show("Ann") // the newest question alone is answered
	r.rest()
	c := r.State().Client
	if c.Name != "Ann" || len(c.Visits) != 2 || c.Visits[0].ID != second || c.Visits[1].ID != first {
		t.Fatalf("%+v", c)
	}
	if v := c.Visits[1]; v.Aim.Goal != shot.GoalCarry || v.Adopted == nil || v.Head.Name != "red" {
		t.Errorf("the first: %+v", v)
	}
}
