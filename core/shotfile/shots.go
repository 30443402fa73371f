package shotfile

import (
	"fmt"
	"math"
	"strings"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// missing are the texts for "not read".
var missing = map[string]bool{"": true, "-": true, "--": true, "---": true, "n/a": true, "na": true, "nan": true, "null": true, "none": true,
	"#n/a": true, "no read": true, "noread": true, "estimated": true, "#div/0!": true, "#value!": true, "?": true, "inf": true, "undefined": true}

// zeroIsNoRead are the quantities of which no ball has zero.
var zeroIsNoRead = map[shot.Quantity]bool{shot.ClubSpeed: true, shot.BallSpeed: true, shot.Smash: true, shot.Spin: true, shot.Backspin: true,
	shot.Carry: true, shot.Total: true, shot.Apex: true, shot.FlightTime: true, shot.DynamicLoft: true, shot.SpinLoft: true, shot.Descent: true}

// shots reads every row.
func (r *reader) shots() {
	zeroPairs := r.zeroFilled()
	for _, l := range r.rows {
		s := shot.Shot{ID: fmt.Sprintf("%d", l.n), Line: l.n, Source: r.name, Values: shot.Values{}}
		errors := len(r.table.Errors)
		zeros, numbers := 0, 0
		var label, sleeve string
		var weights []string
		for i := range r.cols {
			c := &r.cols[i]
			text := r.cell(l, c)
			if c.quantity != "" {
				v, state := r.value(l.n, c, text)
				if state != cellMissing {
					numbers++
				}
				if v == 0 && state == cellRead {
					zeros++
					if zeroIsNoRead[c.quantity] || zeroPairs[c.quantity] {
						continue
					}
				}
				if state == cellRead {
					s.Values[c.quantity] = v
				}
				continue
			}
			switch c.role {
			case roleSetting:
				label = text
			case roleSleeve:
				sleeve = text
			case roleWeight:
				if text != "" {
					weights = append(weights, text)
				}
			case roleBall:
				s.Ball = text
			case roleSession:
				s.Session = text
			case roleTime:
				s.Clock = strings.TrimSpace(s.Clock + " " + text)
			case roleNote:
				s.Note = text
			case roleTag:
				if t, ok := tagWords[squeeze(text)]; ok {
					s.Tag = t
				} else if s.Note == "" {
					s.Note = text
				}
			case roleID:
				if text != "" {
					s.ID = text
				}
			case roleQuality:
				if strings.Contains(strings.ToLower(text), "estim") {
					s.Assumed = append(s.Assumed, shot.Spin)
				}
			}
		}
		s.Setting = settingOf(label, sleeve, weights)
		switch {
		case numbers > 2 && zeros == numbers:
			r.reject(l.n, "", "read zeros in all %d columns, a false trigger; expected the numbers of a ball", numbers)
		case len(s.Values) == 0:
			if errors == len(r.table.Errors) {
				r.reject(l.n, "", "no number read in this row, expected at least one of the columns")
			}
		default:
			r.table.Shots = append(r.table.Shots, s)
		}
	}
	seen := map[string]bool{}
	for i := range r.table.Shots { // an id column that repeats is no id
		s := &r.table.Shots[i]
		if seen[s.ID] {
			s.ID = fmt.Sprintf("%s-%d", s.ID, s.Line)
		}
		seen[s.ID] = true
	}
}

// settingOf joins what the columns say; "a / b" in one column names the sleeve
// and the weights, for club.Find to put in order.
func settingOf(label, sleeve string, weights []string) club.Setting {
	if label != "" && sleeve == "" && len(weights) == 0 {
		parts := strings.Split(label, "/")
		for i := range parts {
			parts[i] = strings.TrimSpace(parts[i])
		}
		return club.Setting{Sleeve: parts[0], Weights: parts[1:]}
	}
	var out []string
	for _, w := range weights {
		for _, part := range strings.Split(w, "/") {
			out = append(out, strings.TrimSpace(part))
		}
	}
	return club.Setting{Sleeve: sleeve, Weights: out}
}

// zeroFilled finds pairs of angles that a device fills with zeros where it
// read none: both exactly zero in many rows.
func (r *reader) zeroFilled() map[shot.Quantity]bool {
	out := map[shot.Quantity]bool{}
	for i := range r.cols {
		c := &r.cols[i]
		switch c.quantity {
		case shot.Face, shot.Path, shot.FaceToPath, shot.Attack, shot.StrikeToe, shot.StrikeHigh, shot.SpinAxis, shot.Sidespin, shot.Offline, shot.Curve:
			zero, filled := 0, 0
			for _, l := range r.rows {
				if p, ok := typed.Split(r.cell(l, c)); ok {
					filled++
					if v, err := typed.Value(p.Number, c.mark); err == nil && v == 0 {
						zero++
					}
				}
			}
			if zero >= 3 && zero*4 >= filled {
				out[c.quantity] = true
				r.note("%d zeros in %q are taken as not read", zero, c.header)
			}
		}
	}
	return out
}

type cellState uint8

const (
	cellMissing cellState = iota
	cellRead
	cellBad
)

// value reads one cell into SI, right-positive. What can't be used is said.
func (r *reader) value(n int, c *column, text string) (float64, cellState) {
	if missing[strings.ToLower(typed.Fold(text))] {
		return 0, cellMissing
	}
	p, ok := typed.Split(text)
	if !ok {
		r.reject(n, c.header, "read %q, expected %s", text, typed.Example(c.kind, c.unit))
		return 0, cellBad
	}
	v, err := typed.Value(p.Number, c.mark)
	if err != nil {
		r.reject(n, c.header, "read %q, expected %s", text, typed.Example(c.kind, c.unit))
		return 0, cellBad
	}
	unit := c.unit
	if v == -999 || v == 9999 || v == 99999 || v < -1e6 || v > 1e7 {
		return 0, cellMissing // a device's mark for "not read"
	}
	sign := 1.0
	for _, w := range p.Words {
		if d := typed.Meaning(w); d != 0 {
			if s, ok := d.Sign(c.kind, r.opt.Hand, c.language); ok {
				sign = s
				v = math.Abs(v)
				continue
			}
		}
		if u, ok := typed.Unit(w); ok && typed.SameDim(u.Dim, c.kind.Dim) {
			unit = u
		}
	}
	if c.kind.Dim == units.None && strings.Contains(text, "%") {
		v /= 100
	}
	si := unit.SI(v) * sign
	if c.flipped {
		si = -si
	}
	if lo, hi := typed.Limits(c.quantity); si != 0 && (si < lo || si > hi) {
		r.reject(n, c.header, "read %q, expected %g to %g %s", text, math.Round(unit.From(lo)), math.Round(unit.From(hi)), unit.Symbol)
		return 0, cellBad
	}
	return si, cellRead
}
