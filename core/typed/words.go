package typed

import (
	"hash/fnv"
	"math"
	"strconv"
	"strings"
	"sync"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Units that are read in files and never shown: strike places in centimetres, spins in
// turns a second, speeds in knots (1,852 m an hour, by definition).
var (
	UnitCm   = units.Unit{Symbol: "cm", Name: "cm", Dim: units.Small, Scale: 0.01}
	UnitRPS  = units.Unit{Symbol: "rps", Name: "rps", Dim: units.Spin, Scale: 2 * math.Pi}
	UnitKnot = units.Unit{Symbol: "kn", Name: "kn", Dim: units.Speed, Scale: 1852. / 3600}
)

// unitSpellings lists how each unit is written, without spaces and dots, lower
// case. Spellings are the trade's in seven languages, from memory and from
// public files; common practice, no source.
var unitSpellings = []struct {
	unit  units.Unit
	words string
}{
	{units.UnitYd, "yd yds yard yards y ヤード 야드 yarda yardas yarden iarde iarda 码 碼"},
	{units.UnitM, "m meter meters metre metres metro metros mètre mètres mtr metri 公尺 メートル 米 미터"},
	{units.UnitFt, "ft feet foot ' pies pie fuß fuss pied pieds fot piedi piede 英尺 フィート 피트"},
	{units.UnitIn, "in inch inches \" zoll pouce pouces pulgada pulgadas tum pollice pollici 英寸 インチ 인치"},
	{units.UnitMm, "mm millimeter millimetre millimeters millimetres ミリ 밀리미터"},
	{UnitCm, "cm centimeter centimetre"},
	{UnitRPS, "rps r/s rev/s revs/s revs/sec rev/sec u/s turns/s hz 转/秒 轉/秒 回転/秒"},
	{UnitKnot, "kn kt kts knot knots knoten nudos nœuds nodi"},
	{units.UnitMPH, "mph mi/h mls/h miles/h mileperhour milesperhour マイル 英里/小时 英里/小時"},
	{units.UnitKMH, "km/h kmh kph km/t kmph kmt キロ 公里/小时 公里/小時 km/hr"},
	{units.UnitMPS, "m/s mps ms-1 m·s-1 m/sec m/seg m/sek meterpersecond 米/秒 公尺/秒"},
	{units.UnitFPS, "fps ft/s ftps ft/sec"},
	{units.UnitDeg, "deg degs degree degrees ° grad grados grado degré degrés degre degres grader gradi 度 도"},
	{units.UnitRad, "rad rads radian radians"},
	{units.UnitRPM, "rpm r/min u/min 1/min tr/min v/min rev/min revs/min 回転 回/分 회전 upm 转/分 轉/分 转/分钟 giri/min"},
	{units.UnitRadS, "rad/s radps rad/sec"},
	{units.UnitSec, "s sec secs second seconds sek seg segundos sekunden secondes secondi 秒 초"},
}

// Filled when first asked: a page that reads nothing starts without it.
var unitOf = sync.OnceValue(func() map[string]units.Unit {
	m := map[string]units.Unit{}
	for _, u := range unitSpellings {
		for _, w := range strings.Fields(u.words) {
			m[w] = u.unit
		}
	}
	return m
})

// Unit reads a unit's spelling, with or without brackets: "[mph]", "km/h", "ヤード".
func Unit(text string) (units.Unit, bool) {
	if u, ok := unitOf()[text]; ok {
		return u, true
	}
	s := strings.ToLower(Fold(text))
	s = strings.Trim(s, "[](){}<> .")
	s = strings.ReplaceAll(s, " ", "")
	s = strings.ReplaceAll(s, ".", "")
	u, ok := unitOf()[s]
	return u, ok
}

func isLength(d units.Dimension) bool {
	return d == units.Length || d == units.Height || d == units.Small
}

// SameDim reports whether a number of dimension a can be one of b: lengths
// along the ground, heights and places on the club share their units.
func SameDim(a, b units.Dimension) bool { return a == b || isLength(a) && isLength(b) }

// Direction is what a word or letter beside a number says.
type Direction uint8

// The directions. Letters that languages use differently have their own.
const (
	dirNone Direction = iota
	dirRight
	dirLeft
	dirOpen
	dirClosed
	dirInOut
	dirOutIn
	dirUp
	dirDown
	dirToe
	dirHeel
	dirDraw // curves left for a right-hander
	dirFade
	letterD // right (es, fr), down, draw
	letterG // left (fr)
	letterI // left (es)
	letterH // right (sv), heel, hook
	letterV // left (sv)
	letterO // open
	letterC // closed
	letterU // up
	letterT // toe
	letterF // fade
	letterS // slice, left (it)
)

var directionOf = sync.OnceValue(func() map[string]Direction {
	m := map[string]Direction{}
	for d, words := range map[Direction]string{
		dirRight:  "r right rt rgt rechts re derecha der dcha droite dte destra dx höger hoger hö 右 右側 右侧 偏右 우 우측 오른쪽 r+",
		dirLeft:   "l left lt lft links li izquierda izq izda gauche sinistra sx vänster vanster vä 左 左側 左侧 偏左 좌 좌측 왼쪽",
		dirOpen:   "open opened offen abierta abierto ouvert ouverte öppen オープン 開 오픈 열림",
		dirClosed: "closed close geschlossen zu cerrada cerrado fermé fermée ferme stängd クローズ クローズド 閉 클로즈 닫힘",
		dirInOut:  "io i-o in-out inout in-to-out intoout innen-außen von-innen インアウト インサイドアウト 인아웃 인투아웃",
		dirOutIn:  "oi o-i out-in outin out-to-in outtoin außen-innen アウトイン アウトサイドイン 아웃인 아웃투인",
		dirUp:     "up arriba hoch auf haut upp 上 상 ascending high",
		dirDown:   "down dn abajo ab runter bas ner ned 下 하 descending low",
		dirToe:    "toe punta spitze pointe tå トゥ 토우",
		dirHeel:   "heel talón talon ferse häl ヒール 힐",
		dirDraw:   "draw hook ドロー フック 드로우 훅",
		dirFade:   "fade slice フェード スライス 페이드 슬라이스",
		letterD:   "d", letterG: "g", letterI: "i", letterH: "h", letterV: "v", letterO: "o",
		letterC: "c", letterU: "u", letterT: "t", letterF: "f", letterS: "s",
	} {
		for _, w := range strings.Fields(words) {
			m[w] = d
		}
	}
	return m
})

// Level reports a word for neither side, lower case.
func Level(word string) bool {
	switch word {
	case "c", "center", "centre", "middle", "straight", "mitte", "centro", "milieu", "mitten", "中", "中央", "중앙", "on line", "online":
		return true
	}
	return false
}

// Meaning returns what a lower-case word beside a number says, 0 for nothing.
func Meaning(word string) Direction { return directionOf()[word] }

// Sign resolves a direction for a quantity of kind k: +1 or -1 in the signs of
// package frame. hand turns the player's words (open, draw, in-out) into the
// compass. language ("es", "fr", "sv", ...) decides single letters; ok is
// false when the word says nothing about k or the letter stays open.
func (d Direction) Sign(k shot.Kind, hand frame.Hand, language string) (sign float64, ok bool) {
	switch {
	case k.Quantity == shot.StrikeToe:
		switch d {
		case dirToe, letterT:
			return 1, true
		case dirHeel, letterH:
			return -1, true
		}
		return 0, false
	case !k.Compass && (k.Dim == units.Angle || k.Quantity == shot.StrikeHigh):
		switch d {
		case dirUp, letterU:
			return 1, true
		case dirDown, letterD:
			return -1, true
		}
		return 0, false
	case !k.Compass:
		return 0, false
	}
	switch d {
	case dirRight:
		return 1, true
	case dirLeft:
		return -1, true
	case dirOpen, dirInOut, dirFade, letterO, letterF:
		return hand.Sign(), true
	case dirClosed, dirOutIn, dirDraw, letterC:
		return -hand.Sign(), true
	}
	switch {
	case (language == "es" || language == "fr" || language == "it") && d == letterD:
		return 1, true
	case language == "it" && d == letterS, language == "es" && d == letterI, language == "fr" && d == letterG, language == "sv" && d == letterV:
		return -1, true
	case language == "sv" && d == letterH:
		return 1, true
	case language == "en-shape" && d == letterD, language == "en-hook" && d == letterH:
		return -hand.Sign(), true
	case language == "en-hook" && d == letterS:
		return hand.Sign(), true
	}
	return 0, false
}

// LetterLanguage says which language a column's letters speak, from all the
// directions that occur in it: "es" for D and I, "fr" for D and G, "sv" for H
// and V; "en-shape" for D and F, "en-hook" for H and S. "" when they don't say.
func LetterLanguage(seen map[Direction]int) string {
	has := func(d Direction) bool { return seen[d] > 0 }
	switch {
	case has(letterI) && !has(letterG) && !has(letterV) && !has(letterF):
		return "es"
	case has(letterG) && !has(letterI) && !has(letterF):
		return "fr"
	case has(letterV) && !has(letterD) && !has(letterS):
		return "sv"
	case has(letterD) && has(letterF):
		return "en-shape"
	case has(letterH) && has(letterS):
		return "en-hook"
	}
	return ""
}

// IsLetter reports whether the direction is a single letter that languages use
// differently, so that a column or a language must decide.
func (d Direction) IsLetter() bool {
	return d == letterD || d == letterG || d == letterI || d == letterH || d == letterV || d == letterS
}

// IsSide reports whether the direction is plainly right or left.
func (d Direction) IsSide() bool { return d == dirRight || d == dirLeft }

// Limits are those of q's kind; of what is no quantity there are none.
func Limits(q shot.Quantity) (lo, hi float64) {
	if k, ok := shot.KindOf(q); ok {
		return k.Limits[0], k.Limits[1]
	}
	return -1e9, 1e9
}

// Typical is what q's kind says of the middle of adult drives; of what is no
// quantity it is 0 to 1.
func Typical(q shot.Quantity) (lo, hi float64) {
	if k, ok := shot.KindOf(q); ok {
		return k.Typical[0], k.Typical[1]
	}
	return 0, 1
}

// Shape is a key for files with the same columns, under which a page keeps a
// person's corrections. It depends on the headers and their order only.
func Shape(columns []shot.Column) string {
	h := fnv.New64a()
	for _, c := range columns {
		h.Write([]byte(c.Header))
		h.Write([]byte{0})
	}
	return strconv.FormatUint(h.Sum64(), 16)
}
