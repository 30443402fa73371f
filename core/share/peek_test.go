package share

import (
	"encoding/json"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"sort"
	"strings"
	"testing"
)

// peeked are the first fields of an answer as pwa/peek.js gives them.
func peeked(g *Given) map[string]any {
	r := func(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
	m := map[string]any{}
	set := map[string]bool{}
	for _, f := range shownFields() {
		if !f.has(set) {
			continue
		}
		switch p := f.at(g).(type) {
		case *bool:
			m[f.name], set[f.name] = *p, *p
		case *string:
			m[f.name] = *p
		case *int:
			m[f.name] = float64(*p)
		case *uint64:
			m[f.name] = float64(*p)
		case *float64:
			m[f.name] = r(*p)
		}
	}
	return m
}

// peekText are words for the script: one real language and an invented one
// that shows each key with its places.
func peekText(t *testing.T) string {
	en := map[string]string{"mark": "."}
	for _, k := range []string{"choose.keep", "chart.percent", "degrees.own", "degrees.own-none", "degrees.more-loft", "degrees.less-loft",
		"degrees.upright", "degrees.flat", "degrees.open", "degrees.closed", "degrees.unknown", "paper.verdict.keep", "paper.verdict.clear", "paper.verdict.likely",
		"paper.verdict.leaning", "paper.verdict.cannot", "paper.gain", "paper.gain.carry", "paper.expect.fairway", "paper.expect.trouble", "paper.expect.window",
		"paper.expect.short", "gain.strokes", "gain.fairways", "gain.window", "paper.caution.estimate", "paper.caution.rule", "paper.caution.tool", "shared.balls", "shared.no-answer",
		"shared.damaged", "shared.newer"} {
		en[k] = k[strings.LastIndex(k, ".")+1:] + " {0} {1} {2} {3}"
	}
	en["shared.balls"] = "{0} {0:ball|balls} with {1} of {2} {2:setting|settings}"
	other := maps.Clone(en)
	other["mark"] = ","
	out, err := json.Marshal(map[string]any{"en": en, "xx": other, "es": other})
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// script reads every link with pwa/peek.js, damages each short one everywhere and
// says the first in two languages.
const script = `
const p = require(process.argv[1]), fs = require("fs"), out = {};
const r = (v) => typeof v === "number" ? Math.round(v * 1e6) / 1e6 + 0 : Array.isArray(v) ? v.map(r) :
  v && typeof v === "object" ? Object.fromEntries(Object.entries(v).map(([k, x]) => [k, r(x)])) : v;
let unnoticed = 0;
const layout = JSON.parse(process.env.LAYOUT);
const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
for (const f of process.argv.slice(2)) {
  const text = fs.readFileSync(f, "utf8");
  out[f.split("/").pop()] = r(p.ferrulePeek(text, layout));
  const t = text.trim();
  if (t.length > 400) { continue; }
  for (let i = 0; i < t.length; i++) {
    const c = alphabet[alphabet.indexOf(t[i]) ^ 1]; // the least change
    try { p.ferrulePeek(t.slice(0, i) + c + t.slice(i + 1), layout); unnoticed++; } catch (e) { if (!/damaged|newer/.test(e.message)) { throw e; } }
    try { p.ferrulePeek(t.slice(0, i), layout); unnoticed++; } catch (e) { if (!/damaged|newer/.test(e.message)) { throw e; } }
  }
}
const words = JSON.parse(process.env.WORDS);
const lines = (hash, prefs) => {
  const made = [], box = { dataset: { words: process.env.WORDS, layout: process.env.LAYOUT }, setAttribute(n, v) { made.push(n + "=" + v); }, appendChild(k) { made.push(k.textContent); } };
  p.ferrulePeekDraw({ getElementById: () => box, createElement: () => ({}) }, hash, prefs);
  return made;
};
const first = fs.readFileSync(process.argv[2], "utf8").trim();
out.lines = { imperial: lines("#s=" + first, {}), metric: lines("#s=" + first, { languages: ["yy", "XX-YY"], system: "metric" }),
  spain: lines("#s=" + first, { languages: ["es-ES", "en"], system: "" })[3], mexico: lines("#s=" + first, { languages: ["es-MX"] })[3], chosen: lines("#s=" + first, { languages: ["es-ES"], system: "imperial" })[3],
  damaged: lines("#s=A" + first, {}), none: lines("", {}) };
out.unnoticed = unnoticed;
console.log(JSON.stringify(out));`

// TestBothDecodersAgree holds core/share and pwa/peek.js to the golden
// summaries of all golden links. The script's part needs node.
func TestBothDecodersAgree(t *testing.T) {
	const golden, goldenLines = "../../testdata/share/peek.json", "../../testdata/share/peek-lines.json"
	files, _ := filepath.Glob("../../testdata/share/v*.txt")
	sort.Strings(files)
	got := map[string]any{}
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		l := decode(t, string(raw))
		got[filepath.Base(f)] = nil
		if l.Given != nil {
			got[filepath.Base(f)] = peeked(l.Given)
		}
	}
	if *update {
		out, err := json.MarshalIndent(got, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, append(out, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	raw, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	var want map[string]any
	if err := json.Unmarshal(raw, &want); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("core/share reads\n%v\nwant\n%v", got, want)
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Log("no node here: pwa/peek.js was not run")
		return
	}
	peek, err := filepath.Abs("../../pwa/peek.js")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, append([]string{"-e", script, peek}, files...)...)
	cmd.Env = append(os.Environ(), "WORDS="+peekText(t), "LAYOUT="+Layout())
	cmd.Stderr = os.Stderr
	printed, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v", err)
	}
	var read map[string]any
	if err := json.Unmarshal(printed, &read); err != nil {
		t.Fatal(err)
	}
	lines := read["lines"]
	if *update {
		out, err := json.MarshalIndent(lines, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(goldenLines, append(out, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if raw, err = os.ReadFile(goldenLines); err != nil {
		t.Fatal(err)
	}
	var said any
	if err := json.Unmarshal(raw, &said); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(lines, said) {
		t.Errorf("the script says\n%v\nwant\n%v", lines, said)
	}
	if read["unnoticed"] != 0.0 {
		t.Errorf("the script missed %v damaged links", read["unnoticed"])
	}
	delete(read, "lines")
	delete(read, "unnoticed")
	for name, w := range want {
		got, ok := read[name].(map[string]any)
		if all, there := w.(map[string]any); there && ok && name < "v5" { // an old link says less, and the script only that
			for k, v := range got {
				if !reflect.DeepEqual(all[k], v) {
					t.Errorf("pwa/peek.js reads %s of %s as %v, want %v", k, name, v, all[k])
				}
			}
			continue
		}
		if !reflect.DeepEqual(read[name], w) {
			t.Errorf("pwa/peek.js reads %s as\n%v\nwant\n%v", name, read[name], w)
		}
	}
	list, _ := os.ReadFile(peek)
	i := strings.Index(string(list), "ferrulePeekWords = [")
	var js []string
	if err := json.Unmarshal([]byte(string(list)[i+len("ferrulePeekWords = "):i+len("ferrulePeekWords = ")+strings.Index(string(list)[i+len("ferrulePeekWords = "):], "];")+1]), &js); err != nil || !reflect.DeepEqual(js, words) {
		t.Errorf("the script's list of words differs: %v", err)
	}
}
