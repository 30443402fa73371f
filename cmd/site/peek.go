//go:build !js

package main

import (
	"encoding/json"
	"slices"

	"ferrule/core/text"
	"ferrule/core/units"
)

// peekKeys are the words with which pwa/peek.js says a shared link's answer
// while the program loads; a test holds them against the script.
var peekKeys = []string{
	"choose.keep", "chart.percent",
	"degrees.own", "degrees.own-none", "degrees.more-loft", "degrees.less-loft", "degrees.upright", "degrees.flat", "degrees.open", "degrees.closed", "degrees.unknown",
	"paper.verdict.keep", "paper.verdict.clear", "paper.verdict.likely", "paper.verdict.leaning", "paper.verdict.cannot",
	"paper.gain", "paper.gain.carry", "paper.expect.fairway", "paper.expect.trouble", "paper.expect.window", "paper.expect.short",
	"gain.strokes", "gain.fairways", "gain.window",
	"paper.caution.estimate", "paper.caution.rule", "paper.caution.tool",
	"app.keep", "shared.balls", "shared.no-answer", "shared.damaged", "shared.newer",
}

// peekWords are these words in every language, as JSON: by language, by key,
// and each language's decimal mark as "mark".
func peekWords() string {
	all := map[text.Language]map[string]string{}
	for _, l := range text.Languages {
		r := text.Reader{Language: l}
		all[l] = map[string]string{"mark": string([]rune(r.Plain(0.5, units.None, 1))[1])}
		for _, k := range slices.Sorted(slices.Values(peekKeys)) {
			all[l][k] = r.Word(k)
		}
	}
	out, err := json.Marshal(all)
	if err != nil {
		panic(err) // texts always encode
	}
	return string(out)
}
