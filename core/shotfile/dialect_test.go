package shotfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/unicode"

	"ferrule/core/flight"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// spellings of the trade in seven languages, typed here apart from the
// reader's table, so that a slip there shows.
var spellings = map[shot.Quantity]map[string]string{
	shot.BallSpeed:       {"en": "Ball Speed|BallSpeed|Ball Velocity", "es": "Velocidad de la bola|Velocidad de bola", "de": "Ballgeschwindigkeit", "fr": "Vitesse de balle", "sv": "Bollhastighet", "ja": "ボール初速|初速", "ko": "볼스피드|볼 속도"},
	shot.ClubSpeed:       {"en": "Club Speed|Club Head Speed|Swing Speed", "es": "Velocidad de palo", "de": "Schlägerkopfgeschwindigkeit|Schlägergeschwindigkeit", "fr": "Vitesse de club", "sv": "Klubbhastighet", "ja": "ヘッドスピード", "ko": "헤드스피드|클럽스피드"},
	shot.Smash:           {"en": "Smash Factor|Smash", "es": "Factor de smash", "de": "Smash Faktor", "fr": "Smash factor", "sv": "Smash factor", "ja": "ミート率", "ko": "스매시팩터|정타율"},
	shot.Launch:          {"en": "Launch Angle|Vertical Launch|VLA|Launch", "es": "Ángulo de lanzamiento|Ángulo de salida", "de": "Abflugwinkel|Startwinkel", "fr": "Angle de lancement|Angle de décollage", "sv": "Utgångsvinkel", "ja": "打ち出し角|打出角", "ko": "발사각|런치앵글"},
	shot.LaunchDirection: {"en": "Launch Direction|Horizontal Launch|HLA|Azimuth", "es": "Dirección de salida", "de": "Startrichtung|Abflugrichtung", "fr": "Direction de départ", "sv": "Startriktning", "ja": "打ち出し方向", "ko": "방향각|런치디렉션"},
	shot.Spin:            {"en": "Spin Rate|Total Spin|Spin", "es": "Índice de giro|Spin", "de": "Spinrate|Drehzahl", "fr": "Taux de spin", "sv": "Spinn", "ja": "スピン量|総スピン", "ko": "스핀량|토털 스핀"},
	shot.SpinAxis:        {"en": "Spin Axis|Axis|Spin Tilt Axis", "es": "Eje de giro", "de": "Spinachse|Drehachse", "fr": "Axe de rotation", "sv": "Spinnaxel", "ja": "スピン軸|回転軸", "ko": "스핀축"},
	shot.Backspin:        {"en": "Backspin|Back Spin", "es": "Retroceso", "de": "Rückwärtsdrall|Backspin", "fr": "Rétro", "sv": "Backspin", "ja": "バックスピン", "ko": "백스핀"},
	shot.Sidespin:        {"en": "Sidespin|Side Spin", "es": "Efecto lateral", "de": "Seitwärtsdrall|Sidespin", "fr": "Effet latéral", "sv": "Sidospinn", "ja": "サイドスピン", "ko": "사이드스핀"},
	shot.Carry:           {"en": "Carry|Carry Distance|Carry Flat", "es": "Carry|Vuelo", "de": "Carry|Fluglänge|Flugweite", "fr": "Carry|Portée", "sv": "Carry|Bärlängd", "ja": "キャリー", "ko": "캐리"},
	shot.Total:           {"en": "Total|Total Distance", "es": "Total|Distancia total", "de": "Gesamt|Gesamtlänge", "fr": "Total|Distance totale", "sv": "Total|Totallängd", "ja": "トータル|総飛距離", "ko": "토탈|총거리"},
	shot.Offline:         {"en": "Side|Offline|Lateral|Carry Deviation Distance", "es": "Lateral|Desviación", "de": "Seite|Seitenabweichung|Abweichung", "fr": "Écart|Latéral", "sv": "Sida|Avvikelse", "ja": "左右ブレ|サイド", "ko": "좌우편차|사이드"},
	shot.Curve:           {"en": "Curve|Curvature", "es": "Curva", "de": "Kurve", "fr": "Courbe", "sv": "Skruv|Kurva", "ja": "曲がり", "ko": "휨|커브"},
	shot.Apex:            {"en": "Apex|Max Height|Peak Height|Height", "es": "Altura máxima|Ápice|Altura", "de": "Höhe|Gipfelhöhe|max. Höhe", "fr": "Hauteur max|Flèche|Hauteur", "sv": "Höjd|Maxhöjd", "ja": "最高到達点|高さ", "ko": "최고높이|탄도높이"},
	shot.Descent:         {"en": "Descent Angle|Land Angle|Landing Angle", "es": "Ángulo de descenso", "de": "Landewinkel|Einfallswinkel", "fr": "Angle de descente", "sv": "Landningsvinkel", "ja": "落下角", "ko": "낙하각"},
	shot.FlightTime:      {"en": "Hang Time|Flight Time", "es": "Tiempo de vuelo", "de": "Flugzeit", "fr": "Temps de vol", "sv": "Flygtid", "ja": "滞空時間", "ko": "체공시간"},
	shot.Attack:          {"en": "Attack Angle|Angle of Attack|AoA", "es": "Ángulo de ataque", "de": "Angriffswinkel", "fr": "Angle d'attaque", "sv": "Attackvinkel", "ja": "入射角", "ko": "어택앵글|입사각"},
	shot.Path:            {"en": "Club Path|Swing Path|Path", "es": "Trayectoria|Camino del palo", "de": "Schwungbahn|Schlägerweg", "fr": "Chemin de club", "sv": "Svingbana", "ja": "クラブパス|ヘッド軌道", "ko": "클럽패스|궤도"},
	shot.Face:            {"en": "Face Angle|Face to Target|Club Face", "es": "Ángulo de la cara|Cara", "de": "Schlagflächenstellung", "fr": "Angle de la face", "sv": "Klubbladsvinkel|Bladvinkel", "ja": "フェース角", "ko": "페이스앵글|페이스각"},
	shot.FaceToPath:      {"en": "Face to Path|FTP", "es": "Cara-trayectoria", "de": "Schlagfläche zur Bahn", "fr": "Face/chemin", "sv": "Blad mot bana", "ja": "フェーストゥパス", "ko": "페이스투패스"},
	shot.DynamicLoft:     {"en": "Dynamic Loft|Dyn. Loft", "es": "Loft dinámico", "de": "dynamischer Loft", "fr": "Loft dynamique", "sv": "Dynamiskt loft", "ja": "ダイナミックロフト", "ko": "다이나믹로프트"},
}

var unitSpelling = map[string][]string{
	"mph": {"mph", "MPH", "mi/h"}, "kmh": {"km/h", "kmh", "kph"}, "mps": {"m/s", "mps"}, "yd": {"yd", "yds", "Yards"}, "m": {"m", "meters"}, "ft": {"ft", "feet"},
	"deg": {"deg", "°", "degrees"}, "rpm": {"rpm", "RPM"}, "s": {"s", "sec"},
}

var sideWords = map[string][2][]string{ // right, left
	"en": {{"R", "right"}, {"L", "left"}}, "es": {{"D", "derecha"}, {"I", "izquierda"}}, "de": {{"R", "rechts"}, {"L", "links"}}, "fr": {{"D", "droite"}, {"G", "gauche"}},
	"sv": {{"H", "höger"}, {"V", "vänster"}}, "ja": {{"右", "右"}, {"左", "左"}}, "ko": {{"우", "우"}, {"좌", "좌"}},
}

var averages = map[string][]string{"en": {"Average", "Std Dev", "Max"}, "es": {"Promedio", "Media"}, "de": {"Durchschnitt", "Mittelwert"}, "fr": {"Moyenne", "Écart type"}, "sv": {"Medel", "Medelvärde"}, "ja": {"平均", "標準偏差"}, "ko": {"평균", "표준편차"}}

// ball is one invented drive in SI, everything measured. Its flight is the
// model's under a ball and an air that differ from the reader's.
func ball(r *rand.Rand, speed, fly float64) shot.Values {
	d := units.Degree
	n := r.NormFloat64
	v := shot.Values{}
	v[shot.ClubSpeed] = speed * (1 + .015*n())
	v[shot.BallSpeed] = v[shot.ClubSpeed] * (1.44 + .02*n() - .1*math.Max(0, n()-1.5))
	v[shot.Smash] = v[shot.BallSpeed] / v[shot.ClubSpeed]
	v[shot.Attack], v[shot.Path], v[shot.FaceToPath] = (-.5+1.5*n())*d, (-1+2.5*n())*d, (1+2.5*n())*d
	v[shot.Face] = v[shot.Path] + v[shot.FaceToPath]
	v[shot.DynamicLoft] = (14.5 + 1.5*n()) * d
	v[shot.Launch] = .85*v[shot.DynamicLoft] + (.3*n())*d
	v[shot.LaunchDirection] = .82*v[shot.Face] + .18*v[shot.Path] + .4*n()*d
	v[shot.Spin] = (2800 + 350*n()) * units.RPM
	v[shot.SpinAxis] = 1.9*v[shot.FaceToPath] + 4*n()*d
	v[shot.Backspin], v[shot.Sidespin] = v[shot.Spin]*math.Cos(v[shot.SpinAxis]), v[shot.Spin]*math.Sin(v[shot.SpinAxis])
	g, err := flight.Fly(flight.Launch{Speed: v[shot.BallSpeed], Angle: v[shot.Launch], Direction: v[shot.LaunchDirection], Spin: v[shot.Spin], Axis: v[shot.SpinAxis]}, flight.Env{})
	if err != nil {
		panic(err)
	}
	k := fly * (1 + .015*n())
	v[shot.Carry] = g.Distance() * k
	v[shot.Curve] = g.Curve*k + 1.5*n()
	v[shot.Offline] = v[shot.Carry]*math.Sin(v[shot.LaunchDirection]) + v[shot.Curve]
	v[shot.Total] = v[shot.Carry] + 18 + 4*n()
	v[shot.Apex], v[shot.Descent], v[shot.FlightTime] = g.Apex*k*(1+.02*n()), g.Descent*(1+.02*n()), g.Time*(1+.01*n())
	return v
}

// dialect is how one invented program writes its files.
type dialect struct {
	lang, unitsAt, delimiter, encoding, eol string
	comma                                   bool
	group                                   string
	system                                  map[units.Dimension]units.Unit
	side                                    string // "sign", "after", "before", "close", "word", "brackets"
	flipped                                 map[shot.Quantity]bool
	noise                                   bool
	columns                                 []shot.Quantity
}

func pick[T any](r *rand.Rand, xs ...T) T { return xs[r.IntN(len(xs))] }

func anyDialect(r *rand.Rand) dialect {
	d := dialect{lang: pick(r, "en", "en", "en", "es", "de", "fr", "sv", "ja", "ko"), unitsAt: pick(r, "(", "[", " ", "_", "row", "cells", "none"),
		delimiter: pick(r, ",", ",", ";", "\t", "|", "json", "fixed"), encoding: "utf8", eol: pick(r, "\n", "\r\n", "\r"), comma: r.IntN(3) == 0, group: pick(r, "", "", "thousands"),
		side: pick(r, "sign", "sign", "after", "before", "close", "word", "brackets"), noise: r.IntN(2) == 0, flipped: map[shot.Quantity]bool{}}
	switch d.lang {
	case "ja":
		d.encoding = pick(r, "utf8", "bom", "utf16le", "utf16be", "sjis", "sjis")
	case "ko":
		d.encoding = pick(r, "utf8", "bom", "utf16le", "utf16be", "euckr", "euckr")
	default:
		d.encoding = pick(r, "utf8", "bom", "utf16le", "utf16be", "1252")
	}
	if d.delimiter == "json" {
		d.unitsAt, d.encoding, d.group = pick(r, "_", "(", "none"), "utf8", ""
	}
	if d.delimiter == "fixed" && (d.unitsAt == "none" || d.unitsAt == "row") {
		d.unitsAt = "("
	}
	sys := r.IntN(20)
	d.system = map[units.Dimension]units.Unit{units.Speed: units.UnitMPH, units.Length: units.UnitYd, units.Height: units.UnitFt, units.Angle: units.UnitDeg, units.Spin: units.UnitRPM, units.Time: units.UnitSec, units.None: units.UnitOne}
	switch {
	case sys < 5:
		d.system[units.Speed], d.system[units.Length], d.system[units.Height] = units.UnitKMH, units.UnitM, units.UnitM
	case sys < 9:
		d.system[units.Speed], d.system[units.Length], d.system[units.Height] = units.UnitMPS, units.UnitM, units.UnitM
	case sys < 12 && d.unitsAt != "none": // mixtures say their units
		d.system[units.Speed], d.system[units.Length], d.system[units.Height] = units.UnitMPS, units.UnitYd, units.UnitYd
	case sys < 14 && d.unitsAt != "none":
		d.system[units.Length], d.system[units.Height] = units.UnitM, units.UnitM
	}
	chance := func(q shot.Quantity, p float64) {
		if r.Float64() < p {
			d.columns = append(d.columns, q)
		}
	}
	for _, k := range shot.Kinds {
		chance(k.Quantity, map[shot.Quantity]float64{shot.BallSpeed: 1, shot.ClubSpeed: .6, shot.Smash: .4, shot.Launch: .95, shot.LaunchDirection: .85, shot.Spin: .9, shot.SpinAxis: .8, shot.Backspin: .2, shot.Sidespin: .3,
			shot.Carry: .95, shot.Total: .5, shot.Offline: .95, shot.Curve: .2, shot.Apex: .7, shot.Descent: .5, shot.FlightTime: .4, shot.Attack: .4, shot.Path: .4, shot.Face: .4, shot.FaceToPath: .3, shot.DynamicLoft: .3}[k.Quantity])
	}
	r.Shuffle(len(d.columns), func(i, j int) { d.columns[i], d.columns[j] = d.columns[j], d.columns[i] })
	if has(d.columns, shot.Offline) && has(d.columns, shot.LaunchDirection) { // habits that the physics can show
		switch r.IntN(4) {
		case 0:
			d.flipped[shot.SpinAxis] = true
		case 1:
			d.flipped[shot.Sidespin] = true
		case 2:
			d.flipped[shot.SpinAxis], d.flipped[shot.Sidespin] = true, true
		}
	}
	return d
}

func has(qs []shot.Quantity, q shot.Quantity) bool {
	return slices.Contains(qs, q)
}

// decimals of a device, by dimension.
func places(q shot.Quantity, d units.Dimension) int {
	switch {
	case q == shot.Smash || q == shot.FlightTime:
		return 2
	case d == units.Spin:
		return 0
	}
	return 1
}

// write puts the shots into the dialect; want are the values as rounded.
func (d dialect) write(r *rand.Rand, shots []shot.Values) (data []byte, want []shot.Values) {
	kinds := map[shot.Quantity]shot.Kind{}
	for _, k := range shot.Kinds {
		kinds[k.Quantity] = k
	}
	spell := map[string]string{}
	unitText := func(q shot.Quantity) string {
		u := d.system[kinds[q].Dim]
		if u.Name == "" {
			return ""
		}
		if spell[u.Name] == "" {
			spell[u.Name] = pick(r, unitSpelling[u.Name]...)
		}
		return spell[u.Name]
	}
	sided := map[shot.Quantity]bool{}
	var head, unitRow []string
	for _, q := range d.columns {
		h := pick(r, strings.Split(spellings[q][d.lang], "|")...)
		u := unitText(q)
		switch {
		case u == "" || d.unitsAt == "none" || d.unitsAt == "cells" || d.unitsAt == "row":
		case d.unitsAt == "(":
			h += pick(r, " (", "(") + u + ")"
		case d.unitsAt == "[":
			h += " [" + u + "]"
		default:
			h += d.unitsAt + u
		}
		head = append(head, h)
		if u != "" {
			u = "[" + u + "]"
		}
		unitRow = append(unitRow, u)
		if kinds[q].Compass && !d.flipped[q] && d.side != "sign" && (q == shot.Offline || r.IntN(4) == 0) {
			sided[q] = true
		}
	}
	mark := "."
	if d.comma {
		mark = ","
	}
	cell := func(q shot.Quantity, si float64) (string, float64) {
		k := kinds[q]
		u := d.system[k.Dim]
		x := u.From(si)
		if d.flipped[q] {
			x = -x
		}
		p := places(q, k.Dim)
		scale := math.Pow(10, float64(p))
		x = math.Round(x*scale) / scale
		back := u.SI(x)
		if d.flipped[q] {
			back = -back
		}
		number := func(x float64) string {
			s := fmt.Sprintf("%.*f", p, math.Abs(x))
			if d.group == "thousands" && len(strings.Split(s, ".")[0]) == 4 {
				sep := ","
				if d.comma {
					sep = "."
				}
				s = s[:1] + sep + s[1:]
				if p > 0 {
					i := strings.LastIndex(s, ".")
					s = s[:i] + mark + s[i+1:]
				}
				return s
			}
			return strings.Replace(s, ".", mark, 1)
		}
		s := number(x)
		if d.unitsAt == "cells" && u.Name != "" {
			s += " " + unitText(q)
		}
		switch {
		case sided[q] && x != 0:
			i := 0
			if x < 0 {
				i = 1
			}
			w := sideWords[d.lang][i]
			switch d.side {
			case "after":
				s += " " + w[0]
			case "before":
				s = w[0] + " " + s
			case "close":
				s = w[0] + s
			case "word":
				s += " " + w[1]
			case "brackets":
				s += " (" + w[0] + ")"
			}
		case x < 0:
			s = pick(r, "-", "-", "−") + s
			if d.encoding == "1252" || d.encoding == "sjis" || d.encoding == "euckr" {
				s = "-" + strings.TrimLeft(s, "-−")
			}
		}
		return s, back
	}
	var rows [][]string
	for _, v := range shots {
		var row []string
		w := shot.Values{}
		for _, q := range d.columns {
			if d.noise && r.IntN(60) == 0 {
				row = append(row, pick(r, "", "-", "N/A", "NaN", "--"))
				continue
			}
			s, back := cell(q, v[q])
			row = append(row, s)
			if back != 0 || !zeroIsNoRead[q] {
				w[q] = back
			}
		}
		rows, want = append(rows, row), append(want, w)
	}
	return d.encode(d.lay(r, head, unitRow, rows)), want
}

// lay puts header and rows on lines, with noise between them.
func (d dialect) lay(r *rand.Rand, head, unitRow []string, rows [][]string) string {
	if d.delimiter == "json" {
		var list []map[string]any
		for _, row := range rows {
			m := map[string]any{}
			for i, c := range row {
				m[head[i]] = c
			}
			list = append(list, m)
		}
		raw, _ := json.Marshal(list)
		return string(raw)
	}
	label := pick(r, "No", "Shot", "#")
	var b strings.Builder
	put := func(first string, cells []string) {
		all := append([]string{first}, cells...)
		for i, c := range all {
			if d.delimiter == "fixed" {
				if c == "" {
					c = "-"
				}
				b.WriteString(c + "   ")
				continue
			}
			if i > 0 {
				b.WriteString(d.delimiter)
			}
			if strings.Contains(c, d.delimiter) || strings.Contains(c, "\"") {
				c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
			}
			b.WriteString(c)
		}
		b.WriteString(d.eol)
	}
	if d.noise {
		b.WriteString(pick(r, "My session", "Player: somebody", "2025-07-10") + d.eol)
		if r.IntN(2) == 0 {
			b.WriteString(d.eol)
		}
	}
	put(label, head)
	if d.unitsAt == "row" {
		put("", unitRow)
	}
	for i, row := range rows {
		put(fmt.Sprint(i+1), row)
		if d.noise && i%5 == 4 && d.delimiter != "fixed" {
			put(pick(r, averages[d.lang]...), row)
			if r.IntN(3) == 0 {
				b.WriteString(d.eol)
			}
			if r.IntN(6) == 0 {
				put(label, head)
				if d.unitsAt == "row" {
					put("", unitRow)
				}
			}
		}
	}
	return b.String()
}

func (d dialect) encode(text string) []byte {
	var e encoding.Encoding
	switch d.encoding {
	case "utf8":
		return []byte(text)
	case "bom":
		return append([]byte("\xef\xbb\xbf"), text...)
	case "utf16le":
		e = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case "utf16be":
		e = unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	case "1252":
		e = charmap.Windows1252
	case "sjis":
		e = japanese.ShiftJIS
	case "euckr":
		e = korean.EUCKR
	}
	var b bytes.Buffer
	w := encoding.ReplaceUnsupported(e.NewEncoder()).Writer(&b)
	w.Write([]byte(text))
	return b.Bytes()
}

// TestRandomDialects writes sessions in random dialects and reads them back:
// the same shots, units and signs, with hardly a question.
//
//	go test ./core/shotfile -run RandomDialects -cases 10000 -v
func TestRandomDialects(t *testing.T) {
	sum := readBed(t, "dialect", 77, func(r *rand.Rand) written {
		d := anyDialect(r)
		speed, fly := 36+16*r.Float64(), .96+.06*r.Float64()
		var shots []shot.Values
		for range 8 + r.IntN(30) {
			shots = append(shots, ball(r, speed, fly))
		}
		data, want := d.write(r, shots)
		return written{name: "f", data: data, options: Options{Hand: pick(r, frame.Right, frame.Left)}, habits: fmt.Sprintf("%+v", d), shown: string(data), balls: len(want),
			differs: func(tab shot.Table) string { return differ(tab, want, d.columns) }}
	})
	if sum.asked*100 > *cases {
		t.Errorf("%d of %d sessions asked, want at most 1 in 100", sum.asked, *cases)
	}
}

func differ(tab shot.Table, want []shot.Values, columns []shot.Quantity) string {
	for i, w := range want {
		for _, q := range columns {
			x, ok1 := tab.Shots[i].Values[q]
			y, ok2 := w[q]
			if ok1 != ok2 {
				return fmt.Sprintf("shot %d %s: read %v, written %v", i, q, ok1, ok2)
			}
			if math.Abs(x-y) > 1e-9*math.Max(1, math.Abs(y)) {
				return fmt.Sprintf("shot %d %s = %v, want %v", i, q, x, y)
			}
		}
	}
	return ""
}
