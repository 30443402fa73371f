package shotfile

import (
	"errors"
	"fmt"
)

// ErrNoShots is wrapped by the errors of files that hold nothing usable.
var ErrNoShots = errors.New("no shots found")

// FileError says why a file as a whole is refused: where, what was read there
// and what is expected. Rows that cannot be used are shot.RowErrors instead.
type FileError struct {
	Line     int // 1-based; of JSON and text the line of the file, of a workbook the row of the sheet
	Column   int // 1-based; of a table the cell in its line, of JSON the character
	Read     string
	Expected string
}

// Error is a sentence for people.
func (e *FileError) Error() string {
	return fmt.Sprintf("%v: line %d, column %d: read %s, expected %s", ErrNoShots, e.Line, e.Column, e.Read, e.Expected)
}

// Unwrap is ErrNoShots.
func (e *FileError) Unwrap() error { return ErrNoShots }

func refuse(line, column int, read, expected string) error {
	return &FileError{max(line, 1), max(column, 1), read, expected}
}

// limitError is a limit of the reader that a part of a file passes.
type limitError string

func (e limitError) Error() string { return string(e) }

// whyNot adds the limit to what was read. Other errors are the decoders' own, in
// English whatever the reader's language: the place says enough.
func whyNot(read string, err error) string {
	if limit := limitError(""); errors.As(err, &limit) {
		return read + ": " + limit.Error()
	}
	return read
}

// tooBig says where a file passes a limit.
func tooBig(line, column int, what string, limit int) error {
	return refuse(line, column, fmt.Sprintf("more than %d %s", limit, what), "fewer: save the session of one day")
}

const (
	wantTable   = "a table of shots (CSV, text, XLSX or JSON)"
	wantHeaders = `a line of headers such as "Ball Speed", "Launch Angle", "Carry" above the shots`
	wantJSON    = "a list of objects such as " + `[{"ball_speed_mph":150, ...}, ...]`
)
