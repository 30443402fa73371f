package shot

import "ferrule/core/units"

// Quantity names one measured number of a shot. Its text is the key in files,
// JSON and messages.
type Quantity string

// The quantities that a launch monitor or a person gives for one ball.
// Signs are those of package frame.
const (
	ClubSpeed       Quantity = "club_speed"       // [m/s] head just before impact
	BallSpeed       Quantity = "ball_speed"       // [m/s] just after separation
	Smash           Quantity = "smash"            // [1] ball speed / club speed
	Launch          Quantity = "launch"           // [rad] start elevation, up +
	LaunchDirection Quantity = "launch_direction" // [rad] start azimuth, right +
	Backspin        Quantity = "backspin"         // [rad/s] lifting component
	Sidespin        Quantity = "sidespin"         // [rad/s] curves right +
	Spin            Quantity = "spin"             // [rad/s] size of the spin vector
	SpinAxis        Quantity = "spin_axis"        // [rad] tilt, curves right +
	Carry           Quantity = "carry"            // [m] to landing at launch height
	Total           Quantity = "total"            // [m] where the ball stops
	Roll            Quantity = "roll"             // [m] total - carry
	Offline         Quantity = "offline"          // [m] landing place right of the target line
	OfflineTotal    Quantity = "offline_total"    // [m] resting place right of the target line
	OfflineAngle    Quantity = "offline_angle"    // [rad] atan(offline/carry)
	Curve           Quantity = "curve"            // [m] offline minus where the start line pointed
	Apex            Quantity = "apex"             // [m] highest point above launch
	Descent         Quantity = "descent"          // [rad] below horizontal at landing, down +
	FlightTime      Quantity = "time"             // [s] launch to landing
	Attack          Quantity = "attack"           // [rad] up +
	Path            Quantity = "path"             // [rad] right +
	Face            Quantity = "face"             // [rad] face to target, right +
	FaceToPath      Quantity = "face_to_path"     // [rad] face - path
	DynamicLoft     Quantity = "dynamic_loft"     // [rad] delivered loft
	SpinLoft        Quantity = "spin_loft"        // [rad] between path direction and face normal
	StrikeToe       Quantity = "strike_toe"       // [m] strike from face centre, toe +
	StrikeHigh      Quantity = "strike_high"      // [m] strike from face centre, up +
)

// Kind says all of a quantity that forms, files and exports go by.
type Kind struct {
	Quantity Quantity
	Title    string // the header of its column in the CSV export
	Name     string // the trade's, in English; the other languages have theirs in core/text
	Dim      units.Dimension
	Compass  bool // positive to the right; mirrored for a left-hander

	// Limits bound what is read at all [SI]: beyond them a number is no measurement
	// of a golf ball. Wide on purpose (common practice, no source); package clean
	// judges plausibility.
	Limits bounds
	// Typical bounds the middle of adult drives [SI] (trade knowledge, from memory,
	// except medians of a public collection of drives): used to infer units and
	// marks, never to judge a shot.
	Typical bounds
}

// bounds are a least and a most.
type bounds = [2]float64

const (
	deg = units.Degree
	rpm = units.RPM
)

// Kinds lists every quantity in the order of columns.
var Kinds = []Kind{
	{ClubSpeed, "Club Speed", "club speed", units.Speed, false, bounds{5, 90}, bounds{26, 58}},
	{BallSpeed, "Ball Speed", "ball speed", units.Speed, false, bounds{2, 120}, bounds{38, 86}},
	{Smash, "Smash Factor", "smash factor", units.None, false, bounds{0.3, 2.5}, bounds{1.2, 1.56}},
	{Launch, "Launch Angle", "launch angle", units.Angle, false, bounds{-30 * deg, 80 * deg}, bounds{4 * deg, 24 * deg}},
	{LaunchDirection, "Launch Direction", "launch direction", units.Angle, true, bounds{-60 * deg, 60 * deg}, bounds{-10 * deg, 10 * deg}},
	{Backspin, "Backspin", "backspin", units.Spin, false, bounds{-16000 * rpm, 16000 * rpm}, bounds{1200 * rpm, 5500 * rpm}},
	{Sidespin, "Sidespin", "sidespin", units.Spin, true, bounds{-16000 * rpm, 16000 * rpm}, bounds{-1800 * rpm, 1800 * rpm}},
	{Spin, "Spin Rate", "spin rate", units.Spin, false, bounds{0, 16000 * rpm}, bounds{1200 * rpm, 5500 * rpm}},
	{SpinAxis, "Spin Axis", "spin axis", units.Angle, true, bounds{-90 * deg, 90 * deg}, bounds{-35 * deg, 35 * deg}},
	{Carry, "Carry", "carry", units.Length, false, bounds{0, 500}, bounds{90, 290}},
	{Total, "Total", "total distance", units.Length, false, bounds{0, 500}, bounds{100, 320}},
	{Roll, "Roll", "roll", units.Length, false, bounds{-60, 250}, bounds{2, 50}},
	{Offline, "Offline", "side", units.Length, true, bounds{-250, 250}, bounds{-60, 60}},
	{OfflineTotal, "Offline Total", "side at rest", units.Length, true, bounds{-250, 250}, bounds{-60, 60}},
	{OfflineAngle, "Offline Angle", "side angle", units.Angle, true, bounds{-60 * deg, 60 * deg}, bounds{-10 * deg, 10 * deg}},
	{Curve, "Curve", "curve", units.Length, true, bounds{-250, 250}, bounds{-60, 60}},
	{Apex, "Apex", "apex height", units.Height, false, bounds{-2, 90}, bounds{8, 50}},
	{Descent, "Descent Angle", "landing angle", units.Angle, false, bounds{-10 * deg, 90 * deg}, bounds{20 * deg, 50 * deg}},
	{FlightTime, "Hang Time", "hang time", units.Time, false, bounds{0, 15}, bounds{3, 8.5}},
	{Attack, "Attack Angle", "attack angle", units.Angle, false, bounds{-30 * deg, 30 * deg}, bounds{-8 * deg, 8 * deg}},
	{Path, "Club Path", "club path", units.Angle, true, bounds{-60 * deg, 60 * deg}, bounds{-10 * deg, 10 * deg}},
	{Face, "Face Angle", "face angle", units.Angle, true, bounds{-60 * deg, 60 * deg}, bounds{-10 * deg, 10 * deg}},
	{FaceToPath, "Face to Path", "face to path", units.Angle, true, bounds{-60 * deg, 60 * deg}, bounds{-10 * deg, 10 * deg}},
	{DynamicLoft, "Dynamic Loft", "dynamic loft", units.Angle, false, bounds{-30 * deg, 80 * deg}, bounds{4 * deg, 24 * deg}},
	{SpinLoft, "Spin Loft", "spin loft", units.Angle, false, bounds{-30 * deg, 80 * deg}, bounds{4 * deg, 24 * deg}},
	{StrikeToe, "Strike Toe", "strike towards toe", units.Small, false, bounds{-0.08, 0.08}, bounds{-0.03, 0.03}},
	{StrikeHigh, "Strike High", "strike height", units.Small, false, bounds{-0.08, 0.08}, bounds{-0.03, 0.03}},
}

var kindOf = func() map[Quantity]Kind {
	m := make(map[Quantity]Kind, len(Kinds))
	for _, k := range Kinds {
		m[k.Quantity] = k
	}
	return m
}()

// place is where a quantity stands among the Kinds.
var place = func() map[Quantity]int {
	m := make(map[Quantity]int, len(Kinds))
	for i, k := range Kinds {
		m[k.Quantity] = i
	}
	return m
}()

// KindOf returns the kind of q; ok is false for a name that is no quantity.
func KindOf(q Quantity) (k Kind, ok bool) { k, ok = kindOf[q]; return k, ok }

// Key is the JSON key of q in SI: the quantity and its unit, "ball_speed_mps".
func (q Quantity) Key() string {
	if u := kindOf[q].Dim.SI().Name; u != "" {
		return string(q) + "_" + u
	}
	return string(q)
}
