package invent

import (
	"fmt"
	"sort"
	"strings"
)

const demoClub = `{
  "name": "Example driver",
  "kind": "driver",
  "loft_deg": 10.5,
  "measured_loft_deg": 10.1,
  "lie_deg": 58,
  "head_mass_g": 198,
  "sleeve": {
    "tilt_deg": 1.5,
    "positions": 8,
    "labels": ["up", "up-upright", "upright", "down-upright", "down", "down-flat", "flat", "up-flat"]
  },
  "weights": [
    {
      "name": "track",
      "mass_g": 12,
      "stops": [
        {"label": "heel 20", "toe_mm": -20},
        {"label": "heel 10", "toe_mm": -10},
        {"label": "middle", "toe_mm": 0},
        {"label": "toe 10", "toe_mm": 10},
        {"label": "toe 20", "toe_mm": 20}
      ]
    }
  ],
  "current": {"sleeve": "flat", "weights": ["middle"]},
  "shaft": {"length_in": 45.25, "mass_g": 58, "grip_mass_g": 50, "total_mass_g": 312}
}
`

const demoAim = `{
  "hand": "right",
  "name": "Demo player A",
  "handicap": 16,
  "goal": "strokes",
  "aim_line": "middle",
  "trouble": "right",
  "trouble_at_yd": 25,
  "trouble_p_max": 0.1,
  "trouble_kind": "out",
  "fairway_yd": 32,
  "hole_yd": 400,
  "drives_per_round": 7,
  "apex_ft": [80, 95],
  "carry_min_yd": 210,
  "balls_left": 2,
  "ball": "own",
  "temperature_c": 14,
  "altitude_m": 60,
  "firmness": -0.5
}
`

const demoSource = `# The demonstration session: invented

Nobody hit these balls. A made-up golfer (52, handicap 16, a slice, 93 mph) was sent through an
impact and a flight that are not the engine's, with random numbers that are not the engine's:
package cmd/internal/invent. Regenerate all files but demo.go with

    go run ./cmd/invent

TestDemoFiles fails when a file here is not what the generator writes.

| file | what it is |
|---|---|
| demo.csv | the afternoon, %d balls, clean; the warm-up with range balls is marked in the column Ball |
| demo-left.csv | the same afternoon of a left-hander, every compass number mirrored |
| demo-thin.csv | three balls of each first visit: no verdict, a plan |
| demo-traps.csv | byte order mark, row of units, "12.3 R", average rows, a row of zeros, a smash of 1.58, two balls without spin, one ball booked under the wrong setting, spin axis positive to the left |
| demo-comma.csv | semicolons, decimal commas, km/h and m, spin axis positive to the left |
| club.json, aim.json, aim-left.json | the club and the wish, typed before the first ball |

Blocks: W warm-up with range balls (6), A first reference (6), B first loft up, wind up to 6 mph (5), C first up and upright, two lucky balls
(5), D first D again upright with the weight to the heel (10), C again B again A again the second visits (16), E up and upright with the weight
to the heel (6), V reference and E in turn (4). The device errs: .3 mph, .15 deg, 40 rpm, .7 deg of axis, .7 yd and .7 ft
(club numbers .5 mph and .4 to .6 deg), all standard deviations, all assumed.

## The truth, from 12000 balls a setting, rested player, still air

%s
The story wants 24, 17, 13 and 9 %% beyond 25 yd right at A, B, C and E, and an apex of 86 ft at E. To get there the
player's path, face and delivered loft were set to -2.5, -0.2 and 16.4 degrees at the untilted sleeve, face and path made to
go together (correlation .5), and his up-upright position closes the face by a further .2 degrees that no formula knows.

Plain averages of carry [yd]: %s. The seed %d was chosen so that C1 has the best raw average of all
blocks, C2 does not repeat it, and no setting's average place sideways strays more than 4 yd from its truth.
`

// DemoFiles are the checked-in files of the demonstration by name.
func DemoFiles() map[string]string {
	shots := demoSession(demoSeed)
	left := make([]DemoShot, len(shots))
	for i, s := range shots {
		left[i] = s.mirror()
	}
	aimLeft := strings.NewReplacer(`"hand": "right"`, `"hand": "left"`, `"trouble": "right"`, `"trouble": "left"`, "player A", "player A, mirrored").Replace(demoAim)
	means := blockMeans(shots)
	var blocks []string
	for b, m := range means {
		blocks = append(blocks, fmt.Sprintf("%s %.1f", b, m))
	}
	sort.Strings(blocks)
	return map[string]string{
		"demo.csv":       csv(shots),
		"demo-left.csv":  csv(left),
		"demo-thin.csv":  csv(thin(shots)),
		"demo-traps.csv": traps(shots, demoSeed),
		"demo-comma.csv": comma(shots),
		"club.json":      demoClub,
		"aim.json":       demoAim,
		"aim-left.json":  aimLeft,
		"SOURCE.md":      fmt.Sprintf(demoSource, len(shots), demoTruth(12000), strings.Join(blocks, ", "), demoSeed),
	}
}
