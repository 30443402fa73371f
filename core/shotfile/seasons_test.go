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
	"ferrule/testdata/drive"
)

// A fourth bed: seasons. A player keeps what several devices wrote on several days
// in one file: clubs × days × sheets × units and signs that change with the day ×
// words of two languages × columns that are there for half of the balls. Swings,
// flights (testdata/drive), words and writing are of this bed alone; the words are
// the trade's, from memory (common practice, no source).

// seasonBall is one line of a season.
type seasonBall struct {
	v    shot.Values // what was hit [SI]
	want shot.Values // what can be read of it
	club string
	set  string
	day  int
}

// seasonDay is the device of a day and how it writes.
type seasonDay struct {
	speed, length, height units.Unit
	left                  map[shot.Quantity]bool // written with left positive
	gone                  map[shot.Quantity]bool // not seen on this day
	lang                  string                 // of the words in its cells
}

type season struct {
	cols   []shot.Quantity
	days   []seasonDay
	balls  []seasonBall
	lang   string // of the headers
	told   string // where units stand: "head", "again" (a header for each day), "cells", "none"
	sheets string // "one", "days", "clubs"
	sets   bool
	dated  bool
	club   bool
	hand   frame.Hand
	what   []string
	shown  string
}

var seasonHeads = map[shot.Quantity]map[string]string{
	shot.BallSpeed: {"en": "Ball Speed", "de": "Ballgeschwindigkeit", "es": "Velocidad de bola", "fr": "Vitesse de balle"},
	shot.ClubSpeed: {"en": "Club Speed", "de": "Schlägergeschwindigkeit", "es": "Velocidad del palo", "fr": "Vitesse de club"},
	shot.Smash:     {"en": "Smash Factor", "de": "Smash Faktor", "es": "Smash Factor", "fr": "Smash Factor"},
	shot.Launch:    {"en": "Launch Angle", "de": "Abflugwinkel", "es": "Ángulo de lanzamiento", "fr": "Angle de lancement"},
	shot.Spin:      {"en": "Spin Rate", "de": "Spinrate", "es": "Spin total", "fr": "Spin total"},
	shot.SpinAxis:  {"en": "Spin Axis", "de": "Spinachse", "es": "Eje de spin", "fr": "Axe de spin"},
	shot.Carry:     {"en": "Carry", "de": "Carry", "es": "Carry", "fr": "Carry"},
	shot.Offline:   {"en": "Offline", "de": "Seitenabweichung", "es": "Desviación lateral", "fr": "Déviation latérale"},
	shot.Apex:      {"en": "Apex", "de": "Max. Höhe", "es": "Altura máxima", "fr": "Hauteur max"},
	shot.LaunchDirection: {"en": "Launch Direction", "de": "Startrichtung", "es": "Dirección de lanzamiento",
		"fr": "Direction de lancement"},
}

// seasonWords are day, club, setting, then the driver and others as people write them.
var seasonWords = map[string][5]string{
	"en": {"Date", "Club", "Setting", "Driver", "7 Iron|PW|3 Wood|Hybrid 4"},
	"de": {"Datum", "Schläger", "Einstellung", "Driver", "Eisen 7|PW|Holz 3|Hybrid 4"},
	"es": {"Fecha", "Palo", "Ajuste", "Driver", "Hierro 7|PW|Madera 3|Híbrido 4"},
	"fr": {"Date", "Club", "Réglage", "Driver", "Fer 7|PW|Bois 3|Hybride 4"},
}

func anySeason(r *rand.Rand) *season {
	s := &season{lang: pick(r, "en", "en", "de", "es", "fr"), told: pick(r, "head", "again", "again", "cells", "none"), sheets: pick(r, "one", "one", "one", "days", "clubs"),
		sets: r.IntN(2) == 0, dated: r.IntN(4) > 0, club: r.IntN(5) > 0, hand: pick(r, frame.Right, frame.Left)}
	say := func(format string, args ...any) { s.what = append(s.what, fmt.Sprintf(format, args...)) }
	s.cols = []shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis, shot.Carry, shot.Offline}
	for _, q := range []shot.Quantity{shot.ClubSpeed, shot.Apex} {
		if r.IntN(2) == 0 {
			s.cols = append(s.cols, q)
		}
	}
	if slices.Contains(s.cols, shot.ClubSpeed) && r.IntN(3) > 0 {
		s.cols = append(s.cols, shot.Smash)
	}
	r.Shuffle(len(s.cols), func(i, j int) { s.cols[i], s.cols[j] = s.cols[j], s.cols[i] })
	groups := [][3]units.Unit{{units.UnitMPH, units.UnitYd, units.UnitFt}, {units.UnitKMH, units.UnitM, units.UnitM}, {units.UnitMPS, units.UnitM, units.UnitM}}
	now, other := groups[r.IntN(3)], pick(r, "en", "de", "es", "fr")
	left := r.IntN(4) == 0
	for d := range 1 + r.IntN(4) {
		day := seasonDay{left: map[shot.Quantity]bool{}, gone: map[shot.Quantity]bool{}, lang: s.lang}
		if d > 0 && r.IntN(3) == 0 && s.told != "head" {
			now = groups[r.IntN(3)]
			say("day %d in %s, %s", d+1, now[0].Symbol, now[1].Symbol)
		}
		day.speed, day.length, day.height = now[0], now[1], now[2]
		if d > 0 && r.IntN(4) == 0 {
			left = !left
		}
		if left {
			day.left[shot.SpinAxis] = true
			say("day %d spin to the left positive", d+1)
		}
		if r.IntN(3) == 0 {
			day.lang = other
			say("day %d in %s", d+1, other)
		}
		if r.IntN(3) == 0 {
			q := pick(r, shot.Spin, shot.SpinAxis, shot.Apex, shot.ClubSpeed, shot.LaunchDirection)
			day.gone[q] = true
			say("day %d without %s", d+1, q)
		}
		s.days = append(s.days, day)
	}
	s.play(r)
	return s
}

// play hits the balls: a driver in two or three settings a day, other clubs between.
func (s *season) play(r *rand.Rand) {
	n := r.NormFloat64
	speed, curve := 38+14*r.Float64(), pick(r, -1., 1.)*(2+5*r.Float64())
	labels := pick(r, []string{"tall", "middle", "short"}, []string{"10.5", "9.5", "8.5"}, []string{"sleeve up", "sleeve down"})
	for d := range s.days {
		head, cross := 2*n(), 2.5*n()
		for k, set := range labels {
			if !s.sets {
				set = ""
			}
			for range 5 + r.IntN(6) {
				s.balls = append(s.balls, s.ball(r, d, "driver", set, speed, 11.5+float64(k), 2500+150*float64(k), curve, head, cross))
			}
			if s.club && r.IntN(2) == 0 {
				o := r.IntN(4)
				for range 2 + r.IntN(4) {
					s.balls = append(s.balls, s.ball(r, d, fmt.Sprint(o), set, .8*speed, 18, 5500, curve/2, head, cross))
				}
			}
		}
	}
	if s.sheets == "clubs" && s.club {
		slices.SortStableFunc(s.balls, func(a, b seasonBall) int { return strings.Compare(b.club, a.club) })
	}
}

func (s *season) ball(r *rand.Rand, d int, club, set string, speed, launch, spin, curve, head, cross float64) seasonBall {
	n, deg := r.NormFloat64, units.Degree
	v := shot.Values{shot.ClubSpeed: speed * (1 + .015*n())}
	v[shot.BallSpeed] = v[shot.ClubSpeed] * (map[bool]float64{true: 1.46, false: 1.36}[club == "driver"] - .02*r.ExpFloat64())
	v[shot.Smash] = v[shot.BallSpeed] / v[shot.ClubSpeed]
	v[shot.Launch], v[shot.LaunchDirection] = (launch+1.2*n())*deg, 1.8*n()*deg
	v[shot.Spin], v[shot.SpinAxis] = (spin+250*n())*units.RPM, (curve+3*n())*deg
	v[shot.Carry], v[shot.Offline], v[shot.Apex] = drive.Fly(v[shot.BallSpeed], v[shot.Launch], v[shot.LaunchDirection], v[shot.Spin], v[shot.SpinAxis], head, cross)
	return seasonBall{v: v, club: club, set: set, day: d}
}

func (s *season) unit(q shot.Quantity, d int) units.Unit {
	k, _ := shot.KindOf(q)
	day := s.days[d]
	switch k.Dim {
	case units.Speed:
		return day.speed
	case units.Length:
		return day.length
	case units.Height:
		return day.height
	case units.Angle:
		return units.UnitDeg
	case units.Spin:
		return units.UnitRPM
	}
	return units.UnitOne
}

func (s *season) name(club string, d int) string {
	w := seasonWords[s.days[d].lang]
	if club == "driver" {
		return w[3]
	}
	return strings.Split(w[4], "|")[club[0]-'0']
}

// header is the line over the balls of day d.
func (s *season) header(d int) (row []string) {
	w := seasonWords[s.lang]
	for i, on := range []bool{s.dated, s.club, s.sets} {
		if on {
			row = append(row, w[i])
		}
	}
	for _, q := range s.cols {
		h := seasonHeads[q][s.lang]
		if u := s.unit(q, d).Symbol; u != "" && (s.told == "head" || s.told == "again") {
			h += " (" + u + ")"
		}
		row = append(row, h)
	}
	return row
}

// row writes ball x and notes what can be read of it.
func (s *season) row(r *rand.Rand, x *seasonBall) (row []string) {
	day := s.days[x.day]
	for i, c := range []string{fmt.Sprintf("2026-0%d-14", 3+x.day), s.name(x.club, x.day), x.set} {
		if []bool{s.dated, s.club, s.sets}[i] {
			row = append(row, c)
		}
	}
	x.want = shot.Values{}
	for _, q := range s.cols {
		u := s.unit(q, x.day)
		places := map[bool]float64{true: 100, false: 10}[q == shot.Smash]
		if q == shot.Spin {
			places = 1
		}
		n := math.Round(u.From(x.v[q])*places) / places
		if day.gone[q] || r.IntN(80) == 0 {
			row = append(row, pick(r, "", "", "-"))
			continue
		}
		if x.want[q] = u.SI(n); n == 0 && zeroIsNoRead[q] {
			delete(x.want, q)
		}
		if day.left[q] {
			n = -n
		}
		c := fmt.Sprintf("%.*f", int(math.Log10(places)), n)
		if s.told == "cells" && u.Symbol != "" {
			c += " " + u.Symbol
		}
		row = append(row, c)
	}
	return row
}

func (s *season) write(r *rand.Rand) (name string, data []byte) {
	var sheets []sheetOf
	last := -1
	club := ""
	for i := range s.balls {
		x := &s.balls[i]
		fresh := last < 0 || s.sheets == "days" && x.day != last || s.sheets == "clubs" && s.club && x.club != club
		if fresh {
			title := "Shots"
			if s.sheets == "days" {
				title = fmt.Sprintf("2026-0%d-14", 3+x.day)
			} else if s.sheets == "clubs" && s.club {
				title = s.name(x.club, x.day)
				for slices.ContainsFunc(sheets, func(o sheetOf) bool { return o.name == title }) {
					title += " 2"
				}
			}
			sheets = append(sheets, sheetOf{name: title})
		}
		to := &sheets[len(sheets)-1]
		if fresh || s.told == "again" && x.day != last {
			to.rows = append(to.rows, s.header(x.day))
		}
		last, club = x.day, x.club
		to.rows = append(to.rows, s.row(r, x))
	}
	sep := pick(r, ",", ";", "\t")
	for _, to := range sheets {
		s.shown += "-- " + to.name + "\n"
		for _, l := range to.rows {
			s.shown += csvLine(l, sep)
		}
	}
	if len(sheets) == 1 && r.IntN(2) == 0 {
		_, text, _ := strings.Cut(s.shown, "\n")
		return "season.csv", []byte(text)
	}
	return "season.xlsx", bedBook(sheets...)
}

// differs says how what would be taken over differs from what was hit.
func (s *season) differs(t shot.Table) string {
	var kept []shot.Shot
	for _, x := range t.Shots {
		if x.Tag != shot.TagOut {
			kept = append(kept, x)
		}
	}
	mine := slices.DeleteFunc(slices.Clone(s.balls), func(x seasonBall) bool { return x.club != "driver" })
	if len(kept) != len(mine) {
		return fmt.Sprintf("%d balls would count, %d were hit", len(kept), len(mine))
	}
	for i, x := range mine {
		if msg := unlike(kept[i], x.set, x.want, s.cols); msg != "" {
			return fmt.Sprintf("ball %d, day %d: %s", i+1, x.day+1, msg)
		}
	}
	return ""
}

// TestSeasons writes seasons and reads them back: right, or asked about. Of 1,000 on
// the published seed 1 was wrong in silence: a day of another sign in a file without
// dates, whose balls hardly curve.
//
//	go test ./core/shotfile -run Seasons -cases 10000 -from 9000000 -v
func TestSeasons(t *testing.T) {
	silent, lost, asked, questions := 0, 0, 0, 0
	kinds := map[string]int{}
	for i := range *cases {
		if *only >= 0 && i != *only {
			continue
		}
		r := rand.New(rand.NewPCG(*from+uint64(i), 41_414))
		s := anySeason(r)
		name, data := s.write(r)
		tab, err := Read(name, data, Options{Hand: s.hand})
		about := fmt.Sprintf("%s, units %s, sheets %s, sets %v dated %v club %v, %q", s.lang, s.told, s.sheets, s.sets, s.dated, s.club, s.what)
		if *only >= 0 {
			t.Logf("%s: %s\n%.*s", name, about, *quote, s.shown)
			for _, c := range tab.Columns {
				t.Logf("%+v", c)
			}
			t.Logf("%d balls, notes %q, errors %v, asks %q", len(tab.Shots), tab.Notes, first(tab.Errors), tab.Ask)
		}
		switch {
		case err != nil:
			lost++
			t.Errorf("season %d: %v (%s)", i, err, about)
		case len(tab.Ask) > 0:
			asked++
			for _, q := range tab.Questions {
				if q.Open {
					questions++
					kinds[strings.SplitN(q.ID, " ", 2)[0]]++
				}
			}
		default:
			if msg := s.differs(tab); msg != "" {
				silent++
				t.Errorf("season %d: wrong in silence: %s (%s)", i, msg, about)
			}
		}
	}
	t.Logf("%d seasons: %d wrong in silence, %d refused, %d asked, %d questions %v", *cases, silent, lost, asked, questions, kinds)
}
