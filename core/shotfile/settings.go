package shotfile

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"ferrule/core/club"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/typed"
)

// Where a file names settings: under a header that says so, in words that are
// labels of the described head, in the names of sheets, in titles, in the first
// row of a block. A column of a few repeated words that is none of those may be
// one too, and is asked about; words of how a ball ended, lay, was hit or was
// read, of places, shafts and days, are not even that.

// decoyWords are words that name no setting, whatever their column is called
// (trade words in nine languages; common practice, no source).
var decoyWords = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Split("left|right|centre|center|middle|fairway|rough|bunker|sand|water|green|fringe|trees|hazard|penalty|hit|miss|missed|made|ob|out of bounds|tee|mat|grass|turf|range|course|indoor|indoors|outdoor|outdoors|hall|bay|simulator|practice|play|training|warmup|warm|warmup|lesson|test mode|"+
		"good|bad|poor|ok|okay|excellent|great|nice|ugh|fair|full|partial|complete|valid|invalid|yes|no|true|false|measured|estimated|calculated|sunny|windy|cloudy|rain|calm|breeze|mishit|thin|fat|push|pull|block|top|topped|shank|sky|stiff|regular|senior|ladies|xstiff|extra stiff|graphite|steel|morning|afternoon|evening|monday|tuesday|wednesday|thursday|friday|saturday|sunday|session|round|hole|block|series|bucket|driver|"+
		"links|rechts|mitte|treffer|verfehlt|gras|matte|halle|platz|bahn|übung|gut|schlecht|steif|ja|nein|"+
		"izquierda|derecha|calle|rough|sala|campo|bueno|malo|sí|gauche|droite|milieu|fairway|salle|terrain|parcours|bon|mauvais|oui|non|"+
		"sinistra|destra|centro|campo|buono|cattivo|sì|vänster|höger|mitten|bana|ruff|bra|dålig|nej|"+
		"左|右|中|球道|长草|沙坑|好|坏|練習|左側|右側|フェアウェイ|ラフ|バンカー|左ラフ|右ラフ|良|悪|왼쪽|오른쪽|페어웨이|러프|벙커|중앙|좋음|나쁨", "|") {
		m[squeeze(w)] = true
	}
	return m
}()

// decoyHeads are words of headers under which no setting stands.
var decoyHeads = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Split("outcome|result|results|shot result|landing|landed|end|lie|surface|mode|session mode|game|quality|shot quality|rating|grade|reading|confidence|location|place|bay|lane|facility|venue|site|course|hole|target|target name|shaft|flex|shaft flex|shaft type|category|type|shot type|shape|ball flight|trajectory|contact|strike|impact|weather|wind|sky|coach|fitter|device|unit|serial|monitor|camera|software|firmware|verified|valid|fairway|green|grip|tee|tee height|stance|swing|swing type|drill|direction|side|day|weekday|month|gender|hand|email|country|units|unit system|system|color|colour|"+
		"ergebnis|lage|ort|untergrund|modus|qualität|bewertung|schaft|ziel|wetter|trainer|richtung|seite|"+
		"resultado|lugar|superficie|modo|calidad|varilla|objetivo|tiempo|entrenador|résultat|lieu|mode|qualité|manche|cible|météo|coach|"+
		"risultato|luogo|superficie|modalità|qualità|canna|obiettivo|meteo|resultat|plats|underlag|läge|kvalitet|skaft|mål|väder|"+
		"结果|地点|场地|模式|质量|杆身|目标|天气|結果|場所|モード|シャフト|天気|결과|장소|모드|샤프트|날씨", "|") {
		m[squeeze(w)] = true
	}
	return m
}()

// decoy reports whether a text says how a ball ended, where or how it was hit:
// its words are all on the list, or one of them and numbers.
func decoy(text string) bool {
	if decoyWords[squeeze(text)] {
		return true
	}
	words := strings.FieldsFunc(strings.ToLower(typed.Fold(text)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	n, yes := 0, 0
	for _, w := range words {
		if _, err := strconv.Atoi(w); err == nil || len(w) == 1 && w[0] < 0x80 && w[0] != 'x' {
			continue
		}
		n++
		if decoyWords[squeeze(w)] {
			yes++
		}
	}
	return n > 0 && yes*2 >= n
}

// labelled reports whether a text is a label of the described head, or several
// of them joined by "/".
func (r *reader) labelled(text string) bool {
	if len(r.labels) == 0 {
		return false
	}
	if r.labels[club.Plain(text)] {
		return true
	}
	parts := strings.Split(text, "/")
	for _, part := range parts {
		if !r.labels[club.Plain(strings.TrimSpace(part))] {
			return false
		}
	}
	return true
}

// spread is what a column's words look like.
type spread struct {
	texts        map[string]int
	full         int
	firsts       bool // the first row of each run is filled
	decoys, fits int  // different texts that are decoys; labels of the head
	numbers      int
}

func (p *part) spreadOf(c *column) spread {
	s := spread{texts: map[string]int{}}
	for i, l := range p.sec.rows {
		t := cellOf(l.line, c.at)
		if i == 0 {
			s.firsts = t != ""
		}
		if t == "" {
			continue
		}
		if s.full++; len(s.texts) <= maxWords {
			s.texts[t]++
		}
	}
	if len(s.texts) > maxWords {
		return s
	}
	for t := range s.texts {
		if decoy(t) {
			s.decoys++
		}
		if p.r.labelled(t) {
			s.fits++
		}
		if _, ok := typed.Split(t); ok && isNumeric(t) && !hasLetter(t) {
			s.numbers++
		}
	}
	return s
}

// maxWords is how many different texts are looked at: more name no settings.
const maxWords = 40

// few reports whether the words could name settings: a few that repeat, or
// entries that stand in the first row of each run.
func (s spread) few(rows int) bool {
	n := len(s.texts)
	return n >= 2 && n <= 16 && (s.full*10 >= rows*8 && s.full >= 2*n || s.block(rows))
}

// block reports entries in the first row of each run of balls only.
func (s spread) block(rows int) bool {
	return s.firsts && len(s.texts) >= 2 && s.full*3 <= rows && s.full <= 40
}

// findSetting finds the column of settings, or asks for it.
func (p *part) findSetting() {
	named := false
	for _, c := range p.cols {
		switch c.role {
		case roleSetting, roleSleeve, roleWeight, roleClub:
			s := p.spreadOf(c)
			if s.block(len(p.sec.rows)) || c.role != roleWeight && s.firsts && s.full == 1 && len(p.sec.rows) > 3 {
				c.filled = true
				c.say("problem.holds-below")
			}
			named = named || c.role != roleClub && s.full > 0
		}
	}
	if named {
		return
	}
	type candidate struct {
		c *column
		s spread
	}
	var list []candidate
	for _, c := range p.cols {
		s := p.spreadOf(c)
		if c.fixed || c.quantity != "" || c.sideOf != nil {
			continue
		}
		switch c.role {
		case "", roleTag, roleNote, roleClub, roleSession, roleSkip, roleBall:
		default:
			continue
		}
		if c.role == roleClub && p.r.bagged(s) {
			continue
		}
		if s.fits > 0 && s.fits == len(s.texts) && s.few(len(p.sec.rows)) {
			p.takeSetting(c, s, message.Of("problem.words-labels"))
			return
		}
		if c.role == roleSession || c.role == roleSkip || c.role == roleBall || len(c.ms) > 0 && c.role == "" || decoyHeads[squeeze(c.header)] || s.numbers == len(s.texts) || c.header == "" && s.full == 0 {
			continue
		}
		if !s.few(len(p.sec.rows)) || s.decoys*2 >= len(s.texts) || c.role == roleTag && s.strikes() {
			continue
		}
		if c.role == roleClub && !p.drivers(s) {
			continue
		}
		list = append(list, candidate{c, s})
	}
	if len(list) == 0 {
		return
	}
	q := shot.Question{ID: "setting", Text: message.Of("problem.which-setting")}
	for _, x := range list {
		q.Choices = append(q.Choices, shot.Choice{Value: x.c.key, Text: message.Plain(fmt.Sprintf("%q: %s", x.c.header, x.s.sample()))})
	}
	q.Choices = append(q.Choices, shot.Choice{Value: "none", Text: message.Of("problem.none-of-them")})
	answer, _ := p.r.question(q)
	for _, x := range list {
		if answer == x.c.key {
			p.takeSetting(x.c, x.s, message.Of("problem.as-you-said"))
			return
		}
	}
}

func (p *part) takeSetting(c *column, s spread, why message.Message) {
	p.r.clubsAreSettings = p.r.clubsAreSettings || c.role == roleClub
	c.role, c.evidence = roleSetting, []message.Message{why}
	c.filled = s.block(len(p.sec.rows))
	p.r.note("problem.as-setting", strconv.Quote(c.header))
}

// strikes reports whether a column of tags holds what people say of strikes.
func (s spread) strikes() bool {
	for t := range s.texts {
		if _, is := tagWords[squeeze(t)]; is {
			return true
		}
	}
	return false
}

// drivers reports whether all of a column's clubs are the session's kind.
func (p *part) drivers(s spread) bool {
	for t := range s.texts {
		if clubKind(t) != p.r.opt.kind() {
			return false
		}
	}
	return true
}

func (s spread) sample() string {
	var out []string
	for t, n := range s.texts {
		out = append(out, fmt.Sprintf("%s %d", strconv.Quote(clip(t)), n))
	}
	sort.Strings(out)
	if len(out) > 4 {
		out = append(out[:4], "...")
	}
	return strings.Join(out, ", ")
}

// carried is a column's text in a row: that of the last filled row above where
// an entry holds for the rows below it.
func (c *column) carried(l row) string {
	t := cellOf(l.line, c.at)
	if !c.filled {
		return t
	}
	if t != "" {
		c.last = t
	}
	return c.last
}

// settingName reports whether a title, a sheet or a file of an archive may name
// a setting: no day, no session, no club, no place, no number of a list.
func settingName(name string) bool {
	digits, word := apartFromDigits(name)
	return (word != "" || strings.ContainsAny(name, "°.,")) && digits <= 3 && !headsClub(name) && !sessionWords[word] && !listWords[word] && !decoy(name)
}

// apartFromDigits counts a name's digits and returns what else it is.
func apartFromDigits(name string) (digits int, word string) {
	word = strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			digits++
			return -1
		}
		return r
	}, squeeze(name))
	return digits, word
}

// listWords number the parts of a file.
var listWords = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Split("sheet|tabelle|hoja|feuil|feuille|foglio|blad|シート|시트|工作表|data|daten|datos|données|dati|shots|balls|export|report|block|series|serie|set|bucket|part|group|shot|table|table1|raw|all|allshots|total|results|summary|file|test|visit|range|log|csv|session|day|tag|jour|día|giorno|dag|month|page", "|") {
		m[squeeze(w)] = true
	}
	return m
}()

// named are what names stand for: settings where they differ and none is
// anything else.
func settingNames(names []string) bool {
	seen := map[string]bool{}
	for _, n := range names {
		if n == "" {
			continue
		}
		if !settingName(n) {
			return false
		}
		seen[club.Plain(n)] = true
	}
	return len(seen) > 1
}
