package shotfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// A third bed: exporters that mean well and are odd. Tables stand side by side,
// totals and headers between the balls, settings in one cell of a title, marks that
// cannot be seen in the cells. Flights (exporterFlight), words and writing are of
// this bed alone.

// exported is one ball: what was hit, and what stands in the file of it [SI].
type exported struct {
	v, want   shot.Values
	club, set string
	block     int
}

// exporter is one program, its habits and the session that it wrote.
type exporter struct {
	lang    string // en, de, zh
	cols    []shot.Quantity
	heads   map[shot.Quantity]string
	unit    map[shot.Quantity]units.Unit
	unitsAt string // "head", "row", "cells", "none"
	bare    map[shot.Quantity]bool
	comma   bool
	groups  string // between thousands
	minus   string // before what is below zero
	zero    bool   // writes a zero below zero
	sides   map[shot.Quantity]string
	unseen  string // a mark that nobody sees, in some cells
	setsBy  string // "none", "column", "title", "merged", "beside"
	between string // what stands between blocks
	aside   bool   // a table of averages right of the balls
	notes   bool
	clock   string
	empty   bool // columns of nothing
	double  bool // a header that stands twice
	bag     bool // a second sheet lists clubs
	hidden  bool // a hidden sheet of old balls
	height  bool // the place's altitude
	form    string
	hand    frame.Hand
	sets    []string
	balls   []exported
	shown   string
}

// exporterFlight is a drive by a midpoint rule of 20 ms, with drag .2 + .24 S to the
// power 1.2, lift .33 (1 - exp(-6 S)), S rim speed over speed, in the file's own air and
// wind (rough figures, no source).
func exporterFlight(v shot.Values, rho, head, cross float64) {
	type state [6]float64 // ahead, right, up and their speeds
	const dt, radius = .02, .02135
	w, axis := v[shot.Spin], v[shot.SpinAxis]
	rate := func(s state) (d state) {
		a, b, c := s[3]+head, s[4]-cross, s[5]
		n := math.Sqrt(a*a + b*b + c*c)
		rim := radius * w / n
		k := rho * math.Pi * radius * radius / 2 / .0459 * n
		drag, lift := k*(.2+.24*math.Pow(rim, 1.2)), k*.33*(1-math.Exp(-6*rim))
		h := math.Hypot(a, b)
		ux, uy, uz := -a*c/h/n, -b*c/h/n, h/n
		return state{s[3], s[4], s[5], -drag*a + lift*n*(math.Cos(axis)*ux-math.Sin(axis)*b/h), -drag*b + lift*n*(math.Cos(axis)*uy+math.Sin(axis)*a/h), -drag*c + lift*n*math.Cos(axis)*uz - 9.81}
	}
	sp, l, d := v[shot.BallSpeed], v[shot.Launch], v[shot.LaunchDirection]
	s := state{0, 0, 0, sp * math.Cos(l) * math.Cos(d), sp * math.Cos(l) * math.Sin(d), sp * math.Sin(l)}
	t, apex := 0., 0.
	for ; t < 14 && (s[2] > 0 || t < .1); t += dt {
		mid, d := s, rate(s)
		for i := range mid {
			mid[i] += dt / 2 * d[i]
		}
		d = rate(mid)
		for i := range s {
			s[i] += dt * d[i]
		}
		w *= 1 - dt/20
		apex = math.Max(apex, s[2])
	}
	v[shot.Carry], v[shot.Offline], v[shot.Apex], v[shot.FlightTime] = s[0], s[1], apex, t
	v[shot.Descent] = math.Atan2(-s[5], math.Hypot(s[3], s[4]))
	v[shot.Total] = s[0] + math.Max(2, 30-35*v[shot.Descent])
}

// exporterSwing is one ball of a club of loft [deg] at a speed, its face and path.
func exporterSwing(r *rand.Rand, speed, loft float64, path, face, rho, head, cross float64) shot.Values {
	n, deg := r.NormFloat64, units.Degree
	v := shot.Values{shot.ClubSpeed: speed * (1 + .015*n()), shot.Path: (path + 1.6*n()) * deg, shot.Face: (face + 1.8*n()) * deg}
	v[shot.FaceToPath] = v[shot.Face] - v[shot.Path]
	v[shot.BallSpeed] = v[shot.ClubSpeed] * (1.47 - .004*(loft-10) - .025*r.ExpFloat64())
	v[shot.Attack] = (1.5 - .2*(loft-10) + 1.2*n()) * deg
	v[shot.Launch] = (2.5 + .9*loft + 1.1*n()) * deg
	v[shot.LaunchDirection] = .83*v[shot.Face] + .17*v[shot.Path] + .25*n()*deg
	v[shot.Spin] = math.Max(1200, 2600+200*(loft-10)+350*n()) * units.RPM
	v[shot.SpinAxis] = 1.8*v[shot.FaceToPath]*10/loft + 1.5*n()*deg
	v[shot.Backspin], v[shot.Sidespin] = v[shot.Spin]*math.Cos(v[shot.SpinAxis]), v[shot.Spin]*math.Sin(v[shot.SpinAxis])
	exporterFlight(v, rho, head, cross)
	v[shot.Smash] = v[shot.BallSpeed] / v[shot.ClubSpeed]
	return v
}

// TestExporters writes sessions as odd exporters would and reads them back, each
// question answered by the truth.
//
//	go test ./core/shotfile -run Exporters -cases 2000 -v
func TestExporters(t *testing.T) {
	readBed(t, "exporter", 616_161, func(r *rand.Rand) written {
		e := anyExporter(r)
		name, data := e.write(r)
		return written{name: name, data: data, options: Options{Hand: e.hand}, habits: e.habits(), shown: e.shown, differs: e.differs, truth: e.truth}
	})
}

func (e *exporter) habits() string {
	return fmt.Sprintf("%s %s, units %s, comma %v, groups %q, sides %v, sets %s, between %q, aside %v, clock %q, empty %v double %v bag %v hidden %v", e.lang, e.form, e.unitsAt, e.comma, e.groups, e.sides, e.setsBy, e.between, e.aside, e.clock, e.empty, e.double, e.bag, e.hidden)
}

// truth answers a question as who hit the balls would.
func (e *exporter) truth(q shot.Question, _ shot.Table) string {
	what, key, _ := strings.Cut(q.ID, " ")
	key, _, _ = strings.Cut(key, " in ")
	key = visible(key)
	var of shot.Quantity
	for _, x := range e.cols {
		if h := visible(e.head(x)); key == h || strings.TrimSuffix(key, " (2)") == h || strings.HasSuffix(key, " "+h) {
			of = x
		}
	}
	switch {
	case what == "clubs":
		return e.driver()
	case what == "titles":
		return "settings"
	case what == "setting":
		for _, c := range q.Choices {
			if e.setsBy == "column" && visible(c.Value) == exporterWords[e.lang].setting {
				return c.Value
			}
		}
		return "none"
	case what == "unit" && of != "":
		return e.unit[of].Symbol
	case what == "what" && of != "":
		return string(of)
	case what == "side" && of != "":
		for _, c := range q.Choices {
			if strings.HasPrefix(c.Value, "right ") {
				return c.Value
			}
		}
	case what == "average":
		return "ball" // its averages bear a word
	case what == "letter" && of != "":
		for _, c := range q.Choices {
			l, side, _ := strings.Cut(c.Value, " ")
			if right := strings.EqualFold(l, exporterWords[e.lang].right[0]); right && side == "right" || !right && side == "left" {
				return c.Value
			}
		}
	}
	return ""
}

// visible is a text without the marks that nobody sees.
func visible(s string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch r {
		case '\u200e', '\u200f', '\u202a', '\u202c', '\ufeff', '\u200b':
			return -1
		case '\u00a0', '\u202f', '\n':
			return ' '
		}
		return r
	}, s)), " ")
}

// differs says how what would be taken over differs from what was hit.
func (e *exporter) differs(t shot.Table) string {
	var kept []shot.Shot
	for _, s := range t.Shots {
		if s.Tag != shot.TagOut {
			kept = append(kept, s)
		}
	}
	var mine []exported
	for _, x := range e.balls {
		if x.club == e.driver() && len(x.want) > 0 {
			mine = append(mine, x)
		}
	}
	if len(kept) != len(mine) {
		return fmt.Sprintf("%d balls would count, %d were hit", len(kept), len(mine))
	}
	if e.setsBy == "beside" { // in the order of the lines, or of the tables
		slices.SortStableFunc(kept, func(a, b shot.Shot) int { return strings.Compare(a.Setting.Key(), b.Setting.Key()) })
		slices.SortStableFunc(mine, func(a, b exported) int { return strings.Compare(a.set, b.set) })
	}
	for i, x := range mine {
		if msg := unlike(kept[i], x.set, x.want, e.cols); msg != "" {
			return fmt.Sprintf("ball %d: %s", i+1, msg)
		}
	}
	return ""
}
