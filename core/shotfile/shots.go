package shotfile

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/typed"
)

// part is the reading of one section.
type part struct {
	r              *reader
	sec            *section
	cols           columns
	language       string     // of the headers
	commas, points int        // cells that show a decimal comma, a decimal point
	words          []rowWords // by row
	clubs          []*column  // of the clubs, the one that names most of them first
	out            []bool     // by row: an average, no ball
	blocks         blocks
	air            airReading
}

// day is the day part of a date and time as written, "" when there is none. It
// is compared, never interpreted: 7/10 may be July or October.
func day(text string) string {
	t := strings.TrimSpace(typed.Fold(text))
	if v, err := strconv.ParseFloat(t, 64); err == nil {
		if v > 20000 && v < 80000 { // days since 1899-12-30, a spreadsheet's serial
			return strconv.Itoa(int(v))
		}
		return ""
	}
	d, _, _ := strings.Cut(strings.ReplaceAll(t, "T", " "), " ")
	if strings.ContainsAny(d, "/-.年년") && !strings.Contains(d, ":") {
		return d
	}
	return ""
}

// rowWords are what the columns of words, the title and the sheet of a row say of its ball.
type rowWords struct {
	setting                                      club.Setting
	ball, session, clock, note, id, player, club string
	kind                                         string // of the club, "" = not known
	tag                                          shot.Tag
	apart                                        bool // of two columns of clubs one names a driver and the other does not
	estimated                                    bool // its spin
}

// readWords reads the words of all rows; titled says that the titles between them name
// settings.
func (p *part) readWords(titled bool) {
	p.words = make([]rowWords, len(p.sec.rows))
	for i, l := range p.sec.rows {
		x := &p.words[i]
		var label, sleeve string
		var weights []string
		for _, c := range p.cols {
			if c.quantity != "" || c.role == "" || c.role == roleClub {
				continue
			}
			text := c.carried(l)
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
				x.ball = text
			case roleSession:
				x.session = text
			case roleTime:
				x.clock = strings.TrimSpace(x.clock + " " + text)
			case roleNote:
				x.note = text
			case roleTag:
				if t, ok := tagWords[squeeze(text)]; ok {
					x.tag = t
				} else if x.note == "" {
					x.note = text
				}
			case roleID:
				x.id = text
			case rolePlayer:
				x.player = text
			case roleQuality:
				lower := strings.ToLower(text)
				x.estimated = x.estimated || strings.Contains(lower, "estim") || strings.Contains(lower, "calc") || strings.Contains(lower, "geschätzt")
			}
		}
		x.setting = settingOf(label, sleeve, weights)
		own := x.session
		if own == "" {
			x.session = l.title
		}
		if label == "" && sleeve == "" && l.title != "" {
			if name, ok := strings.CutPrefix(strings.ToLower(l.title), "setting"); ok {
				x.setting, x.session = settingOf(strings.TrimLeft(l.title[len(l.title)-len(name):], " :="), "", nil), ""
			} else if titled {
				p.r.note("problem.titles")
				x.setting, x.session = settingOf(l.title, "", nil), own
			}
		}
		x.club, x.apart = p.clubOf(l)
		x.kind = p.r.kindOf(x.club)
	}
}

// shots builds the shots of a section.
func (p *part) shots() {
	measured := 0
	for _, c := range p.cols {
		if c.quantity != "" {
			measured++
		}
	}
	p.r.table.Shots = slices.Grow(p.r.table.Shots, len(p.sec.rows))
	air := 0
	for i, l := range p.sec.rows {
		if p.out != nil && p.out[i] {
			continue
		}
		s := shot.Shot{ID: strconv.Itoa(l.n), Line: l.n, Source: p.r.name, Values: make(shot.Values, measured)}
		zeros, numbers, bad := 0, 0, 0
		for _, c := range p.cols {
			if c.quantity == "" {
				continue
			}
			switch c.read[i] {
			case cellZero:
				zeros++
				numbers++
			case cellBad:
				bad++
			case cellRead:
				numbers++
				v := c.value(i)
				if v == 0 {
					zeros++
				}
				if lo, hi := typed.Limits(c.quantity); v < lo || v > hi {
					u := c.byBlock[p.blocks.of[i]]
					p.r.reject(l.n, c.header, strconv.Quote(clip(cellOf(l.line, c.at))), typed.Between(u, lo, hi))
					bad++
					continue
				}
				s.Values[c.quantity] = v
				if c.assumed || c.guessed != nil && c.guessed[i] {
					s.Assumed = append(s.Assumed, c.quantity)
				}
			}
		}
		switch {
		case numbers > 2 && zeros == numbers:
			p.r.reject(l.n, "", message.Of("problem.all-zero", numbers), message.Of("problem.ball-numbers"))
			continue
		case len(s.Values) == 0:
			if bad == 0 {
				p.r.reject(l.n, "", strconv.Quote(clip(strings.TrimSpace(strings.Join(l.cells, " ")))), message.Of("problem.one-number"))
			}
			continue
		}
		air = p.air.number(l, air)
		s.Air = air
		x := &p.words[i]
		s.Setting, s.Ball, s.Session, s.Clock, s.Note, s.Tag = x.setting, x.ball, x.session, x.clock, x.note, x.tag
		if x.id != "" {
			s.ID = x.id
		}
		if x.estimated {
			for _, q := range []shot.Quantity{shot.Spin, shot.Backspin, shot.Sidespin, shot.SpinAxis} {
				if _, ok := s.Values[q]; ok && len(s.Assumed) < 8 {
					s.Assumed = append(s.Assumed, q)
				}
			}
		}
		if x.apart {
			p.r.atOdds++
		}
		p.r.spots = append(p.r.spots, spot{x.club, x.player, p.r.sheet, p.blocks.why[i]})
		p.r.table.Shots = append(p.r.table.Shots, s)
	}
}

// maxPlayers is more than hit in one session; a column of more names none.
const maxPlayers = 40

// choosePlayer asks whose balls are meant, where a file holds those of several.
func (r *reader) choosePlayer() {
	players := map[string]int{}
	for _, x := range r.spots {
		if x.player != "" {
			players[x.player]++
		}
	}
	for n := range players {
		r.table.Players = append(r.table.Players, n)
	}
	sort.Strings(r.table.Players)
	r.table.Players = r.table.Players[:min(len(players), maxPlayers)]
	if len(players) < 2 || len(players) > maxPlayers {
		return
	}
	q := shot.Question{ID: "players", Text: message.Of("problem.players", len(players), quoted3(players))}
	for n, k := range players {
		q.Choices = append(q.Choices, shot.Choice{Value: n, Text: message.Plain(fmt.Sprintf("%s: %d", n, k))})
	}
	sort.Slice(q.Choices, func(i, j int) bool { return q.Choices[i].Value < q.Choices[j].Value })
	who, ok := r.question(q)
	if !ok {
		return
	}
	for i, x := range r.spots {
		if x.player != "" && x.player != who {
			leaveOut(&r.table.Shots[i], x.player)
		}
	}
}

// leaveOut tags a ball that is not meant, with the name of its player or club.
func leaveOut(s *shot.Shot, whose string) {
	s.Tag, s.Note = shot.TagOut, strings.TrimSpace(whose+" "+s.Note)
}

func quoted3(m map[string]int) string {
	names := make([]string, 0, len(m))
	for n := range m {
		names = append(names, strconv.Quote(clip(n)))
	}
	sort.Strings(names)
	if len(names) > 3 {
		names = append(names[:3], "...")
	}
	return strings.Join(names, ", ")
}

// settingOf joins what the columns say; "a / b" in one column names the sleeve
// and the weights, for club.Find to put in order.
func settingOf(label, sleeve string, weights []string) club.Setting {
	if label != "" && sleeve == "" && len(weights) == 0 {
		sep := " / "
		if !strings.Contains(label, sep) {
			sep = "/"
		}
		parts := strings.Split(label, sep)
		for i := range parts {
			parts[i] = strings.TrimSpace(parts[i])
		}
		return club.Setting{Sleeve: parts[0], Weights: parts[1:]}
	}
	var out []string
	for _, w := range weights {
		for _, part := range strings.Split(w, " / ") {
			out = append(out, strings.TrimSpace(part))
		}
	}
	return club.Setting{Sleeve: sleeve, Weights: out}
}

// altitude frees a column headed by a word that may mean altitude, when it
// never changes.
func (p *part) altitude() {
	c := p.cols.of(shot.Apex)
	if c == nil || !c.weak || c.fixed || len(p.sec.rows) < 4 {
		return
	}
	for i := range c.v {
		if c.read[i] != cellRead || c.v[i] != c.v[0] {
			return
		}
	}
	c.quantity, c.role = "", roleAltitude
	c.say("problem.an-altitude")
}
