package browsertest

import (
	"fmt"
	"strings"
	"testing"
)

// TestTheWindTurnsAtBallThirteen: twelve balls are hit in still air, the wind is
// typed, and a thirteenth is hit; the export says that the first twelve stay in
// the air that they were hit in.
func TestTheWindTurnsAtBallThirteen(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.newSession()
	for i := range 12 {
		p.typeBall(fmt.Sprint(200 + i))
		p.until("the ball", fmt.Sprintf(balls+" === %d", i+1))
	}
	p.goByLink("/", "home")
	p.goByLink("/club", "club")
	p.unfold("air")
	p.fillIn("wind", "12")
	p.pick("#wind-from", "-90")
	p.until("where the air begins", `document.querySelector("#air-from")?.value === "13"`)
	p.goByLink("/shots", "shots")
	p.typeBall("190")
	p.until("the thirteenth ball", balls+" === 13")
	p.saved()
	airs := func() string {
		p.goByLink("/sheet", "sheet")
		got := ""
		for _, line := range strings.Split(p.hands("table", true), "\n") {
			if cells := strings.Split(strings.TrimSpace(line), ","); !strings.HasPrefix(line, "#") && !strings.HasPrefix(line, `"#`) && len(cells) > 5 && cells[0] != "Shot ID" {
				got += cells[len(cells)-1]
			}
		}
		return got
	}
	if got := airs(); got != "0000000000001" {
		t.Errorf("the balls' airs are %q", got)
	}
}
