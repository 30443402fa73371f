package sheet

import (
	"slices"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Open lists the keys of Session.Bench: what a person may write into the
// sheet because no file and no description holds it. Their labels are the
// words "paper.field." + key.
var Open = []string{
	"place", "device", "spin_source", "normalised", "head_id", "face_soled", "length_method", "flex", "torque", "tip",
	"shaft_turn", "grip_size", "grip_wraps", "logo", "screw", "screw_checked", "initials", "words", "shop",
}

// groups are what is known of the session and the club. What nobody measured or
// wrote is not listed: the paper has one page.
func (m maker) groups(c club.Change, setting club.Setting) []Group {
	list := []Group{
		{m.w("paper.group.session"), m.sessionFields()},
		{m.w("paper.group.head"), m.headFields(c, setting)},
		{m.w("paper.group.shaft"), m.shaftFields(c, m.s.HeadOf(setting))},
		{m.w("paper.group.screw"), []Field{m.open("screw"), m.open("screw_checked"), m.open("initials"), m.open("words"), m.open("shop")}},
	}
	for i := range list {
		list[i].Fields = slices.DeleteFunc(list[i].Fields, func(f Field) bool { return f.Value == "" })
	}
	return slices.DeleteFunc(list, func(g Group) bool { return len(g.Fields) == 0 })
}

// field is a stated value, empty where nobody knows it.
func (m maker) field(label, value string) Field { return Field{Label: m.w(label), Value: value} }

// open is a field that only a person can fill.
func (m maker) open(key string) Field {
	return m.field("paper.field."+key, strings.TrimSpace(m.s.Bench[key]))
}

func (m maker) sessionFields() []Field {
	c := m.s.Conditions
	hand := m.w("paper.hand.right")
	if m.s.Player.Hand == frame.Left {
		hand = m.w("paper.hand.left")
	}
	player := ""
	if m.o.Names {
		player = m.s.Player.Name
	}
	indoors := m.w("paper.outdoors")
	if c.Indoors {
		indoors = m.w("paper.indoors")
	}
	handicap := ""
	if h := m.s.Player.Handicap; h != nil {
		handicap = m.rd.Number(*h, units.None, 0)
	}
	return []Field{
		Field{Label: m.w("paper.field.player"), Value: player, Above: true}, m.field("paper.field.hand", hand), m.field("paper.field.handicap", handicap),
		Field{Label: m.w("paper.field.date"), Value: m.date(), Above: true}, m.open("place"), m.field("paper.field.where", indoors),
		m.field("paper.field.ball", m.s.Ball), m.open("device"), m.open("spin_source"),
		m.field("paper.field.weather", m.weather()), m.open("normalised"),
	}
}

// weather states what was given of the air; what was not given was assumed by
// the analysis and is therefore not stated here.
func (m maker) weather() string {
	c := m.s.Conditions
	var parts []string
	if c.Temperature != nil {
		parts = append(parts, m.rd.Number(*c.Temperature, units.Temperature, 0))
	}
	if c.Pressure != nil {
		digits := 0
		if m.rd.System.Unit(units.Pressure) == units.UnitInHg {
			digits = 2
		}
		parts = append(parts, m.rd.Number(*c.Pressure, units.Pressure, digits))
	}
	if c.Altitude != nil {
		parts = append(parts, m.fill("paper.altitude", m.rd.Number(*c.Altitude, units.Height, 0)))
	}
	for k := range len(m.s.Airs) + 1 { // the winds one after another, none indoors
		if w := m.s.AirNumber(k); w.Wind > 0 && !c.Indoors {
			parts = append(parts, m.fill("paper.wind", m.rd.Number(w.Wind, units.Speed, -1), m.w("wind."+strconv.Itoa(shot.Eighth(w.WindFrom)))))
		}
	}
	return strings.Join(parts, ", ")
}

func (m maker) headFields(c club.Change, setting club.Setting) []Field {
	h := m.s.HeadOf(setting)
	angle := func(v float64) string { return m.rd.Number(v, units.Angle, 1) }
	stated, measured, lie := "", "", ""
	if h.Loft > 0 {
		stated = angle(h.Loft)
	}
	if h.MeasuredLoft != nil {
		measured = angle(*h.MeasuredLoft)
	}
	if h.Lie > 0 && !c.Unknown {
		lie = m.fill("paper.from", angle(h.Lie+c.Upright), angle(h.Lie))
	}
	held := m.w("paper.hold.between")
	switch h.Hold {
	case "soled":
		held = m.w("paper.hold.soled")
	case "square":
		held = m.w("paper.hold.square")
	}
	fields := []Field{
		Field{Label: m.w("paper.field.head"), Value: first(h.Name, m.r.Head), Above: true}, m.field("paper.field.model", h.Model), m.open("head_id"),
		m.field("paper.field.loft_stated", stated), m.field("paper.field.loft_measured", measured),
		m.field("paper.field.lie", lie), m.open("face_soled"), m.field("paper.field.hold", held),
		Field{Label: m.w("paper.field.sleeve"), Value: setting.Sleeve, Above: true},
	}
	for i, w := range h.Weights {
		if i < len(setting.Weights) {
			value := setting.Weights[i]
			if at := m.stop(w, value); at != "" {
				value += " (" + strings.TrimPrefix(at, first(w.Name, m.w("paper.weight"))+": ") + ")"
			}
			fields = append(fields, Field{Label: m.fill("paper.field.weight", first(w.Name, strconv.Itoa(i+1))), Value: value})
		}
	}
	return fields
}

func (m maker) shaftFields(c club.Change, h club.Head) []Field {
	s := h.Shaft
	length, swing, total, mass, grip := "", "", "", "", ""
	if s.Length > 0 {
		u, digits := units.UnitIn, 2
		if m.rd.System == units.Metric || m.rd.System == units.MetricMPS {
			u, digits = units.Unit{Symbol: "cm", Scale: 0.01}, 1
		}
		length = m.rd.Number(u.From(s.Length), units.None, digits) + "\u00a0" + u.Symbol
	}
	if p, ok := h.SwingWeight(c); ok {
		swing = m.fill("paper.computed", club.SwingWeightText(p))
	}
	if t, ok := h.TotalMass(c); ok {
		total = m.rd.Number(t, units.Mass, 0)
	}
	if s.Mass > 0 {
		mass = m.rd.Number(s.Mass, units.Mass, 0)
	}
	if s.GripMass > 0 {
		grip = m.rd.Number(s.GripMass, units.Mass, 0)
	}
	return []Field{
		m.field("paper.field.shaft", s.Name), m.field("paper.field.length", length), m.open("length_method"), m.field("paper.field.swing", swing),
		m.field("paper.field.total", total), m.field("paper.field.shaft_mass", mass), m.open("flex"), m.open("torque"),
		m.open("tip"), m.open("shaft_turn"), m.field("paper.field.grip_mass", grip), m.open("grip_size"), m.open("grip_wraps"), m.open("logo"),
	}
}
