package chart

import "strings"

// drawnWords are the trade's words that a drawing explains, each in parts: how a
// line is drawn, a letter of wordLines, and its path in a field of 200 by 110. A
// head is drawn for a right-hander, angles far larger than they are.
var drawnWords = map[string]string{
	"loft":             "f M128 98C116 100 70 102 62 96C58 80 84 56 112 46Z|i M20 100H185|d M128 98V28|d M128 98L106 26|a M128 98L112 46|a M108.6 34.9A66 66 0 0 1 128 32|b M142 90h0",
	"lie":              "f M30 92C28 70 60 62 92 74L104 92C80 100 40 100 30 92Z|i M10 98H190|d M82.5 98L98 80|a M98 80L160 8|a M122.5 98A40 40 0 0 0 108.6 67.7",
	"face":             "f M68 36C60 84 82 106 102 106C126 106 140 88 134 60Z|d M101 48V4|a M68 36L134 60|a M101 48L116 6.6|a M101 14A34 34 0 0 1 112.6 16",
	"weight":           "f M60 40C54 84 78 106 100 106C124 106 148 84 142 40Z|d M101 40V6|w M78 60h0|o M124 60h0",
	"carry":            "i M15 98H185|i M20 98Q115 -20 160 98|a M20 98H160|b M160 90h0",
	"total":            "i M15 98H190|i M20 98Q115 -20 150 98|d M150 98V70|a M20 98H182|b M182 90h0",
	"offline":          "f M70 6H130V106H70Z|d M100 106V6|i M100 100Q100 50 150 25|a M100 25H146|b M150 25h0",
	"apex":             "i M15 98H185|i M20 98Q115 -20 175 98|d M60 39H150|a M106 97V39",
	"window":           "f M20 28H180V52H20Z|i M15 98H185|i M20 98Q115 -20 175 98|b M106 39h0",
	"launch":           "i M20 98H185|d M40 88H180|a M40 88L170 34|a M120 88A80 80 0 0 0 113.9 57.3|b M40 88h0",
	"launch_direction": "f M70 6H130V106H70Z|d M100 106V6|a M100 100L130 20|a M100 50A50 50 0 0 1 117.6 53.2|b M100 98h0",
	"descent":          "i M15 98H185|i M20 98Q120 0 165 98|d M165 98H110|a M165 98L144.1 52.5|a M125 98A40 40 0 0 1 148.3 61.6",
	"spin":             "f M100 20a36 36 0 1 0 .1 0Z|a M140 38A46 46 0 0 0 62 34M62 34l2 -13M62 34l13 1",
	"spin_axis":        "f M100 20a36 36 0 1 0 .1 0Z|d M45 56H155|a M48 38L152 74|a M150 56A50 50 0 0 1 147.2 72.4",
	"smash":            "f M30 88C24 70 44 60 66 64L74 88Z|i M15 90H185|i M25 42H75M75 42l-9 -6M75 42l-9 6|a M100 42H185M185 42l-10 -7M185 42l-10 7|b M100 80h0",
	"attack":           "i M15 98H185|d M124 80H185|a M30 50Q80 108 168 56M168 56l-13 0M168 56l-8 11|b M124 82h0",
	"path":             "d M100 106V6|a M78 105L122 15M122 15l-12 8M122 15l1 14|a M100 22A38 38 0 0 1 116.7 25.9|b M100 60h0",
	"face_to_path":     "i M100 96L86 12M86 12l-4 12M86 12l9 9|a M100 96L126 14M126 14l-12 7M126 14l2 13|a M91.8 46.7A50 50 0 0 1 115.1 48.3|b M100 96h0",
	"strike":           "f M40 70C38 40 90 28 150 44C170 50 166 84 146 92C100 104 50 100 40 70Z|d M100 30V100M40 68H165|a M100 68H124V58|w M124 54h0",
	"ring":             "f M100 10C160 10 165 98 100 98C35 98 40 10 100 10Z|o M100 40h0M78 52h0M120 56h0M96 66h0M110 82h0M70 74h0M88 30h0M128 34h0M40 40h0M168 84h0",
}

// wordLines are the ways of drawing a part.
var wordLines = map[byte]string{
	'i': `stroke="var(--ink)" stroke-width="2"`,
	'a': `stroke="var(--accent)" stroke-width="3"`,
	'd': `stroke="var(--soft)" stroke-width="1.5" stroke-dasharray="4 4"`,
	'f': `fill="var(--fairway)" stroke="var(--ink)" stroke-width="2"`,
	'b': `stroke="var(--ink)" stroke-width="14"`,
	'o': `stroke="var(--ink)" stroke-width="8"`,
	'w': `stroke="var(--accent)" stroke-width="16"`,
}

// sameDrawing are words that another word's drawing shows.
var sameDrawing = map[string]string{"dynamic_loft": "loft", "backspin": "spin", "offline_total": "offline", "strike_toe": "strike", "strike_high": "strike"}

// WordOf is the key of the drawing that explains a word; empty where none does.
func WordOf(key string) string {
	if same := sameDrawing[key]; same != "" {
		return same
	}
	if drawnWords[key] != "" {
		return key
	}
	return ""
}

// Word is the drawing that explains a word. Its sentence stands beside it.
func Word(key string) string {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="word-drawing" viewBox="0 0 200 110" fill="none" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true" focusable="false">`)
	for _, part := range strings.Split(drawnWords[WordOf(key)], "|") {
		if part != "" {
			b.WriteString("<path " + wordLines[part[0]] + ` d="` + part[2:] + `"/>`)
		}
	}
	b.WriteString("</svg>")
	return b.String()
}
