package trial

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"testing"

	"ferrule/cmd/internal/rough"
)

// A rival that says the plain means of the balls that it is given chooses what plain
// averages choose: balls and answers belong together.
func TestARivalOfPlainMeansIsTheAverages(t *testing.T) {
	const seed, golfers, balls = 9900, 3, 3
	var b bytes.Buffer
	ClubsBalls(&b, seed, golfers, balls, rough.Fixed{})
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	means, n := Means{}, map[[3]int]float64{}
	for _, r := range rows[1:] {
		var k [3]int
		for i := range k {
			k[i], _ = strconv.Atoi(r[i])
		}
		x, _ := strconv.ParseFloat(r[4], 64)
		z, _ := strconv.ParseFloat(r[5], 64)
		m := means[k]
		n[k]++
		means[k] = [2]float64{m[0] + (x-m[0])/n[k], m[1] + (z-m[1])/n[k]}
	}
	c := Clubs(seed, golfers, balls, rough.Fixed{}, means, func(*rough.Golfer, []rough.Seen, []int) (ClubsSaid, error) { return ClubsSaid{}, nil })
	if math.Abs(c.Regret["mixed model"]-c.Regret["averages"]) > 1e-12 || c.Regret["averages"] == c.Regret["keep"] {
		t.Errorf("regret %v", c.Regret)
	}
}
