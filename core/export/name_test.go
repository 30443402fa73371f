package export

import (
	"regexp"
	"testing"
	"time"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// A name that every file system takes: letters, digits, hyphens and one dot,
// never more than 255 bytes (the least common limit: POSIX NAME_MAX of ext4, NTFS
// and APFS, from memory), never a word that Windows keeps for a device.
func TestFileNames(t *testing.T) {
	day := time.Date(2026, 5, 12, 12, 0, 0, 0, time.Local).Unix()
	for head, want := range map[string]string{
		"": "2026-05-12-sheet.html", "Driver 10.5°": "2026-05-12-Driver-10-5-sheet.html", "../..": "2026-05-12-sheet.html", "a/b\\c:d*e?f\"g<h>i|j": "2026-05-12-a-b-c-d-e-f-g-h-i-j-sheet.html",
		"CON": "2026-05-12-CON-sheet.html", "ドライバー": "2026-05-12-ドライバー-sheet.html", " x ": "2026-05-12-x-sheet.html", "a\x00\n\u202eb": "2026-05-12-a-b-sheet.html",
	} {
		if got := FileName(shot.Session{Created: day, Head: club.Head{Name: head}, Player: shot.Player{Name: "A. Player"}, Title: "Anna"}, "sheet", ".html"); got != want {
			t.Errorf("%q is named %q, want %q", head, got, want)
		}
	}
	long := ""
	for range 300 {
		long += "漢"
	}
	if got := FileName(shot.Session{Created: day, Head: club.Head{Name: long}}, "session", ".json"); len(got) > 255 {
		t.Errorf("a name of %d bytes", len(got))
	}
	if got := FileName(shot.Session{}, "balls", ".csv"); !regexp.MustCompile(`^balls\.csv$`).MatchString(got) {
		t.Errorf("without a day: %q", got)
	}
}
