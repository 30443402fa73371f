package invent

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The columns of the clean file. Headers say quantity and unit in words.
var demoColumns = []struct {
	header string
	digits int
	value  func(s DemoShot) float64
}{
	{"Club Speed (mph)", 1, func(s DemoShot) float64 { return s.ClubSpeed }},
	{"Ball Speed (mph)", 1, func(s DemoShot) float64 { return s.BallSpeed }},
	{"Smash Factor", 2, DemoShot.smash},
	{"Attack Angle (deg)", 1, func(s DemoShot) float64 { return s.Attack }},
	{"Club Path (deg)", 1, func(s DemoShot) float64 { return s.Path }},
	{"Face Angle (deg)", 1, func(s DemoShot) float64 { return s.Face }},
	{"Dynamic Loft (deg)", 1, func(s DemoShot) float64 { return s.Loft }},
	{"Launch Angle (deg)", 1, func(s DemoShot) float64 { return s.Launch }},
	{"Launch Direction (deg)", 1, func(s DemoShot) float64 { return s.Direction }},
	{"Spin Rate (rpm)", 0, func(s DemoShot) float64 { return s.Spin }},
	{"Spin Axis (deg)", 1, func(s DemoShot) float64 { return s.Axis }},
	{"Carry (yd)", 1, func(s DemoShot) float64 { return s.Carry }},
	{"Total (yd)", 1, func(s DemoShot) float64 { return s.Total }},
	{"Side (yd)", 1, func(s DemoShot) float64 { return s.Side }},
	{"Apex (ft)", 1, func(s DemoShot) float64 { return s.Apex }},
	{"Descent Angle (deg)", 1, func(s DemoShot) float64 { return s.Descent }},
	{"Hang Time (s)", 2, func(s DemoShot) float64 { return s.Time }},
}

// csv is the clean file: comma, decimal point, right positive.
func csv(shots []DemoShot) string {
	var b strings.Builder
	b.WriteString("Shot,Time,Sleeve,Weight,Ball")
	for _, c := range demoColumns {
		b.WriteString("," + c.header)
	}
	b.WriteString("\n")
	for i, s := range shots {
		fmt.Fprintf(&b, "%d,%02d:%02d,%s,%s,%s", i+1, s.Hour, s.Minu, s.Set.Sleeve, s.Set.Weight, s.Ball)
		for _, c := range demoColumns {
			b.WriteString("," + number(c.value(s), c.digits))
		}
		b.WriteString("\n")
	}
	return b.String()
}

func number(v float64, digits int) string { return strconv.FormatFloat(v, 'f', digits, 64) }

// trapped are the shots of the trap files: one ball of D2 was hit with C's
// setting and booked under D's.
func trapped(shots []DemoShot, seed uint64) []DemoShot {
	out := append([]DemoShot(nil), shots...)
	p := demoPlayer()
	r, device := NewRand(seed, 3), NewRand(seed, 4)
	for i := range out {
		if out[i].Block == "D again" {
			i += 2
			d, h, _ := p.swing(r, demoSettings()['C'].Setting, i)
			s := observe(device, d, strike(d, h), p.Air)
			s.Block, s.Set, s.Ball, s.Hour, s.Minu = out[i].Block, out[i].Set, out[i].Ball, out[i].Hour, out[i].Minu
			out[i] = s
			break
		}
	}
	return out
}

// side writes a sideways number the way some devices do: "12.3 R", "4.0 L".
func side(v float64) string {
	switch {
	case v > 0:
		return number(v, 1) + " R"
	case v < 0:
		return number(-v, 1) + " L"
	}
	return "0.0"
}

// traps is the same afternoon as a careless device and a hurried player leave
// it: a byte order mark, a row of units, sides as "12.3 R", an average row
// after each block, two balls without spin, a row of zeros, one smash of 1.58,
// a mis-tagged ball, and the spin axis positive to the left.
func traps(shots []DemoShot, seed uint64) string {
	var b strings.Builder
	b.WriteString("\ufeffShot,Sleeve,Weight,Ball,Club Speed,Ball Speed,Smash Factor,Launch Angle,Launch Direction,Spin Rate,Spin Axis,Carry,Total,Side,Apex\r\n")
	b.WriteString(",,,,mph,mph,,deg,deg,rpm,deg,yd,yd,yd,ft\r\n")
	t := trapped(shots, seed)
	n := 0
	for i, s := range t {
		n++
		smash, club := s.smash(), s.ClubSpeed
		if s.Block == "B again" && t[i-1].Block == "B again" && t[i-2].Block != "B again" { // second ball of the second visit
			club = round(s.BallSpeed/1.58, 1)
			smash = s.BallSpeed / club
		}
		spin := number(s.Spin, 0)
		if i == 15 || i == 44 {
			spin = ""
		}
		fmt.Fprintf(&b, "%d,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s\r\n", n, s.Set.Sleeve, s.Set.Weight, s.Ball,
			number(club, 1), number(s.BallSpeed, 1), number(smash, 2), number(s.Launch, 1), side(s.Direction), spin,
			number(0-s.Axis, 1), number(s.Carry, 1), number(s.Total, 1), side(s.Side), number(s.Apex, 1))
		if s.Block == "B again" && t[i-1].Block != "B again" {
			n++
			fmt.Fprintf(&b, "%d,%s,%s,%s,0.0,0.0,0.00,0.0,0.0,0,0.0,0.0,0.0,0.0,0.0\r\n", n, s.Set.Sleeve, s.Set.Weight, s.Ball)
		}
		if i+1 == len(t) || t[i+1].Block != s.Block {
			b.WriteString(average(t, s.Block))
		}
	}
	return b.String()
}

// average is the row that some devices write after a block.
func average(shots []DemoShot, block string) string {
	var club, ball, launch, direction, spin, axis, carry, total, off, apex, n float64
	for _, s := range shots {
		if s.Block == block {
			club += s.ClubSpeed
			ball += s.BallSpeed
			launch += s.Launch
			direction += s.Direction
			spin += s.Spin
			axis -= s.Axis
			carry += s.Carry
			total += s.Total
			off += s.Side
			apex += s.Apex
			n++
		}
	}
	return fmt.Sprintf("Average,,,,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s\r\n", number(club/n, 1), number(ball/n, 1), number(ball/club, 2),
		number(launch/n, 1), side(round(direction/n, 1)), number(spin/n, 0), number(round(axis/n, 1), 1), number(carry/n, 1), number(total/n, 1), side(round(off/n, 1)), number(apex/n, 1))
}

// comma is the afternoon from a device set to another country: semicolons,
// decimal commas, metric units, the spin axis positive to the left.
func comma(shots []DemoShot) string {
	var b strings.Builder
	b.WriteString("Shot;Sleeve;Weight;Ball;Club Speed [km/h];Ball Speed [km/h];Launch Angle [°];Launch Direction [°];Spin Rate [rpm];Spin Axis [°];Carry [m];Side [m];Apex [m]\n")
	c := func(v float64, digits int) string { return strings.Replace(number(v, digits), ".", ",", 1) }
	for i, s := range shots {
		fmt.Fprintf(&b, "%d;%s;%s;%s;%s;%s;%s;%s;%s;%s;%s;%s;%s\n", i+1, s.Set.Sleeve, s.Set.Weight, s.Ball,
			c(s.ClubSpeed*mph*3.6, 1), c(s.BallSpeed*mph*3.6, 1), c(s.Launch, 1), c(s.Direction, 1), c(s.Spin, 0),
			c(0-s.Axis, 1), c(s.Carry*yd, 1), c(round(s.Side*yd, 1), 1), c(s.Apex*ft, 1))
	}
	return b.String()
}

// thin keeps three balls of each first block: too few for a verdict.
func thin(shots []DemoShot) []DemoShot {
	var out []DemoShot
	count := map[string]int{}
	for _, s := range shots {
		if strings.HasSuffix(s.Block, " first") && count[s.Block] < 3 {
			count[s.Block]++
			out = append(out, s)
		}
	}
	return out
}

// demoTruth prints what the generator does at each setting, from n balls of a
// rested player in still air: the row of a table in Markdown.
func demoTruth(n int) string {
	var b strings.Builder
	b.WriteString("| block | sleeve | weight | carry yd (sd) | offline yd (sd) | apex ft | spin rpm | more than 25 yd right | left |\n|---|---|---|---|---|---|---|---|---|\n")
	for _, k := range []byte("ABCDE") {
		s := demoSettings()[k]
		t := demoPlayer().truth(NewRand(99, 7), s.Setting, 25*yd, n)
		fmt.Fprintf(&b, "| %c | %s | %s | %.0f (%.0f) | %+.1f (%.0f) | %.0f | %.0f | %.1f %% | %.1f %% |\n", k, s.Sleeve, s.Weight, t.Carry/yd, t.CarrySD/yd,
			t.Offline/yd, t.OfflineSD/yd, t.Apex/ft, t.Spin/rpm, 100*t.Right, 100*t.Left)
	}
	return b.String()
}

// blockMeans is the plain average of a block's carry [yd].
func blockMeans(shots []DemoShot) map[string]float64 {
	sum, n := map[string]float64{}, map[string]float64{}
	for _, s := range shots {
		sum[s.Block] += s.Carry
		n[s.Block]++
	}
	for k := range sum {
		sum[k] = math.Round(10*sum[k]/n[k]) / 10
	}
	return sum
}
