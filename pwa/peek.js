// Reads the answer out of a shared link while the program is still loading,
// so that a link tells its setting at once. It decodes only the first fields of
// the answer, by the list that core/share writes into the page (Layout); links of
// versions 1 to 4 have no list. One test holds both decoders to the same
// numbers. Plain script, no network, text nodes only.
"use strict";

const ferrulePeekWords = ["up", "down", "flat", "upright", "heel", "toe", "middle", "neutral", "half", "back", "front", "standard", "open", "closed",
  ", ", "-up", "-upright", "-flat", " 10", " 20", "square", "draw", "fade", "high", "low", "loft", "lie", "face", "weight", "sleeve", "slider",
  "track", "driver", "wood", "hybrid", "club", "left", "right", "range", "own", "ball", " ball", " / ", "-down", " 15", " 5",
  " mm", " g", "half ", "+1", "+2", "-1", "-2", ".5", "°", "my ", "position", "er", "in", "an", "on", "ei", "te", "en"];

// ferrulePeek returns the answer of a link's text by name of field, null when it
// holds none, and throws an Error when it can't be read: newer is set on one that
// was made by a later version, all others are damaged.
function ferrulePeek(text, layout) {
  const damaged = () => new Error("damaged");
  text = text.trim().replace(/^#?(s=)?/, "");
  if (text.length > 65536 || !/^[A-Za-z0-9_-]{8,}$/.test(text)) { throw damaged(); }
  const plain = text.replace(/-/g, "+").replace(/_/g, "/");
  let raw;
  try { raw = atob(plain); } catch (e) { throw damaged(); }
  if (btoa(raw).replace(/=+$/, "") !== plain) { throw damaged(); } // atob forgives a changed last character
  
  const b = Uint8Array.from(raw, (c) => c.charCodeAt(0));
  let crc = -1;
  for (let i = 0; i < b.length - 4; i++) {
    crc ^= b[i];
    for (let k = 0; k < 8; k++) { crc = crc >>> 1 ^ (crc & 1 ? 0xedb88320 : 0); }
  }
  crc = ~crc >>> 0;
  const end = b.length - 4;
  if (end < 2 || crc !== (b[end] | b[end + 1] << 8 | b[end + 2] << 16 | b[end + 3] << 24) >>> 0) { throw damaged(); }
  if (b[0] > 5) { throw Object.assign(new Error("newer"), { newer: true }); }
  if (b[0] < 1) { throw damaged(); }

  let at = 8, stop = 8 * end;
  const get = (n) => {
    let v = 0;
    for (; n > 0; n--, at++) {
      if (at >= stop) { throw damaged(); }
      v = v * 2 + (b[at >> 3] >> (7 - (at & 7)) & 1);
    }
    return v;
  };
  const golomb = (k) => {
    let n = k;
    while (get(1)) { if (++n > 52) { throw damaged(); } }
    return 2 ** n + get(n) - 2 ** k;
  };
  const signed = (k) => { const u = golomb(k); return u % 2 ? -(u + 1) / 2 : u / 2; };
  const string = () => {
    const n = golomb(2);
    if (n > 200) { throw damaged(); }
    let s = "";
    for (let i = 0; i < n; i++) {
      if (get(1)) { s += ferrulePeekWords[get(6)]; continue; }
      let c = get(7);
      if (c === 127) { c = get(21); }
      if (c > 0x10ffff) { throw damaged(); }
      s += String.fromCodePoint(c);
    }
    return s;
  };
  const percent = () => { const n = get(7); if (n > 100) { throw damaged(); } return n / 100; };
  if (b[0] < 5) { return ferrulePeekOld({ get, golomb, signed, string, percent }); }

  // Sections: kind, length, body; 1 is the answer.
  for (let from = 1; from < end;) {
    const kind = b[from++];
    let n = 0, shift = 0, more = true;
    while (more) {
      if (from >= end || shift > 28) { throw damaged(); }
      n += (b[from] & 127) * 2 ** shift;
      shift += 7;
      more = b[from++] > 127;
    }
    if (from + n > end) { throw damaged(); }
    if (kind !== 1) { from += n; continue; }
    at = 8 * from; stop = 8 * (from + n);
    stop -= get(3);
    const s = {}, steps = {};
    for (const f of layout) {
      if (f.when && !s[f.when.replace("!", "")] === !f.when.startsWith("!")) { continue; }
      if (at >= stop) { break; }
      switch (f.form) {
        case "flag": s[f.name] = get(1) === 1; break;
        case "word": s[f.name] = f.words[get(3)] || f.words[0]; break;
        case "label": s[f.name] = string(); break;
        case "chance": s[f.name] = percent(); break;
        case "number": // numbers that lean on each other have one step
          steps[f.name] = (f.twice ? 2 : 1) * (steps[f.from] || 0) - (steps[f.less] || 0) + signed(f.order);
          s[f.name] = steps[f.name] * f.step;
          break;
        case "count": s[f.name] = golomb(f.order); break;
        case "drives": s[f.name] = get(5) - 1; break;
      }
    }
    return s;
  }
  return null;
}

// ferrulePeekOld reads the answer of versions 1 to 4 (core/share, readOld).
function ferrulePeekOld({ get, golomb, signed, string, percent }) {
  get(1); // whether names are in it: they stand behind
  if (!get(1)) { return null; }
  const s = { left: get(1) === 1, verdict: ["cannot tell", "leaning", "likely", "clear"][get(2)], keep: get(1) === 1, round: 14 };
  const known = get(1) === 1;
  s.head = string();
  s.alone = get(1) === 1;
  const side = (name, counts) => {
    s[name + ".label"] = string();
    const fairway = percent(), trouble = Math.min(Math.round(20 * (percent() + percent())), 20);
    signed(9); signed(5);
    s[counts + ".trouble"] = trouble;
    s[counts + ".fairway"] = Math.min(Math.round(20 * fairway), 20 - trouble);
    s[counts + ".rough"] = 20 - trouble - s[counts + ".fairway"];
    s[counts + ".window"] = s[counts + ".short"] = -1;
  };
  side("today", "now");
  if (!s.alone) { side("other", "then"); }
  const chosen = s.alone ? "today" : "other";
  if (known) {
    s[chosen + ".known"] = true;
    for (const part of [".loft", ".lie", ".face"]) { s[chosen + part] = signed(4) / 10 * Math.PI / 180; }
  }
  if (!s.alone) {
    s.unit = "strokes";
    for (const part of ["mean", "lo", "hi"]) { s["gain." + part] = signed(5) / 500 * 14; }
    for (const part of ["mean", "lo", "hi"]) { s["carry." + part] = signed(4) / 4; }
  }
  s.chance = percent();
  s.balls = golomb(4); s.tested = golomb(4); s.settings = golomb(4);
  return s;
}

// ferrulePeekLines says a summary in a few lines; the first is the answer.
// words are those of core/text (cmd/site puts them into the page), mark is the
// decimal mark, metric whether lengths are told in metres.
function ferrulePeekLines(s, words, mark, metric) {
  // as Reader.Fill of core/text: {0} is the first text, {0:ball|balls} its word
  const fill = (key, ...args) => words[key].replace(/\{(\d)(?::([^|}]*)\|([^}]*))?\}/g, (place, i, one, other) =>
    i >= args.length ? place : one === undefined ? args[i] : Number(args[i]) === 1 ? one : other);
  const fixed = (v, digits) => v.toFixed(digits).replace(".", mark).replace(/^-(?=[0.,]*$)/, "").replace("-", "\u2212");
  const bare = (m) => fixed(metric ? m : m / 0.9144, 0);
  const length = (m) => bare(m) + "\u00a0" + (metric ? "m" : "yd");
  const plus = (text) => (/[1-9]/.test(text) && !text.startsWith("\u2212") ? "+" : "") + text;
  const degree = (v) => fixed(v, 1) + "°";
  const percent = (p) => fill("chart.percent", Math.round(100 * p));
  const chosen = s.keep || s.alone ? "today" : "other";
  const lines = [s.keep ? fill("choose.keep", s["today" + ".label"]) : s[chosen + ".label"]];
  const degrees = (part) => Math.round(s[chosen + part] * 1800 / Math.PI) / 10;
  const turned = (v, more, less) => v === 0 ? [] : [fill(v > 0 ? more : less, degree(Math.abs(v)))];
  const known = s[chosen + ".known"];
  const own = known && [...turned(degrees(".loft"), "degrees.more-loft", "degrees.less-loft"), ...turned(degrees(".lie"), "degrees.upright", "degrees.flat"),
    ...turned(degrees(".face"), "degrees.open", "degrees.closed")].join(" · ");
  lines.push(!known ? words["degrees.unknown"] : own ? fill("degrees.own", own) : words["degrees.own-none"]);
  if (s.keep || s.alone) {
    lines.push(words["paper.verdict.keep"]);
  } else {
    const verdicts = { "clear": "paper.verdict.clear", "likely": "paper.verdict.likely", "leaning": "paper.verdict.leaning", "cannot tell": "paper.verdict.cannot" };
    lines.push(fill(verdicts[s.verdict], percent(s.chance)));
    const c = "carry.", carry = fill("paper.gain.carry", plus(length(s[c + "mean"])), bare(s[c + "lo"]), bare(s[c + "hi"]));
    const gain = ["mean", "lo", "hi"].map((part) => fixed(s["gain." + part], 1));
    const units = { "strokes": "gain.strokes", "fairways": "gain.fairways", "window": "gain.window" };
    lines.push(!units[s.unit] ? carry : fill("paper.gain", fill(units[s.unit], gain[0]), gain[1], gain[2]) + " " + carry);
  }
  const then = chosen === "other" ? "then" : "now";
  lines.push([["fairway", "paper.expect.fairway"], ["trouble", "paper.expect.trouble"], ["window", "paper.expect.window"], ["short", "paper.expect.short"]]
    .filter(([part]) => s["now." + part] >= 0 && s[then + "." + part] >= 0)
    .map(([part, key]) => fill(key, s[then + "." + part], s["now." + part])).join(" "));
  lines.push(fill("shared.balls", s.balls, s.tested, s.settings) + " " + words["paper.caution.estimate"]);
  lines.push(words["paper.caution.rule"] + " " + words["paper.caution.tool"]);
  return lines;
}

// ferrulePeekDraw fills the prerendered page with what the address holds, in
// the language and units that the person chose here before, if any.
function ferrulePeekDraw(doc, hash, prefs) {
  const box = doc.getElementById("peek");
  if (!box || !/^#s=/.test(hash)) { return; }
  const all = JSON.parse(box.dataset.words);
  const tags = [prefs.language, ...(prefs.languages || [])].map((l) => String(l).toLowerCase());
  const language = tags.map((l) => l.split("-")[0]).find((l) => all[l]) || "en";
  const words = all[language];
  // Units that nobody chose are those of app/intl, and say so there.
  const metric = /^metric/.test(prefs.system || (/^(de|ko|es(?!-(us|mx)$))/.test(tags.slice(1).find((l) => l.split("-")[0] === language) || language) ? "metric" : ""));
  const keep = doc.getElementById("first-keep-copy"); // its tap is kept by first.js until the program stands
  let lines;
  try {
    const s = ferrulePeek(hash, JSON.parse(box.dataset.layout));
    lines = s ? ferrulePeekLines(s, words, words.mark, metric) : [words["shared.no-answer"]];
    if (keep) { keep.textContent = words["app.keep"]; keep.lang = language; keep.hidden = false; }
  } catch (e) {
    lines = [words[e.newer ? "shared.newer" : "shared.damaged"]];
    box.setAttribute("role", "alert");
  }
  lines.forEach((line, i) => {
    const p = doc.createElement(i ? "p" : "h2");
    p.textContent = line;
    box.appendChild(p);
  });
  box.lang = language;
  box.hidden = false;
}

// ferrulePeekPrefs reads what app/act keeps; denied storage gives nothing.
function ferrulePeekPrefs() {
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem("ferrule.prefs")) || {}; } catch (e) { /* as if nothing was chosen */ }
  return { languages: navigator.languages || [navigator.language], ...kept };
}

if (typeof module !== "undefined") {
  module.exports = { ferrulePeek, ferrulePeekLines, ferrulePeekDraw };
} else if (typeof document !== "undefined") {
  ferrulePeekDraw(document, location.hash, ferrulePeekPrefs());
}
