package pipeline

import "testing"

// What is told of an analysis only grows, and the learning, which takes most of a
// season, is told in parts: a page takes a worker that is silent for one that has ended.
func TestProgressIsToldWhileItLearns(t *testing.T) {
	s, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	last, parts := 0.0, 0
	if _, err := Analyse(s, 1, func(step string, done float64) {
		if done < last {
			t.Errorf("%s: %.2f after %.2f", step, done, last)
		}
		if last = done; step == "learn" {
			parts++
		}
	}); err != nil {
		t.Fatal(err)
	}
	if parts < 3 {
		t.Errorf("the learning was told of %d times, want 3", parts)
	}
}
