package pipeline

import (
	"math"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// pathPoints is how finely a flight is drawn.
const pathPoints = 32

// write fills what is shown around the decision: shots, findings, flights, what
// each move does, the ball, notes and cautions.
func (a *analysis) write(r *report.Report) {
	a.writeShots(r)
	r.Findings = append(r.Findings, a.review.Findings...)
	writeSettings(a.env, a.typical, r)
	r.Conflict, r.Calibrated = a.response.Conflict, a.adjusted
	r.Resquare = normal(a.response.Resquare[0], a.response.Resquare[1])
	a.writeMoves(r)
	a.writeClubs(r)
	a.writeAir(r)
	a.writeBall(r)
	a.writeNotes(r)
	writeContradicted(a.contradicted, a.settings, r)
	for _, key := range []string{"answer.caution.tool", "answer.caution.loose", "answer.caution.swing", "answer.caution.rest", "answer.caution.rule", "answer.caution.estimate"} {
		r.Cautions = append(r.Cautions, report.Say(key))
	}
}

// writeContradicted says which settings' balls contradicted what the model said of
// them. What their own balls had to be widened for is no more than a lean.
func writeContradicted(contradicted []int, settings []club.Setting, r *report.Report) {
	for _, i := range contradicted {
		r.Findings = append(r.Findings, report.Finding{Kind: "contradicted", Weight: 1,
			Text: report.Say("response.contradicted", report.Label(settings[i].Key()))})
		if c := &r.Choice; i == c.Setting && (c.Verdict == report.Clear || c.Verdict == report.Likely) {
			c.Verdict = report.Leaning
		}
	}
}

func (a *analysis) writeShots(r *report.Report) {
	weight := map[int]float64{}
	mishit := map[int]bool{}
	for k, i := range a.shotOf {
		weight[i] = math.Min(1, a.response.Weights[k])
		mishit[i] = a.isMishit(k, i)
	}
	for i, sh := range a.s.Shots {
		row := a.placed[i]
		row.Level, row.Drift = a.standing(i), a.drift[i]
		if v := a.seen[i]; v[shot.Carry] > 0 && a.blocks[a.blockOf[i]].flown() != a.env.Air {
			row.Seen = levelOf(v)
		}
		row.ID, row.Line, row.Setting, row.Status, row.Weight = sh.ID, sh.Line, a.at[i], a.review.Rows[i].Status, weight[i]
		if mishit[i] && row.Status == report.Counted {
			row.Status = report.Mishit
			r.Findings = append(r.Findings, report.Finding{ShotID: sh.ID, Line: sh.Line, Kind: string(report.Mishit), Weight: row.Weight,
				Text: report.Say("answer.outlier", report.Percent(row.Weight))})
		}
		r.Shots = append(r.Shots, row)
	}
}

// place finds where every ball landed.
func (a *analysis) place() {
	a.placed = make([]report.ShotRow, len(a.s.Shots))
	for i, sh := range a.s.Shots {
		a.placeOne(&a.placed[i], sh.Values)
	}
}

// placeOne finds where a ball landed: measured where it was, else computed.
func (a *analysis) placeOne(row *report.ShotRow, v shot.Values) {
	carry, off, apex := alongOf(v), offlineOf(v), ptr(v, shot.Apex)
	if carry == nil || off == nil || apex == nil {
		if l, has := launchOf(v); has[0] && has[1] {
			if !has[3] && a.response != nil {
				l.Spin, has[3] = a.response.Centre[3], true
			}
			if g, err := flight.Fly(l, a.env); err == nil && has[3] {
				row.Computed = carry == nil || off == nil
				if carry == nil {
					carry = &g.Carry
				}
				if off == nil && (has[2] || has[4]) {
					off = &g.Offline
				}
				if apex == nil {
					apex = &g.Apex
				}
			}
		}
	}
	if apex != nil {
		row.Apex = *apex
	}
	if carry != nil && off != nil {
		row.Carry, row.Offline, row.Known = *carry, *off, true
	} else if carry != nil {
		row.Carry = *carry
	}
}

func writeSettings(env flight.Env, typical []flight.Launch, r *report.Report) {
	draw := map[int]bool{r.Reference: true, r.Choice.Setting: true}
	if len(r.Next) > 0 {
		draw[r.Next[0].Setting] = true
	}
	for i := range r.Settings {
		s := &r.Settings[i]
		if s.Tested || draw[i] {
			if path, _, err := drawn(typical[i], env); err == nil {
				s.Path = ending(path, *s)
			}
		}
	}
}

// ending is a flight stretched and turned to end where the balls of its setting
// are expected and to peak as high, so that what is drawn is what is said. The
// flight of the mean launch ends a few yards beyond the mean of the flights.
func ending(path []report.Point, s report.Setting) []report.Point {
	carry, ok1 := s.Of(shot.Carry)
	side, ok2 := s.Of(shot.Offline)
	height, ok3 := s.Of(shot.Apex)
	if n := len(path); !ok1 || !ok2 || !ok3 || n == 0 || path[n-1].X <= 0 {
		return path
	}
	end, top := path[len(path)-1], 0.0
	for _, p := range path {
		top = math.Max(top, p.Y)
	}
	far := carry.Value.Mean / end.X
	for i := range path {
		p := &path[i]
		p.Z += (side.Value.Mean - end.Z) * p.X / end.X
		p.X *= far
		if top > 0 {
			p.Y *= height.Value.Mean / top
		}
	}
	return path
}

func (a *analysis) writeNotes(r *report.Report) {
	note := func(key string, args ...report.Arg) {
		r.Notes = append(r.Notes, report.Message{Key: key, Args: args})
	}
	n := len(a.obs)
	missing := map[shot.Quantity]int{}
	for k, o := range a.obs {
		for i, q := range []shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis} {
			if !o.Has[i] {
				missing[q]++
			}
		}
		if o.Carry == nil {
			missing[shot.Carry]++
		}
		if !hasClub(a.s.Shots[a.shotOf[k]].Values) {
			missing[shot.ClubSpeed]++
		}
	}
	for _, q := range []shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis, shot.ClubSpeed} {
		if missing[q] == n {
			note("answer.note.missing", report.Quantity(q))
		}
	}
	if missing[shot.Carry] == n || a.s.Conditions.Indoors {
		note("answer.note.computed")
	} else if a.origin.Computed {
		note("answer.note.looks-computed", report.Number(a.origin.Spread, units.Length, 1))
	}
	if r.Calibrated {
		note("answer.note.calibrated", report.Number(a.fit.Before[flight.SeenCarry], units.Length, 1), report.Number(a.fit.After[flight.SeenCarry], units.Length, 1))
	}
	if r.Conflict > 1.5 {
		note("answer.note.conflict")
	}
	d := a.response.Drift[0]
	if sd := a.response.DriftSD[0]; math.Abs(d) > 1.3*sd && n >= 12 {
		note("answer.note.drift", report.Signed(d, units.Speed, 1), report.Number(sd, units.Speed, 1))
	}
	unplaced := 0
	for _, at := range a.at {
		if at < 0 {
			unplaced++
		}
	}
	if unplaced > 0 {
		note("answer.note.unplaced", report.Count(unplaced))
	}
	for _, c := range a.changes {
		if c.Unknown {
			note("answer.note.undescribed")
			break
		}
	}
	for _, b := range a.blocks {
		if b.flown().Wind > 2 {
			note("answer.note.wind")
			break
		}
	}
	if n < 12 {
		note("answer.note.thin", report.Count(n))
	}
}

func hasClub(v shot.Values) bool { _, ok := v.Get(shot.ClubSpeed); return ok }

// drawn is a flight as the points that are drawn of it.
func drawn(l flight.Launch, e flight.Env) ([]report.Point, flight.Landing, error) {
	pts, g, err := flight.Path(l, e, pathPoints)
	path := make([]report.Point, len(pts))
	for i, p := range pts {
		path[i] = report.Point{X: p.X, Y: p.Y, Z: p.Z}
	}
	return path, g, err
}

// flyAll flies the launches of a "what if".
func flyAll(q wire.Fly) ([]wire.Flight, error) {
	env, err := environment(q.Conditions)
	if err != nil {
		return nil, err
	}
	env.Model = modelOf(q.Ball)
	var out []wire.Flight
	for _, l := range q.Launches {
		path, g, err := drawn(flight.Launch{Speed: l.Speed, Angle: l.Angle, Direction: l.Direction, Spin: l.Spin, Axis: l.Axis}, env)
		if err != nil {
			return nil, err
		}
		out = append(out, wire.Flight{Path: path, Carry: g.Carry, Total: g.Total, RunDoubt: flight.RunDoubt, Apex: g.Apex, Descent: g.Descent, Offline: g.Offline, Time: g.Time})
	}
	return out, nil
}
