// The first thing that runs, before anything of a page is shown: what can be
// tapped and typed into works from the first moment on. Until the program stands,
// taps, keys and files are kept in their order; then they are played, each once.
// The page as it was last seen is shown meanwhile, never one of another version.
"use strict";

// --- what writes HTML or names a script ---------------------------------------------
// The one policy that the pages' rules let in (cmd/internal/policy): HTML without
// anything that runs, scripts of our own site, no text as code.
if (window.trustedTypes) {
  trustedTypes.createPolicy("default", {
    createHTML: (text) => {
      if (!/<\/?\s*(script|iframe|frame|object|embed|base|form)\b|[\s\/"']on\w*\s*=|javascript:/i.test(text)) { return text; } // nothing that a tag could have
      for (const tag of text.match(/<[^>]*>/g) || []) {
        const bare = tag.replace(/"[^"]*"|'[^']*'/g, '""');
        if (/^<\/?\s*(script|iframe|frame|object|embed|base|form)\b/i.test(bare) || /[\s\/"]on\w*\s*=/i.test(bare) || /=\s*["']?\s*javascript:/i.test(tag)) {
          throw new TypeError("Ferrule writes no " + tag.slice(0, 60));
        }
      }
      return text;
    },
    createScriptURL: (url) => {
      const to = new URL(url, location.href);
      if (to.origin !== location.origin) { throw new TypeError("Ferrule starts no " + url); } // a blob of ours has our origin
      return url;
    },
  });
}

var ferruleFirst = (() => {
  const PREFIX = "first-"; // of every id here: the program's own are without it
  const SEEN = "ferrule.seen ", LARGEST = 400000; // [letters] of a page that is kept
  const version = "{{.Version}}";
  const queue = [];
  let box = null, standing = false, playing = false, start;
  const me = { queue, acting: false, touched: false }; // touched: somebody is there
  const wanted = new Promise((go) => { start = go; });

  let prefs = {};
  try { prefs = JSON.parse(localStorage.getItem("ferrule.prefs")) || {}; } catch (err) { /* as if nothing was chosen */ }
  if (prefs.theme) { document.documentElement.dataset.theme = prefs.theme; }

  // --- the program's bytes ------------------------------------------------------------
  // The server is asked whether the program is still the same: it lets it be stored.
  const compile = (url) => {
    const bytes = fetch(url, { cache: "no-cache" });
    return WebAssembly.compileStreaming ? WebAssembly.compileStreaming(bytes) : bytes.then((r) => r.arrayBuffer()).then((b) => WebAssembly.compile(b));
  };
  // A browser takes a program apart on the thread that asked for it, in one piece of a
  // quarter of a second and more: so a worker asks. It is a blob, held to our policy.
  // And it compiles a function on the thread that calls it first: so the worker calls
  // each that a start needs (cmd/trim/start.go), without a stack, where it ends at once.
  const warm = async (program) => {
    const [start] = WebAssembly.Module.customSections(program, "start"), imports = {};
    if (!start) { return; }
    for (const { module, name } of WebAssembly.Module.imports(program)) { (imports[module] ??= {})[name] = () => { throw name; }; }
    const { table, sp } = (await WebAssembly.instantiate(program, imports)).exports, bits = new Uint8Array(start);
    Error.stackTraceLimit = 0;
    for (let i = 0; i < 8 * bits.length; i++) {
      if (!(bits[i >> 3] >> (i & 7) & 1)) { continue; }
      sp.value = -65536; // the end of what can be addressed
      try { table.get(4096 + i)(0); } catch (err) { /* as it has to */ }
    }
    new Intl.NumberFormat(navigator.languages); // a browser's tables of languages are all threads', too
  };
  // Who touches the page waits for it no longer: the rest is compiled beside what runs.
  const LONGEST = 3000; // [ms] that a program which is there is not waited for any longer
  let hurry;
  const hurried = new Promise((go) => { hurry = go; });
  const beside = (url) => new Promise((done, failed) => {
    const code = URL.createObjectURL(new Blob([`(async () => {
  const program = await (${compile})(${JSON.stringify(url)});
  postMessage(program);
  await (${warm})(program).catch((err) => console.info("compiled as it is called: " + err));
  postMessage("warm");
})().catch((err) => postMessage(String(err)));`], { type: "text/javascript" }));
    const worker = new Worker(code);
    const end = (then, what) => { worker.terminate(); URL.revokeObjectURL(code); then(what); };
    let program = null;
    worker.onmessage = ({ data }) => {
      if (data instanceof WebAssembly.Module) { program = data; hurried.then(() => done(program)); setTimeout(() => end(done, program), LONGEST); }
      else if (program) { performance.mark("ferrule-warm"); end(done, program); }
      else { end(failed, data); }
    };
    worker.onerror = worker.onmessageerror = (event) => end(failed, event.message);
  });
  const painted = () => new Promise((go) => { if (document.hidden) { go(); } else { requestAnimationFrame(() => setTimeout(go)); } });
  me.compile = async (now) => {
    const url = new URL("/page.wasm", location.href).href;
    if (!now) { await painted(); } // a thread that begins takes something of the first paint
    performance.mark("ferrule-compile");
    try { return await beside(url); } catch (err) { return compile(url); } // a browser that lets no worker do it
  };
  // What the service worker has takes nothing of a line that the page waits for: it is
  // compiled beside the page. loader.js waits for it, and tells of what fails.
  if (navigator.serviceWorker && navigator.serviceWorker.controller && window.WebAssembly && window.top === window.self) {
    me.compiled = me.compile(true);
    me.compiled.catch(() => {});
  }

  // --- the examples' answers ----------------------------------------------------------
  // They are worked out when the site is made. A touch on one has its file fetched
  // beside the program. Its name bears its content: one of another version is not there.
  const examples = {{.Examples}}, fetched = {};
  me.example = (name) => (fetched[name] ??= fetch(examples[name]).then((r) => (r.ok ? r.arrayBuffer() : null)).catch(() => { delete fetched[name]; return null; }));
  const asks = { "try-example": "demo", "example-left": "left", "example-thin": "thin" };
  // A first visitor reads the answer meanwhile, as the program will show it.
  let under = ""; // the address of the page that is shown ahead of the program's
  async function ahead(name) {
    const language = document.documentElement.lang;
    if (standing || !box || prefs.last || prefs.system || prefs.language || /^es-(us|mx)$/i.test(navigator.language)) { return; } // another's own units
    try {
      const pages = await (await fetch(examples[language])).json();
      if (standing || queue.length !== 1) { return; } // something else was tapped since
      under = "/choose";
      swap(pages[name]);
      scrollTo(0, 0);
    } catch (err) { console.info("the answer comes with the program: " + err); }
  }

  // --- taps, keys, files ----------------------------------------------------------
  const bare = (id) => (id.startsWith(PREFIX) ? id.slice(PREFIX.length) : id);
  function push(entry, el) {
    const last = queue[queue.length - 1];
    if (entry.kind === "text" && last && last.kind === "text" && last.id === entry.id) { queue.pop(); }
    queue.push({ path: under || location.pathname, ...entry });
    if (el) { el.classList.add("asked"); }
    if (asks[entry.id] && !standing) { me.example(asks[entry.id]); ahead(asks[entry.id]); }
    start();
  }
  // early says whether an event is to be kept: what the program itself makes of
  // the queue is not, nor what is tapped once all of it is played.
  const early = (event) => event.isTrusted && !me.acting && event.target.closest && (!standing || queue.length > 0 || playing || box && box.isConnected) && (box && box.contains(event.target) || standing);
  function stop(event) { event.preventDefault(); event.stopImmediatePropagation(); }

  addEventListener("click", (event) => {
    if (!early(event)) { return; }
    const el = event.target.closest("a[href], button, summary, label, input, select, textarea");
    if (!el) { return; }
    if (el.tagName === "A") {
      if (queue.length === 0 && !standing) { return; } // the page that it leads to is there at once
      stop(event);
      push({ kind: "tap", href: el.getAttribute("href"), id: bare(el.id) }, el);
    } else if (el.tagName === "BUTTON") {
      stop(event);
      const file = el.parentElement.querySelector(":scope > input[type=file]");
      if (file) { file.click(); return; } // only a finger may open the browser's list of files
      if (!el.disabled && el.id) { push({ kind: "tap", id: bare(el.id) }, el); }
    } else if (standing && /^(checkbox|radio)$/.test((el.control || el).type)) {
      stop(event); // a choice in the program's page waits for those before it, else it would be made too soon or not at all
      if ((el.control || el).id) { push({ kind: "tap", id: (el.control || el).id }); }
    } else if (el.tagName === "SUMMARY" && el.parentElement.id && !standing) {
      push({ kind: "fold", id: bare(el.parentElement.id) }); // the browser opens this one by itself
    }
  }, true);
  addEventListener("input", (event) => {
    const el = event.target;
    if (early(event) && el.id && /^(text|search|number|email|tel|url|range|textarea)$/.test(el.type)) { push({ kind: "text", id: bare(el.id), value: el.value }); }
  }, true);
  addEventListener("change", (event) => {
    const el = event.target;
    if (!early(event) || !el.id) { return; }
    if (el.type === "file") { push({ kind: "files", id: bare(el.id), files: [...el.files] }); el.value = ""; }
    else if (/^(checkbox|radio)$/.test(el.type)) { push({ kind: "check", id: bare(el.id), on: el.checked }); }
    else if (el.tagName === "SELECT") { push({ kind: "text", id: bare(el.id), value: el.value }); }
  }, true);
  addEventListener("keydown", (event) => {
    if (!early(event) || event.key !== "Enter" || event.target.tagName !== "INPUT" || !event.target.id || /^(checkbox|radio|file)$/.test(event.target.type)) { return; }
    stop(event);
    push({ kind: "enter", id: bare(event.target.id) });
  }, true);
  // A finger that is down, or has just been, is not left without the button under it.
  let fingers = 0;
  const touching = () => performance.now() < fingers;
  const hear = (names, until) => names.forEach((name) => addEventListener(name, () => { fingers = performance.now() + until; me.touched = true; hurry(); start(); }, { capture: true, passive: true }));
  hear(["pointerdown", "touchstart", "keydown"], 10000);
  hear(["pointerup", "touchend", "keyup"], 400);
  hear(["pointercancel", "touchcancel"], 0);

  // --- playing ----------------------------------------------------------------------
  const pause = (ms) => new Promise((go) => setTimeout(go, ms));
  const live = (e) => {
    const el = document.getElementById(e.id) || (e.href ? document.querySelector(".app a[href=" + CSS.escape(e.href) + "]") : null);
    return el && !el.disabled && document.body.dataset.whole === "true" ? el : null;
  };
  async function play() {
    playing = true;
    while (queue.length > 0) {
      const e = queue[0];
      let el = null;
      for (let tries = 0; !(el = live(e)) && tries < (e.path === location.pathname ? 400 : 20); tries++) { await pause(50); } // one that led away took the others' page with it
      if (el) {
        const tell = (...names) => names.forEach((name) => el.dispatchEvent(new Event(name, { bubbles: true })));
        me.acting = true; // a choice that is tapped by us tells it as if by a finger
        switch (e.kind) {
          case "tap": el.click(); break;
          case "fold": el.open = !el.open; break;
          case "check": if (el.checked !== e.on) { el.click(); } break;
          case "text": el.focus(); el.value = e.value; tell("input", "change"); break;
          case "enter": el.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true })); break;
          case "files": {
            const all = new DataTransfer();
            e.files.forEach((f) => all.items.add(f));
            el.files = all.files;
            tell("change");
          }
        }
        me.acting = false;
      } else {
        console.warn("there is nothing any more to take: " + e.kind + " " + (e.id || e.href));
      }
      queue.shift();
      await pause(60); // two frames of the program
    }
    playing = false;
    document.body.dataset.played = "1";
  }

  // --- the page that is shown first ---------------------------------------------------
  const spoken = () => {
    const all = JSON.parse(box.dataset.words);
    const tags = [prefs.language, ...(navigator.languages || [navigator.language])].map((l) => String(l).toLowerCase().split("-")[0]);
    return tags.find((l) => all[l]) || "en";
  };
  function swap(html) { box.innerHTML = html; }
  async function show() {
    if (window.top !== window.self) { return; } // loader.js says so
    document.body.classList.add("first");
    const language = spoken(), path = location.pathname;
    let seen = null;
    try { seen = JSON.parse(localStorage.getItem(SEEN + path)); } catch (err) { /* as if it was never seen */ }
    if (seen && seen.version === version && seen.last === prefs.last && seen.language === language) {
      document.documentElement.lang = language;
      swap(seen.html);
      box.dataset.seen = "1";
      const said = document.createElement("p");
      said.className = "first-said";
      said.role = "status";
      said.textContent = JSON.parse(box.dataset.words)[language];
      box.prepend(said);
    } else if (language !== "en" && !document.getElementById("peek")) { // a link says itself what it holds
      box.hidden = true; // not in one language and then in another
      try {
        const pages = await (await fetch("/first/" + language + ".json")).json();
        if (pages[path] && !standing) { swap(pages[path]); document.documentElement.lang = language; }
      } catch (err) { console.info("in English: " + err); }
      box.hidden = false;
    }
    if (prefs.last) { // somebody's own session: the program opens it
      const body = document.getElementById(PREFIX + "page-body");
      if (body && !box.dataset.seen) { body.textContent = ""; }
      start();
    }
  }

  // stand gives the screen to the program: at the same place, the same field.
  let waits = 0, calm = 0;
  function stand() {
    if (standing) { return; }
    calm = document.body.dataset.busy === "1" ? 0 : calm + 1; // a new answer is drawn a moment after it is there
    const working = box && box.dataset.seen && calm < 3 && performance.now() < 15000;
    if (touching() || working && !me.touched) { clearTimeout(waits); waits = setTimeout(stand, 50); return; } // the answer seen last stays until the new one is drawn
    standing = true;
    if (under) { under = ""; uncover(); } else { leave(); }
  }

  // uncover has the program do what was tapped under the page that is shown ahead, which
  // goes once the program shows the same.
  async function uncover() {
    await play();
    const d = document.body.dataset, till = performance.now() + 15000;
    for (let calm = 0; (calm < 3 || touching()) && performance.now() < till; await pause(50)) {
      calm = d.busy === "0" && d.whole === "true" && document.getElementById("answer")?.textContent.trim() ? calm + 1 : 0;
    }
    leave();
  }

  function leave() {
    if (box) {
      const at = scrollY, held = box.contains(document.activeElement) ? bare(document.activeElement.id) : "";
      box.remove();
      document.body.classList.remove("first");
      scrollTo(0, at);
      const el = held && document.getElementById(held);
      if (el) { el.focus({ preventScroll: true }); }
    }
    play();
  }

  // keep notes the page as it is seen now. It is a picture for the next start and no
  // more: every number of it is worked out or read anew. It is made of a copy in three
  // pieces, or in one where the page is being left.
  let later = 0, keeping = 0;
  async function keep() {
    const d = document.body.dataset, root = document.querySelector("body > .app"), at = location.pathname, mine = ++keeping;
    if (!standing || !root || d.busy !== "0" || d.whole !== "true" || /^\/(shared|live)$/.test(at)) { return; }
    const breath = () => (document.visibilityState === "hidden" ? null : pause(0));
    try {
      const now = JSON.parse(localStorage.getItem("ferrule.prefs")) || {}, language = document.documentElement.lang;
      const head = JSON.stringify({ version, last: now.last, language }).slice(0, -1);
      for (const key of Object.keys(localStorage)) { // of another session, version or language
        if (key.startsWith(SEEN) && !localStorage.getItem(key).startsWith(head)) { localStorage.removeItem(key); }
      }
      const copy = root.cloneNode(true), fields = root.querySelectorAll("input, select"), copies = copy.querySelectorAll("input, select");
      fields.forEach((f, i) => {
        if (f.type === "checkbox" || f.type === "radio") { copies[i].toggleAttribute("checked", f.checked); }
        else if (f.tagName === "SELECT") { [...copies[i].options].forEach((o, k) => o.toggleAttribute("selected", k === f.selectedIndex)); }
        else if (f.type !== "file") { copies[i].setAttribute("value", f.value); }
      });
      await breath();
      copy.querySelectorAll("iframe, #notice > *").forEach((el) => el.remove());
      for (const el of [copy, ...copy.querySelectorAll("*")]) {
        if (el.id) { el.id = PREFIX + el.id; }
      }
      for (const el of copy.querySelectorAll("*")) {
        for (const a of ["for", "name", "aria-labelledby", "aria-describedby", "aria-controls"]) {
          if (el.hasAttribute(a)) { el.setAttribute(a, el.getAttribute(a).split(" ").map((id) => PREFIX + id).join(" ")); }
        }
        for (const a of el.attributes) { if (a.value.includes("url(#")) { a.value = a.value.replace(/url\(#/g, "url(#" + PREFIX); } }
        if (el.getAttribute("href") && el.getAttribute("href")[0] === "#") { el.setAttribute("href", "#" + PREFIX + el.getAttribute("href").slice(1)); }
      }
      delete copy.querySelector("main")?.dataset.page;
      await breath();
      if (mine !== keeping) { return; } // a later one is under way
      const html = copy.outerHTML;
      if (html.length > LARGEST) { localStorage.removeItem(SEEN + at); return; }
      localStorage.setItem(SEEN + at, head + ',"html":' + JSON.stringify(html) + "}");
    } catch (err) { console.info("the page is not kept: " + err); } // denied or full: nothing depends on it
  }

  // --- when -------------------------------------------------------------------------
  new MutationObserver((_, watch) => {
    box = document.getElementById("first");
    if (!document.body || !box || !document.getElementById("app-wasm-loader")) { return; } // not read to its end
    watch.disconnect();
    show();
  }).observe(document, { childList: true, subtree: true });
  addEventListener("DOMContentLoaded", () => {
    if (!document.getElementById("first")) { start(); } // a page that is the program's from the beginning
    new MutationObserver(() => {
      const d = document.body.dataset;
      if (!standing && d.ready === "1" && d.whole === "true") { d.booted === "1" ? stand() : setTimeout(stand, 1000); } // a store that does not open is the program's to tell
      clearTimeout(later);
      later = setTimeout(keep, 1500);
    }).observe(document.body, { attributes: true, attributeFilter: ["data-ready", "data-whole", "data-busy", "data-booted", "data-saved"] });
    if (location.search || location.hash) { start(); }
    setTimeout(start, 5000); // whoever reads so long will want it
  });
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") { keep(); } });
  return Object.assign(me, { wanted, start });
})();
