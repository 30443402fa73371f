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

// Kind says how a quantity behaves: its dimension and whether its sign is
// the compass's (right +) and so is mirrored for a left-hander.
type Kind struct {
	Quantity Quantity
	Dim      units.Dimension
	Compass  bool // positive to the right; mirrored for a left-hander
}

// Kinds lists every quantity in the order of columns.
var Kinds = []Kind{
	{ClubSpeed, units.Speed, false},
	{BallSpeed, units.Speed, false},
	{Smash, units.None, false},
	{Launch, units.Angle, false},
	{LaunchDirection, units.Angle, true},
	{Backspin, units.Spin, false},
	{Sidespin, units.Spin, true},
	{Spin, units.Spin, false},
	{SpinAxis, units.Angle, true},
	{Carry, units.Length, false},
	{Total, units.Length, false},
	{Roll, units.Length, false},
	{Offline, units.Length, true},
	{OfflineTotal, units.Length, true},
	{OfflineAngle, units.Angle, true},
	{Curve, units.Length, true},
	{Apex, units.Height, false},
	{Descent, units.Angle, false},
	{FlightTime, units.Time, false},
	{Attack, units.Angle, false},
	{Path, units.Angle, true},
	{Face, units.Angle, true},
	{FaceToPath, units.Angle, true},
	{DynamicLoft, units.Angle, false},
	{SpinLoft, units.Angle, false},
	{StrikeToe, units.Small, false},
	{StrikeHigh, units.Small, false},
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
