package shotfile

import (
	"fmt"
	"slices"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// bed lists the ways; each group is a class of what real files do.
func bed() []way {
	var out []way
	out = append(out, clubWays()...)
	out = append(out, decoyWays()...)
	out = append(out, settingWays()...)
	out = append(out, unitWays()...)
	out = append(out, signWays()...)
	out = append(out, layoutWays()...)
	out = append(out, formatWays()...)
	for i := range out {
		if out[i].cols == nil {
			out[i].cols = bedColumns
		}
		if out[i].file == "" {
			out[i].file = "range.csv"
		}
	}
	return out
}

// mixed puts the drives among the others: a session starts with irons.
func mixed(drives, others []bedBall) []bedBall {
	k := len(others) / 2
	out := append(slices.Clone(others[:k]), drives...)
	return append(out, others[k:]...)
}

func renamed(ds []bedBall, club string) []bedBall {
	out := slices.Clone(ds)
	for i := range out {
		out[i].club = club
	}
	return out
}

// inWords gives the headers of another language, typed apart from the reader's table.
var bedLanguages = map[string]struct {
	club  string
	heads map[shot.Quantity]string
}{
	"de": {"Schläger", map[shot.Quantity]string{shot.ClubSpeed: "Schlägerkopfgeschwindigkeit", shot.BallSpeed: "Ballgeschwindigkeit", shot.Smash: "Smash Faktor", shot.Launch: "Abflugwinkel", shot.LaunchDirection: "Startrichtung", shot.Spin: "Drehzahl", shot.SpinAxis: "Drehachse", shot.Carry: "Carry", shot.Offline: "Seitenabweichung", shot.Apex: "Gipfelhöhe"}},
	"fr": {"Club", map[shot.Quantity]string{shot.ClubSpeed: "Vitesse de club", shot.BallSpeed: "Vitesse de balle", shot.Smash: "Smash factor", shot.Launch: "Angle de décollage", shot.LaunchDirection: "Direction de départ", shot.Spin: "Taux de spin", shot.SpinAxis: "Axe de rotation", shot.Carry: "Portée", shot.Offline: "Écart latéral", shot.Apex: "Hauteur max"}},
	"it": {"Bastone", map[shot.Quantity]string{shot.ClubSpeed: "Velocità bastone", shot.BallSpeed: "Velocità palla", shot.Smash: "Smash factor", shot.Launch: "Angolo di lancio", shot.LaunchDirection: "Direzione di lancio", shot.Spin: "Spin totale", shot.SpinAxis: "Asse di rotazione", shot.Carry: "Carry", shot.Offline: "Deviazione laterale", shot.Apex: "Altezza massima"}},
	"sv": {"Klubba", map[shot.Quantity]string{shot.ClubSpeed: "Klubbhastighet", shot.BallSpeed: "Bollhastighet", shot.Smash: "Smash factor", shot.Launch: "Utgångsvinkel", shot.LaunchDirection: "Startriktning", shot.Spin: "Spinn", shot.SpinAxis: "Spinnaxel", shot.Carry: "Bärlängd", shot.Offline: "Sidavvikelse", shot.Apex: "Maxhöjd"}},
	"es": {"Palo", map[shot.Quantity]string{shot.ClubSpeed: "Velocidad de palo", shot.BallSpeed: "Velocidad de bola", shot.Smash: "Factor de smash", shot.Launch: "Ángulo de lanzamiento", shot.LaunchDirection: "Dirección de salida", shot.Spin: "Índice de giro", shot.SpinAxis: "Eje de giro", shot.Carry: "Vuelo", shot.Offline: "Desviación lateral", shot.Apex: "Altura máxima"}},
	"zh": {"球杆", map[shot.Quantity]string{shot.ClubSpeed: "杆头速度", shot.BallSpeed: "球速", shot.Smash: "击球效率", shot.Launch: "发射角", shot.LaunchDirection: "发射方向", shot.Spin: "总旋转", shot.SpinAxis: "旋转轴", shot.Carry: "落点距离", shot.Offline: "左右偏差", shot.Apex: "最高点"}},
	"ja": {"番手", map[shot.Quantity]string{shot.ClubSpeed: "ヘッドスピード", shot.BallSpeed: "ボール初速", shot.Smash: "ミート率", shot.Launch: "打ち出し角", shot.LaunchDirection: "打ち出し方向", shot.Spin: "スピン量", shot.SpinAxis: "スピン軸", shot.Carry: "キャリー", shot.Offline: "左右ブレ", shot.Apex: "最高到達点"}},
	"ko": {"클럽", map[shot.Quantity]string{shot.ClubSpeed: "헤드스피드", shot.BallSpeed: "볼스피드", shot.Smash: "스매시팩터", shot.Launch: "발사각", shot.LaunchDirection: "방향각", shot.Spin: "스핀량", shot.SpinAxis: "스핀축", shot.Carry: "캐리", shot.Offline: "좌우편차", shot.Apex: "최고높이"}},
}

// clubWays: which balls are the driver's.
func clubWays() []way {
	var out []way
	for _, c := range []struct {
		lang, driver string
		others       []string
	}{
		{"", "Driver", []string{"7 Iron", "Pitching Wedge", "3 Wood"}}, {"", "driver", []string{"7i", "PW", "5w"}}, {"", "DR", []string{"I7", "SW", "W3"}},
		{"", "Dr", []string{"7 iron", "gap wedge"}}, {"", "D", []string{"7", "9", "P"}}, {"", "1W", []string{"3W", "5W", "7I"}}, {"", "W1", []string{"W3", "I8", "H4"}},
		{"", "1 Wood", []string{"3 Wood", "4 Hybrid"}}, {"", "Wood 1", []string{"Wood 3", "Iron 6"}}, {"", "1-wood", []string{"3-wood", "9-iron"}}, {"", "Driver 10.5", []string{"SW (54)", "60", "7"}},
		{"", "Driver 10.5°", []string{"54°", "60°", "50°"}}, {"", "DRIVER (9)", []string{"LW", "A", "Putter"}}, {"", "Driver-2", []string{"Chipper", "Putter", "GW"}},
		{"de", "Holz 1", []string{"Eisen 7", "Holz 3", "Sandwedge"}}, {"de", "Driver", []string{"E7", "H4", "Rettungsschläger"}}, {"fr", "Bois 1", []string{"Fer 7", "Bois 3", "Cocheur"}},
		{"fr", "Driver", []string{"fer 8", "hybride 4"}}, {"it", "Legno 1", []string{"Ferro 7", "Legno 3", "Ibrido 4"}}, {"it", "Driver", []string{"F7", "ferro 9"}},
		{"sv", "Trä 1", []string{"Järn 7", "Trä 3"}}, {"sv", "Driver", []string{"Järnsju", "Spoon"}}, {"es", "Madera 1", []string{"Hierro 7", "Madera 3"}}, {"es", "Driver", []string{"Híbrido 4", "Hierro 8"}},
		{"zh", "一号木", []string{"7号铁", "三号木", "沙坑杆"}}, {"zh", "1号木", []string{"7号铁", "3号木"}}, {"zh", "一號木桿", []string{"七號鐵桿", "劈起桿"}}, {"zh", "发球木杆", []string{"9号铁杆"}},
		{"ja", "ドライバー", []string{"7番アイアン", "3W"}}, {"ja", "1W", []string{"7I", "ピッチングウェッジ"}}, {"ko", "드라이버", []string{"7번 아이언", "3번 우드"}}, {"ko", "1번 우드", []string{"아이언 9", "웨지"}},
	} {
		p, clubs := pen{}, "Club"
		if l, ok := bedLanguages[c.lang]; ok {
			p.heads, clubs = l.heads, l.club
		}
		ds := renamed(noSets(bedDrives(1)), c.driver)
		all := mixed(ds, bedOthers(120, c.others...))
		out = append(out, way{name: "clubs " + c.lang + " " + c.driver + " among " + c.others[0], data: plainCSV(all, p, fixed(clubs, func(d bedBall) string { return d.club }), wDay), want: ds})
	}
	ds := noSets(bedDrives(2))
	others := bedOthers(120, "7 Iron", "Pitching Wedge", "5 Wood", "4 Hybrid", "60", "SW (54)")
	all := mixed(ds, others)
	add := func(name string, asks bool, say map[string]string, want []bedBall, ws ...word) {
		out = append(out, way{name: name, data: plainCSV(all, pen{}, ws...), want: want, asks: asks, say: say})
	}
	add("second club column empty", false, nil, ds, wClub, fixed("Club Type", func(bedBall) string { return "" }))
	add("second club column empty, first", false, nil, ds, fixed("Club Type", func(bedBall) string { return "" }), wClub)
	add("second club column says Wood", false, nil, ds, wClub, fixed("Club Type", func(d bedBall) string {
		if d.club == "Driver" {
			return "Wood"
		}
		return "Club"
	}))
	add("second club column is a make", false, nil, ds, wClub, fixed("Club Description", func(d bedBall) string {
		return map[bool]string{true: "Alto Nove", false: "Basso Set"}[d.club == "Driver"]
	}))
	add("club name is a make, type says driver", false, nil, ds, fixed("Club Name", func(d bedBall) string {
		return map[bool]string{true: "Alto Nove 9", false: "Basso Set"}[d.club == "Driver"]
	}), fixed("Club Type", func(d bedBall) string { return d.club }))
	add("second club column always driver", true, map[string]string{"clubs": "Driver"}, ds, wClub, fixed("Club Type", func(d bedBall) string { return "Driver" }))
	add("club cells with spaces", false, nil, ds, fixed("Club", func(d bedBall) string { return " " + d.club + "  " }))
	add("club in capitals", false, nil, ds, fixed("CLUB", func(d bedBall) string { return strings.ToUpper(d.club) }))
	// The club's numbers stay a driver's whatever it is called: ask.
	for _, m := range []string{"Alto Max", "Nove 9", "Big Stick", "ALT-M 10", "10.5", "9°"} {
		one := renamed(ds, m)
		all = mixed(one, bedOthers(120, "7 Iron", "Pitching Wedge"))
		add("driver is called "+m, !strings.ContainsAny(m, "0°") || m == "ALT-M 10", map[string]string{"clubs": m}, one, wClub)
	}
	all = bedOthers(120, "7 Iron", "Pitching Wedge", "9 Iron")
	add("no driver in the file", true, map[string]string{"clubs": "9 Iron"}, pickClub(all, "9 Iron"), wClub)
	all = bedOthers(60, "Fer 7", "Fer 9")
	add("no driver in a French file", true, map[string]string{"clubs": "Fer 7"}, pickClub(all, "Fer 7"), wClub)
	all = bedOthers(60, "7", "60", "54")
	add("no driver, bare numbers", true, map[string]string{"clubs": "7"}, pickClub(all, "7"), wClub)
	all = bedOthers(60, "7号铁", "9号铁")
	add("no driver in a Chinese file", true, map[string]string{"clubs": "7号铁"}, pickClub(all, "7号铁"), wClub)
	all = mixed(ds, bedOthers(60, "3 Wood", "7 Iron"))
	wood := pickClub(all, "3 Wood")
	out = append(out, way{name: "a fairway wood's session", data: plainCSV(all, pen{}, wClub), want: wood, kind: "fairway"})
	all = mixed(ds, bedOthers(60, "4 Hybrid", "7 Iron"))
	out = append(out, way{name: "a hybrid's session", data: plainCSV(all, pen{}, wClub), want: pickClub(all, "4 Hybrid"), kind: "hybrid"})
	all = mixed(renamed(ds, "Driver"), bedOthers(48, "Driver old", "7 Iron"))
	both := pickClub(all, "Driver")
	out = append(out, way{name: "two drivers", data: plainCSV(all, pen{}, wClub), want: both, asks: true, say: map[string]string{"clubs": "Driver"}})
	all = mixed(ds, bedOthers(30, "7 Iron"))
	for i := range all {
		if i%3 == 1 && all[i].club == "Driver" {
			all[i].club = ""
		}
	}
	want := slices.DeleteFunc(slices.Clone(all), func(d bedBall) bool { return d.club == "7 Iron" })
	out = append(out, way{name: "some drives without a club", data: plainCSV(all, pen{}, wClub), want: want, asks: true, say: map[string]string{"clubs": "Driver\n"}})
	for k, name := range []string{"Driver", "7 Iron"} { // a club's name alone in a line heads its balls
		head, body := laid(ds, bedColumns, pen{}, wNumber)
		_, irons := laid(bedOthers(40, "7 Iron"), bedColumns, pen{}, wNumber)
		text := csvLine(head, ",")
		for _, part := range [2]int{k, 1 - k} {
			text += []string{"Driver", "7 Iron"}[part] + "\n"
			for _, l := range [2][][]string{body, irons}[part] {
				text += csvLine(l, ",")
			}
		}
		out = append(out, way{name: "clubs head their balls, first " + name, data: []byte(text), want: ds})
	}
	return out
}

func pickClub(ds []bedBall, club string) []bedBall {
	return slices.DeleteFunc(slices.Clone(ds), func(d bedBall) bool { return d.club != club })
}

// decoyWays: repeated words that are no settings.
func decoyWays() []way {
	var out []way
	ds := noSets(bedDrives(3))
	two := func(a, b string) func(i int, d bedBall) string {
		return func(i int, d bedBall) string { return map[bool]string{true: a, false: b}[i*7%24 < 12] }
	}
	side := func(l, f, r string) func(i int, d bedBall) string {
		return func(_ int, d bedBall) string { return map[string]string{"Left": l, "Fairway": f, "Right": r}[d.word] }
	}
	for _, w := range []word{
		{"Outcome", side("Left", "Fairway", "Right")}, {"Result", side("Missed left", "Fairway", "Missed right")}, {"Shot Result", side("Rough", "Fairway", "Rough")}, {"Landing", side("Left rough", "Fairway", "Bunker")},
		{"Ergebnis", side("Links", "Fairway", "Rechts")}, {"Résultat", side("Gauche", "Fairway", "Droite")}, {"Resultado", side("Izquierda", "Calle", "Derecha")}, {"Risultato", side("Sinistra", "Fairway", "Destra")}, {"Resultat", side("Vänster", "Fairway", "Höger")}, {"结果", side("左", "球道", "右")}, {"結果", side("左", "フェアウェイ", "右")}, {"결과", side("왼쪽", "페어웨이", "오른쪽")},
		{"Location", two("Bay 4", "Bay 5")}, {"Bay", two("North", "South")}, {"Place", two("Hall", "Range")}, {"Ort", two("Halle", "Platz")}, {"Lieu", two("Salle", "Terrain")}, {"Lugar", two("Sala", "Campo")}, {"Luogo", two("Sala", "Campo")}, {"Plats", two("Hall", "Bana")},
		{"Surface", two("Mat", "Grass")}, {"Lie", two("Tee", "Mat")}, {"Untergrund", two("Matte", "Gras")}, {"Mode", two("Practice", "Play")}, {"Modus", two("Übung", "Spiel")}, {"Session Mode", two("Range", "Course")},
		{"Quality", two("Good", "Poor")}, {"Rating", two("A", "B")}, {"Reading", two("Full", "Partial")}, {"Shot Quality", two("Excellent", "OK")}, {"Confidence", two("High", "Low")},
		{"Shaft", two("Stiff", "Regular")}, {"Shaft Flex", two("S", "X")}, {"Schaft", two("Steif", "Regular")}, {"Ball Flight", two("Draw", "Fade")}, {"Shape", two("Draw", "Fade")}, {"Shot Shape", two("Push", "Pull")}, {"Category", two("Long", "Short")},
		{"Contact", two("Toe", "Heel")}, {"Strike", two("Centre", "Toe")}, {"Target", two("Fairway 1", "Fairway 2")}, {"Hole", two("Hole 1", "Hole 7")}, {"Weather", two("Sunny", "Windy")}, {"Wind", two("Calm", "Breeze")},
		{"Tag", two("good", "bad")}, {"Tags", side("left miss", "fairway", "right miss")}, {"Note", two("felt good", "felt bad")}, {"Comment", two("nice", "ugh")}, {"Ball", two("Practice ball", "Own ball")}, {"Coach", two("Bea", "Cid")}, {"Device", two("Unit one", "Unit two")},
		{"Verified", two("Yes", "No")}, {"Fairway", two("Hit", "Missed")}, {"Grip", two("Normal", "Choked")}, {"Tee Height", two("Tall", "Short")}, {"Unbekannt", side("links", "Mitte", "rechts")}, {"X", side("L", "F", "R")}, {"Column 3", two("Hit", "Miss")},
	} {
		out = append(out, way{name: "words under " + w.head + " " + w.of(0, ds[0]), data: plainCSV(ds, pen{}, wNumber, w), want: ds, say: map[string]string{"setting": "none"}})
	}
	return out
}

// settingWays: where settings stand.
func settingWays() []way {
	var out []way
	ds := bedDrives(4)
	add := func(w way) { out = append(out, w) }
	for _, h := range []string{"Setting", "Sleeve", "Einstellung", "Réglage", "Ajuste", "Impostazione", "Inställning", "调节", "セッティング", "세팅", "Loft Setting", "Club Setting", "Adapter", "SETTING"} {
		add(way{name: "settings under " + h, data: plainCSV(ds, pen{}, wNumber, fixed(h, func(d bedBall) string { return d.set })), want: ds})
	}
	for _, h := range []string{"Test", "Variant", "Column1", "Gruppe"} {
		add(way{name: "settings under " + h + ", head described", data: plainCSV(ds, pen{}, wNumber, fixed(h, func(d bedBall) string { return d.set })), want: ds, labels: bedSets[:]})
	}
	for _, h := range []string{"Test", "Tag", "Note", "Variant"} {
		add(way{name: "settings under " + h + ", head unknown", data: plainCSV(ds, pen{}, wNumber, fixed(h, func(d bedBall) string { return d.set })), want: ds, asks: true, say: map[string]string{"setting": h}})
	}
	add(way{name: "settings under Tag, an outcome beside", data: plainCSV(ds, pen{}, wNumber, fixed("Outcome", func(d bedBall) string { return d.word }), fixed("Tag", func(d bedBall) string { return d.set })), want: ds, labels: bedSets[:]})
	add(way{name: "settings under Setting, clubs beside", data: plainCSV(mixed(ds, bedOthers(40, "7 Iron", "PW")), pen{}, wClub, wSet), want: ds})
	// Only the first row of a block names it.
	once := func(i int, d bedBall) string {
		if i%8 == 0 {
			return d.set
		}
		return ""
	}
	add(way{name: "setting in the first row of a block", data: plainCSV(ds, pen{}, wNumber, word{"Setting", once}), want: ds})
	add(way{name: "sleeve in the first row of a block", data: plainCSV(ds, pen{}, wNumber, word{"Sleeve", once}), want: ds})
	add(way{name: "note in the first row of a block, head described", data: plainCSV(ds, pen{}, wNumber, word{"Note", once}), want: ds, labels: bedSets[:]})
	head, body := laid(ds, bedColumns, pen{}, wNumber)
	titled := func(f func(k int) string, again bool) []byte {
		var b strings.Builder
		if !again {
			b.WriteString(csvLine(head, ","))
		}
		for k := range 3 {
			b.WriteString(f(k) + "\n")
			if again {
				b.WriteString(csvLine(head, ","))
			}
			for _, l := range body[k*8 : k*8+8] {
				b.WriteString(csvLine(l, ","))
			}
		}
		return []byte(b.String())
	}
	set := func(k int) string { return bedSets[k] }
	add(way{name: "titles between the rows", data: titled(set, false), want: ds})
	add(way{name: "titles above repeated headers", data: titled(set, true), want: ds})
	add(way{name: "titles Setting: x", data: titled(func(k int) string { return "Setting: " + bedSets[k] }, false), want: ds})
	bare := noSets(ds)
	add(way{name: "titles are days", data: titled(func(k int) string { return ds[k*8].day }, false), want: bare})
	add(way{name: "titles are sessions", data: titled(func(k int) string { return fmt.Sprint("Session ", k+1) }, false), want: bare})
	add(way{name: "titles are outcomes", data: titled(func(k int) string { return []string{"Fairway", "Left", "Right"}[k] }, false), want: bare, say: map[string]string{"setting": "none"}})
	add(way{name: "titles are places", data: titled(func(k int) string { return []string{"Range", "Course", "Indoor"}[k] }, false), want: bare, say: map[string]string{"setting": "none"}})
	add(way{name: "titles are series", data: titled(func(k int) string { return fmt.Sprint("Block ", k+1) }, false), want: bare, say: map[string]string{"setting": "none"}})
	add(way{name: "settings as lofts", data: plainCSV(lofted(ds), pen{}, wNumber, fixed("Loft Setting", func(d bedBall) string { return d.set })), want: lofted(ds)})
	add(way{name: "sleeve and weight", data: plainCSV(weighted(ds), pen{}, wNumber, fixed("Sleeve", func(d bedBall) string { a, _, _ := strings.Cut(d.set, " / "); return a }), fixed("Weight", func(d bedBall) string { _, b, _ := strings.Cut(d.set, " / "); return b })), want: weighted(ds)})
	add(way{name: "settings with capitals that differ", data: plainCSV(ds, pen{}, wNumber, word{"Setting", func(i int, d bedBall) string {
		if i%2 == 1 {
			return strings.ToUpper(d.set) + " "
		}
		return d.set
	}}), want: ds})
	add(way{name: "no setting anywhere", data: plainCSV(bare, pen{}, wNumber), want: bare})
	add(way{name: "sessions by name, no setting", data: plainCSV(bare, pen{}, wNumber, fixed("Session", func(d bedBall) string { return "Visit " + d.day[9:] })), want: bare})
	return out
}

func lofted(ds []bedBall) []bedBall {
	out := slices.Clone(ds)
	for i := range out {
		out[i].set = []string{"9.5", "10.5", "11.5"}[i/8]
	}
	return out
}

func weighted(ds []bedBall) []bedBall {
	out := slices.Clone(ds)
	for i := range out {
		out[i].set = []string{"upright / heel", "flat / toe", "upright / toe"}[i/8]
	}
	return out
}

// metric writes km/h and metres.
var metric = map[shot.Quantity]units.Unit{shot.ClubSpeed: units.UnitKMH, shot.BallSpeed: units.UnitKMH, shot.Carry: units.UnitM, shot.Total: units.UnitM, shot.Offline: units.UnitM, shot.Curve: units.UnitM, shot.Apex: units.UnitM}

// unitWays: units, written, unwritten, false for a while.
func unitWays() []way {
	var out []way
	ds := noSets(bedDrives(5))
	add := func(name string, data []byte, cols ...shot.Quantity) {
		out = append(out, way{name: name, data: data, want: ds, cols: cols, say: bedUnitAnswers})
	}
	mps := map[shot.Quantity]units.Unit{shot.ClubSpeed: units.UnitMPS, shot.BallSpeed: units.UnitMPS, shot.Carry: units.UnitM, shot.Offline: units.UnitM, shot.Apex: units.UnitM}
	for name, u := range map[string]map[shot.Quantity]units.Unit{"miles and yards": nil, "kilometres and metres": metric, "metres a second": mps} {
		add("written: "+name, plainCSV(ds, pen{unit: u}, wNumber))
		add("unwritten: "+name, plainCSV(ds, pen{unit: u, bare: true}, wNumber))
		add("decimal commas: "+name, func() []byte {
			h, b := laid(ds, bedColumns, pen{unit: u, comma: true}, wNumber)
			return []byte(csvText(h, b, ";"))
		}())
	}
	// The first n balls are km/h and metres under a header of mph and yards.
	for _, sort := range []string{"day", "session", "header", "none", "gap"} {
		for _, n := range []int{6, 8, 12} {
			_, odd := laid(ds[:n], bedColumns, pen{unit: metric})
			head, rest := laid(ds[n:], bedColumns, pen{})
			var b strings.Builder
			first := func(i int) string {
				later := i >= n
				switch sort {
				case "day":
					return map[bool]string{false: "2026-05-01", true: "2026-05-08"}[later]
				case "session":
					return map[bool]string{false: "first", true: "second"}[later]
				case "gap":
					return fmt.Sprintf("2026-05-01 %02d:%02d", map[bool]int{false: 10, true: 14}[later], i)
				}
				return fmt.Sprint(i + 1)
			}
			head = append([]string{map[string]string{"day": "Date", "session": "Session", "gap": "Time"}[sort]}, head...)
			if head[0] == "" {
				head[0] = "Shot"
			}
			b.WriteString(csvLine(head, ","))
			for i, l := range append(odd, rest...) {
				if sort == "header" && i == n {
					b.WriteString(csvLine(head, ","))
				}
				b.WriteString(csvLine(append([]string{first(i)}, l...), ","))
			}
			add(fmt.Sprintf("%d balls of km/h and metres under mph and yards, by %s", n, sort), []byte(b.String()))
		}
	}
	// Club speeds of some balls in another unit, the smash column knows.
	clubSlip := func(n int, u units.Unit, p pen, w ...word) []byte {
		head, body := laid(ds, bedColumns, p, w...)
		at := slices.Index(bedColumns, shot.ClubSpeed) + len(w)
		other := pen{unit: map[shot.Quantity]units.Unit{shot.ClubSpeed: u}}
		for i := 8; i < 8+n; i++ {
			body[i][at] = other.cell(shot.ClubSpeed, ds[i].v[shot.ClubSpeed])
		}
		return []byte(csvText(head, body, ","))
	}
	for _, n := range []int{7, 8, 16} {
		add(fmt.Sprintf("%d club speeds in km/h, no units written", n), clubSlip(n, units.UnitKMH, pen{bare: true}, wDay))
		add(fmt.Sprintf("%d club speeds in km/h under mph", n), clubSlip(n, units.UnitKMH, pen{}, wDay))
		add(fmt.Sprintf("%d club speeds in km/h, nothing else changes", n), clubSlip(n, units.UnitKMH, pen{}, wNumber))
		add(fmt.Sprintf("%d club speeds in m/s, nothing else changes", n), clubSlip(n, units.UnitMPS, pen{}, wNumber))
	}
	add("all club speeds in km/h under mph", plainCSV(ds, pen{unit: map[shot.Quantity]units.Unit{shot.ClubSpeed: units.UnitKMH}, heads: map[shot.Quantity]string{}}, wNumber))
	lie := func(q shot.Quantity, u units.Unit) []byte { // one column is not what its header says
		head, body := laid(ds, bedColumns, pen{}, wNumber)
		other := pen{unit: map[shot.Quantity]units.Unit{q: u}}
		for i := range body {
			body[i][1+slices.Index(bedColumns, q)] = other.cell(q, ds[i].v[q])
		}
		return []byte(csvText(head, body, ","))
	}
	add("club speed in km/h under mph", lie(shot.ClubSpeed, units.UnitKMH))
	add("ball speed in km/h under mph", lie(shot.BallSpeed, units.UnitKMH))
	add("ball speed in m/s under mph", lie(shot.BallSpeed, units.UnitMPS))
	for name, u := range map[string]units.Unit{"metres": units.UnitM, "yards": units.UnitYd} {
		out = append(out, way{name: "apex in " + name + " under ft", data: lie(shot.Apex, u), want: ds, say: map[string]string{"unit Apex (ft)": u.Symbol}})
	}
	add("carry in feet under yd", lie(shot.Carry, units.UnitFt))
	add("launch in radians under deg", func() []byte {
		head, body := laid(ds, bedColumns, pen{}, wNumber)
		for i := range body {
			body[i][1+slices.Index(bedColumns, shot.Launch)] = fmt.Sprintf("%.3f", ds[i].v[shot.Launch])
		}
		return []byte(csvText(head, body, ","))
	}())
	with := func(name string, p pen, extra ...shot.Quantity) {
		cols := append(slices.Clone(bedColumns), extra...)
		h, b := laid(bedTotals(ds), cols, p, wNumber)
		out = append(out, way{name: name, data: []byte(csvText(h, b, ",")), want: bedTotals(ds), cols: cols, say: bedUnitAnswers})
	}
	with("total beside carry", pen{}, shot.Total)
	with("total in metres beside carry in yards", pen{unit: map[shot.Quantity]units.Unit{shot.Total: units.UnitM}}, shot.Total)
	with("curve in feet beside carry in yards", pen{unit: map[shot.Quantity]units.Unit{shot.Curve: units.UnitFt}}, shot.Curve)
	with("face and path", pen{}, shot.Face, shot.Path, shot.FaceToPath)
	inCells := func(name string, p pen) {
		head, body := laid(ds, bedColumns, pen{unit: p.unit, bare: true}, wNumber)
		for i := range body {
			for k, q := range bedColumns {
				body[i][k+1] += " " + p.of(q).Symbol
			}
		}
		add(name, []byte(csvText(head, body, ",")))
	}
	inCells("units in the cells", pen{})
	inCells("units in the cells, metric", pen{unit: metric})
	// From some ball on the cells name another unit.
	head, body := laid(ds, bedColumns, pen{bare: true}, wNumber)
	_, other := laid(ds, bedColumns, pen{unit: metric, bare: true}, wNumber)
	for i := range body {
		p := pen{}
		if i >= 10 {
			body[i], p = other[i], pen{unit: metric}
		}
		for k, q := range bedColumns {
			body[i][k+1] += p.of(q).Symbol
		}
	}
	add("units in the cells, changing", []byte(csvText(head, body, ",")))
	head, body = laid(ds, bedColumns, pen{bare: true}, wNumber)
	var us []string
	for _, q := range bedColumns {
		us = append(us, "["+bedUnits[q].Symbol+"]")
	}
	add("a row of units", []byte(csvLine(head, ",")+csvLine(append([]string{""}, us...), ",")+csvText(body[0], body[1:], ",")))
	add("feet and inches", func() []byte {
		head, body := laid(ds, bedColumns, pen{bare: true}, wNumber)
		for i := range body {
			inches := int(ds[i].v[shot.Apex]/units.Foot*12 + .5)
			body[i][1+slices.Index(bedColumns, shot.Apex)] = fmt.Sprintf("%d' %d\"", inches/12, inches%12)
		}
		return []byte(csvText(head, body, ","))
	}())
	add("feet and inches close together", func() []byte {
		head, body := laid(ds, bedColumns, pen{bare: true}, wNumber)
		for i := range body {
			inches := int(ds[i].v[shot.Apex]/units.Foot*12 + .5)
			body[i][1+slices.Index(bedColumns, shot.Apex)] = fmt.Sprintf("%d'%d\"", inches/12, inches%12)
		}
		return []byte(csvText(head, body, ";"))
	}())
	add("feet and inches in words", func() []byte {
		head, body := laid(ds, bedColumns, pen{bare: true}, wNumber)
		for i := range body {
			inches := int(ds[i].v[shot.Apex]/units.Foot*12 + .5)
			body[i][1+slices.Index(bedColumns, shot.Apex)] = fmt.Sprintf("%d ft %d in", inches/12, inches%12)
		}
		return []byte(csvText(head, body, ";"))
	}())
	return out
}

// bedTotals adds total, curve and the like, which ball gives.
func bedTotals(ds []bedBall) []bedBall { return ds }

var bedUnitAnswers = map[string]string{}

// signWays: which side is which.
func signWays() []way {
	var out []way
	ds := noSets(bedDrives(6))
	off := 1 + slices.Index(bedColumns, shot.Offline)
	cells := func(name string, f func(text string, v float64) string, cols ...shot.Quantity) {
		head, body := laid(ds, bedColumns, pen{}, wNumber)
		for i := range body {
			for _, q := range append(cols, shot.Offline) {
				at := 1 + slices.Index(bedColumns, q)
				body[i][at] = f(strings.TrimPrefix(body[i][at], "-"), ds[i].v[q])
			}
		}
		out = append(out, way{name: name, data: []byte(csvText(head, body, ",")), want: ds})
	}
	side := func(l, r string) func(string, float64) string {
		return func(t string, v float64) string {
			if v < 0 {
				return strings.ReplaceAll(l, "#", t)
			}
			return strings.ReplaceAll(r, "#", t)
		}
	}
	cells("sides as letters", side("# L", "# R"))
	cells("sides as letters before", side("L#", "R#"))
	cells("sides as words", side("# left", "# right"))
	cells("negative in parentheses", side("(#)", "#"))
	cells("negative in parentheses, several columns", side("(#)", "#"), shot.LaunchDirection, shot.SpinAxis)
	cells("minus behind the number", side("#-", "#"))
	cells("minus behind the number, several columns", side("#-", "#"), shot.LaunchDirection, shot.SpinAxis)
	cells("sides as arrows", side("← #", "→ #"))
	cells("sides in German", side("# links", "# rechts"))
	cells("sides in Italian", side("# sinistra", "# destra"))
	cells("sides in Chinese", side("左#", "右#"))
	for _, c := range [][4]string{{"Side", "Left", "Right", "Offline"}, {"Offline Direction", "L", "R", "Offline"}, {"Direction", "Left", "Right", "Offline"}, {"Left/Right", "left", "right", "Offline Distance"}, {"Seite", "links", "rechts", "Abweichung"}, {"Côté", "G", "D", "Écart latéral"}, {"L/R", "L", "R", "Offline"}} {
		p := pen{heads: map[shot.Quantity]string{shot.Offline: c[3]}}
		head, body := laid(ds, bedColumns, p, wNumber)
		head = slices.Insert(head, off+1, c[0])
		for i := range body {
			body[i][off] = strings.TrimPrefix(body[i][off], "-")
			body[i] = slices.Insert(body[i], off+1, map[bool]string{true: c[1], false: c[2]}[ds[i].v[shot.Offline] < 0])
		}
		out = append(out, way{name: "side in a column of its own: " + c[0] + " " + c[1], data: []byte(csvText(head, body, ",")), want: ds})
	}
	turned := func(name string, from, to int, qs ...shot.Quantity) {
		head, body := laid(ds, bedColumns, pen{}, wNumber)
		for i := from; i < to; i++ {
			for _, q := range qs {
				at := 1 + slices.Index(bedColumns, q)
				body[i][at] = pen{}.cell(q, -ds[i].v[q])
			}
		}
		out = append(out, way{name: name, data: []byte(csvText(head, body, ",")), want: ds})
	}
	turned("axis turned over", 0, 24, shot.SpinAxis)
	return out
}
