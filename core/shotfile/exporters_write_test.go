package shotfile

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	code16 "unicode/utf16"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/simplifiedchinese"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// exporterHeads are what the exporters write over their columns, in English,
// German, Chinese (the trade's words, from memory; common practice, no source).
var exporterHeads = map[shot.Quantity][3]string{
	shot.BallSpeed: {"Ball Velocity|Ball Speed|BALL SPEED", "Ballgeschwindigkeit|Ballgeschw.", "球速"}, shot.ClubSpeed: {"Club Head Speed|Clubhead Speed|CLUB SPEED", "Schlägerkopfgeschwindigkeit|Schlägergeschwindigkeit", "杆头速度"},
	shot.Smash: {"Smash Factor|SMASH", "Smash-Faktor", "击球效率"}, shot.Launch: {"Launch Angle|Vertical Launch Angle|VLA", "Abflugwinkel", "发射角"}, shot.LaunchDirection: {"Launch Direction|Horizontal Launch Angle|HLA", "Startrichtung", "发射方向"},
	shot.Spin: {"Total Spin|Spin Rate|SPIN", "Gesamtspin|Spinrate", "总旋转"}, shot.SpinAxis: {"Spin Axis|SPIN AXIS|Axis Tilt", "Spinachse", "旋转轴"}, shot.Backspin: {"Back Spin|BACKSPIN", "Backspin", "后旋"}, shot.Sidespin: {"Side Spin|SIDESPIN", "Sidespin", "侧旋"},
	shot.Carry: {"Carry Distance|Carry|CARRY", "Carry|Flugweite", "飞行距离"}, shot.Total: {"Total Distance|TOTAL DISTANCE", "Gesamtweite|Gesamtdistanz", "总距离"}, shot.Offline: {"Offline|Lateral|Carry Side", "Seitenabweichung", "左右偏差"},
	shot.Apex: {"Peak Height|Apex|APEX HEIGHT", "Scheitelhöhe|Max. Höhe", "最大高度"}, shot.Descent: {"Descent Angle|Landing Angle", "Landewinkel", "落地角"}, shot.FlightTime: {"Hang Time|Flight Time", "Flugzeit", "滞空时间"},
	shot.Attack: {"Angle of Attack|Attack Angle", "Eintreffwinkel", "攻击角"}, shot.Path: {"Club Path|PATH", "Schlägerbahn|Schwungpfad", "杆头轨迹"}, shot.Face: {"Face Angle|Face to Target", "Schlagflächenwinkel", "杆面角"}, shot.FaceToPath: {"Face to Path", "Schlagfläche zur Bahn", "面对路径"},
}

// exporterWords are club, its driver and others, setting, notes, a total, an average;
// right and left as a letter and a word.
var exporterWords = map[string]struct {
	club, driver, others, setting, note, total, average string
	right, left                                         [2]string
}{
	"en": {"Club", "Driver|1W|DR", "7 Iron|PW|5 Wood|SW (56)", "Adjustment", "Comment", "TOTAL|Sum", "AVERAGE|Average:", [2]string{"R", "right"}, [2]string{"L", "left"}},
	"de": {"Schläger", "Driver|Holz 1", "Eisen 7|PW|Holz 5", "Einstellung", "Bemerkung", "Summe", "Mittelwert|Durchschnitt", [2]string{"R", "rechts"}, [2]string{"L", "links"}},
	"zh": {"球杆", "一号木|1号木", "7号铁|三号木", "设置", "备注", "合计", "平均|平均值", [2]string{"右", "右"}, [2]string{"左", "左"}},
}

func (e *exporter) driver() string { return strings.Split(exporterWords[e.lang].driver, "|")[0] }

func anyExporter(r *rand.Rand) *exporter {
	e := &exporter{lang: pick(r, "en", "en", "en", "de", "zh"), heads: map[shot.Quantity]string{}, unit: map[shot.Quantity]units.Unit{}, bare: map[shot.Quantity]bool{}, sides: map[shot.Quantity]string{}, hand: pick(r, frame.Right, frame.Right, frame.Left)}
	e.form = pick(r, "csv", "csv", "bom", "utf16", "utf16be", "old", "xlsx", "xlsx", "ods", "html", "lines", "zip")
	e.cols = []shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Carry, shot.Offline}
	switch r.IntN(3) {
	case 0:
		e.cols = append(e.cols, shot.Backspin, shot.Sidespin)
	case 1:
		e.cols = append(e.cols, shot.Spin, shot.SpinAxis)
	}
	for _, q := range []shot.Quantity{shot.ClubSpeed, shot.Smash, shot.Total, shot.Apex, shot.Descent, shot.FlightTime, shot.Attack} {
		if r.IntN(3) == 0 {
			e.cols = append(e.cols, q)
		}
	}
	if r.IntN(3) == 0 {
		e.cols = append(e.cols, shot.Path, shot.Face, shot.FaceToPath)
	}
	slices.Sort(e.cols)
	for _, q := range e.cols {
		e.heads[q] = oneOf(r, exporterHeads[q][slices.Index([]string{"en", "de", "zh"}, e.lang)])
	}
	e.measure(r)
	e.comma = e.lang == "de" && r.IntN(3) > 0
	if r.IntN(3) == 0 {
		e.groups = pick(r, " ", "\u00a0", "\u202f", "'")
	}
	e.minus = pick(r, "-", "-", "-", "−", "–")
	e.zero = r.IntN(3) == 0
	for _, q := range e.cols {
		k, _ := shot.KindOf(q)
		switch {
		case q == shot.Offline || q == shot.LaunchDirection && r.IntN(2) == 0 || q == shot.Sidespin && r.IntN(4) == 0:
			e.sides[q] = pick(r, "", "", "glued after", "glued before", "after", "word")
		case (q == shot.Face || q == shot.FaceToPath) && k.Compass && e.lang == "en":
			e.sides[q] = pick(r, "", "", "", "open")
		}
	}
	e.unseen = pick(r, "", "", "", "\u200e", "\u200f", "\u202a", "\u00a0", "\ufeff", "\u200b")
	e.setsBy = pick(r, "none", "column", "column", "title", "merged", "beside")
	e.between = pick(r, "", "", "header", "total", "average", "count", "blank")
	e.aside, e.notes, e.empty, e.double, e.bag, e.hidden, e.height = r.IntN(8) == 0, r.IntN(3) == 0, r.IntN(4) == 0, r.IntN(8) == 0, r.IntN(4) == 0, r.IntN(4) == 0, r.IntN(4) == 0
	e.clock = pick(r, "", "", "iso", "zones", "half", "german", "unix")
	e.sets = pick(r, []string{"draw side", "centre line", "fade side"}, []string{"10.5", "9.5", "8.5"}, []string{"+1.0°", "0.0°", "-1.0°"}, []string{"tall", "short"}, []string{"ring A", "ring B"})
	if e.setsBy == "title" || e.setsBy == "merged" || e.setsBy == "beside" {
		e.sets = pick(r, []string{"draw side", "centre line", "fade side"}, []string{"tall", "short"}, []string{"ring A", "ring B"}, []string{"loft +1", "loft 0"})
	}
	switch e.form { // what a form cannot hold
	case "lines":
		if e.setsBy != "none" {
			e.setsBy = "column"
		}
		e.between, e.aside, e.double = "", false, false
		if e.unitsAt == "row" {
			e.unitsAt = "head"
		}
	case "zip":
		if e.setsBy == "beside" {
			e.setsBy = "column"
		}
	}
	if e.setsBy == "beside" {
		e.between, e.aside = "", false
	}
	e.play(r)
	return e
}

// measure gives each column a unit; where none is written they are usual together.
func (e *exporter) measure(r *rand.Rand) {
	e.unitsAt = pick(r, "head", "head", "row", "cells", "none")
	speed, length, height := pick(r, units.UnitMPH, units.UnitMPH, units.UnitKMH, units.UnitMPS, units.UnitFPS), pick(r, units.UnitYd, units.UnitYd, units.UnitM, units.UnitFt), pick(r, units.UnitFt, units.UnitM, units.UnitYd)
	if e.unitsAt == "none" {
		usual := pick(r, [3]units.Unit{units.UnitMPH, units.UnitYd, units.UnitFt}, [3]units.Unit{units.UnitKMH, units.UnitM, units.UnitM}, [3]units.Unit{units.UnitMPS, units.UnitM, units.UnitM})
		speed, length, height = usual[0], usual[1], usual[2]
	}
	for _, q := range e.cols {
		k, _ := shot.KindOf(q)
		u := units.UnitOne
		switch k.Dim {
		case units.Speed:
			u = speed
		case units.Length:
			u = length
		case units.Height:
			u = height
		case units.Angle:
			u = units.UnitDeg
		case units.Spin:
			u = units.UnitRPM
		case units.Time:
			u = units.UnitSec
		}
		e.unit[q] = u
		e.bare[q] = (k.Dim == units.Angle || k.Dim == units.Spin || k.Dim == units.Time) && r.IntN(3) == 0 || q == shot.Offline && r.IntN(4) == 0
	}
}

// play hits the balls, in an air and a wind of the day.
func (e *exporter) play(r *rand.Rand) {
	others := strings.Split(exporterWords[e.lang].others, "|")
	rho, head, cross := 1.1+.15*r.Float64(), 2*r.NormFloat64(), 2*r.NormFloat64()
	path, face, speed := 3*r.NormFloat64(), 1.5*r.NormFloat64(), 37+14*r.Float64()
	mixed := r.IntN(2) == 0 && e.setsBy != "beside"
	for b, set := range e.sets {
		if e.setsBy == "none" {
			set = ""
		}
		for range 7 + r.IntN(8) {
			e.balls = append(e.balls, exported{v: exporterSwing(r, speed, 10, path, face, rho, head, cross), club: e.driver(), set: set, block: b})
		}
		if mixed && r.IntN(2) == 0 {
			for range 2 + r.IntN(4) {
				e.balls = append(e.balls, exported{v: exporterSwing(r, .82*speed, 31, path, face, rho, head, cross), club: others[b%len(others)], set: set, block: b})
			}
		}
	}
}

func (e *exporter) head(q shot.Quantity) string {
	if u := e.unit[q]; e.unitsAt == "head" && u.Symbol != "" && !e.bare[q] {
		return e.heads[q] + " (" + u.Symbol + ")"
	}
	return e.heads[q]
}

// cell is a number as written; want is its value as rounded.
func (e *exporter) cell(r *rand.Rand, q shot.Quantity, si float64) (text string, want float64) {
	k, _ := shot.KindOf(q)
	u := e.unit[q]
	places := 1
	if q == shot.Smash || q == shot.FlightTime {
		places = 2
	} else if k.Dim == units.Spin || u == units.UnitFt && q != shot.Offline {
		places = 0
	}
	scale := math.Pow(10, float64(places))
	n := math.Round(u.From(si)*scale) / scale
	want = u.SI(n)
	text = fmt.Sprintf("%.*f", places, math.Abs(n))
	if i := strings.IndexByte(text+".", '.'); i > 3 && e.groups != "" {
		text = text[:i-3] + e.groups + text[i-3:]
	}
	if e.comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	w := exporterWords[e.lang]
	side := w.right
	if n < 0 {
		side = w.left
	}
	switch how := e.sides[q]; {
	case how != "" && n == 0:
	case how == "glued after":
		text += side[0]
	case how == "glued before":
		text = side[0] + text
	case how == "after":
		text += " " + side[0]
	case how == "word":
		text += " " + side[1]
	case how == "open": // open is to the right for a right-hander
		text += map[bool]string{true: " O", false: " C"}[n > 0 == (e.hand != frame.Left)]
	case n < 0 || n == 0 && e.zero && k.Compass:
		text = e.minus + text
	}
	if e.unitsAt == "cells" && u.Symbol != "" && !e.bare[q] && e.sides[q] != "open" {
		text += " " + u.Symbol
	}
	return text, want
}

// exporterNotes are a golfer's words beside a ball.
var exporterNotes = strings.Split("Left|Good|7 iron|felt thin|||||high draw, left of the flag|OK|wind?|average|Driver", "|")

// table is the balls of blocks from to until with what stands between them.
func (e *exporter) table(r *rand.Rand, from, until int) (rows [][]string) {
	w := exporterWords[e.lang]
	var head, under []string
	col := func(h, u string) { head, under = append(head, h), append(under, u) }
	lead := 0
	for _, x := range []struct {
		on   bool
		head string
	}{{e.clock != "", map[string]string{"en": "Date", "de": "Datum", "zh": "日期"}[e.lang]}, {true, w.club}, {e.setsBy == "column", w.setting}, {e.empty, ""}} {
		if x.on {
			col(x.head, "")
			lead++
		}
	}
	for _, q := range e.cols {
		u := e.unit[q].Symbol
		if e.bare[q] {
			u = ""
		}
		col(e.head(q), u)
	}
	if e.double {
		col(e.head(shot.Carry), e.unit[shot.Carry].Symbol)
	}
	if e.height {
		col(map[string]string{"en": "Altitude (m)", "de": "Höhe über NN (m)", "zh": "海拔 (m)"}[e.lang], "m")
	}
	if e.notes {
		col(w.note, "")
	}
	if e.empty {
		col("", "")
	}
	header := func() {
		rows = append(rows, head)
		if e.unitsAt == "row" {
			rows = append(rows, under)
		}
	}
	for b := from; b < until; b++ {
		switch {
		case e.setsBy == "title" || e.setsBy == "beside":
			rows = append(rows, []string{e.sets[b]})
		case e.setsBy == "merged":
			rows = append(rows, append([]string{"Setting: " + e.sets[b]}, make([]string, len(head)-1)...))
		}
		if b == from || e.between == "header" || e.setsBy == "beside" {
			header()
		}
		sums, n := make([]float64, len(e.cols)), 0
		for i := range e.balls {
			x := &e.balls[i]
			if x.block != b {
				continue
			}
			n++
			x.want = shot.Values{}
			var row []string
			if e.clock != "" {
				row = append(row, e.time(i))
			}
			row = append(row, x.club)
			if e.setsBy == "column" {
				row = append(row, x.set)
			}
			if e.empty {
				row = append(row, "")
			}
			for k, q := range e.cols {
				text, want := e.cell(r, q, x.v[q])
				sums[k] += x.v[q]
				switch {
				case r.IntN(60) == 0:
					text = pick(r, "", "—", "N/A", "null", "NaN", "#N/A")
				default:
					if want != 0 || !zeroIsNoRead[q] {
						x.want[q] = want
					}
					if e.unseen != "" && r.IntN(4) == 0 {
						text = e.unseen + text
					}
				}
				row = append(row, text)
			}
			if e.double {
				row = append(row, row[lead+slices.Index(e.cols, shot.Carry)])
			}
			if e.height {
				row = append(row, "187")
			}
			if e.notes {
				row = append(row, exporterNotes[r.IntN(len(exporterNotes))])
			}
			if e.empty {
				row = append(row, "")
			}
			rows = append(rows, row)
		}
		rows = append(rows, e.after(r, lead, len(head), sums, n)...)
	}
	return rows
}

// after is what follows a block.
func (e *exporter) after(r *rand.Rand, lead, wide int, sums []float64, n int) [][]string {
	w, row := exporterWords[e.lang], make([]string, wide)
	switch e.between {
	case "blank":
		return [][]string{make([]string, wide)}
	case "count":
		row[0] = fmt.Sprintf("%d shots", n)
		return [][]string{row}
	case "total", "average":
		row[0] = oneOf(r, map[string]string{"total": w.total, "average": w.average}[e.between])
		for k, q := range e.cols {
			v := sums[k]
			if e.between == "average" {
				v /= float64(n)
			}
			row[lead+k], _ = e.cell(r, q, v)
		}
		return [][]string{row}
	}
	return nil
}

// time is when ball i was hit, as the exporter writes it.
func (e *exporter) time(i int) string {
	h, m := 10+i/20, i*3%60
	switch e.clock {
	case "zones":
		return fmt.Sprintf("2026-04-11T%02d:%02d:07%s", h, m, []string{"+02:00", "Z", "-05:00"}[i/7%3])
	case "half":
		return fmt.Sprintf("4/11/2026 %d:%02d:07 %s", (h+11)%12+1, m, map[bool]string{true: "PM", false: "AM"}[h > 11])
	case "german":
		return fmt.Sprintf("11.04.2026 %02d:%02d Uhr", h, m)
	case "unix":
		return fmt.Sprint(1775900000 + 41*i)
	}
	return fmt.Sprintf("2026-04-11 %02d:%02d:07", h, m)
}

// beside joins two tables with a column of nothing between them.
func beside(a, b [][]string, wide int) (out [][]string) {
	for i := range max(len(a), len(b)) {
		row := make([]string, wide+1)
		if i < len(a) {
			copy(row, a[i])
		}
		if i < len(b) {
			row = append(row, b[i]...)
		}
		out = append(out, row)
	}
	return out
}

// write puts the session into a file; what it says is kept for -case.
func (e *exporter) write(r *rand.Rand) (name string, data []byte) {
	var rows [][]string
	if e.setsBy == "beside" {
		rows = e.table(r, 0, 1)
		for b := 1; b < len(e.sets); b++ {
			wide := 0
			for _, l := range rows {
				wide = max(wide, len(l))
			}
			rows = beside(rows, e.table(r, b, b+1), wide)
		}
	} else {
		rows = e.table(r, 0, len(e.sets))
	}
	if e.aside {
		wide := 0
		for _, l := range rows {
			wide = max(wide, len(l))
		}
		carry, _ := e.cell(r, shot.Carry, 200)
		rows = beside(rows, [][]string{{exporterWords[e.lang].club, "Shots", "Avg " + e.head(shot.Carry)}, {e.driver(), "31", carry}}, wide)
	}
	sep := ","
	if e.comma || r.IntN(4) == 0 {
		sep = ";"
	}
	text := ""
	for _, l := range rows {
		text += csvLine(l, sep)
	}
	e.shown = text
	sheets := []sheetOf{{"Shots", false, rows}}
	if e.bag {
		sheets = append(sheets, sheetOf{"Bag", false, [][]string{{"Club", "Loft (deg)", "Length (in)"}, {"Driver", "10.5", "45.5"}, {"7 Iron", "31", "37"}, {"PW", "45", "35.5"}}})
	}
	if e.hidden {
		old := [][]string{{"Ball Speed (mph)", "Carry (yd)", "Launch Angle (deg)"}, {"140", "220", "12"}, {"141", "223", "13"}}
		sheets = append(sheets, sheetOf{"old", true, old})
	}
	switch e.form {
	case "bom":
		return "shots.csv", []byte("\ufeff" + text)
	case "utf16", "utf16be":
		var out []byte
		for _, u := range code16.Encode([]rune("\ufeff" + text)) {
			b := [2]byte{byte(u), byte(u >> 8)}
			if e.form == "utf16be" {
				b[0], b[1] = b[1], b[0]
			}
			out = append(out, b[:]...)
		}
		return "shots.txt", out
	case "old":
		enc := charmap.Windows1252.NewEncoder()
		if e.lang == "zh" {
			enc = simplifiedchinese.GB18030.NewEncoder()
		}
		if out, err := enc.Bytes([]byte(text)); err == nil {
			return "shots.csv", out
		}
	case "xlsx":
		return "shots.xlsx", bedBook(sheets...)
	case "ods":
		return "shots.ods", openDocument(sheets[:1+map[bool]int{true: 1}[e.bag]]...)
	case "html":
		return "shots.xls", []byte(htmlTable(rows[0], rows[1:]))
	case "zip":
		files := map[string]string{"shots.csv": text}
		if e.bag {
			files["bag.csv"] = "Club,Loft (deg)\nDriver,10.5\n7 Iron,31\n"
		}
		return "export.zip", zipped(files)
	case "lines":
		return "shots.jsonl", e.lines(rows)
	}
	return "shots.csv", []byte(text)
}

// lines are objects, one a line, their numbers in an object of their own.
func (e *exporter) lines(rows [][]string) (out []byte) {
	for _, row := range rows[1:] {
		words, numbers := map[string]any{}, map[string]any{}
		for i, c := range row {
			switch h := rows[0][i]; {
			case h == "":
			case slices.ContainsFunc(e.cols, func(q shot.Quantity) bool { return e.head(q) == h }):
				numbers[h] = c
			default:
				words[h] = c
			}
		}
		words["measured"] = numbers
		raw, _ := json.Marshal(words)
		out = append(append(out, raw...), '\n')
	}
	return out
}
