package text

// The trade's names of the measured quantities (keys of package shot).
func init() {
	add("en", map[string]string{
		"quantity.club_speed":       "club speed",
		"quantity.ball_speed":       "ball speed",
		"quantity.smash":            "smash factor",
		"quantity.launch":           "launch angle",
		"quantity.launch_direction": "launch direction",
		"quantity.backspin":         "backspin",
		"quantity.sidespin":         "sidespin",
		"quantity.spin":             "spin rate",
		"quantity.spin_axis":        "spin axis",
		"quantity.carry":            "carry",
		"quantity.total":            "total distance",
		"quantity.roll":             "roll",
		"quantity.offline":          "side",
		"quantity.offline_total":    "side at rest",
		"quantity.offline_angle":    "side angle",
		"quantity.curve":            "curve",
		"quantity.apex":             "apex height",
		"quantity.descent":          "landing angle",
		"quantity.time":             "hang time",
		"quantity.attack":           "attack angle",
		"quantity.path":             "club path",
		"quantity.face":             "face angle",
		"quantity.face_to_path":     "face to path",
		"quantity.dynamic_loft":     "dynamic loft",
		"quantity.spin_loft":        "spin loft",
		"quantity.strike_toe":       "strike toward toe",
		"quantity.strike_high":      "strike height",
	})
}
