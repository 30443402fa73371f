// Starts the app: registers our service worker, streams the page's program and
// gives go-app the handful of globals that it looks for. Written by us because
// the generated one wraps the response (no code cache), reports compressed
// bytes as progress and swallows an update.
"use strict";

// ferruleWorker starts the analysis, see worker.js.
function ferruleWorker() {
  const url = URL.createObjectURL(new Blob([
    "self.trustedTypes && trustedTypes.createPolicy('default', { createScriptURL: (url) => { if (new URL(url).origin !== location.origin) { throw new TypeError(url); } return url; } });\n" +
    "importScripts(" + JSON.stringify(location.origin + "/worker.js") + ");",
  ], { type: "text/javascript" }));
  const worker = new Worker(url);
  worker.addEventListener("message", () => URL.revokeObjectURL(url), { once: true });
  return worker;
}

// --- storage that a browser denies ------------------------------------------------
// A getter that throws would end the Go program (wasm_exec.js catches what calls
// throw, not what properties throw), so a denied storage is made to look like a
// missing or an empty one before the program starts.
for (const name of ["indexedDB", "caches", "localStorage", "sessionStorage"]) {
  try {
    void window[name];
  } catch (err) {
    const kept = new Map();
    const empty = {
      getItem: (k) => (kept.has(k) ? kept.get(k) : null),
      setItem: (k, v) => { kept.set(k, String(v)); },
      removeItem: (k) => { kept.delete(k); },
      clear: () => { kept.clear(); },
      key: (i) => [...kept.keys()][i] ?? null,
      get length() { return kept.size; },
    };
    const value = name.endsWith("Storage") ? empty : undefined;
    Object.defineProperty(window, name, { value, configurable: true });
  }
}

// --- what go-app v10.1.11 expects to find on window -------------------------
var goappNav = function () {};
var goappUpdatedBeforeWasmLoaded = false;
var goappOnUpdate = function () { goappUpdatedBeforeWasmLoaded = true; };
var goappAppInstallChangedBeforeWasmLoaded = false;
var goappOnAppInstallChange = function () { goappAppInstallChangedBeforeWasmLoaded = true; };

const goappEnv = {
  GOAPP_VERSION: "{{.Version}}",
  GOAPP_STATIC_RESOURCES_URL: "",
  GOAPP_ROOT_PREFIX: "",
  GOAPP_INTERNAL_URLS: "null",
};
function goappGetenv(key) { return goappEnv[key]; }

let ferruleInstallEvent = null;
function goappIsAppInstalled() {
  return navigator.standalone === true || matchMedia("(display-mode: standalone)").matches;
}
function goappIsAppInstallable() {
  return !goappIsAppInstalled() && ferruleInstallEvent !== null;
}
async function goappShowInstallPrompt() {
  if (!ferruleInstallEvent) { return; }
  ferruleInstallEvent.prompt();
  await ferruleInstallEvent.userChoice;
  ferruleInstallEvent = null;
  goappOnAppInstallChange();
}
addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault(); // the app asks at a moment that suits the user
  ferruleInstallEvent = event;
  goappOnAppInstallChange();
});
addEventListener("appinstalled", () => { ferruleInstallEvent = null; goappOnAppInstallChange(); });
function goappKeepBodyClean() { return () => {}; }

// --- what the program draws --------------------------------------------------------
// ferruleMake makes the nodes that a draft tells of (cmd/slimdeps/stub/made.go.txt),
// all of them in one call, and gives them in the draft's order.
function ferruleMake(draft) {
  const made = [], open = [], parts = draft.split("\0");
  let at = null; // the element that is open
  const add = (node) => { made.push(node); return node; };
  for (let i = 0; i < parts.length; i++) {
    const text = parts[i].slice(1), next = () => parts[++i].slice(1);
    switch (parts[i][0]) {
      case "<": open.push(at); at = add(document.createElement(text)); break;
      case ">": { const within = open.pop(); if (within) { within.appendChild(at); } at = within; break; }
      case "'": { const node = add(document.createTextNode(text)); if (at) { at.appendChild(node); } break; }
      case "#": {
        const wrapper = document.createElement("div");
        wrapper.innerHTML = text;
        const node = add(wrapper.removeChild(wrapper.firstChild));
        if (at) { at.appendChild(node); }
        break;
      }
      case "=": at.setAttribute(text, next()); break;
      case ".": at[text] = next(); break;
      case "+": at[text] = true; break;
      case "-": at[text] = false; break;
      case "@": ferruleHandle(at, text, Number(next())); break;
    }
  }
  return made;
}

// ferruleHandle has the program's handler of a number called at an event of an element:
// at most one, and the last that was told of.
var ferruleHappens = function () {}; // the program's
function ferruleHandle(el, event, number) {
  const heard = (el.ferruleHeard ??= {});
  if (!heard[event]) { el.addEventListener(event, (e) => { ferruleHappens(heard[event], e); }); }
  heard[event] = number;
}

// --- going back ------------------------------------------------------------------
// A page is drawn by the program after the browser has gone back, so the browser
// can't bring its place on the page back; the program asks here.
window.ferrulePlaces = {};
window.ferruleWentBack = false;
addEventListener("scroll", () => { window.ferrulePlaces[location.pathname] = scrollY; }, { passive: true });
addEventListener("popstate", () => { window.ferruleWentBack = true; });

// --- keys that keep their place ---------------------------------------------------
// While a key of the pad was touched last, what comes above it (what to hit next, a
// new version) moves the page and not the keys under the finger.
let ferruleKeys = null; // the pad's place on the page [px]
const ferrulePad = () => { const pad = document.querySelector(".pad"); return pad ? pad.getBoundingClientRect().top + scrollY : null; };
addEventListener("pointerdown", (event) => { ferruleKeys = event.target.closest(".pad") ? ferrulePad() : null; }, { capture: true, passive: true });
new MutationObserver(() => {
  const at = ferruleKeys === null ? null : ferrulePad();
  if (at !== null && at !== ferruleKeys) { scrollBy(0, at - ferruleKeys); }
  ferruleKeys = at;
}).observe(document.documentElement, { childList: true, characterData: true, attributes: true, subtree: true });

// --- service worker and updates ----------------------------------------------
let ferruleRegistration = null;
let ferruleAccepted = false; // this tab asked for the new version

function goappTryUpdate() {
  if (ferruleRegistration) { ferruleRegistration.update().catch(() => {}); } // offline is no error
}

// ferruleApplyUpdate lets the waiting version take over and reloads. The app calls
// it once the user agreed and everything typed is saved. The version that leaves
// chooses the moment (sw.js); one that knows nothing of it is passed over.
function ferruleApplyUpdate() {
  ferruleAccepted = true;
  const { waiting, active } = ferruleRegistration || {};
  if (!waiting) { location.reload(); return; }
  if (active) { active.postMessage("leave"); }
  setTimeout(() => waiting.postMessage("skip"), active ? 12000 : 0);
}

// The program has it registered once its first page stands: what it fetches for
// later takes nothing of a slow network from the program, and nothing of a
// phone's processor from the first drawing. One that fails to start does so too,
// for only a new version helps then.
async function ferruleRegister() {
  if (ferruleRegistration || !("serviceWorker" in navigator)) { return; }
  const sw = navigator.serviceWorker;
  const controlled = sw.controller !== null;
  sw.addEventListener("controllerchange", () => {
    if (ferruleAccepted) { location.reload(); return; }
    // Another tab took the new version: this one still runs the old program
    // and is told, but never reloaded under the user's hands.
    if (controlled) { goappOnUpdate(); }
  });
  try {
    const reg = await sw.register("/sw.js", { updateViaCache: "none" });
    ferruleRegistration = reg;
    if (reg.waiting && sw.controller) { goappOnUpdate(); }
    reg.addEventListener("updatefound", () => {
      const next = reg.installing;
      next.addEventListener("statechange", () => {
        if (next.state === "installed" && sw.controller) { goappOnUpdate(); }
      });
    });
    await sw.ready;
    document.documentElement.dataset.offline = "1";
    setTimeout(ferruleHeal, 5000); // the page comes first
    addEventListener("online", ferruleHeal);
  } catch (err) {
    // Storage denied or no secure origin: the app works, only not offline.
    document.documentElement.dataset.offline = "0";
    console.info("no offline start: " + err);
  }
}
// ferruleHeal has the service worker look after its cache: what is missing or
// altered is fetched anew. ferruleMissing are the files that could not be had.
window.ferruleMissing = [];
var ferruleOnHealed = function () {}; // the program's
async function ferruleHeal() {
  const worker = navigator.serviceWorker && navigator.serviceWorker.controller;
  if (!worker) { return { missing: [], healed: 0 }; }
  const { port1, port2 } = new MessageChannel();
  const found = await new Promise((done) => {
    port1.onmessage = (event) => done(event.data);
    worker.postMessage("heal", [port2]);
  });
  const changed = String(found.missing) !== String(window.ferruleMissing);
  window.ferruleMissing = found.missing;
  if (changed) { ferruleOnHealed(); }
  document.documentElement.dataset.missing = found.missing.length;
  return found;
}
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") { goappTryUpdate(); }
});

// --- files opened from outside (file_handlers) ---------------------------------
// Kept until the app asks; the share target goes through the service worker.
// ferrulePNG draws an SVG as a PNG, twice as fine as it is wide, and gives its
// bytes; null when the browser cannot.
async function ferrulePNG(svg) {
  try {
    const picture = new Image();
    picture.src = "data:image/svg+xml;charset=utf-8," + encodeURIComponent(svg);
    await picture.decode();
    const canvas = document.createElement("canvas");
    canvas.width = 2 * picture.naturalWidth;
    canvas.height = 2 * picture.naturalHeight;
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
    return blob && new Uint8Array(await blob.arrayBuffer());
  } catch (err) {
    console.warn("no picture: " + err);
    return null;
  }
}

// ferruleTall makes a frame as high as what it shows.
function ferruleTall(frame) {
  const fit = () => {
    const page = frame.contentDocument && frame.contentDocument.documentElement;
    if (page && !matchMedia("print").matches) { frame.style.height = page.getBoundingClientRect().height + 4 + "px"; }
  };
  fit();
  if (!frame.ferruleFits) { frame.ferruleFits = new ResizeObserver(fit); }
  frame.ferruleFits.disconnect();
  frame.ferruleFits.observe(frame.parentElement);
}

let ferruleLaunchFiles = [];
var ferruleOnIncoming = function () {}; // the program sets it on window: let would be another
if ("launchQueue" in window) {
  launchQueue.setConsumer(async (params) => {
    for (const handle of params.files || []) {
      try {
        const file = await handle.getFile();
        ferruleLaunchFiles.push({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()), from: 0 });
      } catch (err) { // one that is gone keeps no other away; the reader says that it is empty
        console.info(handle.name + ": " + err);
        ferruleLaunchFiles.push({ name: handle.name, bytes: new Uint8Array(0), from: 0 });
      }
    }
    ferruleOnIncoming();
  });
}
function ferruleTakeLaunchFiles() { const files = ferruleLaunchFiles; ferruleLaunchFiles = []; return files; }

// --- a bay: what is dropped, pasted, or written to a folder ------------------------
function ferruleHand(name, bytes, from) {
  ferruleLaunchFiles.push({ name, bytes, from });
  ferruleOnIncoming();
}
addEventListener("dragover", (event) => {
  if (event.dataTransfer && [...event.dataTransfer.types].includes("Files")) { event.preventDefault(); }
});
addEventListener("drop", async (event) => {
  const files = [...((event.dataTransfer && event.dataTransfer.files) || [])];
  if (files.length === 0) { return; }
  event.preventDefault(); // the browser would leave the app and show the file
  for (const file of files) {
    try { ferruleHand(file.name, new Uint8Array(await file.arrayBuffer()), 0); } catch (err) { console.info(file.name + ": " + err); }
  }
});
addEventListener("paste", (event) => {
  const text = event.clipboardData ? event.clipboardData.getData("text/plain") : "";
  if (!/[\n\t]/.test(text) || (event.target.closest && event.target.closest("input, textarea"))) { return; }
  event.preventDefault();
  ferruleHand("", new TextEncoder().encode(text), 0);
});

// A folder is watched only after the person chose it, and only while the bay is
// shown. Its handle is kept, so that it is one tap the next day. What lies in it at
// first is old; a text that grows brings the lines behind its old end.
const ferruleFolder = { handle: null, name: "", seen: new Map(), first: true, timer: 0 };
const ferruleFolderLimit = 12 << 20, ferruleFolderMany = 500;

function ferruleFolderStore(mode, ask) {
  return new Promise((done) => {
    const open = indexedDB ? indexedDB.open("ferrule-folder", 1) : null;
    if (!open) { done(null); return; }
    open.onupgradeneeded = () => { open.result.createObjectStore("handles"); };
    open.onerror = () => done(null);
    open.onsuccess = () => {
      const db = open.result, request = ask(db.transaction("handles", mode).objectStore("handles"));
      request.onsuccess = () => { done(request.result || null); db.close(); };
      request.onerror = () => { done(null); db.close(); };
    };
  });
}

// ferruleFolderOpen lets the person choose a folder, or takes up the one of last time;
// again only if that needs no question. It tells the name, "" where there is none.
async function ferruleFolderOpen(ask) {
  try {
    let handle = ask && !ferruleFolder.kept ? await showDirectoryPicker({ id: "bay", mode: "read" }) : await ferruleFolderStore("readonly", (s) => s.get("bay"));
    if (!handle) { return ""; }
    const may = handle.queryPermission ? await handle[ask ? "requestPermission" : "queryPermission"]({ mode: "read" }) : "granted";
    if (may !== "granted") { ferruleFolder.kept = true; return ""; } // one tap takes it up
    await ferruleFolderStore("readwrite", (s) => s.put(handle, "bay"));
    Object.assign(ferruleFolder, { handle, name: handle.name, seen: new Map(), first: true, kept: false });
    clearTimeout(ferruleFolder.timer);
    await ferruleFolderLook();
    return handle.name;
  } catch (err) { // the person chose none, or it is gone
    ferruleFolder.kept = false;
    console.info("no folder: " + err);
    return "";
  }
}

function ferruleFolderClose() {
  clearTimeout(ferruleFolder.timer);
  ferruleFolder.handle = null;
}

async function ferruleFolderLook() {
  const f = ferruleFolder, handle = f.handle, began = performance.now();
  try {
    let many = 0;
    for await (const entry of handle.values()) {
      if (entry.kind !== "file" || !/\.(csv|tsv|txt|xlsx|json)$/i.test(entry.name) || ++many > ferruleFolderMany) { continue; }
      const file = await entry.getFile(), now = file.size + " " + file.lastModified;
      const was = f.seen.get(entry.name) || { now: "", old: 0, waits: 0 };
      if (f.first || file.size > ferruleFolderLimit) { f.seen.set(entry.name, { now, old: file.size, waits: 0 }); continue; }
      const same = was.now === now;
      if (file.size === 0 || same && was.waits === 0) { continue; }
      const bytes = new Uint8Array(await file.arrayBuffer());
      // One that is not at the end of a line is still being written, unless it stays so.
      const waits = bytes[bytes.length - 1] === 10 ? 0 : same ? was.waits - 1 : 3;
      f.seen.set(entry.name, { now, old: was.old, waits });
      if (waits > 0 || f.handle !== handle) { continue; }
      let from = 0;
      if (was.old > 0) {
        from = /\.(csv|tsv|txt)$/i.test(entry.name) && bytes.length >= was.old ? bytes.subarray(0, was.old).reduce((n, b) => n + (b === 10), 0) : -1;
      }
      ferruleHand(entry.name, bytes, from);
    }
    f.first = false;
  } catch (err) { console.info("the folder: " + err); } // taken away, or a file in it: it may come back
  if (f.handle === handle) { f.timer = setTimeout(ferruleFolderLook, Math.max(400, 4 * (performance.now() - began))); }
}

// --- hands that hold a club ------------------------------------------------------
// ferruleConfirm tells that a ball was taken: by vibration, or by a short tone.
let ferruleTone = null;
function ferruleConfirm(how) {
  try {
    if (how !== "sound") { navigator.vibrate && navigator.vibrate(40); return; }
    ferruleTone = ferruleTone || new AudioContext();
    const tone = ferruleTone.createOscillator(), soft = ferruleTone.createGain();
    soft.gain.value = 0.2;
    tone.frequency.value = 880;
    tone.connect(soft).connect(ferruleTone.destination);
    tone.start();
    tone.stop(ferruleTone.currentTime + 0.08);
  } catch (err) { console.info("no tone: " + err); }
}

// ferruleAwake keeps the screen lit while a page wants it. The browser lets the
// lock go when the page is hidden, so it is asked for again.
let ferruleLit = null, ferruleWakeful = 0;
async function ferruleAwake(on) {
  ferruleWakeful += on ? 1 : -1;
  await ferruleLight();
}
async function ferruleLight() {
  try {
    if (ferruleWakeful <= 0) { const lit = ferruleLit; ferruleLit = null; if (lit) { await lit.release(); } return; }
    if (navigator.wakeLock && document.visibilityState === "visible" && (!ferruleLit || ferruleLit.released)) {
      ferruleLit = await navigator.wakeLock.request("screen");
    }
  } catch (err) { console.info("the screen may go dark: " + err); } // low battery, or not allowed
}
document.addEventListener("visibilitychange", () => { ferruleLight(); });

// --- a voice -----------------------------------------------------------------------
// Balls are spoken only where the browser promises to recognise them on this
// device (Web Speech API, draft): it says so of the language, and a recogniser
// takes the demand. Anything else counts as no. told(what, text) gets "can" with
// the browser's word, then "listening", and "heard", "none", "denied" or "gone".
const ferruleEar = { Kind: window.SpeechRecognition || window.webkitSpeechRecognition, tag: "", now: null, told: () => {} };

function ferruleOnDevice() {
  const ear = new ferruleEar.Kind();
  if (!("processLocally" in ear)) { return null; }
  ear.processLocally = true;
  return ear.processLocally === true ? ear : null;
}

// ferruleVoice asks what can be done in a language; get has what is missing fetched.
async function ferruleVoice(lang, get, told) {
  ferruleEar.told = told;
  const Kind = ferruleEar.Kind;
  let can = "";
  try {
    if (Kind && Kind.available && ferruleOnDevice()) {
      const home = new Intl.Locale(lang).maximize(); // "ja" alone is known to few
      for (const tag of [...navigator.languages.filter((t) => t.split("-")[0] === lang), home.language + "-" + home.region]) {
        const is = await Kind.available({ langs: [tag], processLocally: true });
        if (is !== "available" && (can || is !== "downloadable" && is !== "downloading")) { continue; }
        [can, ferruleEar.tag] = [is, tag];
        if (is === "available") { break; }
      }
      if (get && can === "downloadable") {
        told("can", "downloading");
        await Kind.install({ langs: [ferruleEar.tag], processLocally: true });
        can = await Kind.available({ langs: [ferruleEar.tag], processLocally: true });
        if (can !== "available") { can = ""; told("gone", ""); }
      }
    }
  } catch (err) {
    console.info("no speech on this device: " + err);
    can = "";
    if (get) { told("gone", ""); }
  }
  told("can", can);
}

function ferruleHear() {
  ferruleHush();
  const ear = ferruleOnDevice();
  let said = "", why = "none";
  const tell = (what, text) => { if (ferruleEar.now === ear) { ferruleEar.told(what, text); } };
  ferruleEar.now = ear;
  if (!ear) { tell("gone", ""); return; }
  ear.lang = ferruleEar.tag;
  ear.interimResults = true;
  ear.onresult = (event) => {
    const text = (all) => all.map((r) => r[0].transcript.trim()).join(" ").slice(0, 200), all = Array.from(event.results);
    said = text(all.filter((r) => r.isFinal));
    tell("listening", text(all));
  };
  // Half a number is none.
  ear.onerror = (event) => {
    why = { "not-allowed": "denied", "audio-capture": "denied", "service-not-allowed": "gone", "language-not-supported": "gone" }[event.error] || "none";
    said = "";
    ear.onresult = null;
  };
  ear.onend = () => { tell(said ? "heard" : why, said); ferruleHush(); };
  tell("listening", "");
  try { ear.start(); } catch (err) { console.info("no speech: " + err); tell("gone", ""); ferruleHush(); }
}

// ferruleHush ends the listening, and what comes late is not told.
function ferruleHush() {
  const ear = ferruleEar.now;
  ferruleEar.now = null;
  if (ear) { ear.abort(); }
}
document.addEventListener("visibilitychange", () => { if (document.hidden && ferruleEar.now) { ferruleEar.now.stop(); } });

// --- a second window -------------------------------------------------------------
// The big view tells other windows what they show; one that opens later asks.
const ferruleChannel = "BroadcastChannel" in window ? new BroadcastChannel("ferrule-client") : null;
let ferruleTold = null;
function ferruleTell(text) {
  if (text === ferruleTold || text === "{}" && ferruleTold === null) { return; }
  ferruleTold = text;
  if (ferruleChannel) { ferruleChannel.postMessage(text); }
}
function ferruleListen(show) {
  if (!ferruleChannel) { return; }
  ferruleChannel.addEventListener("message", (event) => { if (event.data !== "?") { show(event.data); } });
  ferruleChannel.postMessage("?");
}
// Nothing is drawn for a window before one has asked; ferruleFollow draws it then.
window.ferruleFollowed = false;
if (ferruleChannel) {
  ferruleChannel.addEventListener("message", (event) => {
    if (event.data !== "?") { return; }
    if (ferruleTold !== null) { ferruleChannel.postMessage(ferruleTold); }
    window.ferruleFollowed = true;
    if (window.ferruleFollow) { window.ferruleFollow(); }
  });
}

// --- the program ---------------------------------------------------------------
function ferruleTrouble(text) {
  const box = document.getElementById("app-wasm-loader");
  const label = document.getElementById("app-wasm-loader-label");
  if (label && !label.textContent) { label.textContent = text; }
  if (box) { box.dataset.state = "stopped"; box.hidden = false; }
}

// Between the stretches of a start the browser may draw and take a touch.
function ferruleBreath() { return new Promise((go) => setTimeout(go)); }

async function ferruleStart() {
  if (window.top !== window.self) { // no header forbids it on every host
    const main = document.querySelector("main"), here = document.createElement("a");
    main.textContent = "Ferrule does not run inside another page. ";
    here.href = location.href;
    here.target = "_top";
    here.textContent = "Open it by itself";
    main.append(here);
    document.body.dataset.framed = "1";
    return;
  }
  const box = document.getElementById("app-wasm-loader");
  if (typeof WebAssembly !== "object") {
    ferruleTrouble("This browser is too old to run Ferrule: it has no WebAssembly.");
    return;
  }
  try {
    performance.mark("ferrule-load");
    const go = new Go();
    go.env.GOGC = "200"; // a start is over before what it no longer needs is swept
    const program = await (ferruleFirst.compiled || ferruleFirst.compile());
    await ferruleFirst.wanted; // the first tap, a session to open, or five seconds: see first.js
    await ferruleBreath();
    const instance = await WebAssembly.instantiate(program, go.importObject);
    await ferruleBreath();
    performance.mark("ferrule-run");
    const ended = go.run(instance);
    if (box) { box.hidden = true; }
    await ended;
    ferruleRegister();
    ferruleTrouble("Ferrule stopped unexpectedly. What you entered is saved; load the page again.");
  } catch (err) {
    console.error("loading the app failed: " + err);
    ferruleRegister();
    const healed = (await ferruleHeal()).healed; // a damaged copy of the program is had anew, and tried once
    if (healed > 0 && !/[?&]healed\b/.test(location.search)) {
      location.replace(location.pathname + "?healed" + location.hash);
      return;
    }
    ferruleTrouble("Ferrule could not be loaded. Check the connection and load the page again.");
  }
}

ferruleStart();
