package shotfile

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// A bed from another side: invented devices with habits of their own write
// sessions whose flights come from a point mass with a drag and a lift of its
// own (deviceFlight), under words that were typed apart. Every question is
// answered by the truth; what would be taken over must then be what was hit.

// deviceBall is one ball, its numbers as they stand in the file [SI], and the
// words beside them.
type deviceBall struct {
	v                             shot.Values
	want                          shot.Values // as written, rounded
	club, set, player, day, clock string
	block                         int
}

// deviceFlight is a drive by steps of 10 ms: drag .22 + .2 S, lift .07 + 1.1 S up to
// .3, where S is rim speed over speed (rough figures, no source: the reader's
// own flight must not be needed to read a file).
func deviceFlight(v shot.Values) {
	const mass, area, radius, rho, dt = .0459, .00143, .02135, 1.2, .01
	s, l, d, w, ax := v[shot.BallSpeed], v[shot.Launch], v[shot.LaunchDirection], v[shot.Spin], v[shot.SpinAxis]
	p := [3]float64{} // ahead, right, up
	u := [3]float64{s * math.Cos(l) * math.Cos(d), s * math.Cos(l) * math.Sin(d), s * math.Sin(l)}
	apex, t := 0., 0.
	for ; t < 15 && (p[2] > 0 || t < .1); t += dt {
		n := math.Sqrt(u[0]*u[0] + u[1]*u[1] + u[2]*u[2])
		rim := radius * w / n
		k := rho * area / 2 / mass * n
		drag, lift := k*(.22+.2*rim), k*math.Min(.3, .07+1.1*rim)*n
		h := math.Hypot(u[0], u[1])
		up := [3]float64{-u[0] * u[2] / h / n, -u[1] * u[2] / h / n, h / n}
		right := [3]float64{-u[1] / h, u[0] / h, 0}
		for i := range u {
			u[i] += dt * (-drag*u[i] + lift*(math.Cos(ax)*up[i]+math.Sin(ax)*right[i]))
		}
		u[2] -= dt * 9.81
		for i := range p {
			p[i] += dt * u[i]
		}
		apex = math.Max(apex, p[2])
		w *= 1 - dt/25
	}
	v[shot.Carry], v[shot.Offline], v[shot.Apex] = p[0], p[1], apex
	v[shot.FlightTime], v[shot.Descent] = t, math.Atan2(-u[2], math.Hypot(u[0], u[1]))
	v[shot.Roll] = math.Max(3, 40-50*v[shot.Descent])
	v[shot.Total] = v[shot.Carry] + v[shot.Roll]
}

// deviceShot is one swing: a driver's, or an iron's of the given loft [deg].
func deviceShot(r *rand.Rand, speed, loft float64) shot.Values {
	n, deg := r.NormFloat64, units.Degree
	v := shot.Values{shot.ClubSpeed: speed * (1 + .02*n())}
	smash := 1.46 - .0035*(loft-10) - math.Abs(.02*n())
	v[shot.BallSpeed] = v[shot.ClubSpeed] * smash
	v[shot.Path], v[shot.Face] = (1+2.5*n())*deg, (.5+2*n())*deg
	v[shot.FaceToPath] = v[shot.Face] - v[shot.Path]
	v[shot.Attack] = (2 - .2*(loft-10) + n()) * deg
	v[shot.Launch] = (3 + .85*loft + 1.2*n()) * deg
	v[shot.LaunchDirection] = .8*v[shot.Face] + .2*v[shot.Path] + .3*n()*deg
	v[shot.Spin] = (2450 + 190*(loft-10) + 300*n()) * units.RPM
	v[shot.SpinAxis] = 2*v[shot.FaceToPath]*10/loft + 2*n()*deg
	v[shot.Backspin], v[shot.Sidespin] = v[shot.Spin]*math.Cos(v[shot.SpinAxis]), v[shot.Spin]*math.Sin(v[shot.SpinAxis])
	deviceFlight(v)
	v[shot.Smash] = v[shot.BallSpeed] / v[shot.ClubSpeed]
	return v
}

var deviceLanguages = []string{"en", "en", "en", "de", "es", "fr", "it", "sv", "zh", "ja", "ko"}

// deviceWords are the headers of the devices, in the order en de es fr it sv zh
// ja ko (the trade's words, from memory; common practice, no source).
var deviceWords = map[shot.Quantity][9]string{
	shot.BallSpeed:       {"Ball Speed|Ball Spd|BallSpeed", "Ballgeschwindigkeit|Ballgeschw.|Ball-Geschwindigkeit", "Velocidad de bola|Vel. bola", "Vitesse de balle|Vitesse balle", "Velocità palla|Vel. palla", "Bollhastighet|Bollhast.", "球速|初速", "ボールスピード|ボール初速", "볼 스피드|볼스피드"},
	shot.ClubSpeed:       {"Club Speed|Clubhead Speed|Club Head Speed|Head Speed", "Schlägergeschwindigkeit|Schlägerkopfgeschw.", "Velocidad del palo|Vel. palo", "Vitesse club|Vitesse de tête", "Velocità bastone|Vel. bastone", "Klubbhastighet|Klubbhuvudhastighet", "杆头速度|挥杆速度", "ヘッドスピード|クラブスピード", "클럽 스피드|헤드 스피드"},
	shot.Smash:           {"Smash Factor|Smash|Efficiency", "Smash-Faktor|Smash Factor", "Smash Factor|Factor de impacto", "Smash Factor|Facteur de smash", "Smash Factor|Fattore di smash", "Smash Factor|Smashfaktor", "击球效率|Smash", "ミート率|スマッシュファクター", "스매시 팩터|스매쉬 팩터"},
	shot.Launch:          {"Launch Angle|Launch Ang|Launch V|Vert. Launch", "Abflugwinkel|Startwinkel", "Ángulo de salida|Ángulo de lanzamiento", "Angle de lancement|Angle de départ", "Angolo di lancio|Angolo di partenza", "Utgångsvinkel|Launch-vinkel", "发射角|起飞角度", "打ち出し角|打出角度", "발사각|런치 앵글"},
	shot.LaunchDirection: {"Launch Direction|Launch Dir|Launch H|Start Direction|Horiz. Launch", "Startrichtung|Abflugrichtung", "Dirección de salida|Dirección", "Direction de départ|Direction", "Direzione di lancio|Direzione", "Startriktning|Riktning", "发射方向|水平发射角", "打ち出し方向|方向角", "발사 방향|좌우 발사각"},
	shot.Spin:            {"Spin Rate|Total Spin|Spin", "Spinrate|Gesamtspin", "Spin total|Tasa de giro", "Spin total|Taux de rotation", "Spin totale|Rotazione totale", "Spinn|Spinnrate", "总旋转|旋转率", "スピン量|トータルスピン", "스핀량|총 스핀"},
	shot.SpinAxis:        {"Spin Axis|Axis Tilt|Tilt Axis", "Spinachse|Spin-Achse", "Eje de spin|Eje de giro", "Axe de spin|Axe de rotation", "Asse di spin|Asse di rotazione", "Spinnaxel|Spinaxel", "旋转轴|自旋轴", "スピン軸|回転軸", "스핀축|스핀 축"},
	shot.Backspin:        {"Back Spin|Backspin", "Backspin|Rückdrall", "Backspin|Retroceso", "Backspin|Rétro", "Backspin", "Backspin|Backspinn", "后旋|倒旋", "バックスピン|バックスピン量", "백스핀|백 스핀"},
	shot.Sidespin:        {"Side Spin|Sidespin", "Sidespin|Seitenspin", "Spin lateral|Sidespin", "Spin latéral|Effet latéral", "Spin laterale|Sidespin", "Sidospinn|Sidospin", "侧旋|侧旋量", "サイドスピン|サイドスピン量", "사이드 스핀|사이드스핀"},
	shot.Carry:           {"Carry|Carry Distance|Carry Dist|Carry Dist.", "Carry|Carry-Distanz|Flugweite", "Carry|Distancia de vuelo", "Carry|Distance de vol", "Carry|Distanza di volo", "Carry|Carrylängd", "落点距离|飞行距离", "キャリー|キャリー距離", "캐리|캐리 거리"},
	shot.Total:           {"Total|Total Distance|Total Dist|Total Dist.", "Gesamt|Gesamtdistanz|Gesamtweite", "Total|Distancia total", "Total|Distance totale", "Totale|Distanza totale", "Total|Totallängd|Total längd", "总距离", "トータル|トータル距離", "토탈|총 거리"},
	shot.Offline:         {"Offline|Side|Lateral|Side Dist|Carry Side|Deviation", "Seitenabweichung|Abweichung|Seitlich", "Desviación lateral|Lateral", "Écart latéral|Déviation", "Deviazione laterale|Laterale", "Sidavvikelse|Avvikelse i sidled", "左右偏差|侧向偏差", "左右ブレ|左右のズレ", "좌우 편차|좌우편차"},
	shot.Apex:            {"Apex|Max Height|Peak Height|Apex Height|Height", "Scheitelhöhe|Max. Höhe|Gipfelhöhe", "Altura máxima|Ápice", "Hauteur max|Apex", "Altezza massima|Apice", "Maxhöjd|Apex|Högsta höjd", "最高点|最大高度", "最高点|最高到達点", "최고 높이|최고점"},
	shot.Descent:         {"Descent Angle|Land Angle|Landing Angle|Angle of Descent", "Landewinkel|Fallwinkel", "Ángulo de descenso|Ángulo de caída", "Angle de descente|Angle de chute", "Angolo di discesa|Angolo di caduta", "Landningsvinkel|Nedslagsvinkel", "落地角|下落角", "落下角|落下角度", "낙하각|착지각"},
	shot.FlightTime:      {"Hang Time|Flight Time|Airtime", "Flugzeit|Flugdauer", "Tiempo de vuelo|Tiempo en el aire", "Temps de vol|Durée de vol", "Tempo di volo", "Flygtid|Luftid", "滞空时间|飞行时间", "滞空時間|飛行時間", "체공시간|체공 시간"},
	shot.Attack:          {"Attack Angle|Angle of Attack|AoA", "Angriffswinkel|Eintreffwinkel", "Ángulo de ataque", "Angle d'attaque", "Angolo di attacco|Angolo d'attacco", "Attackvinkel|Anfallsvinkel", "攻击角|攻角", "アタックアングル|入射角", "어택 앵글|입사각"},
	shot.Path:            {"Club Path|Path|Swing Path", "Schlägerbahn|Schwungbahn|Schwungpfad", "Trayectoria del palo|Recorrido del palo", "Chemin du club|Chemin de club", "Percorso del bastone|Percorso bastone", "Svingbana|Klubbväg", "杆头轨迹|挥杆路径", "クラブパス|クラブ軌道", "클럽 패스|클럽 궤도"},
	shot.Face:            {"Face Angle|Club Face|Face to Target", "Schlagflächenwinkel|Schlagfläche", "Ángulo de cara|Cara del palo", "Angle de face|Face du club", "Angolo della faccia|Angolo faccia", "Bladvinkel|Klubbladsvinkel", "杆面角|杆面角度", "フェースアングル|フェース角", "페이스 앵글|페이스각"},
	shot.FaceToPath:      {"Face to Path|Face-to-Path|FTP", "Schlagfläche zur Bahn|Face to Path", "Cara respecto a trayectoria|Face to Path", "Face par rapport au chemin|Face to Path", "Faccia rispetto al percorso|Face to Path", "Blad mot bana|Face to Path", "面对路径", "フェーストゥパス|フェースとパス", "페이스 투 패스"},
	shot.Roll:            {"Roll|Run|Rollout", "Roll|Ausrollen", "Rodada|Roll", "Roule|Roll", "Rotolamento|Roll", "Rull|Roll", "滚动距离|滚动", "ラン", "런|구름 거리"},
}

// deviceNames are driver, others, the header of clubs, of players, of settings,
// words of an average, of a footer, and the sides right and left.
var deviceNames = map[string]struct {
	driver, others, club, player, setting, average, footer string
	right, left                                            string
}{
	"en": {"Driver|DR|1W|1 Wood|Driver 9°", "7 Iron|3 Wood|PW|56°|Hybrid 4|5i|Putter", "Club|Club Type|Club Name", "Player|Golfer", "Setting|Club Setting|Adjustment", "Average|Avg|Mean|AVG.", "Exported by nobody|Total shots: 40|End of report|* estimated", "R|right|Right", "L|left|Left"},
	"de": {"Driver|Holz 1|DR", "Eisen 7|Holz 3|PW|Sandwedge|Hybrid 4", "Schläger|Schlägertyp", "Spieler", "Einstellung", "Durchschnitt|Mittelwert|Ø", "Ende des Berichts|Anzahl Schläge: 40", "R|rechts|Rechts", "L|links|Links"},
	"es": {"Driver|Madera 1", "Hierro 7|Madera 3|PW|Híbrido 4", "Palo", "Jugador", "Ajuste", "Promedio|Media", "Fin del informe|Golpes: 40", "D|derecha|der.", "I|izquierda|izq."},
	"fr": {"Driver|Bois 1", "Fer 7|Bois 3|PW|Hybride 4", "Club", "Joueur", "Réglage", "Moyenne|Moy.", "Fin du rapport|Nombre de coups : 40", "D|droite|Droite", "G|gauche|Gauche"},
	"it": {"Driver|Legno 1", "Ferro 7|Legno 3|PW|Ibrido 4", "Bastone", "Giocatore", "Impostazione|Regolazione", "Media", "Fine del rapporto|Colpi: 40", "D|destra", "S|sinistra"},
	"sv": {"Driver|Trä 1", "Järn 7|Trä 3|PW|Hybrid 4", "Klubba", "Spelare", "Inställning", "Medel|Medelvärde|Genomsnitt", "Slut på rapporten|Antal slag: 40", "H|höger", "V|vänster"},
	"zh": {"一号木|1号木|一号木杆", "7号铁|三号木|沙坑杆|9号铁杆", "球杆", "球员", "设置|调节", "平均|平均值", "报告结束|总击球数：40", "右|右侧", "左|左侧"},
	"ja": {"ドライバー|1W", "7番アイアン|3W|PW|5番ユーティリティ", "クラブ|番手", "プレーヤー", "ポジション|セッティング", "平均|平均値", "レポート終わり|ショット数：40", "右", "左"},
	"ko": {"드라이버|1번 우드", "7번 아이언|3번 우드|웨지", "클럽", "플레이어", "세팅", "평균", "보고서 끝|총 샷 수: 40", "우|오른쪽", "좌|왼쪽"},
}

// deviceSystem are the units of a block: speed, length, height.
type deviceSystem [3]units.Unit

var deviceSystems = []deviceSystem{{units.UnitMPH, units.UnitYd, units.UnitFt}, {units.UnitMPH, units.UnitYd, units.UnitFt}, {units.UnitMPH, units.UnitYd, units.UnitYd}, {units.UnitKMH, units.UnitM, units.UnitM}, {units.UnitMPS, units.UnitM, units.UnitM}, {units.UnitMPH, units.UnitM, units.UnitM}, {units.UnitMPS, units.UnitYd, units.UnitYd}}

func (s deviceSystem) of(k shot.Kind) units.Unit {
	switch k.Dim {
	case units.Speed:
		return s[0]
	case units.Length:
		return s[1]
	case units.Height:
		return s[2]
	case units.Angle:
		return units.UnitDeg
	case units.Spin:
		return units.UnitRPM
	case units.Time:
		return units.UnitSec
	}
	return units.UnitOne
}

// device is one invented program and the session that it wrote.
type device struct {
	lang, unitsAt, side, container, sep, mark string
	cols                                      []shot.Quantity
	heads                                     map[shot.Quantity]string
	spell                                     map[string]string // of units
	systems                                   []deviceSystem    // by block
	blocksBy, setsBy, clubsBy                 string
	flipped, sided                            map[shot.Quantity]bool
	hand                                      frame.Hand
	summary, blank, footer, players, again    bool
	lies                                      bool     // units change under one header
	second                                    string   // what a second column of clubs says: "empty", "make", "type"
	noise                                     []string // further columns that are nothing
	balls                                     []deviceBall
	clubHead, setHead, playerHead             string
	driver                                    []string
}

func oneOf(r *rand.Rand, words string) string { return pick(r, strings.Split(words, "|")...) }

func anyDevice(r *rand.Rand) *device {
	d := &device{lang: pick(r, deviceLanguages...), heads: map[shot.Quantity]string{}, spell: map[string]string{}, flipped: map[shot.Quantity]bool{}, sided: map[shot.Quantity]bool{}}
	n := deviceNames[d.lang]
	li := slices.Index([]string{"en", "de", "es", "fr", "it", "sv", "zh", "ja", "ko"}, d.lang)
	d.container = pick(r, "csv", "csv", "csv", "csv", "xlsx", "ods", "html", "zip", "json", "nested", "sessions", "jsonl")
	d.sep, d.mark = ",", "."
	if slices.Contains([]string{"de", "es", "fr", "it", "sv"}, d.lang) && r.IntN(2) == 0 {
		d.mark = ","
	}
	if d.mark == "," || r.IntN(4) == 0 {
		d.sep = pick(r, ";", ";", "\t")
	}
	d.cols = deviceColumns(r)
	taken := map[string]bool{}
	for _, q := range d.cols {
		for range 9 {
			if h := oneOf(r, deviceWords[q][li]); !taken[h] {
				d.heads[q] = h
				taken[h] = true
				break
			}
		}
	}
	d.cols = slices.DeleteFunc(d.cols, func(q shot.Quantity) bool { return d.heads[q] == "" })
	for u, s := range map[string]string{"mph": "mph|MPH|mi/h", "kmh": "km/h|kph|KMH", "mps": "m/s|mps", "yd": "yd|yds|yards", "m": "m|meters", "ft": "ft|feet", "deg": "°|deg", "rpm": "rpm|RPM", "s": "s|sec"} {
		d.spell[u] = oneOf(r, s)
	}
	d.unitsAt = pick(r, "(", "(", "[", " ", "cells", "row", "none")
	d.side = pick(r, "sign", "sign", "after", "before", "word", "paren")
	for _, q := range d.cols {
		k, _ := shot.KindOf(q)
		if k.Compass && d.side != "sign" && (q == shot.Offline || q == shot.LaunchDirection && r.IntN(2) == 0) {
			d.sided[q] = true
		}
	}
	if has(d.cols, shot.Offline) && has(d.cols, shot.LaunchDirection) && r.IntN(4) == 0 {
		d.flipped[shot.SpinAxis] = true
		d.flipped[shot.Sidespin] = r.IntN(2) == 0
	}
	d.hand = pick(r, frame.Right, frame.Right, frame.Left)
	d.blocksBy = pick(r, "none", "none", "day", "day", "header", "sheet", "session")
	d.setsBy = pick(r, "none", "none", "column", "column", "first", "title", "sheet")
	d.clubsBy = pick(r, "none", "column", "column", "column")
	d.clubHead, d.setHead, d.playerHead = oneOf(r, n.club), oneOf(r, n.setting), oneOf(r, n.player)
	d.summary, d.blank, d.footer, d.players, d.again = r.IntN(3) == 0, r.IntN(4) == 0, r.IntN(3) == 0, r.IntN(12) == 0, r.IntN(5) == 0
	for _, w := range []string{"Video", "Shot Type", "Notes", "GUID", "Weather", "Outcome", "Model", "Alt", "Lat"} {
		if r.IntN(7) == 0 {
			d.noise = append(d.noise, w)
		}
	}
	d.second = pick(r, "", "", "", "empty", "make", "type")
	if r.IntN(2) == 0 && has(d.cols, shot.Spin) && has(d.cols, shot.SpinAxis) && has(d.cols, shot.ClubSpeed) && (d.unitsAt == "(" || d.unitsAt == "[") {
		d.lies = true
	}
	d.fit()
	d.hit(r)
	return d
}

// deviceColumns are what a device of one sort measures.
func deviceColumns(r *rand.Rand) []shot.Quantity {
	var cols []shot.Quantity
	switch r.IntN(6) {
	case 0: // a tracker without spin
		cols = []shot.Quantity{shot.BallSpeed, shot.Launch, shot.Carry, shot.Total, shot.Offline}
	case 1: // total only
		cols = []shot.Quantity{shot.BallSpeed, shot.Total}
	case 2: // a camera: back and side spin, no club
		cols = []shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Backspin, shot.Sidespin, shot.Carry, shot.Offline}
	case 3: // a speed meter
		cols = []shot.Quantity{shot.ClubSpeed, shot.BallSpeed, shot.Smash, shot.Launch, shot.Carry}
	default:
		cols = []shot.Quantity{shot.ClubSpeed, shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis, shot.Carry, shot.Total, shot.Offline}
	}
	for _, q := range []shot.Quantity{shot.ClubSpeed, shot.Smash, shot.Apex, shot.Descent, shot.FlightTime, shot.Attack, shot.Path, shot.Face, shot.FaceToPath, shot.Roll, shot.Offline, shot.Spin} {
		if !has(cols, q) && r.IntN(4) == 0 {
			cols = append(cols, q)
		}
	}
	if r.IntN(2) == 0 {
		r.Shuffle(len(cols), func(i, j int) { cols[i], cols[j] = cols[j], cols[i] })
	}
	return cols
}

// fit drops habits that don't go together, and what no reader could know.
func (d *device) fit() {
	switch d.container {
	case "json", "nested", "sessions", "jsonl":
		d.summary, d.blank, d.footer, d.again = false, false, false, false
		if d.unitsAt == "row" {
			d.unitsAt = "("
		}
		if d.setsBy == "title" || d.setsBy == "sheet" || d.setsBy == "first" {
			d.setsBy = "column"
		}
		if d.blocksBy == "sheet" || d.blocksBy == "header" {
			d.blocksBy = "day"
		}
	case "zip": // its names are in the order of the alphabet
		if d.setsBy == "sheet" {
			d.setsBy = "column"
		}
	case "html":
		if d.setsBy == "sheet" {
			d.setsBy = "column"
		}
		if d.blocksBy == "sheet" {
			d.blocksBy = "day"
		}
	case "csv":
		if d.setsBy == "sheet" {
			d.setsBy = "title"
		}
		if d.blocksBy == "sheet" {
			d.blocksBy = "header"
		}
	}
	if d.lies && (d.container != "csv" || d.blocksBy == "none" || d.blocksBy == "header") {
		d.lies = false
	}
	if d.setsBy == "title" && d.blocksBy == "sheet" {
		d.setsBy = map[bool]string{true: "column", false: "sheet"}[d.container == "zip"]
	}
	if d.setsBy == "sheet" {
		d.blocksBy = "sheet"
	}
}

// TestDevices writes sessions as invented devices would and reads them back,
// each question answered by the truth.
//
//	go test ./core/shotfile -run Devices -cases 10000 -v
func TestDevices(t *testing.T) {
	readBed(t, "device", 31_337, func(r *rand.Rand) written {
		d := anyDevice(r)
		name, data := d.write(r)
		w := written{name: name, data: data, options: Options{Hand: d.hand}, habits: d.habits(), shown: string(data), differs: d.differs, truth: d.truth}
		if d.lies { // one answer for a whole column can't be right
			w.truth = nil
		}
		return w
	})
}

func (d *device) habits() string {
	return strings.Join([]string{d.lang, d.container, "units " + d.unitsAt, "side " + d.side, "blocks " + d.blocksBy, "sets " + d.setsBy, "clubs " + d.clubsBy}, ", ")
}
