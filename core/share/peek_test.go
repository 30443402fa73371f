package share

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"sort"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/units"
)

// peeked is a summary as pwa/peek.js gives it.
func peeked(s *Summary) map[string]any {
	r := func(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
	side := func(x Side) map[string]any {
		return map[string]any{"label": x.Label, "fairway": r(x.Fairway), "right": r(x.Right), "left": r(x.Left), "carry": r(x.Carry), "offline": r(x.Offline)}
	}
	m := map[string]any{"left_handed": s.Hand == frame.Left, "verdict": string(s.Verdict), "keep": s.Keep, "head": s.Head,
		"before": side(s.Before), "choice": side(s.Choice), "degrees": nil, "gain": nil, "carry": nil,
		"sure": r(s.Sure), "balls": float64(s.Balls), "tested": float64(s.Tested), "settings": float64(s.Settings)}
	if s.Known {
		m["degrees"] = map[string]any{"loft": r(s.Loft / units.Degree), "lie": r(s.Lie / units.Degree), "face": r(s.Face / units.Degree)}
	}
	if s.Choice != s.Before {
		m["gain"] = []any{r(s.Gain.Mean), r(s.Gain.Lo), r(s.Gain.Hi)}
		m["carry"] = []any{r(s.Carry.Mean), r(s.Carry.Lo), r(s.Carry.Hi)}
	}
	return m
}

// TestBothDecodersAgree holds core/share and pwa/peek.js to the golden
// summaries of all golden links. The script's part needs node.
func TestBothDecodersAgree(t *testing.T) {
	const golden = "../../testdata/share/peek.json"
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
		if l.Summary != nil {
			got[filepath.Base(f)] = peeked(l.Summary)
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
	const script = `
const p = require(process.argv[1]), fs = require("fs"), out = {};
const r = (v) => typeof v === "number" ? Math.round(v * 1e6) / 1e6 + 0 : Array.isArray(v) ? v.map(r) :
  v && typeof v === "object" ? Object.fromEntries(Object.entries(v).map(([k, x]) => [k, r(x)])) : v;
let unnoticed = 0;
const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
for (const f of process.argv.slice(2)) {
  const text = fs.readFileSync(f, "utf8");
  out[f.split("/").pop()] = r(p.ferrulePeek(text));
  const t = text.trim();
  if (t.length > 400) { continue; }
  for (let i = 0; i < t.length; i++) {
    const c = alphabet[alphabet.indexOf(t[i]) ^ 1]; // the least change
    try { p.ferrulePeek(t.slice(0, i) + c + t.slice(i + 1)); unnoticed++; } catch (e) { if (!/damaged|newer/.test(e.message)) { throw e; } }
    try { p.ferrulePeek(t.slice(0, i)); unnoticed++; } catch (e) { if (!/damaged|newer/.test(e.message)) { throw e; } }
  }
}
const doc = { made: [], querySelector: () => ({ insertBefore() {}, querySelector: () => null }),
  createElement(tag) { const e = { tag, kids: [], setAttribute() {}, appendChild(k) { this.kids.push(k); } }; this.made.push(e); return e; } };
p.ferrulePeekDraw(doc, "#s=" + fs.readFileSync(process.argv[2], "utf8").trim(), "en-GB");
out.lines = doc.made.filter((e) => e.textContent).map((e) => e.textContent);
out.unnoticed = unnoticed;
console.log(JSON.stringify(out));`
	peek, err := filepath.Abs("../../pwa/peek.js")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, append([]string{"-e", script, peek}, files...)...)
	cmd.Stderr = os.Stderr
	printed, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v", err)
	}
	var read map[string]any
	if err := json.Unmarshal(printed, &read); err != nil {
		t.Fatal(err)
	}
	lines, _ := json.Marshal(read["lines"])
	if !strings.Contains(string(lines), "up / heel") || !strings.Contains(string(lines), "4.1a(3)") || !strings.Contains(string(lines), " yd") {
		t.Errorf("the script says %s", lines)
	}
	if read["unnoticed"] != 0.0 {
		t.Errorf("the script missed %v damaged links", read["unnoticed"])
	}
	delete(read, "lines")
	delete(read, "unnoticed")
	if !reflect.DeepEqual(read, want) {
		t.Errorf("pwa/peek.js reads\n%v\nwant\n%v", read, want)
	}
	list, _ := os.ReadFile(peek)
	i := strings.Index(string(list), "ferrulePeekWords = [")
	var js []string
	if err := json.Unmarshal([]byte(string(list)[i+len("ferrulePeekWords = "):i+len("ferrulePeekWords = ")+strings.Index(string(list)[i+len("ferrulePeekWords = "):], "];")+1]), &js); err != nil || !reflect.DeepEqual(js, words) {
		t.Errorf("the script's list of words differs: %v", err)
	}
}
