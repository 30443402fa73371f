package shotfile

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/air"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// The air of a file: columns of temperature, pressure, humidity, altitude and
// wind. A number whose unit is neither written nor plain from its size is asked
// about and not used before; so is the side that a wind comes from. Balls whose
// air hardly differs share one.

// The roles of columns of the air.
const (
	roleTemperature = "temperature"
	rolePressure    = "pressure"
	roleHumidity    = "humidity"
	roleAltitude    = "altitude"
	roleWind        = "wind"
	roleWindFrom    = "wind-from"
)

// airHeads are the headers of those columns, squeezed. Spellings are the trade's,
// from memory; common practice, no source.
var airHeads = func() map[string]string {
	m := map[string]string{}
	for role, words := range map[string]string{
		roleTemperature: "temperature|temp|air temperature|air temp|outside temperature|temperatura|temperatura del aire|temperatur|Lufttemperatur|température|température de l'air|気温|温度|기온|온도|temperatura dell'aria|气温|氣溫|溫度",
		rolePressure:    "pressure|air pressure|barometric pressure|atmospheric pressure|barometer|presión|presión atmosférica|Luftdruck|Druck|pression|pression atmosphérique|lufttryck|気圧|기압|pressione|pressione atmosferica|气压|氣壓",
		roleHumidity:    "humidity|relative humidity|rel humidity|humedad|humedad relativa|Feuchte|Luftfeuchte|Luftfeuchtigkeit|humidité|humidité relative|fukt|luftfuktighet|湿度|습도|umidità|umidità relativa|濕度",
		roleAltitude:    "altitude|elevation|altitude above sea level|altitud|elevación|Seehöhe|Höhenlage|Meereshöhe|höjd över havet|標高|고도|해발고도|altitudine|海拔|海拔高度",
		roleWind:        "wind|wind speed|wind velocity|viento|velocidad del viento|Windgeschwindigkeit|Windstärke|vent|vitesse du vent|vind|vindhastighet|風速|풍속|vento|velocità del vento|风速",
		roleWindFrom:    "wind direction|wind dir|wind from|dirección del viento|Windrichtung|direction du vent|vindriktning|風向|풍향|direzione del vento|风向",
	} {
		for _, w := range strings.Split(words, "|") {
			m[squeeze(w)] = role
		}
	}
	return m
}()

// airUnits are the units of the air by their spellings, squeezed; those of speed
// and length are typed.Unit's.
var airUnits = func() map[string]units.Unit {
	m := map[string]units.Unit{}
	kPa := units.Unit{Symbol: "kPa", Name: "kpa", Dim: units.Pressure, Scale: 1000}
	for u, words := range map[units.Unit]string{
		units.UnitC: "c celsius degc degreesc degcelsius ℃ 摂氏 摄氏", units.UnitF: "f fahrenheit degf degreesf degfahrenheit ℉ 華氏 华氏", units.UnitK: "k kelvin",
		units.UnitHPa: "hpa mbar mb millibar hectopascal", units.UnitInHg: "inhg inchhg inches", kPa: "kpa",
		{Symbol: "mmHg", Name: "mmhg", Dim: units.Pressure, Scale: 133.322387}: "mmhg torr", {Symbol: "bar", Name: "bar", Dim: units.Pressure, Scale: 1e5}: "bar",
		units.Pressure.SI(): "pa", {Symbol: "psi", Name: "psi", Dim: units.Pressure, Scale: 6894.757}: "psi",
		{Symbol: "%", Name: "pct", Dim: units.None, Scale: .01}:           "% percent pct prozent",
		{Symbol: "kn", Name: "kn", Dim: units.Speed, Scale: 1852. / 3600}: "kn kt kts knots knoten nudos nœuds noeuds",
	} {
		for _, w := range strings.Fields(words) {
			m[w] = u
		}
	}
	return m
}()

var airDims = map[string]units.Dimension{roleTemperature: units.Temperature, rolePressure: units.Pressure, roleHumidity: units.None, roleAltitude: units.Length, roleWind: units.Speed}

// airUnit reads a unit that a column of the air can have.
func airUnit(role, text string) (units.Unit, bool) {
	u, ok := airUnits[squeeze(text)]
	if !ok {
		u, ok = typed.Unit(text)
	}
	dim, known := airDims[role]
	return u, ok && known && typed.SameDim(u.Dim, dim) && (u.Dim != units.None || u.Scale != 1)
}

// airHead says which part of the air a header names, with the unit written in it.
func airHead(header string) (role string, u units.Unit, said bool) {
	bare, inside := cutBrackets(typed.Fold(header))
	if role = airHeads[squeeze(bare)]; role != "" {
		for _, s := range inside {
			if u, said = airUnit(role, s); said {
				break
			}
		}
		return role, u, said
	}
	words := strings.FieldsFunc(bare, func(r rune) bool { return r == ' ' || r == '_' || r == ',' })
	for take := 1; take <= 2 && take < len(words); take++ {
		role = airHeads[squeeze(strings.Join(words[:len(words)-take], " "))]
		if u, said = airUnit(role, strings.Join(words[len(words)-take:], "/")); said {
			return role, u, true
		}
	}
	return "", u, false
}

// airColumn is one column of the air as it is read.
type airColumn struct {
	*column
	u    units.Unit
	use  bool // its unit, or what it is measured from, is known
	side float64
}

// airReading is what the columns of the air say of a section's rows.
type airReading struct {
	*dialogue
	rows []row
	cols []*airColumn
}

// readAir finds the columns of the air and settles their units.
func readAir(d *dialogue, sec *section, cols columns) airReading {
	p := airReading{dialogue: d, rows: sec.rows}
	for _, c := range cols {
		role, u, said := airHead(c.header)
		switch {
		case c.fixed && c.role != role: // as the person said
			role, said = c.role, false
		case c.quantity != "" || c.role != "" && c.role != roleSkip && c.role != roleAltitude || c.sideOf != nil:
			continue
		}
		if _, measured := airDims[role]; !measured && role != roleWindFrom {
			continue
		}
		if c.from != "" && typed.SameDim(c.unit.Dim, airDims[role]) && role != roleHumidity {
			u, said = c.unit, true
		}
		if c.at < len(sec.units) && !said {
			u, said = airUnit(role, sec.units[c.at])
		}
		if c.role != role {
			c.role, c.evidence = role, nil
			c.say("problem.header-names", strconv.Quote(c.header), message.Key("role."+role))
		}
		a := &airColumn{column: c, u: u, use: said}
		if role == roleWindFrom {
			p.windSide(a)
		} else if !said {
			p.unit(a)
		}
		p.cols = append(p.cols, a)
	}
	return p
}

// unit settles the unit of a column of the air that no header says: by the
// cells, by the size of the numbers, or by asking.
func (p *airReading) unit(a *airColumn) {
	var vs []float64
	for _, l := range p.rows {
		v, u, said, ok := airCell(a.role, cellOf(l.line, a.at))
		if ok && said {
			a.u, a.use = u, true
		}
		if ok {
			vs = append(vs, v)
		}
	}
	if a.use || len(vs) == 0 {
		return
	}
	m, most := robust.Median(vs), 0.
	for _, v := range vs {
		most = math.Max(most, math.Abs(v))
	}
	var choices []string
	take := func(name string) { a.u, a.use = airUnits[name], true }
	switch a.role {
	case roleTemperature:
		switch {
		case m >= 45 && m <= 130:
			take("f")
		case m > -15 && m < 32:
			take("c")
		case m > 250 && m < 330:
			take("k")
		default:
			choices = []string{"°C", "°F"}
		}
	case rolePressure:
		switch {
		case m > 800 && m < 1100:
			take("hpa")
		case m > 45 && m < 110:
			take("kpa")
		case m > 15 && m < 33:
			take("inhg")
		case m > .45 && m < 1.1:
			take("bar")
		case m > 45000 && m < 110000:
			take("pa")
		default:
			choices = []string{"hPa", "mmHg"}
		}
	case roleHumidity:
		if a.u, a.use = units.UnitOne, true; most > 1 {
			take("%")
		}
	case roleAltitude:
		if a.u, a.use = units.UnitM, true; most > 30 { // less changes no flight
			a.use, choices = false, []string{"m", "ft"}
		}
	case roleWind:
		if a.u, a.use = units.UnitMPS, true; most > 0 {
			a.use, choices = false, []string{"mph", "m/s", "km/h", "kn"}
		}
	}
	if len(choices) > 0 {
		q := shot.Question{ID: "air " + a.key, Text: message.Of("problem.air-unit", strconv.Quote(a.header))}
		for _, s := range choices {
			q.Choices = append(q.Choices, shot.Choice{Value: s, Text: message.Plain(s)})
		}
		if v, ok := p.question(q); ok {
			a.u, a.use = airUnit(a.role, v)
		}
		return
	}
	if a.u.Symbol != "" {
		a.say("problem.unit-from-values", a.u.Symbol)
	}
}

// airCell reads a number of the air with the unit that stands beside it.
func airCell(role, text string) (v float64, u units.Unit, said, ok bool) {
	t := typed.Plain(typed.Fold(text))
	if isMissing(t) {
		return 0, u, false, false
	}
	k := strings.IndexFunc(t, func(r rune) bool { return (r < '0' || r > '9') && !strings.ContainsRune("+-.,' ", r) })
	if k < 0 {
		k = len(t)
	}
	v, err := typed.Value(strings.TrimSpace(strings.TrimPrefix(t[:k], "+")), typed.Auto)
	if err != nil {
		return 0, u, false, false
	}
	u, said = airUnit(role, strings.Trim(t[k:], "° "))
	return v, u, said, true
}

// The sides that a wind comes from, as words say it; angles as shot.Air has them.
var windWords = map[string]float64{
	"head": 0, "headwind": 0, "into": 0, "against": 0, "hurting": 0, "gegenwind": 0, "encontra": 0, "vientoencontra": 0, "deface": 0, "ventdeface": 0, "motvind": 0, "向かい": 0, "向かい風": 0, "アゲンスト": 0, "맞바람": 0, "逆风": 0, "逆風": 0,
	"tail": 180, "tailwind": 180, "down": 180, "downwind": 180, "helping": 180, "behind": 180, "rückenwind": 180, "ruckenwind": 180, "afavor": 180, "dedos": 180, "ventdedos": 180, "medvind": 180, "追い風": 180, "フォロー": 180, "뒷바람": 180, "顺风": 180, "順風": 180,
	"ltor": -90, "l2r": -90, "lr": -90, "lefttoright": -90, "fromleft": -90, "fromtheleft": -90, "vonlinks": -90, "delaizquierda": -90, "delagauche": -90, "左から": -90,
	"rtol": 90, "r2l": 90, "rl": 90, "righttoleft": 90, "fromright": 90, "fromtheright": 90, "vonrechts": 90, "deladerecha": 90, "deladroite": 90, "右から": 90,
}

// arrows stand between the sides that a wind goes from and to.
var arrows = strings.NewReplacer("→", "to", ">", "to")

// windFrom reads the side that a wind comes from: in words, or in degrees once it
// is known what they are counted from. bare is a side without "from" or "to".
func windFrom(text string) (from float64, bare bool, degrees float64, ok bool) {
	t := squeeze(arrows.Replace(strings.ToLower(text)))
	t = strings.TrimPrefix(strings.TrimPrefix(strings.TrimSuffix(t, "wind"), "cross"), "wind")
	if d, is := windWords[t]; is {
		return d * units.Degree, false, math.NaN(), true
	}
	if d := typed.Meaning(t); d.IsSide() {
		k, _ := shot.KindOf(shot.Offline)
		sign, _ := d.Sign(k, frame.Right, "")
		return sign * 90 * units.Degree, true, math.NaN(), true
	}
	if v, err := typed.Value(strings.TrimSpace(strings.Trim(typed.Plain(text), "° ")), typed.Auto); err == nil {
		return 0, false, v * units.Degree, true
	}
	return 0, false, math.NaN(), false
}

// windSide settles what a column of directions is measured from. Plain sides and
// numbers are a question; points of the compass tell nothing of the target line.
func (p *airReading) windSide(a *airColumn) {
	bare, degrees := false, false
	for _, l := range p.rows {
		if _, b, d, ok := windFrom(cellOf(l.line, a.at)); ok {
			bare, degrees, a.use = bare || b, degrees || !math.IsNaN(d), true
		}
	}
	ask := func(text message.Message, choices ...shot.Choice) {
		v, ok := p.question(shot.Question{ID: "air " + a.key, Text: text, Choices: choices})
		a.use = ok && v != "compass"
		a.side = 1
		if v == "to" {
			a.side = -1
		}
	}
	a.side = 1
	switch {
	case degrees:
		ask(message.Of("problem.air-degrees", strconv.Quote(a.header)),
			shot.Choice{Value: "line", Text: message.Of("problem.air-line")}, shot.Choice{Value: "compass", Text: message.Of("problem.air-north")})
	case bare:
		ask(message.Of("problem.air-sides", strconv.Quote(a.header)),
			shot.Choice{Value: "from", Text: message.Of("problem.air-from")}, shot.Choice{Value: "to", Text: message.Of("problem.air-to")})
	case !a.use && a.filled(p.rows):
		p.note("problem.air-no-line", strconv.Quote(a.header))
	}
}

func (a *airColumn) filled(rows []row) bool {
	return slices.ContainsFunc(rows, func(l row) bool { return !isMissing(cellOf(l.line, a.at)) })
}

// of is what a row says of its air; false when it says nothing. refuse says
// that numbers of no air are put on the list of errors.
func (p *airReading) of(l row, refuse bool) (a shot.Air, said bool) {
	wind, from := math.NaN(), math.NaN()
	for _, c := range p.cols {
		text := cellOf(l.line, c.at)
		if !c.use || isMissing(text) {
			continue
		}
		if c.role == roleWindFrom {
			f, bare, deg, ok := windFrom(text)
			if !math.IsNaN(deg) {
				f = math.Remainder(deg, 2*math.Pi)
			}
			if bare {
				f *= c.side
			}
			if ok {
				from = f
			}
			continue
		}
		v, u, own, ok := airCell(c.role, text)
		if !own {
			u = c.u
		}
		lo, hi := airLimits(c.role)
		if v = u.SI(v); !ok || !(v >= lo && v <= hi) {
			if refuse {
				p.reject(l.n, c.header, strconv.Quote(clip(text)), typed.Between(u, lo, hi))
			}
			continue
		}
		switch c.role {
		case roleTemperature:
			a.Temperature = &v
		case rolePressure:
			a.Pressure = &v
		case roleHumidity:
			a.Humidity = &v
		case roleAltitude:
			a.Altitude = &v
		case roleWind:
			wind = v
		}
		said = said || c.role != roleWind
	}
	if a.Pressure != nil && a.Altitude != nil && math.Abs(*a.Pressure-air.AtAltitude(*a.Altitude)) > 4000 {
		a.Pressure = nil // as the weather report has it, reduced to the sea: the altitude is the place's
	}
	if wind == 0 || wind > 0 && !math.IsNaN(from) { // a wind without a side says nothing
		a.Wind, a.WindFrom, said = wind, orElse(from, 0), true
	}
	return a, said
}

func airLimits(role string) (lo, hi float64) {
	switch role {
	case roleTemperature:
		return units.ZeroC - 30, units.ZeroC + 60
	case rolePressure:
		return 50000, 110000
	case roleAltitude:
		return air.MinAltitude, air.MaxAltitude
	case roleWind:
		return 0, air.MaxWind
	}
	return 0, 1
}

// number is the number in Table.Airs of a row's air: that of an earlier ball
// where the two hardly differ. A row that says nothing has the air of the row
// before it.
func (p *airReading) number(l row, before int) int {
	if len(p.cols) == 0 {
		return 0
	}
	a, said := p.of(l, true)
	if !said {
		return before
	}
	airs := &p.table.Airs
	for k := len(*airs) - 1; k >= 0; k-- {
		if sameAir((*airs)[k], a) {
			return k + 1
		}
	}
	if len(*airs) >= maxBlocks {
		return before
	}
	*airs = append(*airs, a)
	return len(*airs)
}

// sameAir reports whether two airs are one within what the devices' numbers and
// gusts differ from ball to ball.
func sameAir(a, b shot.Air) bool {
	near := func(p, q *float64, by float64) bool {
		return (p == nil) == (q == nil) && (p == nil || math.Abs(*p-*q) <= by)
	}
	ah, ac := a.Parts()
	bh, bc := b.Parts()
	return near(a.Temperature, b.Temperature, 2) && near(a.Pressure, b.Pressure, 300) && near(a.Humidity, b.Humidity, .15) && near(a.Altitude, b.Altitude, 30) &&
		math.Hypot(ah-bh, ac-bc) <= 1+.25*math.Max(a.Wind, b.Wind)
}
