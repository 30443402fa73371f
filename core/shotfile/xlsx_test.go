package shotfile

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// workbook zips parts of a workbook.
func workbook(parts map[string]string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range []string{"[Content_Types].xml", "xl/sharedStrings.xml", "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml"} {
		if text, ok := parts[name]; ok {
			w, _ := z.Create(name)
			w.Write([]byte(text))
		}
	}
	z.Close()
	return b.Bytes()
}

const xmlHead = `<?xml version="1.0" encoding="UTF-8"?>`

func TestWorkbook(t *testing.T) {
	book := workbook(map[string]string{
		"[Content_Types].xml":      xmlHead + `<Types/>`,
		"xl/sharedStrings.xml":     xmlHead + `<sst><si><t>Ball Speed (mph)</t></si><si><r><t>Launch </t></r><r><t>Angle</t></r><rPh sb="0"><t>ローンチ</t></rPh></si><si><t>Carry (yd)</t></si><si><t>up / heel</t></si></sst>`,
		"xl/worksheets/sheet1.xml": xmlHead + `<worksheet><sheetData><row r="1"><c r="A&#49;" t="inlineStr"><is><t>notes of the day</t></is></c></row></sheetData></worksheet>`,
		"xl/worksheets/sheet2.xml": xmlHead + `<worksheet><sheetData>
<row r="2"><c r="A&#50;" t="s"><v>0</v></c><c r="B&#50;" t="s"><v>1</v></c><c r="D&#50;" t="s"><v>2</v></c><c r="E2" t="inlineStr"><is><t>Setting</t></is></c><c r="F2" t="str"><v>Date</v></c></row>
<row r="3"><c r="A&#51;"><v>150.1</v></c><c r="B&#51;"><v>1.25E1</v></c><c r="D&#51;"><v>240</v></c><c r="E3" t="s"><v>3</v></c><c r="F3"><v>45827.474</v></c></row>
<row r="5"><c r="A5"><v>148</v></c><c r="D5"><v>236</v></c><c r="E5" t="s"><v>3</v></c></row>
</sheetData></worksheet>`})
	tab, err := Read("b.xlsx", book, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(tab.Shots) != 2 || tab.Shots[1].Line != 5 || tab.Shots[0].Setting.Key() != "up / heel" || tab.Shots[0].Clock != "45827.474" {
		t.Fatalf("%+v", tab.Shots)
	}
	value(t, tab, 0, shot.BallSpeed, units.UnitMPH, 150.1)
	value(t, tab, 0, shot.Launch, units.UnitDeg, 12.5)
	value(t, tab, 1, shot.Carry, units.UnitYd, 236)
	if _, ok := tab.Shots[1].Values[shot.Launch]; ok {
		t.Error("an empty cell was read")
	}
}

func TestBadWorkbooks(t *testing.T) {
	wide := strings.Builder{}
	wide.WriteString(xmlHead + "<worksheet><sheetData>")
	for i := range 7000 {
		fmt.Fprintf(&wide, `<row r="%d"><c r="SR%d"><v>1</v></c></row>`, i+1, i+1)
	}
	wide.WriteString("</sheetData></worksheet>")
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"no sheet":    {workbook(map[string]string{"[Content_Types].xml": "x"}), "without a spreadsheet"},
		"empty sheet": {workbook(map[string]string{"xl/worksheets/sheet1.xml": xmlHead + "<worksheet/>"}), "no filled sheet"},
		"broken xml":  {workbook(map[string]string{"xl/worksheets/sheet1.xml": xmlHead + "<worksheet><row>"}), "sheet1.xml"},
		"cut off":     {workbook(map[string]string{"xl/worksheets/sheet1.xml": xmlHead + "<worksheet/>"})[:60], "can't be opened"},
		"bomb":        {workbook(map[string]string{"xl/worksheets/sheet1.xml": xmlHead + strings.Repeat(" ", maxUnpacked)}), "bytes"},
		"wide":        {workbook(map[string]string{"xl/worksheets/sheet1.xml": wide.String()}), "cells"},
	} {
		if _, err := Read("b.xlsx", c.data, Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.want)
		}
	}
}

func TestJSONShapes(t *testing.T) {
	for name, text := range map[string]string{
		"wrapped":         `{"player":"x","shots":[{"ball_speed_mph":150,"carry_yd":240},{"ball_speed_mph":148,"carry_yd":236}]}`,
		"nested":          `[{"ball":{"speed_mph":150},"carry_yd":240},{"ball":{"speed_mph":148},"carry_yd":236}]`,
		"value and unit":  `[{"BallSpeed":{"value":150,"unit":"mph"},"Carry":{"unit":"yd","value":240}},{"BallSpeed":{"value":148,"unit":"mph"},"Carry":{"value":236,"unit":"yd"}}]`,
		"sessions":        `{"sessions":[{"date":"2025-07-10","shots":[{"ball_speed_mph":150,"carry_yd":240}]},{"date":"2025-07-11","shots":[{"ball_speed_mph":148,"carry_yd":236}]}]}`,
		"object a line":   "{\"ball_speed_mph\":150,\"carry_yd\":240}\n{\"ball_speed_mph\":148,\"carry_yd\":236}\n",
		"list of lists":   `[["Ball Speed (mph)","Carry (yd)"],[150,240],["148","236"]]`,
		"numbers as text": `[{"Ball Speed (mph)":"150","Carry (yd)":"240,0"},{"Ball Speed (mph)":"148","Carry (yd)":"236,0"}]`,
	} {
		t.Run(name, func(t *testing.T) {
			tab, err := Read(name, []byte(text), Options{})
			if err != nil || len(tab.Shots) != 2 {
				t.Errorf("%d shots, %v", len(tab.Shots), err)
				return
			}
			value(t, tab, 0, shot.BallSpeed, units.UnitMPH, 150)
			value(t, tab, 1, shot.Carry, units.UnitYd, 236)
			if name == "sessions" && (tab.Shots[0].Clock != "2025-07-10" || tab.Shots[1].Clock != "2025-07-11") {
				t.Errorf("sessions: dates %q, %q", tab.Shots[0].Clock, tab.Shots[1].Clock)
			}
		})
	}
	if _, err := Read("deep", []byte(strings.Repeat(`{"a":`, 5000)+"1"+strings.Repeat("}", 5000)), Options{}); err == nil {
		t.Error("JSON nested 5000 deep is read")
	}
}
