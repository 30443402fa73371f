//go:build !fetched

package shotfile

import (
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
)

func init() {
	asian := map[string]encoding.Encoding{shiftJIS: japanese.ShiftJIS, eucKR: korean.EUCKR}
	charset = func(name string, data []byte) (string, error) {
		text, err := asian[name].NewDecoder().Bytes(data)
		return string(text), err
	}
}
