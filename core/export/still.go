package export

import (
	"bytes"
	"encoding/csv"
	"maps"
	"math"
	"strconv"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// StillCSV writes carry, side, height, line and descent of each ball as
// measured and, beside them, in still air at 20 degC, 1013.25 hPa and half
// humidity, as its analysis has brought them there; the line is the direction in
// which the ball came down. A cell is empty where nothing was measured, or where
// the flight is the device's own computation (indoors). Right is positive.
func StillCSV(s shot.Session, r report.Report, system units.System) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := map[string]report.ShotRow{}
	for _, x := range r.Shots {
		rows[x.ID] = x
	}
	kinds := []shot.Quantity{shot.Carry, shot.Offline, shot.Apex, shot.OfflineAngle, shot.Descent}
	header := []string{colID, colSleeve}
	for _, air := range []string{"", "Still Air "} {
		for _, q := range kinds {
			k, _ := shot.KindOf(q)
			header = append(header, air+k.Title+" ("+system.Unit(k.Dim).Symbol+")")
		}
	}
	w.Write(header)
	for _, x := range s.Shots {
		row := []string{escape(x.ID), escape(x.Setting.Sleeve)}
		still := rows[x.ID].Level
		for _, v := range []shot.Values{lined(x.Values), stillOf(x.Values, still, s.Conditions.Indoors)} {
			for _, q := range kinds {
				cell := ""
				if y, ok := v[q]; ok {
					k, _ := shot.KindOf(q)
					cell = strconv.FormatFloat(system.Unit(k.Dim).From(y), 'f', 2, 64)
				}
				row = append(row, cell)
			}
		}
		w.Write(row)
	}
	w.Flush()
	return b.Bytes()
}

// stillOf are a ball's numbers in still standard air: those measured where it
// was hit in it.
func stillOf(v shot.Values, still *report.Level, indoors bool) shot.Values {
	switch {
	case indoors:
		return nil
	case still == nil:
		return lined(v)
	}
	out := shot.Values{}
	for q, y := range map[shot.Quantity]float64{shot.Carry: still.Carry, shot.Offline: still.Offline, shot.Apex: still.Apex, shot.Descent: still.Descent} {
		if _, ok := v[q]; ok {
			out[q] = y
		}
	}
	return lined(out)
}

// lined adds the line to values that have carry and side.
func lined(v shot.Values) shot.Values {
	carry, ok1 := v[shot.Carry]
	side, ok2 := v[shot.Offline]
	if _, known := v[shot.OfflineAngle]; known || !ok1 || !ok2 || carry <= math.Abs(side) {
		return v
	}
	out := shot.Values{shot.OfflineAngle: math.Asin(side / carry)}
	maps.Copy(out, v)
	return out
}
