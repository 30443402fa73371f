//go:build !fetched

package shotfile

import (
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
)

func init() {
	asian := map[string]encoding.Encoding{shiftJIS: japanese.ShiftJIS, eucKR: korean.EUCKR, gb18030: simplifiedchinese.GB18030}
	charset = func(name string, data []byte) (string, error) {
		text, err := asian[name].NewDecoder().Bytes(data)
		return string(text), err
	}
}
