package shotfile

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// Which balls are the session's: those with a club that is known to be of its
// kind. What a driver is called is a list (the trade's words in nine languages
// and how people shorten them; common practice, no source). All other names
// are counted, shown and left out; a name that is on no list although its
// balls fly like a driver's is asked about.

// The kinds of clubs. Those of woods and hybrids are words of club.Head.Kind.
const (
	kindDriver  = "driver"
	kindFairway = "fairway"
	kindHybrid  = "hybrid"
	kindOther   = "other"  // an iron, a wedge, a putter
	kindFamily  = "family" // "Wood": a driver's family, no more
)

// clubWords are whole names, squeezed, and words of which one in a name says
// its kind.
var clubNames, clubTokens = func() (names, tokens map[string]string) {
	names, tokens = map[string]string{}, map[string]string{}
	for kind, words := range map[string][2]string{
		kindDriver: {"d|dr|drv|dvr|1w|w1|1wood|wood1|nr1wood|no1wood|woodno1|1st wood|holz1|1holz|holz 1er|bois1|1bois|madera1|1madera|legno1|1legno|tra1|1tra|tråetta|träetta|1番ウッド|ウッド1|1w(ドライバー)|1번우드|우드1|一号木|一号木杆|一號木|一號木桿|1号木|1号木杆|1號木|1號木桿|发球木|发球木杆|發球木|發球木桿|开球木|开球木杆|開球木|開球木桿|木杆1|木桿1|1号|一号杆",
			"driver|drivers|drajver|ドライバー|ドライバ|ドライヴァー|드라이버"},
		kindFairway: {"spoon|baffy|brassie|cleek|スプーン|バフィー|クリーク", "fairwaywood|fairwaywoods|フェアウェイウッド|페어웨이우드|球道木"},
		kindHybrid:  {"ut|uti|hy|hyb", "hybrid|hybrids|hybride|hibrido|ibrido|rescue|rettungsschlager|rettung|utility|hybridklubba|ユーティリティ|ユーティリティー|ハイブリッド|유틸리티|하이브리드|铁木杆|鐵木桿|混合杆|混合桿"},
		kindOther: {"p|s|a|g|l|pw|sw|gw|lw|aw|uw|dw|fw|pt|put|i|f|e|w|wed|pitch|sand|lob|gap|jarnsju",
			"iron|irons|wedge|wedges|putter|putters|chipper|eisen|fer|fers|ferro|ferri|hierro|hierros|jarn|pitching|pitchingwedge|sandwedge|sand|lobwedge|gapwedge|approach|cocheur|pitchwedge|アイアン|ウェッジ|ウエッジ|ピッチングウェッジ|サンドウェッジ|パター|아이언|웨지|퍼터|铁|铁杆|鐵桿|鐵|推杆|推桿|挖起杆|劈起杆|劈起桿|沙坑杆|沙杆|切杆"},
		kindFamily: {"wood|woods|holz|holzer|bois|madera|maderas|legno|legni|tra|ウッド|우드|木杆|木桿|木", ""},
	} {
		for _, w := range strings.Split(words[0], "|") {
			names[squeeze(w)] = kind
		}
		for _, w := range strings.Split(words[1], "|") {
			if w != "" {
				tokens[squeeze(w)] = kind
			}
		}
	}
	return
}()

// asianTokens are found inside a name: these languages set no spaces.
var asianTokens = func() (out []string) {
	for w := range clubTokens {
		if !isASCII(w) && len([]rune(w)) > 1 || strings.HasSuffix(w, "杆") || w == "铁" || w == "鐵" {
			out = append(out, w)
		}
	}
	sort.Slice(out, func(i, j int) bool { return len(out[i]) > len(out[j]) || len(out[i]) == len(out[j]) && out[i] < out[j] })
	return
}()

// numbered are the letters and words that make a wood, a hybrid or an iron of a
// number beside them: "3W", "W3", "Holz 5", "4H", "7 Fer".
var numbered = map[string]string{"w": "wood", "wood": "wood", "woods": "wood", "fw": "wood", "fairway": "wood", "fairwaywood": "wood", "fwy": "wood", "holz": "wood", "bois": "wood", "madera": "wood", "legno": "wood", "tra": "wood", "ウッド": "wood", "番ウッド": "wood", "우드": "wood", "번우드": "wood",
	"号木": "wood", "号木杆": "wood", "號木": "wood", "號木桿": "wood", "木": "wood",
	"h": kindHybrid, "hy": kindHybrid, "u": kindHybrid, "ut": kindHybrid, "番ut": kindHybrid,
	"i": kindOther, "e": kindOther, "f": kindOther, "j": kindOther, "p": kindOther, "番": kindOther, "번": kindOther, "号": kindOther}

var hanDigits = strings.NewReplacer("一", "1", "二", "2", "三", "3", "四", "4", "五", "5", "六", "6", "七", "7", "八", "8", "九", "9")

// kindOf is clubKind, remembered: every row of a long file asks it.
func (r *reader) kindOf(name string) string {
	k, ok := r.kinds[name]
	if !ok {
		k = clubKind(name)
		if r.kinds == nil {
			r.kinds = map[string]string{}
		}
		if len(r.kinds) < maxLexicon {
			r.kinds[name] = k
		}
	}
	return k
}

func (r *reader) aClub(name string) bool { k := r.kindOf(name); return k != "" && k != kindFamily }

// clubKind says what a name names: one of the kinds, or "" for a name that is
// on no list: a make, a model, a loft.
func clubKind(name string) string {
	key := squeeze(name)
	if k, ok := clubNames[key]; ok {
		return k
	}
	tokens := strings.FieldsFunc(strings.ToLower(typed.Fold(name)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' && r != '°' })
	isNumber := func(t string) bool { _, err := strconv.ParseFloat(strings.TrimSuffix(t, "°"), 64); return err == nil }
	if len(tokens) > 1 && clubNames[squeeze(tokens[0])] == kindDriver && !slices.ContainsFunc(tokens[1:], func(t string) bool { return !isNumber(t) }) {
		return kindDriver // "1W 10.5", "D 9°": with its loft
	}
	kind := ""
	for _, t := range tokens {
		t = squeeze(t)
		if k, ok := clubTokens[t]; ok {
			if kind == "" || kind == kindDriver { // a "driving iron" and "driver wedge" are no drivers
				kind = k
			}
			continue
		}
		if strings.HasPrefix(t, "driving") || t == "mini" {
			return map[bool]string{true: kindOther, false: ""}[t != "mini"]
		}
	}
	if kind == "" {
		for _, w := range asianTokens {
			if strings.Contains(key, w) {
				kind = clubTokens[w]
				break
			}
		}
	}
	if kind != "" {
		return kind
	}
	return numberedKind(key, name)
}

// numberedKind is the kind of a name made of a number and a word: "W3", "3 Holz",
// "60", "SW (54)".
func numberedKind(key, name string) string {
	key = hanDigits.Replace(key)
	digits := strings.TrimFunc(key, func(r rune) bool { return !unicode.IsDigit(r) })
	word := strings.Replace(key, digits, "", 1)
	n, err := strconv.Atoi(digits)
	if digits == "" || err != nil {
		return ""
	}
	if word == "" { // bare: an iron's number or a wedge's loft; below 14 degrees it may be a driver's
		loft, err := strconv.ParseFloat(strings.Trim(strings.ReplaceAll(typed.Fold(name), ",", "."), " ()°ºdeg"), 64)
		degrees := strings.ContainsAny(name, "°º.,")
		if err == nil && (loft >= 14 || loft <= 9 && !degrees) {
			return kindOther
		}
		return ""
	}
	k := numbered[word]
	switch {
	case k == "wood" && n == 1:
		return kindDriver
	case k == "wood" && n <= 15:
		return kindFairway
	case k != "" && n <= 13:
		return map[bool]string{true: k, false: kindOther}[k != "wood"]
	case clubNames[word] == kindOther && n >= 40 && n <= 70, n >= 45 && n <= 64 && (word == "deg" || word == "grad" || word == "w"):
		return kindOther
	}
	return ""
}

// aClub reports whether a name is on one of the lists.
func aClub(name string) bool { k := clubKind(name); return k != "" && k != kindFamily }

// headsClub reports whether a title or a sheet names a club: letters say so,
// numbers alone count anything, and a fairway is a place too.
func headsClub(name string) bool {
	return aClub(name) && hasLetter(name) && len(squeeze(name)) > 1 && !strings.HasPrefix(squeeze(name), "fairway") || strings.HasPrefix(squeeze(name), "fairwaywood")
}

// clubOf is what the club columns of a row say together: the name of the column
// that names most clubs, or of another where that one is silent. apart reports
// two columns of which one names a driver and the other does not.
func (p *part) clubOf(l row) (name string, apart bool) {
	kind := ""
	for _, c := range p.clubs {
		t := c.carried(l)
		k := p.r.kindOf(t)
		if k == kindFamily {
			k = ""
		}
		switch {
		case t == "":
		case name == "", kind == "" && k != "":
			name, kind = t, k
		case k != "" && k != kind && (k == kindDriver || kind == kindDriver):
			apart = true
		}
	}
	if name == "" && headsClub(l.title) {
		name = l.title
	}
	if name == "" && headsClub(p.r.sheet) {
		name = p.r.sheet
	}
	return
}

// clubColumns lists the columns of clubs, the one that names most of them first.
func (p *part) clubColumns() {
	type told struct {
		known, names int
	}
	say := map[*column]told{}
	for _, c := range p.cols {
		if c.role != roleClub {
			continue
		}
		names := map[string]bool{}
		x := told{}
		for _, l := range p.sec.rows {
			t := cellOf(l.line, c.at)
			if t != "" && len(names) <= maxClubs {
				names[t] = true
			}
			if p.r.aClub(t) {
				x.known++
			}
		}
		x.names = len(names)
		say[c] = x
		p.clubs = append(p.clubs, c)
	}
	sort.SliceStable(p.clubs, func(i, j int) bool {
		a, b := say[p.clubs[i]], say[p.clubs[j]]
		return a.known > b.known || a.known == b.known && a.names > b.names
	})
}

// clubByValues makes a column of clubs of one whose header says nothing and
// whose words are clubs.
func (p *part) clubByValues() {
	for _, c := range p.cols {
		if c.role == roleClub {
			return
		}
	}
	for _, c := range p.cols {
		if c.quantity != "" || c.role != "" || c.fixed {
			continue
		}
		is, full, sure := 0, 0, false
		for _, l := range p.sec.rows {
			if t := cellOf(l.line, c.at); !isMissing(t) {
				full++
				if p.r.aClub(t) && !strings.HasPrefix(squeeze(t), "fairway") {
					is++
					sure = sure || len(squeeze(t)) > 2 && hasLetter(t)
				}
			}
		}
		if sure && full >= 4 && is*10 >= full*8 {
			c.role = roleClub
			c.evidence = []message.Message{message.Of("problem.words-clubs")}
			return
		}
	}
}

// maxClubs is more names than a bag and its lists have.
const maxClubs = 60

// chooseClubs decides whose balls are kept: an answer first, then the names
// that are known to be of the session's kind; what stays open is asked.
func (r *reader) chooseClubs() {
	t := &r.table
	if !slices.ContainsFunc(r.spots, func(x spot) bool { return x.club != "" }) {
		if len(r.opt.Bag) > 1 {
			r.bindClubs()
		}
		return
	}
	at, spelled, few := r.countClubs()
	if !few {
		return
	}
	if len(r.opt.Bag) > 1 {
		r.bindClubs()
		return
	}
	kind := r.opt.kind()
	var mine, like []string
	named := 0
	for _, c := range t.Clubs {
		switch {
		case c.Name == "":
			continue
		case clubKind(c.Name) == kind || r.opt.Club != "" && squeeze(c.Name) == squeeze(r.opt.Club):
			mine = append(mine, c.Name)
		case !aClub(c.Name) && r.fliesLike(c.Name, kind):
			like = append(like, c.Name)
		}
		named++
	}
	empty := 0
	if k, ok := at[""]; ok {
		empty = t.Clubs[k].Balls
	}
	if named == 0 {
		t.Clubs = nil
		return
	}
	keep := map[string]bool{}
	for _, n := range mine {
		keep[n] = true
	}
	if empty > 0 && named == len(mine) && len(mine) == 1 {
		keep[""] = true
	}
	var text message.Message
	switch {
	case len(mine) == 0:
		text = message.Of("problem.no-known-club", message.Key("kind."+kind), counted(t.Clubs))
	case r.atOdds > 0:
		text = message.Of("problem.clubs-contradict", r.atOdds, counted(t.Clubs))
	case len(mine) > 1 && !r.clubsAreSettings:
		text = message.Of("problem.several-clubs", len(mine), message.Key("kind."+kind), counted(t.Clubs))
	case len(like) > 0:
		text = message.Of("problem.flies-like", quotedList(like), message.Key("kind."+kind), counted(t.Clubs))
	case empty > 0 && !keep[""]:
		text = message.Of("problem.balls-no-club", empty, counted(t.Clubs))
	}
	if text.Key != "" {
		q := shot.Question{ID: "clubs", Text: text, Many: true}
		for _, c := range t.Clubs {
			q.Choices = append(q.Choices, shot.Choice{Value: c.Name, Text: message.Plain(fmt.Sprintf("%s: %d", orDash(c.Name), c.Balls))})
		}
		if answer, ok := r.question(q); ok {
			keep = map[string]bool{}
			for _, n := range strings.Split(answer, "\n") {
				keep[spelled[squeeze(n)]] = true
			}
		}
	} else if answer, ok := r.opt.Answers["clubs"]; ok { // a correction without a question
		keep = map[string]bool{}
		for _, n := range strings.Split(answer, "\n") {
			keep[spelled[squeeze(n)]] = true
		}
	}
	r.leaveOut(keep, len(mine) == 0 && text.Key != "" && !r.answered("clubs"))
}

// countClubs lists the clubs that the file names, each as it is first spelled;
// few is false when there are more than any bag holds.
func (r *reader) countClubs() (at map[string]int, spelled map[string]string, few bool) {
	t := &r.table
	at, spelled = map[string]int{}, map[string]string{}
	for i, x := range r.spots {
		n := x.club
		if first, ok := spelled[squeeze(n)]; ok {
			n = first
		} else {
			spelled[squeeze(n)] = n
		}
		r.spots[i].club = n
		k, ok := at[n]
		if !ok {
			if len(at) > maxClubs {
				t.Clubs = nil
				r.note("problem.clubs-many", maxClubs)
				return at, spelled, false
			}
			k = len(t.Clubs)
			at[n] = k
			t.Clubs = append(t.Clubs, shot.ClubCount{Name: n})
		}
		t.Clubs[k].Balls++
	}
	return at, spelled, true
}

// leaveOut tags the balls that are not kept. With nothing known yet, all are.
func (r *reader) leaveOut(keep map[string]bool, nothing bool) {
	t := &r.table
	out := 0
	for i := range t.Clubs {
		t.Clubs[i].Kept = keep[t.Clubs[i].Name] || nothing
	}
	if nothing {
		return
	}
	for i, x := range r.spots {
		if !keep[x.club] {
			leaveOut(&t.Shots[i], x.club)
			out++
		}
	}
	if out > 0 {
		r.note("problem.other-club", out)
	}
}

// fliesLike reports whether a name's balls have numbers that a driver's
// (fairway wood's, hybrid's) may have: launch, spin and the ball speed that the
// club gave. Wide bounds; common practice, no source.
func (r *reader) fliesLike(name, kind string) bool {
	of := func(q shot.Quantity) float64 {
		var vs []float64
		for i, x := range r.spots {
			if v, ok := r.table.Shots[i].Values[q]; ok && x.club == name {
				vs = append(vs, v)
			}
		}
		return robust.Median(vs)
	}
	loft := map[string]float64{kindDriver: 1, kindFairway: 1.35, kindHybrid: 1.7}[kind]
	launch, smash, spin, carry := of(shot.Launch), of(shot.Smash), of(shot.Spin), of(shot.Carry)
	if spin != spin {
		spin = of(shot.Backspin)
	}
	if smash != smash {
		smash = of(shot.BallSpeed) / of(shot.ClubSpeed)
	}
	return !(launch > 19*units.Degree*loft || spin > 4300*units.RPM*loft || smash < 1.36-.06*(loft-1) || carry < 110)
}

func counted(cs []shot.ClubCount) string {
	var out []string
	for i, c := range cs {
		if i == 15 {
			out = append(out, "...")
			break
		}
		out = append(out, fmt.Sprintf("%s %d", orDash(c.Name), c.Balls))
	}
	return strings.Join(out, ", ")
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return strconv.Quote(clip(s))
}

func quotedList(names []string) string {
	var out []string
	for _, n := range names {
		out = append(out, strconv.Quote(clip(n)))
	}
	return strings.Join(out, ", ")
}
