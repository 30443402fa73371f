package shotfile

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strings"
	"testing"

	"ferrule/core/frame"
)

var (
	located   = regexp.MustCompile(`^no shots found: line \d+, column \d+: read (?s:.+), expected .+`)
	fromAnOwn = regexp.MustCompile(`^line \d+( of the export)?, column [^:]+: read (?s:.+), expected .+`)
	ofARow    = regexp.MustCompile(`^read (?s:.+), expected .+`)
)

// TestEveryErrorSaysWhere makes each error that a file can bring and asks of
// every one that it names line, column, what was read and what is expected.
func TestEveryErrorSaysWhere(t *testing.T) {
	sheet := func(s string) []byte {
		return workbook(map[string]string{"xl/worksheets/sheet1.xml": s})
	}
	for name, c := range map[string]struct {
		data []byte
		at   string // place and part of what was read
	}{
		"empty":              {nil, "line 1, column 1: read nothing"},
		"too large":          {make([]byte, maxBytes+1), "line 1, column 1: read a file of 12 MB"},
		"a picture":          {[]byte("\x89PNG\r\n\x1a\n"), "read a picture"},
		"binary":             {[]byte("abc\x00\x01\x02\x03\x04\x05\x06\x07\x00\x01"), "read binary data"},
		"no header":          {[]byte("\n\nhello,there\n1,2\n"), `line 3, column 1: read "hello there"`},
		"no shot":            {[]byte("a day\n\nBall Speed,Carry\n"), "line 3, column 1: read a header and no shot"},
		"only words":         {[]byte("Setting,Ball\nup,x\n"), "line 1"},
		"no number":          {[]byte("Ball Speed (mph),Carry (yd)\n150 cats,dogs 7\n"), `line 2, column 1`},
		"too many lines":     {[]byte("Carry,Ball Speed\n" + strings.Repeat("200,60\n", maxLines+5)), "line 30001, column 1"},
		"too many, by space": {[]byte("Carry  Ball Speed\n" + strings.Repeat("200  60\n", maxLines+5)), "line 30001, column 1"},
		"too many cells":     {[]byte("Carry,Ball Speed\n" + strings.Repeat(strings.Repeat("200,", 400)+"1\n", maxCells/400+2)), "cells"},
		"too wide":           {[]byte("Carry,Ball Speed\n200" + strings.Repeat(",60", maxWidth+2) + "\n"), "line 2, column 513"},
		"broken JSON":        {[]byte("[{\"carry\":200},\n {\"carry\":oops}]"), "line 2, column 11"},
		"JSON cut off":       {[]byte("[{\"carry\":200},\n {\"carry\""), "line 2"},
		"deep JSON":          {[]byte(strings.Repeat(`{"a":`, 99)), "nested more than"},
		"deep lists":         {[]byte(strings.Repeat(`[`, 99)), "nested more than"},
		"long list":          {[]byte("[[" + strings.Repeat("1,", maxWidth+2) + "1]]"), "more than 512 cells"},
		"many records":       {[]byte("[" + strings.Repeat(`{"carry":1},`, maxLines+2) + `{}]`), "records"},
		"JSON of a number":   {[]byte(`{}`), "without a list"},
		"a torn workbook":    {sheet("<worksheet/>")[:50], "a workbook that can't be opened"},
		"no workbook":        {workbook(map[string]string{"[Content_Types].xml": "x"}), "without a spreadsheet"},
		"an empty workbook":  {sheet("<worksheet/>"), "no filled sheet"},
		"broken sheet":       {sheet(`<sheetData><row r="7"><c></row>`), "line 7, column 1"},
		"deep sheet":         {sheet(strings.Repeat("<c>", 99)), "nested more than"},
		"wide sheet":         {sheet("<x>" + strings.Repeat(`<row><c r="SR1"/></row>`, maxCells/maxWidth+2) + "</x>"), "cells"},
		"long sheet":         {sheet("<x>" + strings.Repeat(`<row/>`, maxLines+2) + "</x>"), "line 30001"},
		"broken texts":       {workbook(map[string]string{"xl/sharedStrings.xml": "<si><t>", "xl/worksheets/sheet1.xml": "<x/>"}), "sharedStrings"},
		"a text bomb":        {workbook(map[string]string{"xl/sharedStrings.xml": "<x>" + strings.Repeat("<si/>", maxCells+2) + "</x>", "xl/worksheets/sheet1.xml": "<x/>"}), "1000000 cells"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Read("f", c.data, Options{})
			if err == nil {
				t.Error("no error")
				return
			}
			var at *FileError
			if !located.MatchString(err.Error()) || !errors.As(err, &at) || !errors.Is(err, ErrNoShots) || !strings.Contains(err.Error(), c.at) {
				t.Errorf("%q, want line, column, what was read and expected, with %q", err, c.at)
			}
		})
	}
	own := "{\"ferrule\":\"session\",\n\"version\":1,\n\"session\":{\"Shots\":[{\"Line\":\"x\"}]}}"
	for name, text := range map[string]string{"another kind": own, "cut off": own[:40], "newer": `{"ferrule":"session","version":99,"session":{}}`, "no session": `{"ferrule":"hat"}`,
		"no quantity": `{"ferrule":"session","version":1,"session":{"Shots":[{"Values":{"hat":1}}]}}`,
		"a cell":      "Shot ID,Carry (m)\n1,far\n\"# ferrule session {\"\"ferrule\"\":\"\"session\"\",\"\"version\"\":1,\"\"session\"\":{}}\"\n",
		"a unit":      "Shot ID,Carry (hats)\n1,2\n\"# ferrule session {\"\"ferrule\"\":\"\"session\"\",\"\"version\"\":1,\"\"session\"\":{}}\"\n"} {
		if _, err := Read("f", []byte(text), Options{}); err == nil || !fromAnOwn.MatchString(err.Error()) {
			t.Errorf("our own export, %s: %v", name, err)
		}
	}
}

func TestEveryRowErrorSaysWhere(t *testing.T) {
	rows := map[string]struct{ text, column, read string }{
		"no number":             {"fast,240,1 R,2", "Ball Speed (mph)", `"fast"`},
		"two numbers":           {"150 160,240,1 R,2", "Ball Speed (mph)", `"150 160"`},
		"a strange word":        {"150 cats,240,1 R,2", "Ball Speed (mph)", `"cats"`},
		"beyond any ball":       {"1500,240,1 R,2", "Ball Speed (mph)", `"1500"`},
		"two sides":             {"150,240,1 R L,2", "Offline (yd)", "two sides"},
		"a minus and a side":    {"150,240,-1 R,2", "Offline (yd)", "contradict"},
		"no side":               {"150,240,7,2", "Offline (yd)", "without a side"},
		"zeros in every column": {"0,0,0,0", "", "zeros in all 4 columns"},
		"nothing":               {"-,-,-,-", "", `"- - - -"`},
	}
	for name, c := range rows {
		t.Run(name, func(t *testing.T) {
			text := "Ball Speed (mph),Carry (yd),Offline (yd),Launch Angle (deg)\n150,240,1 R,12\n149,238,2 L,11\n151,242,3 R,13\n" + c.text + "\n148,236,2 L,12\n"
			tab, err := Read("f", []byte(text), Options{Hand: frame.Right})
			if err != nil {
				t.Errorf("%v", err)
				return
			}
			found := false
			for _, e := range tab.Errors {
				if !ofARow.MatchString(e.Message.String()) {
					t.Errorf("%q names not what was read and what is expected", e.Message)
				}
				found = found || e.Line == 5 && e.Column == c.column && strings.Contains(e.Message.String(), c.read)
			}
			if !found {
				t.Errorf("errors %+v, want line 5, column %q, %q", tab.Errors, c.column, c.read)
			}
		})
	}
}

// Errors are made by refuse, tooBig and reject alone, which ask for the place,
// what was read and what is expected.
func TestErrorsAreMadeInOnePlace(t *testing.T) {
	files, _ := os.ReadDir(".")
	fset := token.NewFileSet()
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") || f.Name() == "refuse.go" {
			continue
		}
		tree, err := parser.ParseFile(fset, f.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		ast.Inspect(tree, func(node ast.Node) bool {
			if call, ok := node.(*ast.CallExpr); ok {
				switch fmt.Sprint(call.Fun) {
				case "&{fmt Errorf}", "&{errors New}":
					n++
				}
			}
			return true
		})
		if n != 0 {
			t.Errorf("%s makes %d errors of its own: use refuse, tooBig or reject", f.Name(), n)
		}
	}
}
