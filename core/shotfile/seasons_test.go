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
	v     shot.Values // what was hit [SI]
	want  shot.Values // what can be read of it
	club  string
	set   string
	visit int
	cells []string                  // as written, once: a file may hold it again
	n     map[shot.Quantity]float64 // as written
}

// visit is a device at a time, and how it writes.
type visit struct {
	units   deviceSystem
	left    map[shot.Quantity]bool // written with left positive
	gone    map[shot.Quantity]bool // not seen on this visit
	lang    string                 // of the words in its cells
	date    string
	session int
}

type season struct {
	cols   []shot.Quantity
	visits []visit
	balls  []seasonBall
	lang   string // of the headers
	told   string // where units stand: "head", "again" (a header for each visit), "cells", "none"
	sheets string // "one", "days", "clubs"
	side   string // how a landing side is written: "sign", "column"
	second string // what a second column of clubs says: "" = there is none, "empty", "make"
	decoy  int    // the column of words that are no setting, -1 = there is none
	means  string // rows of averages: "", "word", "bare" (no word says so)
	again  int    // lines after which the header stands again, 0 = it does not
	hand   frame.Hand
	what   []string
	shown  string

	sets, dated, numbered, sessions, club, comma, brackets, grows, mixed bool
}

var seasonHeads = map[shot.Quantity]map[string]string{
	shot.BallSpeed: {"en": "Ball Speed", "de": "Ballgeschwindigkeit", "es": "Velocidad de bola", "fr": "Vitesse de balle"},
	shot.ClubSpeed: {"en": "Club Speed", "de": "Schlägergeschwindigkeit", "es": "Velocidad del palo", "fr": "Vitesse de club"},
	shot.Smash:     {"en": "Smash Factor", "de": "Smash Faktor", "es": "Smash Factor", "fr": "Smash Factor"},
	shot.Launch:    {"en": "Launch Angle", "de": "Abflugwinkel", "es": "Ángulo de lanzamiento", "fr": "Angle de lancement"},
	shot.Spin:      {"en": "Spin Rate", "de": "Spinrate", "es": "Spin total", "fr": "Spin total"},
	shot.Backspin:  {"en": "Backspin", "de": "Backspin", "es": "Backspin", "fr": "Backspin"},
	shot.Sidespin:  {"en": "Sidespin", "de": "Sidespin", "es": "Spin lateral", "fr": "Spin latéral"},
	shot.SpinAxis:  {"en": "Spin Axis", "de": "Spinachse", "es": "Eje de spin", "fr": "Axe de spin"},
	shot.Carry:     {"en": "Carry", "de": "Carry", "es": "Carry", "fr": "Carry"},
	shot.Offline:   {"en": "Offline", "de": "Seitenabweichung", "es": "Desviación lateral", "fr": "Déviation latérale"},
	shot.Apex:      {"en": "Apex", "de": "Max. Höhe", "es": "Altura máxima", "fr": "Hauteur max"},
	shot.LaunchDirection: {"en": "Launch Direction", "de": "Startrichtung", "es": "Dirección de lanzamiento",
		"fr": "Direction de lancement"},
}

// seasonWords are the headers of words, the driver and other clubs, an average, what is
// right and left, and columns of words that are no setting.
var seasonWords = map[string]struct {
	date, number, session, club, second, set, driver, others, mean, side, right, left string
	decoys                                                                            [3][2]string
}{
	"en": {"Date", "Shot", "Session", "Club", "Club Model", "Setting", "Driver", "7 Iron|PW|3 Wood|Hybrid 4", "Average", "L/R", "R", "L",
		[3][2]string{{"Outcome", "Fairway|Left Rough|Right Rough"}, {"Surface", "Mat|Grass"}, {"Mode", "Practice|Play"}}},
	"de": {"Datum", "Nr.", "Sitzung", "Schläger", "Schlägermodell", "Einstellung", "Driver", "Eisen 7|PW|Holz 3|Hybrid 4", "Mittelwert", "Richtung", "rechts", "links",
		[3][2]string{{"Ergebnis", "Fairway|Rough links|Rough rechts"}, {"Untergrund", "Matte|Gras"}, {"Modus", "Übung|Platz"}}},
	"es": {"Fecha", "Golpe", "Sesión", "Palo", "Modelo de palo", "Ajuste", "Driver", "Hierro 7|PW|Madera 3|Híbrido 4", "Promedio", "Lado", "D", "I",
		[3][2]string{{"Resultado", "Calle|Rough"}, {"Superficie", "Alfombra|Hierba"}, {"Modo", "Práctica|Campo"}}},
	"fr": {"Date", "Coup", "Séance", "Club", "Modèle de club", "Réglage", "Driver", "Fer 7|PW|Bois 3|Hybride 4", "Moyenne", "Côté", "D", "G",
		[3][2]string{{"Résultat", "Fairway|Rough"}, {"Surface", "Tapis|Herbe"}, {"Mode", "Entraînement|Parcours"}}},
}

func anySeason(r *rand.Rand) *season {
	s := &season{lang: pick(r, "en", "en", "de", "es", "fr"), told: pick(r, "head", "again", "again", "cells", "none"), sheets: pick(r, "one", "one", "one", "days", "clubs"),
		sets: r.IntN(2) == 0, dated: r.IntN(4) > 0, club: r.IntN(5) > 0, hand: pick(r, frame.Right, frame.Left), decoy: -1, side: pick(r, "sign", "sign", "sign", "column")}
	s.numbered, s.sessions, s.comma, s.brackets = r.IntN(3) == 0, r.IntN(3) == 0, r.IntN(10) == 0, r.IntN(8) == 0
	if s.lang != "en" && r.IntN(2) == 0 {
		s.comma = true
	}
	if s.club {
		s.second, s.mixed = pick(r, "", "", "empty", "make"), r.IntN(3) == 0
	}
	if r.IntN(3) == 0 {
		s.decoy = r.IntN(3)
	}
	if r.IntN(4) == 0 {
		s.again = 9 + r.IntN(9)
	}
	switch {
	case s.sheets != "clubs" && r.IntN(8) == 0:
		s.grows = true
	case r.IntN(3) == 0:
		s.means = pick(r, "word", "word", "bare")
	}
	s.measure(r)
	s.visit(r)
	s.play(r)
	return s
}

// measure chooses the columns: not every device sees the spin, its axis or the start.
func (s *season) measure(r *rand.Rand) {
	s.cols = []shot.Quantity{shot.BallSpeed, shot.Launch, shot.Carry, shot.Offline}
	if r.IntN(10) > 0 {
		s.cols = append(s.cols, shot.LaunchDirection)
	}
	s.cols = append(s.cols, pick(r, []shot.Quantity{shot.Spin, shot.SpinAxis}, []shot.Quantity{shot.Spin, shot.SpinAxis}, []shot.Quantity{shot.Spin, shot.SpinAxis}, []shot.Quantity{shot.Spin, shot.SpinAxis},
		[]shot.Quantity{shot.SpinAxis}, []shot.Quantity{shot.Backspin, shot.Sidespin}, []shot.Quantity{shot.Spin}, nil)...)
	for _, q := range []shot.Quantity{shot.ClubSpeed, shot.Apex} {
		if r.IntN(2) == 0 {
			s.cols = append(s.cols, q)
		}
	}
	if slices.Contains(s.cols, shot.ClubSpeed) && r.IntN(3) > 0 {
		s.cols = append(s.cols, shot.Smash)
	}
	r.Shuffle(len(s.cols), func(i, j int) { s.cols[i], s.cols[j] = s.cols[j], s.cols[i] })
}

// visit says when and with what the balls are hit.
func (s *season) visit(r *rand.Rand) {
	say := func(format string, args ...any) { s.what = append(s.what, fmt.Sprintf(format, args...)) }
	groups := [][3]units.Unit{{units.UnitMPH, units.UnitYd, units.UnitFt}, {units.UnitKMH, units.UnitM, units.UnitM}, {units.UnitMPS, units.UnitM, units.UnitM}}
	now, other := groups[r.IntN(3)], pick(r, "en", "de", "es", "fr")
	left, day := r.IntN(4) == 0, 3
	for d := range 1 + r.IntN(4) {
		x := visit{left: map[shot.Quantity]bool{}, gone: map[shot.Quantity]bool{}, lang: s.lang}
		x.session = 1
		if d > 0 && r.IntN(4) == 0 { // a second session of the same day
			x.session = s.visits[d-1].session + 1
			say("visit %d on the same day", d+1)
		} else {
			day++
		}
		x.date = fmt.Sprintf("2026-%02d-14", day)
		if d > 0 && r.IntN(3) == 0 && s.told != "head" {
			now = groups[r.IntN(3)]
			say("visit %d in %s, %s", d+1, now[0].Symbol, now[1].Symbol)
		}
		x.units = now
		if d > 0 && r.IntN(4) == 0 {
			left = !left
		}
		if left {
			x.left[shot.SpinAxis], x.left[shot.Sidespin] = true, true
			say("visit %d spin to the left positive", d+1)
		}
		if r.IntN(3) == 0 {
			x.lang = other
			say("visit %d in %s", d+1, other)
		}
		if r.IntN(3) == 0 {
			q := pick(r, shot.Spin, shot.SpinAxis, shot.Apex, shot.ClubSpeed, shot.LaunchDirection)
			x.gone[q] = true
			say("visit %d without %s", d+1, q)
		}
		s.visits = append(s.visits, x)
	}
}

// play hits the balls: a driver in two or three settings a visit, other clubs after
// it or between.
func (s *season) play(r *rand.Rand) {
	n := r.NormFloat64
	speed, curve := 38+14*r.Float64(), pick(r, -1., 1.)*(2+5*r.Float64())
	labels := pick(r, []string{"tall", "middle", "short"}, []string{"10.5", "9.5", "8.5"}, []string{"sleeve up", "sleeve down"})
	for d := range s.visits {
		head, cross := 2*n(), 2.5*n()
		for k, set := range labels {
			if !s.sets {
				set = ""
			}
			var run []seasonBall
			for range 5 + r.IntN(6) {
				run = append(run, s.ball(r, d, "driver", set, speed, 11.5+float64(k), 2500+150*float64(k), curve, head, cross))
			}
			if s.club && r.IntN(2) == 0 {
				o := r.IntN(4)
				for range 2 + r.IntN(4) {
					run = append(run, s.ball(r, d, fmt.Sprint(o), set, .8*speed, 18, 5500, curve/2, head, cross))
				}
			}
			if s.mixed {
				r.Shuffle(len(run), func(i, j int) { run[i], run[j] = run[j], run[i] })
			}
			s.balls = append(s.balls, run...)
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
	v[shot.Backspin], v[shot.Sidespin] = v[shot.Spin]*math.Cos(v[shot.SpinAxis]), v[shot.Spin]*math.Sin(v[shot.SpinAxis])
	v[shot.Carry], v[shot.Offline], v[shot.Apex] = drive.Fly(v[shot.BallSpeed], v[shot.Launch], v[shot.LaunchDirection], v[shot.Spin], v[shot.SpinAxis], head, cross)
	return seasonBall{v: v, club: club, set: set, visit: d}
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
			return fmt.Sprintf("ball %d, visit %d: %s", i+1, x.visit+1, msg)
		}
	}
	return ""
}

func (s *season) habits() string {
	return fmt.Sprintf("%s, units %s, sheets %s, side %s, second %q, decoy %d, means %q, again %d; sets %v dated %v numbered %v sessions %v club %v comma %v brackets %v grows %v mixed %v, %v, %q",
		s.lang, s.told, s.sheets, s.side, s.second, s.decoy, s.means, s.again, s.sets, s.dated, s.numbered, s.sessions, s.club, s.comma, s.brackets, s.grows, s.mixed, s.cols, s.what)
}

// TestSeasons writes seasons and reads them back: right, or asked about.
//
//	go test ./core/shotfile -run Seasons -cases 10000 -from 9100000 -v
func TestSeasons(t *testing.T) {
	readBed(t, "season", 41_414, func(r *rand.Rand) written {
		s := anySeason(r)
		name, data := s.write(r)
		return written{name: name, data: data, options: Options{Hand: s.hand}, habits: s.habits(), shown: s.shown, differs: s.differs}
	})
}
