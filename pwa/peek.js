// Reads the answer out of a shared link while the program is still loading,
// so that a link tells its setting at once. It decodes only the summary, the
// first part of a link (core/share, version 1); one test holds both decoders
// to the same numbers. Plain script, no network, text nodes only.
"use strict";

const ferrulePeekWords = ["up", "down", "flat", "upright", "heel", "toe", "middle", "neutral", "half", "back", "front", "standard", "open", "closed",
  ", ", "-up", "-upright", "-flat", " 10", " 20", "square", "draw", "fade", "high", "low", "loft", "lie", "face", "weight", "sleeve", "slider",
  "track", "driver", "wood", "hybrid", "club", "left", "right", "range", "own", "ball", " ball", " / ", "-down", " 15", " 5",
  " mm", " g", "half ", "+1", "+2", "-1", "-2", ".5", "°", "my ", "position", "er", "in", "an", "on", "ei", "te", "en"];

// ferrulePeek returns the summary of a link's text, null when it holds none,
// and throws an Error with a sentence for people when it can't be read.
function ferrulePeek(text) {
  const damaged = () => new Error("This link is damaged: a part of it is missing or changed. Ask for it again.");
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
  if (b[0] > 1) { throw new Error("This link was made by a newer version. Reload the page and open it again."); }
  if (b[0] !== 1) { throw damaged(); }

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
function ferrulePeekLines(s, yards) {
  const length = (m) => Math.round(yards ? m / 0.9144 : m) + (yards ? " yd" : " m");
  const plus = (v, t) => (v > 0 ? "+" : v < 0 ? "\u2212" : "") + t;
  const deg = (v) => plus(v, Math.abs(v).toFixed(1) + "°");
  const lines = [s.keep ? "Keep " + s.choice.label : s.choice.label];
  const d = s.degrees;
  if (d) {
    lines.push("Loft " + deg(d.loft) + " with the face square, lie " + deg(d.lie) + " upright, face " +
      (d.face === 0 ? "unturned" : Math.abs(d.face).toFixed(1) + "° more " + (d.face > 0 ? "open" : "closed")) + " when soled.");
  }
  if (s.keep || !s.gain) {
    lines.push("No other setting is known to be better.");
  } else {
    lines.push("Against " + s.before.label + ": " + s.verdict + ", better with a chance of " + Math.round(100 * s.sure) + " %.");
    const g = s.gain.map((x) => plus(14 * x, Math.abs(14 * x).toFixed(1)));
    const c = s.carry.map((x) => plus(x, length(Math.abs(x))));
    lines.push("Strokes saved in 14 drives: " + g[0] + " (8 in 10: " + g[1] + " … " + g[2] + "). Carry: " + c[0] + " (" + c[1] + " … " + c[2] + ").");
  }
  lines.push("Carry " + length(s.choice.carry) + "; fairways in 20 drives: " + Math.round(20 * s.choice.fairway) + ", too far right: " +
    Math.round(20 * s.choice.right) + ", too far left: " + Math.round(20 * s.choice.left) + ".");
  lines.push(s.balls + " balls with " + s.tested + " of " + s.settings + " settings. An estimate, not a promise.");
  lines.push("Adjust before a round only (Rule 4.1a(3)), with the club maker's own tool.");
  return lines;
}

// ferrulePeekDraw fills the prerendered page with what the address holds.
function ferrulePeekDraw(doc, hash, language) {
  if (!/^#s=/.test(hash)) { return; }
  const main = doc.querySelector(".shell main");
  if (!main) { return; }
  const box = doc.createElement("section");
  box.id = "peek";
  let lines;
  try {
    const s = ferrulePeek(hash);
    lines = s ? ferrulePeekLines(s, /^en/.test(language || "")) : ["This link holds shots without an answer yet."];
  } catch (e) {
    lines = [e.message];
    box.setAttribute("role", "alert");
  }
  lines.forEach((line, i) => {
    const p = doc.createElement(i ? "p" : "h2");
    p.textContent = line;
    box.appendChild(p);
  });
  main.insertBefore(box, main.querySelector("nav"));
}

if (typeof module !== "undefined") {
  module.exports = { ferrulePeek, ferrulePeekLines, ferrulePeekDraw };
} else if (typeof document !== "undefined") {
  ferrulePeekDraw(document, location.hash, navigator.language);
}
