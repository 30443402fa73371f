// What a test asks of a screen. axe-core asks about names, roles and the
// contrast of text; the rest is ours:
//   wide     nothing is wider than the screen
//   target   what is touched is 48 px high (WCAG 2.2 asks for 24)
//   list     every choice of a list can be read whole; of people's own names (a visit's) only the 24 letters of its day
//   drawn    text in a drawing: contrast 4.5 to 1 with what lies behind it (WCAG 2.2, 1.4.3)
//   covered  no mark lies over a text of a drawing
//   mark     marks in a drawing: contrast 3 to 1 with the paper (WCAG 2.2, 1.4.11)
//   overlap  no two texts of a drawing lie over each other
//   cut      no text of a drawing stands out of it
//   words    no word of a page lies over another, leaves the screen or what is touched
const ferruleChannels = (text) => {
  const m = /rgba?\(([^)]+)\)/.exec(text);
  if (!m) { return null; }
  const v = m[1].split(/[ ,/]+/).map(Number);
  return { r: v[0], g: v[1], b: v[2], a: v.length > 3 ? v[3] : 1 };
};
const ferruleOver = (top, below) => ({
  r: top.r * top.a + below.r * (1 - top.a), g: top.g * top.a + below.g * (1 - top.a), b: top.b * top.a + below.b * (1 - top.a), a: 1,
});
// Relative luminance and contrast ratio as WCAG 2.2 defines them.
const ferruleLuminance = (c) => {
  const part = (v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
  return 0.2126 * part(c.r) + 0.7152 * part(c.g) + 0.0722 * part(c.b);
};
const ferruleContrast = (a, b) => {
  const x = ferruleLuminance(a), y = ferruleLuminance(b);
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
};

// how is "all", "colours" (of another theme of a screen already looked at only
// the contrasts are new) or "no axe".
async function ferruleInspect(width, how) {
  const faults = [];
  const say = (Rule, Where, What) => faults.push({ Rule, Where, What });
  const short = (e) => (e.id ? "#" + e.id : e.tagName + "." + (e.getAttribute("class") || "")) + " " + (e.textContent || "").trim().slice(0, 40);
  const seen = (e) => { const r = e.getBoundingClientRect(); return r.width > 1 && r.height > 1 && getComputedStyle(e).visibility !== "hidden"; };

  const rules = how !== "all" ? { runOnly: { type: "rule", values: ["color-contrast", "link-in-text-block"] } } : {};
  const result = how === "no axe" ? { violations: [] } : await axe.run(document, { resultTypes: ["violations"], iframes: false, ...rules });
  for (const v of result.violations) {
    for (const n of v.nodes) { say("axe " + v.id, n.target.join(" "), (n.failureSummary || v.help).replace(/\s+/g, " ").slice(0, 200)); }
  }
  if (document.documentElement.scrollWidth > width) { say("wide", "page", document.documentElement.scrollWidth + " px on " + width); }
  for (const e of document.querySelectorAll("button, a.button, a.step, a.icon, summary, select, input[type=text], input[type=range], .pick, .check")) {
    const r = e.getBoundingClientRect();
    if (seen(e) && !e.closest(".unseen") && r.height < 47.5) { say("target", short(e), r.width.toFixed(0) + " x " + r.height.toFixed(0) + " px"); }
  }
  const pen = document.createElement("canvas").getContext("2d");
  for (const e of document.querySelectorAll("select")) {
    if (e.nextElementSibling?.matches(".chosen") && e.nextElementSibling.offsetWidth) { continue; } // what is chosen is written over it
    if (!seen(e) || !e.checkVisibility({ contentVisibilityAuto: true })) { continue; }
    const s = getComputedStyle(e);
    pen.font = s.fontWeight + " " + s.fontSize + " " + s.fontFamily;
    const room = e.clientWidth - parseFloat(s.paddingLeft) - parseFloat(s.paddingRight) - 18; // less the arrow
    for (const o of e.options) {
      const w = pen.measureText(e.closest("[data-page=visits]") ? o.text.slice(0, 24) : o.text).width;
      if (w > room) { say("list", "#" + e.id, "“" + o.text + "” takes " + w.toFixed(0) + " of " + room.toFixed(0) + " px"); }
    }
  }

  // Each line of each text, in the order in which they stand from above.
  const lines = [], range = document.createRange(), walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let n = walk.nextNode(); n; n = walk.nextNode()) {
    const e = n.parentElement;
    if (!n.data.trim() || e.closest(".unseen, svg, script, noscript, option, textarea, .skip, [hidden]") || !e.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true, opacityProperty: true })) { continue; }
    let clip = "none", room = null; // what it is cut to is left to the reader: a title with an ellipsis, a table that is moved sideways
    for (let a = e; a && a !== document.body; a = a.parentElement) {
      const s = getComputedStyle(a);
      if (s.clipPath !== "none" || s.overflowX !== "visible") { clip = "cut"; }
      if (!room && a.matches("button, a.button, .pick, .key, .set, .step, .verdict")) { room = a; }
    }
    if (clip === "cut") { continue; }
    range.selectNodeContents(n);
    if (room?.matches(".key") && range.getClientRects().length > n.data.trim().split(/\s+/).length) { say("words", short(room), "a word on two lines"); }
    for (const r of range.getClientRects()) {
      if (r.width < 2 || r.height < 2) { continue; }
      lines.push({ r, e, text: n.data.trim().slice(0, 40) });
      if (r.left < -1 || r.right > width + 1) { say("words", short(e), "from " + r.left.toFixed(0) + " to " + r.right.toFixed(0) + " px on " + width); }
      if (room) {
        const b = room.getBoundingClientRect();
        if (r.left < b.left - 1 || r.right > b.right + 1 || r.top < b.top - 2 || r.bottom > b.bottom + 2) { say("words", short(room), "“" + n.data.trim() + "” stands out of it"); }
      }
    }
  }
  lines.sort((a, b) => a.r.top - b.r.top);
  for (let i = 0; i < lines.length; i++) {
    for (let j = i + 1; j < lines.length && lines[j].r.top < lines[i].r.bottom; j++) {
      const a = lines[i], b = lines[j];
      if (a.e === b.e || a.e.closest(".notice, .slip, .steps") !== b.e.closest(".notice, .slip, .steps")) { continue; } // what lies over the page does so on purpose
      const wide = Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left), high = Math.min(a.r.bottom, b.r.bottom) - b.r.top;
      if (wide > 1 && high > .3 * Math.min(a.r.height, b.r.height)) { say("words", short(a.e), "“" + a.text + "” lies over “" + b.text + "”"); }
    }
  }

  const paper = ferruleChannels(getComputedStyle(document.body).backgroundColor);
  const behind = (svg, x, y, not) => {
    const under = document.elementsFromPoint(x, y).filter((e) => svg.contains(e) && e !== svg && !not.contains(e) && !["text", "tspan", "g"].includes(e.tagName));
    let c = paper;
    for (const e of under.reverse()) {
      const s = getComputedStyle(e);
      const fill = s.fill === "none" ? null : ferruleChannels(s.fill);
      if (!fill || fill.a === 0) { continue; }
      c = ferruleOver({ ...fill, a: fill.a * Number(s.fillOpacity) * Number(s.opacity) }, c);
    }
    return c;
  };
  const covering = (svg, x, y, e) => {
    const all = document.elementsFromPoint(x, y);
    const top = all.slice(0, Math.max(0, all.indexOf(e)));
    const found = top.find((o) => {
      if (!svg.contains(o) || o === svg || ["text", "tspan", "g"].includes(o.tagName)) { return false; }
      const s = getComputedStyle(o);
      return [s.fill, s.stroke].some((v) => v !== "none" && (ferruleChannels(v) || { a: 0 }).a > 0);
    });
    return found ? found.tagName : "";
  };
  for (const svg of document.querySelectorAll(".drawing svg")) {
    if (!seen(svg)) { continue; }
    const frame = svg.getBoundingClientRect();
    const words = [...svg.querySelectorAll("text")].filter((e) => e.textContent.trim() && seen(e));
    const boxes = words.map((e) => e.getBoundingClientRect());
    const name = (i) => svg.closest("figure").id + " “" + words[i].textContent.trim() + "”";
    words.forEach((e, i) => {
      const b = boxes[i];
      if (b.left < frame.left - 1 || b.right > frame.right + 1 || b.top < frame.top - 2 || b.bottom > frame.bottom + 2) { say("cut", name(i), "outside of its drawing"); }
      const s = getComputedStyle(e);
      const fill = ferruleChannels(s.fill);
      const x = (b.left + b.right) / 2, y = (b.top + b.bottom) / 2;
      const over = covering(svg, x, y, e);
      if (over) { say("covered", name(i), "by " + over); }
      // A rim of paper round the letters is what they are read against.
      const rim = s.paintOrder.startsWith("stroke") && parseFloat(s.strokeWidth) >= 2 ? ferruleChannels(s.stroke) : null;
      const back = rim || behind(svg, x, y, e);
      const ratio = ferruleContrast(ferruleOver({ ...fill, a: fill.a * Number(s.opacity) }, back), back);
      if (ratio < 4.5) { say("drawn", name(i), "contrast " + ratio.toFixed(2)); }
      for (let j = 0; j < i; j++) {
        const wide = Math.min(b.right, boxes[j].right) - Math.max(b.left, boxes[j].left);
        const high = Math.min(b.bottom, boxes[j].bottom) - Math.max(b.top, boxes[j].top);
        // A line's box is higher than its letters.
        if (wide > 1 && high > 0.3 * Math.min(b.height, boxes[j].height)) { say("overlap", name(i), "over “" + words[j].textContent.trim() + "”"); }
      }
    });
    for (const e of svg.querySelectorAll("[data-setting]:not(.tap), [data-shot]:not(.tap)")) {
      const s = getComputedStyle(e);
      if (e.tagName === "g" || s.fill === "transparent" && s.stroke === "none") { continue; }
      const tones = [s.stroke, s.fill].map((v) => (v === "none" ? null : ferruleChannels(v))).filter((c) => c && c.a > 0);
      if (!tones.length) { continue; }
      const best = Math.max(...tones.map((c) => ferruleContrast(ferruleOver(c, paper), paper)));
      if (best < 3) { say("mark", svg.closest("figure").id + " " + e.tagName + " " + (e.dataset.setting || ""), "contrast " + best.toFixed(2)); }
    }
  }
  return faults;
}
