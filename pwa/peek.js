// Reads the answer out of a shared link while the program is still loading,
// so that a link tells its setting at once. It decodes only the summary, the
// first part of a link (core/share, versions 1 to 4); one test holds both decoders
// to the same numbers. Plain script, no network, text nodes only.
"use strict";

const ferrulePeekWords = ["up", "down", "flat", "upright", "heel", "toe", "middle", "neutral", "half", "back", "front", "standard", "open", "closed",
  ", ", "-up", "-upright", "-flat", " 10", " 20", "square", "draw", "fade", "high", "low", "loft", "lie", "face", "weight", "sleeve", "slider",
  "track", "driver", "wood", "hybrid", "club", "left", "right", "range", "own", "ball", " ball", " / ", "-down", " 15", " 5",
  " mm", " g", "half ", "+1", "+2", "-1", "-2", ".5", "°", "my ", "position", "er", "in", "an", "on", "ei", "te", "en"];

// ferrulePeek returns the summary of a link's text, null when it holds none,
// and throws an Error when it can't be read: newer is set on one that was made
// by a later version, all others are damaged.
function ferrulePeek(text) {
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
  if (b[0] > 4) { throw Object.assign(new Error("newer"), { newer: true }); }
  if (b[0] < 1) { throw damaged(); }

  let at = 8;
  const get = (n) => {
    let v = 0;
    for (; n > 0; n--, at++) {
      if (at >= 8 * end) { throw damaged(); }
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
  const side = () => ({ label: string(), fairway: get(7) / 100, right: get(7) / 100, left: get(7) / 100, carry: signed(9) / 4, offline: signed(5) / 4 });

  get(1); // whether names are in it: they stand behind
  if (!get(1)) { return null; }
  const s = { left_handed: get(1) === 1, verdict: ["cannot tell", "leaning", "likely", "clear"][get(2)], keep: get(1) === 1 };
  const known = get(1), same = (s.head = string(), get(1));
  s.before = side();
  s.choice = same ? s.before : side();
  const tenths = () => signed(4) / 10;
  s.degrees = known ? { loft: tenths(), lie: tenths(), face: tenths() } : null;
  s.gain = same ? null : [signed(5) / 500, signed(5) / 500, signed(5) / 500];
  s.carry = same ? null : [signed(4) / 4, signed(4) / 4, signed(4) / 4];
  s.sure = get(7) / 100;
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
  const in20 = (p) => Math.round(20 * p);
  const lines = [s.keep ? fill("choose.keep", s.before.label) : s.choice.label];
  const d = s.degrees;
  const turned = (v, more, less) => v === 0 ? [] : [fill(v > 0 ? more : less, degree(Math.abs(v)))];
  const own = d && [...turned(d.loft, "degrees.more-loft", "degrees.less-loft"), ...turned(d.lie, "degrees.upright", "degrees.flat"), ...turned(d.face, "degrees.open", "degrees.closed")].join(" · ");
  lines.push(!d ? words["degrees.unknown"] : own ? fill("degrees.own", own) : words["degrees.own-none"]);
  if (s.keep || !s.gain) {
    lines.push(words["paper.verdict.keep"]);
  } else {
    const verdicts = { "clear": "paper.verdict.clear", "likely": "paper.verdict.likely", "leaning": "paper.verdict.leaning", "cannot tell": "paper.verdict.cannot" };
    lines.push(fill(verdicts[s.verdict], percent(s.sure)));
    lines.push(fill("paper.gain", ...s.gain.map((x) => fixed(14 * x, 1)), 14) + " " +
      fill("paper.gain.carry", plus(length(s.carry[0])), bare(s.carry[1]), bare(s.carry[2])));
  }
  lines.push(fill("paper.expect.fairway", in20(s.choice.fairway), in20(s.before.fairway)) + " " +
    fill("paper.expect.right", in20(s.choice.right), in20(s.before.right)) + " " +
    fill("paper.expect.left", in20(s.choice.left), in20(s.before.left)));
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
  let lines;
  try {
    const s = ferrulePeek(hash);
    lines = s ? ferrulePeekLines(s, words, words.mark, metric) : [words["shared.no-answer"]];
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
