package shotfile

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// hit makes the balls of a session: blocks with their units, clubs, settings.
func (d *device) hit(r *rand.Rand) {
	names := deviceNames[d.lang]
	d.driver = []string{oneOf(r, names.driver)}
	others := strings.Split(names.others, "|")
	r.Shuffle(len(others), func(i, j int) { others[i], others[j] = others[j], others[i] })
	others = others[:1+r.IntN(min(3, len(others)))]
	if d.clubsBy == "none" {
		others = nil
	}
	sets := pick(r, []string{"ring one", "ring two", "ring three"}, []string{"neutral", "draw", "low"}, []string{"9.5°", "10.5°"}, []string{"upright", "flat"}, []string{"N", "F", "D"})
	blocks := 1
	if d.blocksBy != "none" {
		blocks = 2 + r.IntN(2)
	}
	if d.setsBy == "sheet" || d.setsBy == "title" || d.setsBy == "first" {
		blocks = len(sets)
	}
	sys := pick(r, deviceSystems...)
	if d.unitsAt == "none" { // mixtures say their units
		sys = pick(r, deviceSystems[0], deviceSystems[0], deviceSystems[3], deviceSystems[4])
	}
	speed := 38 + 14*r.Float64()
	for b := range blocks {
		switch {
		case b > 0 && d.lies: // a yard under metres can't be told from a shorter flight: the speeds change too
			for was := sys[0]; sys[0] == was; {
				sys = pick(r, deviceSystems[0], deviceSystems[3], deviceSystems[4])
			}
		case b > 0 && d.unitsAt != "none" && r.IntN(4) == 0:
			sys = pick(r, deviceSystems...)
		}
		d.systems = append(d.systems, sys)
		add := func(club string, n int, loft, speed float64) {
			for range n {
				x := deviceBall{v: deviceShot(r, speed, loft), club: club, block: b, day: fmt.Sprintf("2026-03-%02d", 2+b), clock: fmt.Sprintf("%02d:%02d:%02d", 9+b, len(d.balls)%60, r.IntN(60)), player: "Ada"}
				switch {
				case d.setsBy == "sheet" || d.setsBy == "title" || d.setsBy == "first":
					x.set = sets[b]
				case d.setsBy == "column":
					x.set = sets[min(len(sets)-1, len(d.balls)/6)%len(sets)]
				}
				if d.players && len(d.balls) > 0 && r.IntN(3) == 0 {
					x.player = "Bo"
				}
				d.balls = append(d.balls, x)
			}
		}
		if len(others) > 0 && r.IntN(2) == 0 {
			add(others[0], 2+r.IntN(5), 30, speed*.8)
		}
		add(d.driver[0], 6+r.IntN(10), 10, speed)
		if len(others) > 1 && r.IntN(2) == 0 {
			add(others[1], 2+r.IntN(5), 26, speed*.85)
		}
	}
}

// cell is a ball's number as written, and its value as rounded [SI].
func (d *device) cell(r *rand.Rand, q shot.Quantity, x deviceBall) (text string, want float64) {
	k, _ := shot.KindOf(q)
	u := d.systems[x.block].of(k)
	places := 1
	switch {
	case q == shot.Smash || q == shot.FlightTime:
		places = 2
	case k.Dim == units.Spin:
		places = 0
	}
	n := u.From(x.v[q])
	if d.flipped[q] {
		n = -n
	}
	scale := math.Pow(10, float64(places))
	n = math.Round(n*scale) / scale
	want = u.SI(n)
	if d.flipped[q] {
		want = -want
	}
	text = strings.Replace(fmt.Sprintf("%.*f", places, math.Abs(n)), ".", d.mark, 1)
	side := deviceNames[d.lang]
	if d.unitsAt == "cells" && u.Name != "" {
		text += " " + d.spell[u.Name]
	}
	switch {
	case d.sided[q] && d.side == "paren":
		if n < 0 {
			text = "(" + text + ")"
		}
	case d.sided[q] && n != 0:
		ws := strings.Split(side.right, "|")
		if n < 0 {
			ws = strings.Split(side.left, "|")
		}
		w := ws[0]
		if d.side == "word" {
			w = ws[len(ws)-1]
		}
		if d.side == "before" {
			text = w + " " + text
		} else {
			text += " " + w
		}
	case n < 0:
		text = "-" + text
	}
	return text, want
}

// head is a quantity's header in a block.
func (d *device) head(q shot.Quantity, block int) string {
	k, _ := shot.KindOf(q)
	u := d.systems[block].of(k)
	if u.Name == "" {
		return d.heads[q]
	}
	switch d.unitsAt {
	case "(", "[":
		return d.heads[q] + " " + d.unitsAt + d.spell[u.Name] + map[string]string{"(": ")", "[": "]"}[d.unitsAt]
	case " ":
		return d.heads[q] + " " + d.spell[u.Name]
	}
	return d.heads[q]
}

// deviceTable is one run of balls under one header.
type deviceTable struct {
	title string // above it
	sheet string
	head  []string
	units []string // the row of units
	rows  [][]string
	block int
}

// tables lays the balls out; a block is a table of its own where its header
// stands again.
func (d *device) tables(r *rand.Rand) []*deviceTable {
	var out []*deviceTable
	numbered := r.IntN(2) == 0
	for i := range d.balls {
		x := &d.balls[i]
		x.want = shot.Values{}
		if t := len(out); t == 0 || out[t-1].block != x.block {
			out = append(out, d.tableOf(x.block, numbered))
		}
		t := out[len(out)-1]
		first := len(t.rows) == 0
		var row []string
		if numbered {
			row = append(row, fmt.Sprint(i+1))
		}
		if d.blocksBy == "day" {
			row = append(row, x.day+" "+x.clock)
		}
		if d.blocksBy == "session" {
			row = append(row, fmt.Sprint("Session ", x.block+1))
		}
		if d.players {
			row = append(row, x.player)
		}
		if d.clubsBy == "column" {
			row = append(row, x.club)
			switch d.second {
			case "empty":
				row = append(row, "")
			case "make":
				row = append(row, map[bool]string{true: "Alto Nove", false: "Basso Set"}[x.club == d.driver[0]])
			case "type":
				row = append(row, map[bool]string{true: "Wood", false: "Club"}[x.club == d.driver[0]])
			}
		}
		if d.setsBy == "column" || d.setsBy == "first" && first {
			row = append(row, x.set)
		} else if d.setsBy == "first" {
			row = append(row, "")
		}
		for _, q := range d.cols {
			text, want := d.cell(r, q, *x)
			if r.IntN(80) == 0 {
				text = pick(r, "", "-", "--", "n/a")
			} else if want != 0 || !zeroIsNoRead[q] {
				x.want[q] = want
			}
			row = append(row, text)
		}
		for _, w := range d.noise {
			row = append(row, deviceNoise(r, w, i, x.v[shot.Offline]))
		}
		t.rows = append(t.rows, row)
	}
	return out
}

func deviceNoise(r *rand.Rand, what string, i int, off float64) string {
	switch what {
	case "Video":
		return fmt.Sprintf("https://clips.example/%d.mp4", i*37)
	case "Shot Type":
		return pick(r, "Draw", "Fade", "Straight", "Push")
	case "Notes":
		return pick(r, "", "", "", "felt thin", "wow")
	case "GUID":
		return fmt.Sprintf("%08x-%04x", r.Uint32(), r.IntN(65536))
	case "Weather":
		return "Sunny"
	case "Outcome":
		return map[bool]string{true: "Fairway", false: "Rough"}[math.Abs(off) < 12]
	case "Model":
		return "Alto Nove"
	case "Alt":
		return "212"
	}
	return fmt.Sprintf("%.5f", 48+r.Float64())
}

func (d *device) tableOf(block int, numbered bool) *deviceTable {
	t := &deviceTable{block: block, sheet: fmt.Sprint("Data ", block+1)}
	for _, x := range []struct {
		on bool
		h  string
	}{{numbered, "#"}, {d.blocksBy == "day", map[bool]string{true: "日時", false: "Date"}[d.lang == "ja"]}, {d.blocksBy == "session", "Session"}, {d.players, d.playerHead}, {d.clubsBy == "column", d.clubHead}, {d.setsBy == "column" || d.setsBy == "first", d.setHead}} {
		if x.on {
			t.head, t.units = append(t.head, x.h), append(t.units, "")
		}
		if x.on && x.h == d.clubHead && d.second != "" {
			t.head, t.units = append(t.head, "Club Description"), append(t.units, "")
		}
	}
	for _, q := range d.cols {
		t.head = append(t.head, d.head(q, map[bool]int{true: 0, false: block}[d.lies]))
		k, _ := shot.KindOf(q)
		u := d.systems[block].of(k)
		t.units = append(t.units, map[bool]string{true: "", false: "[" + d.spell[u.Name] + "]"}[u.Name == ""])
	}
	for _, w := range d.noise {
		t.head, t.units = append(t.head, w), append(t.units, "")
	}
	if d.unitsAt != "row" {
		t.units = nil
	}
	for _, x := range d.balls {
		if x.block == block && d.setsBy == "title" {
			t.title = x.set
		}
		if x.block == block && d.setsBy == "sheet" {
			t.sheet = x.set
		}
	}
	return t
}

// lines are a table's lines; headed says whether its header stands above it.
func (d *device) lines(r *rand.Rand, t *deviceTable, headed bool) [][]string {
	var out [][]string
	if t.title != "" {
		out = append(out, []string{t.title})
	}
	if headed {
		out = append(out, t.head)
		if t.units != nil {
			out = append(out, t.units)
		}
	}
	for i, row := range t.rows {
		if d.again && i > 0 && i%9 == 0 { // as pages are pasted
			out = append(out, t.head)
			if t.units != nil {
				out = append(out, t.units)
			}
		}
		out = append(out, row)
	}
	if d.summary {
		l := make([]string, len(t.head))
		l[0] = oneOf(r, deviceNames[d.lang].average)
		at := len(t.head) - len(d.cols) - len(d.noise)
		for k, q := range d.cols {
			sum, n := 0., 0
			for _, x := range d.balls {
				if v, ok := x.want[q]; ok && x.block == t.block { // what is shown
					sum, n = sum+v, n+1
				}
			}
			if n > 0 {
				l[at+k], _ = d.cell(r, q, deviceBall{v: shot.Values{q: sum / float64(n)}, block: t.block})
			}
		}
		out = append(out, l)
	}
	if d.blank {
		out = append(out, []string{""})
	}
	return out
}

// changed reports whether block b is written in other units than the one before.
func (d *device) changed(b int) bool { return b > 0 && d.systems[b] != d.systems[b-1] }

// write puts the session into a file.
func (d *device) write(r *rand.Rand) (name string, data []byte) {
	ts := d.tables(r)
	var all [][]string
	top := d.container == "csv" && r.IntN(4) == 0
	if top {
		all = append(all, []string{"Session report"}, []string{""})
	}
	for k, t := range ts {
		headed := k == 0 || d.blocksBy == "header" || !d.lies && d.changed(t.block) && (d.unitsAt == "(" || d.unitsAt == "[" || d.unitsAt == " " || d.unitsAt == "row")
		all = append(all, d.lines(r, t, headed)...)
	}
	if d.footer {
		all = append(all, []string{oneOf(r, deviceNames[d.lang].footer)})
	}
	sheets := func() (out []sheetOf) {
		if d.blocksBy != "sheet" {
			return []sheetOf{{"Export", false, all}}
		}
		for _, t := range ts {
			title := *t
			title.title = ""
			out = append(out, sheetOf{t.sheet, false, d.lines(r, &title, true)})
		}
		return out
	}
	switch d.container {
	case "xlsx":
		return "a.xlsx", bedBook(sheets()...)
	case "ods":
		return "a.ods", openDocument(sheets()...)
	case "html":
		return "a.xls", []byte(htmlTable(all[0], all[1:]))
	case "zip":
		files := map[string]string{}
		for i, s := range sheets() {
			name := s.name
			if d.setsBy != "sheet" {
				name = fmt.Sprint("data-", i+1)
			}
			files[strings.ReplaceAll(name, "/", "_")+".csv"] = d.text(s.rows)
		}
		return "a.zip", zipped(files)
	case "json", "nested", "sessions", "jsonl":
		return "a.json", d.objects(r, ts)
	}
	text := d.text(all)
	if r.IntN(2) == 0 {
		return "a.csv", []byte(text)
	}
	var e encoding.Encoding = charmap.Windows1252
	switch d.lang {
	case "zh":
		e = simplifiedchinese.GB18030
	case "ja":
		e = japanese.ShiftJIS
	case "ko":
		e = korean.EUCKR
	}
	old, err := e.NewEncoder().Bytes([]byte(text))
	if err != nil {
		old = []byte(text)
	}
	return "a.csv", old
}

func (d *device) text(rows [][]string) string {
	var b strings.Builder
	for _, l := range rows {
		b.WriteString(csvLine(l, d.sep))
	}
	return b.String()
}

// objects writes lists of objects: one list, lists inside sessions, one a line.
func (d *device) objects(r *rand.Rand, ts []*deviceTable) []byte {
	var out, sessions []any
	var lines strings.Builder
	for _, t := range ts {
		var list []any
		for _, row := range t.rows {
			o := map[string]any{}
			for i, c := range row {
				var x float64
				switch _, err := fmt.Sscan(c, &x); {
				case c == "":
				case d.container == "nested" && i%2 == 0:
					o["data"] = orMap(o["data"], t.head[i], c)
				case err == nil && fmt.Sprint(x) == c:
					o[t.head[i]] = x
				default:
					o[t.head[i]] = c
				}
			}
			raw, _ := json.Marshal(o)
			lines.Write(append(raw, '\n'))
			list, out = append(list, o), append(out, o)
		}
		sessions = append(sessions, map[string]any{"id": t.block, "shots": list, "venue": "Hall"})
	}
	var v any = out
	switch d.container {
	case "jsonl":
		return []byte(lines.String())
	case "sessions":
		v = map[string]any{"user": map[string]any{"email": "a@example.org"}, "sessions": sessions}
	case "nested":
		v = map[string]any{"status": 200, "result": map[string]any{"items": out, "count": len(out)}}
	}
	raw, _ := json.Marshal(v)
	return raw
}

func orMap(v any, key, c string) map[string]any {
	m, _ := v.(map[string]any)
	if m == nil {
		m = map[string]any{}
	}
	m[key] = c
	return m
}

// truth answers a question as who hit the balls would; "" = nothing fits.
func (d *device) truth(q shot.Question, t shot.Table) string {
	what, key, _ := strings.Cut(q.ID, " ")
	key, where, in := strings.Cut(key, " in ")
	block := 0
	if in {
		var from int
		fmt.Sscan(where, &from)
		for i, s := range t.Shots {
			if s.Line >= from && i < len(d.balls) {
				block = d.balls[i].block
				break
			}
		}
	}
	of := shot.Quantity("")
	for _, x := range d.cols {
		for b := range d.systems {
			if h := d.head(x, b); h == key || strings.TrimRight(key, " ()23456") == strings.TrimRight(h, " ()23456") || h == strings.TrimPrefix(key, "data ") {
				of = x
				if !in {
					block = b
				}
			}
		}
	}
	k, known := shot.KindOf(of)
	switch {
	case what == "clubs":
		return d.driver[0]
	case what == "players":
		return "Ada"
	case what == "average":
		lead := d.blocksBy == "day" || d.blocksBy == "session" || d.players || d.clubsBy == "column" || d.setsBy == "column" || d.setsBy == "first"
		return map[bool]string{true: "average", false: "ball"}[d.summary && !lead] // its word stands in a leading column, where there is one
	case what == "setting" && d.setsBy != "none":
		for _, c := range q.Choices {
			if strings.HasSuffix(c.Value, d.setHead) {
				return c.Value
			}
		}
		return "none"
	case what == "setting":
		return "none"
	case what == "unit" && known:
		return d.systems[block].of(k).Symbol
	case what == "what" && known:
		return string(of)
	case what == "side" && known:
		return map[bool]string{true: "left ", false: "right "}[d.flipped[of]] + key
	case what == "letter" && known:
		l := strings.Split(deviceNames[d.lang].right, "|")[0]
		for _, c := range q.Choices {
			if strings.EqualFold(c.Value, l+" right") {
				return c.Value
			}
			if strings.HasSuffix(c.Value, " left") && !strings.EqualFold(c.Value, l+" left") {
				return c.Value
			}
		}
	}
	return ""
}

// differs says how what would be taken over differs from what was hit.
func (d *device) differs(t shot.Table) string {
	var kept []shot.Shot
	for _, s := range t.Shots {
		if s.Tag != shot.TagOut {
			kept = append(kept, s)
		}
	}
	var mine []deviceBall
	for _, x := range d.balls {
		if x.club == d.driver[0] && x.player == "Ada" && len(x.want) > 0 { // one without a number is nobody's to count
			mine = append(mine, x)
		}
	}
	if len(kept) != len(mine) {
		return fmt.Sprintf("%d balls would count, %d were hit", len(kept), len(mine))
	}
	for i, x := range mine {
		if msg := unlike(kept[i], x.set, x.want, d.cols); msg != "" {
			return fmt.Sprintf("ball %d: %s", i+1, msg)
		}
	}
	return ""
}

// unlike says in what a ball differs from how it was hit: its setting, one of the
// numbers of its file.
func unlike(got shot.Shot, set string, want shot.Values, cols []shot.Quantity) string {
	if key := got.Setting.Key(); squeeze(key) != squeeze(set) {
		return fmt.Sprintf("setting %q, want %q", key, set)
	}
	for _, q := range cols {
		v, ok := got.Values[q]
		w, has := want[q]
		if ok != has || math.Abs(v-w) > 1e-9*math.Max(1, math.Abs(w)) {
			return fmt.Sprintf("%s = %.4f (%v), want %.4f (%v)", q, v, ok, w, has)
		}
	}
	return ""
}
