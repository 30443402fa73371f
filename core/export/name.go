package export

import (
	"strings"
	"time"
	"unicode"

	"ferrule/core/shot"
)

// maxName is how many letters of a club's name a file's name keeps.
const maxName = 40

// FileName is the name of a file of a session: its day, the club, what is in
// it, and ending with its dot, such as "2026-05-12-driver-10-sheet.html". It
// holds letters, digits and hyphens alone, so that every file system takes it,
// and no person's name. A session without a day is named without one.
func FileName(s shot.Session, what, ending string) string {
	var parts []string
	if s.Created > 0 {
		parts = append(parts, time.Unix(s.Created, 0).Format(time.DateOnly))
	}
	if c := plainName(s.Head.Name); c != "" {
		parts = append(parts, c)
	}
	return strings.Join(append(parts, what), "-") + ending
}

// plainName keeps letters and digits and puts a hyphen for each run of others.
func plainName(s string) string {
	var out []rune
	for _, r := range s {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			out = append(out, r)
		case len(out) > 0 && out[len(out)-1] != '-':
			out = append(out, '-')
		}
	}
	return strings.Trim(string(out[:min(len(out), maxName)]), "-")
}
