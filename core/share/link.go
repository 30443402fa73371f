// Package share packs a session and the answer to it into the fragment of a
// link, and opens such links. Nothing is sent to a server: all is in the text.
//
// A link holds the head, the aim, the air, the settings and the shots, each
// number rounded below what matters (see column), and a Summary of the
// answer, so that it reads at once and can be analysed again. A person's name
// and the session's title are in it only when asked for; notes and what was
// written into the sheet by hand never are.
//
// The text is base64url of: version byte; the bits of the summary; the session
// in a range coder; CRC-32 (IEEE) of all before, its low byte first.
// Links of every version open for ever: a version's reader and the golden
// links of testdata/share stay.
package share

import (
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"strings"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// Version of the links that are written. Version 2 carries whether the aim is
// fixed, version 3 the air of each ball and the air that the answer is for,
// version 4 how far the player moves the aim and what a change must be worth;
// the summary of all is the same.
const Version = 4

// Prefix stands before a link's text in the fragment: "#s=...".
const Prefix = "s="

// Comfortable is the length [characters] up to which old mail and chat
// programs carry a link; above it a file is the better way.
const Comfortable = 2000

// Short is the length [characters] up to which a link keeps each number as
// fine as devices print it: a code of so many characters is still scanned off
// a screen. A longer one is usually rounded to coarser steps (see pack).
const Short = 900

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
	ErrDamaged  = errors.New("this link is damaged: a part of it is missing or changed; ask for it again")
	errNoChoice = errors.New("share: the report names no setting, so it has no summary")
	ErrNewer    = errors.New("this link was made by a newer version: reload the app and open it again")
)

// Key returns the key of package text that says an error of Decode.
func Key(err error) string {
	if errors.Is(err, ErrNewer) {
		return "shared.newer"
	}
	return "shared.damaged"
}

// Link is what a link holds.
type Link struct {
	Version int
	Names   bool // name and title are in it
	Session shot.Session
	Summary *Summary // nil when nothing was analysed yet
}

// Options say what goes into a link.
type Options struct {
	Names bool // the player's name and the session's title
}

var encoding = base64.RawURLEncoding.Strict()

// Encode packs a session and, when it is not nil, the summary of its report.
// The error says what can't be packed.
func Encode(s shot.Session, r *report.Report, o Options) (string, error) {
	if len(s.Shots) > maxShots {
		return "", fmt.Errorf("share: %d shots are too many for a link, at most %d", len(s.Shots), maxShots)
	}
	bits := &writer{}
	w := out{bits}
	w.put(Version, 8)
	w.bool(o.Names)
	w.bool(r != nil)
	if r != nil {
		sum, err := Summarise(*r)
		if err != nil {
			return "", err
		}
		if err := sum.write(w); err != nil {
			return "", err
		}
	}
	text, err := pack(bits.b, s, o)
	if err != nil {
		return "", err
	}
	if len(text) > maxLink {
		return "", fmt.Errorf("share: the link would have %d characters, at most %d are possible: use the file", len(text), maxLink)
	}
	return text, nil
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
	head = head[:len(head):len(head)]
	precise, rough := seal(append(head, fine...)), seal(append(head, coarse...))
	if len(precise) <= Short || len(rough) > longestCode && len(precise) <= Comfortable {
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
	text = strings.TrimPrefix(strings.TrimPrefix(text, "#"), Prefix)
	if len(text) > maxLink {
		return Link{}, fmt.Errorf("%w (%d characters)", ErrDamaged, len(text))
	}
	raw, err := encoding.DecodeString(text)
	if err != nil || len(raw) < 6 || strings.ContainsAny(text, "\r\n") {
		return Link{}, fmt.Errorf("%w (it is cut off or holds a wrong character)", ErrDamaged)
	}
	body := raw[:len(raw)-4]
	if crc32.ChecksumIEEE(body) != binary.LittleEndian.Uint32(raw[len(raw)-4:]) {
		return Link{}, fmt.Errorf("%w (checksum does not match)", ErrDamaged)
	}
	switch version := body[0]; version {
	case 1, 2, 3, 4:
		return decodeBody(body[1:], int(version))
	default:
		if version > Version {
			return Link{}, fmt.Errorf("%w (version %d)", ErrNewer, version)
		}
		return Link{}, fmt.Errorf("%w (version %d)", ErrDamaged, version)
	}
}

func decodeBody(body []byte, version int) (Link, error) {
	bits := &reader{b: body}
	r := in{bits}
	l := Link{Version: version, Names: r.bool()}
	if r.bool() {
		l.Summary = readSummary(r)
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
