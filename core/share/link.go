// Package share packs a session and the answer to it into the fragment of a
// link, and opens such links. Nothing is sent to a server: all is in the text.
//
// A link holds the head, the aim, the air, the settings and the shots, each
// number rounded below what matters (see column), and a answer as it
// was given (Given), so that it reads at once and can be worked out again. A person's name
// and the session's title are in it only when asked for; notes and what was
// written into the sheet by hand never are.
//
// The text is base64url of: version byte; sections; CRC-32 (IEEE) of all
// before, its low byte first. A section is its kind (a byte), its length [bytes]
// (seven bits a byte, the lowest first, the highest bit set where another
// follows) and its body; a reader passes over kinds that it does not know. A body only ever
// grows at its end: the answer by fields (answerFields), the session by levels
// (flow.level). So a later version's link opens in an earlier one, and the
// version byte stays. Versions 1 to 4 had no sections. Links of every version
// open for ever: their readers and the golden links of testdata/share stay.
//
// Begin with Encode and its example.
package share

import (
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"strings"

	"ferrule/core/message"
	"ferrule/core/shot"
)

// Version of the links that are written.
const Version = 5

// Kinds of a section.
const (
	sectionAnswer  = 1
	sectionSession = 2 // without names
	sectionNamed   = 3 // the session with its player's name and its title
	sectionStatus  = 4 // how the analysis judged each shot
)

// Prefix stands before a link's text in the fragment: "#s=...".
const Prefix = "s="

// Comfortable is the length [characters] up to which old mail and chat
// programs carry a link; above it a file is the better way.
const Comfortable = 2000

// short is the length [characters] up to which a link keeps each number as
// fine as devices print it: a code of so many characters is still scanned off
// a screen. A longer one is usually rounded to coarser steps (see pack).
const short = 900

// Limits of what a link can hold; they bound the memory that reading needs.
const (
	maxLink   = 1 << 16 // [characters]
	maxShots  = 3000
	maxLabels = 400
	maxHoles  = 60
	maxAirs   = 3000
	maxText   = 200 // [tokens] of one text
)

// Errors of Decode; each is wrapped with what was found.
var (
	errDamaged  = errors.New("this link is damaged: a part of it is missing or changed; ask for it again")
	errNoChoice = errors.New("share: the report names no setting, so it has no summary")
	errNewer    = errors.New("this link was made by a newer version: reload the app and open it again")
)

// Key returns the key of package text that says an error of Decode.
func Key(err error) string {
	if errors.Is(err, errNewer) {
		return "shared.newer"
	}
	return "shared.damaged"
}

// Link is what a link holds.
type Link struct {
	Version int
	Names   bool // name and title are in it
	Session shot.Session
	Given   *Given // nil when nothing was analysed yet
}

// Options say what goes into a link.
type Options struct {
	Names bool // the player's name and the session's title
}

var encoding = base64.RawURLEncoding.Strict()

// Encode packs a session and, when it is not nil, the answer that was given to
// it. The error says what can't be packed.
func Encode(s shot.Session, g *Given, o Options) (string, error) {
	if len(s.Shots) > maxShots {
		return "", message.New("problem.link-shots", len(s.Shots), maxShots)
	}
	body := []byte{Version}
	if g != nil {
		var err error
		if body, err = g.sections(body, len(s.Shots)); err != nil {
			return "", err
		}
	}
	text, err := pack(body, s, o)
	if err != nil {
		return "", err
	}
	if _, err := Decode(text); err != nil { // a number that a link's rounding takes out of its range
		return "", fmt.Errorf("share: the link would not open again: %w", err)
	}
	if len(text) > maxLink {
		return "", message.New("problem.link-long", len(text), maxLink)
	}
	return text, nil
}

// sections appends the answer to a session of so many shots.
func (g *Given) sections(body []byte, shots int) ([]byte, error) {
	answer, err := g.bytes(answerFields())
	if err != nil {
		return nil, err
	}
	body = section(body, sectionAnswer, answer)
	if len(g.Status) == shots && shots > 0 {
		body = section(body, sectionStatus, writeStatus(g.Status))
	}
	return body, nil
}

// Text is the answer to a session of so many shots as a text that a file
// carries beside it: a link without its session.
func (g *Given) Text(shots int) (string, error) {
	body, err := g.sections([]byte{Version}, shots)
	if err != nil {
		return "", err
	}
	return seal(body), nil
}

// ReadText opens what Text wrote for a session of so many shots.
func ReadText(text string, shots int) (*Given, error) {
	body, err := unseal(text)
	if err != nil {
		return nil, err
	}
	if body[0] != Version {
		return nil, versionError(body[0])
	}
	l, _, err := decodeParts(body[1:], shots)
	if err == nil && l.Given == nil {
		err = fmt.Errorf("%w (it holds no answer)", errDamaged)
	}
	return l.Given, err
}

// section appends a section to a body.
func section(body []byte, kind byte, what []byte) []byte {
	return append(binary.AppendUvarint(append(body, kind), uint64(len(what))), what...)
}

// pack chooses how fine the shots are: as printed, if the link is short then;
// else coarse, if a code can hold it so; else as printed again, if mail and
// chat carry it; else coarse.
func pack(head []byte, s shot.Session, o Options) (string, error) {
	fine, err := writeSession(s, o, true)
	if err != nil {
		return "", err
	}
	coarse, err := writeSession(s, o, false)
	if err != nil {
		return "", err
	}
	kind := byte(sectionSession)
	if o.Names {
		kind = sectionNamed
	}
	head = head[:len(head):len(head)]
	precise, rough := seal(section(head, kind, fine)), seal(section(head, kind, coarse))
	if len(precise) <= short || len(rough) > longestCode && len(precise) <= Comfortable {
		return precise, nil
	}
	return rough, nil
}

// seal puts the checksum behind a body and writes both as text.
func seal(body []byte) string {
	return encoding.EncodeToString(binary.LittleEndian.AppendUint32(body[:len(body):len(body)], crc32.ChecksumIEEE(body)))
}

// Decode opens the text of a link, with or without "#" and "s=" before it.
// It takes bounded memory and never panics, whatever it is given.
func Decode(text string) (Link, error) {
	text = strings.TrimSpace(text)
	body, err := unseal(strings.TrimPrefix(strings.TrimPrefix(text, "#"), Prefix))
	if err != nil {
		return Link{}, err
	}
	switch version := body[0]; {
	case version >= 1 && version < 5:
		return decodeOld(body[1:], int(version))
	case version == Version:
		return decodeSections(body[1:])
	}
	return Link{}, versionError(body[0])
}

// versionError says why a body of another version is not read.
func versionError(version byte) error {
	if version > Version {
		return fmt.Errorf("%w (version %d)", errNewer, version)
	}
	return fmt.Errorf("%w (version %d)", errDamaged, version)
}

// unseal undoes seal; what it returns has a byte at least.
func unseal(text string) ([]byte, error) {
	if len(text) > maxLink {
		return nil, fmt.Errorf("%w (%d characters)", errDamaged, len(text))
	}
	raw, err := encoding.DecodeString(text)
	if err != nil || len(raw) < 6 || strings.ContainsAny(text, "\r\n") {
		return nil, fmt.Errorf("%w (it is cut off or holds a wrong character)", errDamaged)
	}
	body := raw[:len(raw)-4]
	if crc32.ChecksumIEEE(body) != binary.LittleEndian.Uint32(raw[len(raw)-4:]) {
		return nil, fmt.Errorf("%w (checksum does not match)", errDamaged)
	}
	return body, nil
}

// decodeOld opens a link of versions 1 to 4.
func decodeOld(body []byte, version int) (Link, error) {
	bits := &reader{b: body}
	r := in{bits}
	l := Link{Version: version, Names: r.bool()}
	if r.bool() {
		l.Given = readOld(r)
	}
	if bits.err != nil {
		return Link{}, bits.err
	}
	var err error
	l.Session, err = readSession(bits.tail(), l.Names, version)
	if err != nil {
		return Link{}, err
	}
	return l, nil
}

func decodeSections(body []byte) (Link, error) {
	l, session, err := decodeParts(body, -1)
	if err == nil && !session {
		err = fmt.Errorf("%w (it holds no session)", errDamaged)
	}
	if err != nil {
		return Link{}, err
	}
	if l.Given != nil { // the session of a link has no times
		l.Session.Aim.Seen = l.Given.Answer.Seen
	}
	return l, nil
}

// decodeParts reads the sections of a body; shots is how many balls are judged
// where no session comes with it.
func decodeParts(body []byte, shots int) (l Link, session bool, err error) {
	l.Version = Version
	var status []byte
	for len(body) > 0 {
		kind := body[0]
		n, used := binary.Uvarint(body[1:])
		if used <= 0 || n > uint64(len(body)-1-used) {
			return l, session, fmt.Errorf("%w (a part is longer than the link)", errDamaged)
		}
		part := body[1+used : 1+used+int(n)]
		body = body[1+used+int(n):]
		switch kind {
		case sectionAnswer:
			l.Given, err = readGiven(part, answerFields())
		case sectionStatus:
			status = part
		case sectionSession, sectionNamed:
			session, l.Names = true, kind == sectionNamed
			l.Session, err = readSession(part, l.Names, 0)
			shots = len(l.Session.Shots)
		}
		if err != nil {
			return l, session, err
		}
	}
	if l.Given != nil && status != nil {
		l.Given.Status, err = readStatus(status, max(shots, 0))
	}
	return l, session, err
}
