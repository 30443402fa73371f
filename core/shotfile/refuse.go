package shotfile

import (
	"errors"

	"ferrule/core/message"
)

// ErrNoShots is wrapped by the errors of files that hold nothing usable.
var ErrNoShots = errors.New("no shots found")

// FileError says why a file as a whole is refused: where, what was read there
// and what is expected. Rows that cannot be used are shot.RowErrors instead.
type FileError struct {
	Line           int // 1-based; of JSON and text the line of the file, of a workbook the row of the sheet
	Column         int // 1-based; of a table the cell in its line, of JSON the character
	read, expected any // texts or messages
}

// Error is a sentence for people.
func (e *FileError) Error() string { return e.Message().String() }

// Message is the same in no language yet.
func (e *FileError) Message() message.Message {
	return message.Of("problem.file", e.Line, e.Column, e.read, e.expected)
}

// Unwrap is ErrNoShots.
func (e *FileError) Unwrap() error { return ErrNoShots }

// refuse takes what was read and what is expected as texts or messages.
func refuse(line, column int, read, expected any) error {
	return &FileError{max(line, 1), max(column, 1), read, expected}
}

// whyNot is the message key, or withLimit where err is a limit of the reader that a part
// of a file passes: that has a place for it. Other errors are the decoders' own, in
// English whatever the reader's language: where it stands says enough.
func whyNot(key, withLimit string, err error, places ...any) message.Message {
	var limit *message.Message
	if errors.As(err, &limit) {
		return message.Of(withLimit, append(places, err)...)
	}
	return message.Of(key, places...)
}

// tooBig says where a file passes a limit of what.
func tooBig(line, column int, what message.Message, limit int) error {
	return refuse(line, column, message.Of("problem.more-than", limit, what), message.Of("problem.want-fewer"))
}

var (
	wantTable   = message.Of("problem.want-table")
	wantHeaders = message.Of("problem.want-headers")
	wantJSON    = message.Of("problem.want-list", `[{"ball_speed_mph":150, ...}, ...]`)
)
