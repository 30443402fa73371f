package main

import (
	"bufio"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"sort"
	"strconv"
	"strings"

	"ferrule/core/air"
	"ferrule/core/flight"
	"ferrule/core/units"
)

func init() { commands["fly"] = runFly }

// flyKeys maps a key of a launch line to the launch's field, in its unit.
// Either unit of a quantity may be given, one of them.
var flyKeys = map[string]struct {
	field string
	unit  units.Unit
}{
	"ball_speed_mps": {"speed", units.UnitMPS}, "ball_speed_mph": {"speed", units.UnitMPH}, "ball_speed_kmh": {"speed", units.UnitKMH},
	"launch_deg": {"launch", units.UnitDeg}, "launch_rad": {"launch", units.UnitRad},
	"launch_direction_deg": {"direction", units.UnitDeg}, "launch_direction_rad": {"direction", units.UnitRad},
	"spin_rpm": {"spin", units.UnitRPM}, "spin_radps": {"spin", units.UnitRadS},
	"backspin_rpm": {"backspin", units.UnitRPM}, "backspin_radps": {"backspin", units.UnitRadS},
	"spin_axis_deg": {"axis", units.UnitDeg}, "spin_axis_rad": {"axis", units.UnitRad},
	"temperature_c": {"temperature", units.UnitC}, "pressure_hpa": {"pressure", units.UnitHPa},
	"humidity_pct": {"humidity", units.Unit{Scale: .01}}, "altitude_m": {"altitude", units.UnitM},
	"wind_mps": {"wind", units.UnitMPS}, "wind_from_deg": {"windfrom", units.UnitDeg}, "firmness": {"firmness", units.UnitOne},
	"attack_deg": {"attack", units.UnitDeg}, "attack_rad": {"attack", units.UnitRad},
	"carry_m": {"carry", units.UnitM}, "offline_m": {"offline", units.UnitM}, "apex_m": {"apex", units.UnitM},
}

// asked is one line in: a launch, the air, and what was measured beside it.
type asked struct {
	launch  flight.Launch
	env     flight.Env
	seen    flight.Measured
	attack  *float64 // [rad]
	unknown []string // keys that are none
}

// flownJSON is one line out; keys name quantity and unit. Carry and total are
// straight distances from the tee, as devices print them; the carry along the
// target line is a key of its own.
type flownJSON struct {
	Carry   float64 `json:"carry_m"`
	Total   float64 `json:"total_m"`
	Doubt   float64 `json:"run_doubt_m"` // half width of the total's 80 % interval
	Apex    float64 `json:"apex_m"`
	Descent float64 `json:"descent_rad"`
	Offline float64 `json:"offline_m"`
	Curve   float64 `json:"curve_m"`
	Time    float64 `json:"time_s"`
	Within  bool    `json:"in_range"`
	Along   float64 `json:"carry_line_m"`
	moreJSON
}

// parseLaunch reads one JSON object into a launch and its environment.
// Unknown keys are returned, not refused: a line of `read -json` has more.
func parseLaunch(line []byte) (q asked, err error) {
	l, e := &q.launch, &q.env
	var raw map[string]any
	if err = json.Unmarshal(line, &raw); err != nil {
		return q, fmt.Errorf("not a JSON object: %v; expected such as {\"ball_speed_mph\":150,\"launch_deg\":12,\"spin_rpm\":2600}", err)
	}
	got := map[string]float64{}
	for key, v := range raw {
		k, known := flyKeys[key]
		if !known {
			q.unknown = append(q.unknown, key)
			continue
		}
		x, isNumber := v.(float64)
		if !isNumber {
			return q, fmt.Errorf("%s: read %v, expected a number", key, v)
		}
		got[k.field] = k.unit.SI(x)
	}
	sort.Strings(q.unknown)
	need := func(field, keys string) float64 {
		x, ok := got[field]
		if !ok && err == nil {
			err = fmt.Errorf("missing %s", keys)
		}
		return x
	}
	l.Speed, l.Angle = need("speed", "ball_speed_mph (or ball_speed_mps)"), need("launch", "launch_deg")
	l.Direction, l.Axis = got["direction"], got["axis"]
	if spin, ok := got["spin"]; ok {
		l.Spin = spin
	} else { // backspin is the lifting component of the total
		l.Spin = need("backspin", "spin_rpm (or backspin_rpm)") / math.Max(math.Cos(l.Axis), .2)
	}
	if err != nil {
		return q, err
	}
	ptr := func(field string) *float64 {
		if x, ok := got[field]; ok {
			return &x
		}
		return nil
	}
	e.Air, err = air.From(ptr("temperature"), ptr("pressure"), ptr("humidity"), ptr("altitude"), got["wind"], got["windfrom"])
	e.Firmness = got["firmness"]
	q.seen = flight.Measured{Carry: ptr("carry"), Offline: ptr("offline"), Apex: ptr("apex")}
	q.attack = ptr("attack")
	return q, err
}

func runFly(args []string, std streams) int {
	fs := flag.NewFlagSet("fly", flag.ContinueOnError)
	fs.SetOutput(std.err)
	asJSON := fs.Bool("json", false, "print one JSON object a line")
	table := fs.Bool("cases", false, "print every published model against every case with a known answer")
	points := fs.Bool("fit", false, "print the population of balls that published points make; with FILE how its mean ball and the default fly measured drives")
	measured := fs.Bool("measured", false, "compare the flights of FILE with how they were measured")
	whatIf := fs.Bool("what-if", false, "what other air does to the ball, and the best launch within reach")
	level := fs.Bool("level", false, "bring measured carry_m, offline_m and apex_m to standard still air")
	model := fs.String("model", "COMP", "aerodynamics: COMP, MEAN, SS94, BH76, NMS04, LKS18 or ITR98")
	usageError := func() int {
		fmt.Fprintln(std.err, `usage: ferrule fly [-json] [-model=KEY] [-what-if] [-level] FILE   one JSON object a line; - is standard input
       ferrule fly [...] SPEED LAUNCH SPIN [DIRECTION [AXIS]]      mph, degrees, rpm, degrees, degrees
       ferrule fly -fit [FILE]                                    the population of balls that published points make
       ferrule fly -cases                                         models against cases with known answers
       ferrule fly -measured [-model=KEY] FILE                    a file like testdata/measured/drives.csv`)
		return exitUsage
	}
	flags, rest := flagsAndRest(args)
	if fs.Parse(flags) != nil {
		return usageError()
	}
	ball, ok := flight.ByKey(*model)
	if !ok {
		fmt.Fprintf(std.err, "ferrule fly: -model: read %q, expected COMP, MEAN, SS94, BH76, NMS04, LKS18 or ITR98\n", *model)
		return exitUsage
	}
	done := func(err error) int {
		if err != nil {
			fmt.Fprintln(std.err, "ferrule fly:", err)
			return exitInput
		}
		return exitDone
	}
	options := flyOptions{*asJSON, *whatIf, *level, flight.Of(ball)}
	switch {
	case *measured && len(rest) == 1:
		return done(flyMeasured(std.out, rest[0], flight.Of(ball)))
	case *measured:
		return usageError()
	case *points && len(rest) <= 1:
		return done(flyFit(std.out, strings.Join(rest, "")))
	case *points:
		return usageError()
	case *table:
		return done(flyCases(std.out))
	case len(rest) >= 3 && len(rest) <= 5:
		line, err := launchLine(rest)
		if err != nil {
			return done(err)
		}
		return flyLines(strings.NewReader(line), "command line", options, std)
	case len(rest) == 1 && rest[0] != "-":
		f, err := os.Open(rest[0])
		if err != nil {
			return done(err)
		}
		defer f.Close()
		return flyLines(f, rest[0], options, std)
	case len(rest) == 1 || len(rest) == 0 && *asJSON:
		return flyLines(std.in, "standard input", options, std)
	}
	return usageError()
}

// flagsAndRest tells flags from arguments: negative numbers are no flags.
func flagsAndRest(args []string) (flags, rest []string) {
	for _, a := range args {
		if _, err := strconv.ParseFloat(a, 64); err == nil || !strings.HasPrefix(a, "-") || a == "-" {
			rest = append(rest, a)
		} else {
			flags = append(flags, a)
		}
	}
	return flags, rest
}

// launchLine is a launch of the command line as a line of JSON.
func launchLine(numbers []string) (string, error) {
	keys := []string{"ball_speed_mph", "launch_deg", "spin_rpm", "launch_direction_deg", "spin_axis_deg"}
	var parts []string
	for i, text := range numbers {
		v, err := units.ParseNumber(text)
		if err != nil {
			return "", fmt.Errorf("%s: %w", keys[i], err)
		}
		parts = append(parts, fmt.Sprintf("%q:%g", keys[i], v))
	}
	return "{" + strings.Join(parts, ",") + "}", nil
}

func flyLines(in io.Reader, name string, o flyOptions, std streams) int {
	scanner := bufio.NewScanner(in)
	scanner.Buffer(nil, 1<<20)
	noted := map[string]bool{}
	line, flown, status := 0, 0, exitDone
	for scanner.Scan() {
		line++
		text := strings.TrimSpace(scanner.Text())
		if text == "" {
			continue
		}
		q, err := parseLaunch([]byte(text))
		for _, k := range q.unknown {
			if !noted[k] {
				noted[k] = true
				fmt.Fprintf(std.err, "%s:%d: %q is no key of a launch and is passed over\n", name, line, k)
			}
		}
		var g flight.Landing
		var also moreJSON
		q.env.Model = o.model
		if err == nil {
			g, err = flight.Fly(q.launch, q.env)
		}
		if err == nil {
			also, err = more(q.launch, q.env, q.seen, q.attack, o)
		}
		if err != nil {
			fmt.Fprintf(std.err, "%s:%d: %v\n", name, line, err)
			status = exitInput
			continue
		}
		flown++
		if o.json {
			raw, _ := json.Marshal(flownJSON{g.Distance(), g.TotalDistance(), flight.RunDoubt, g.Apex, g.Descent, g.Offline, g.Curve, g.Time, g.Within, g.Carry, also})
			fmt.Fprintf(std.out, "%s\n", raw)
			continue
		}
		fmt.Fprintf(std.out, "carry %.1f yd, total %.0f ± %.0f yd, apex %.0f ft, descent %.1f deg, offline %+.1f yd (right +), curve %+.1f yd, time %.2f s%s\n",
			g.Distance()/units.Yard, g.TotalDistance()/units.Yard, flight.RunDoubt/units.Yard, g.Apex/units.Foot, g.Descent/units.Degree, g.Offline/units.Yard, g.Curve/units.Yard, g.Time, outside(g))
		also.print(std.out)
	}
	if err := scanner.Err(); err != nil {
		fmt.Fprintf(std.err, "%s:%d: %v\n", name, line+1, err)
		return exitInput
	}
	if flown == 0 && status == exitDone {
		fmt.Fprintf(std.err, "%s: no launch in it, expected one JSON object a line\n", name)
		return exitInput
	}
	return status
}

func outside(g flight.Landing) string {
	if g.Within {
		return ""
	}
	return " (outside the range where balls were measured)"
}
