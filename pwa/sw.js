// Our service worker. Promises: it is active only when every file of the
// version is in its cache with the right content; it takes over an open page
// only when the user agreed; it deletes only its own older caches; it never
// asks another origin.
"use strict";

const VERSION = "{{.Version}}";
const PREFIX = "ferrule-";
const CACHE = PREFIX + VERSION;
const INBOX = "inbox-ferrule"; // shared files waiting for the page; survives updates
const FILES = {{.Files}}; // path -> SHA-256 of its bytes, base64

async function digest(buffer) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", buffer));
  return btoa(String.fromCharCode(...hash));
}

// Other is what the site has under a name of ours: the file of another version.
class Other extends Error {}

// take fetches one file and puts it into the cache of this version. Content is
// checked, so a site that is being replaced meanwhile can never be mixed from
// two versions.
async function take(cache, path) {
  const response = await fetch(new Request(path, { cache: "no-cache", credentials: "same-origin" }));
  if (!response.ok) { throw new Error(path + ": status " + response.status); }
  // A redirected response may not answer a navigation, so its body is kept
  // in a plain one.
  const clean = response.redirected
    ? new Response(await response.clone().blob(), { headers: response.headers })
    : response;
  if ((await digest(await clean.clone().arrayBuffer())) !== FILES[path]) {
    throw new Other(path + ": is not the file of version " + VERSION);
  }
  await cache.put(path, clean.clone());
  return clean;
}

async function holds(cache, path) {
  const kept = await cache.match(path);
  return kept && (await digest(await kept.clone().arrayBuffer())) === FILES[path] ? kept : null;
}

// fill puts every file into the cache of this version; one that an older
// version has unchanged need not be fetched again.
async function fill() {
  const cache = await caches.open(CACHE);
  const older = (await caches.keys()).filter((k) => k.startsWith(PREFIX) && k !== CACHE);
  await Promise.all(Object.keys(FILES).map(async (path) => {
    for (const name of older) {
      const kept = await holds(await caches.open(name), path);
      if (kept) { await cache.put(path, kept); return; }
    }
    await take(cache, path);
  }));
}

// heal looks for files that are missing or altered, fetches them anew and
// returns the paths of those that could not be had.
async function heal() {
  const cache = await caches.open(CACHE);
  const missing = [];
  let healed = 0;
  for (const path of Object.keys(FILES)) { // one after the other: the page has the phone's processor
    if (await holds(cache, path)) { continue; }
    try {
      await take(cache, path);
      healed++;
    } catch (err) {
      await cache.delete(path); // altered is worse than missing: that is fetched when it is asked for
      missing.push(path);
    }
  }
  return { missing, healed };
}

self.addEventListener("install", (event) => {
  event.waitUntil(fill().catch(async (err) => {
    await caches.delete(CACHE);
    throw err;
  }));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(PREFIX) && name !== CACHE) { await caches.delete(name); }
    }
    await self.clients.claim();
  })());
});

// What is being done, and when the last of it ended [ms].
let doing = 0;
let done = 0;
function during(work) {
  doing++;
  return work.finally(() => { doing--; done = Date.now(); });
}

// leave has the waiting version take over once nothing was asked for two seconds,
// so long as a ball just typed may take to be worked out in another tab: Chromium
// gives the change up for good where a request reaches a worker that is just being
// ended for it.
async function leave() {
  done = Date.now();
  for (let left = 50; left > 0 && (doing > 0 || Date.now() - done < 2000); left--) {
    await new Promise((later) => setTimeout(later, 200));
  }
  if (self.registration.waiting) { self.registration.waiting.postMessage("skip"); }
}

self.addEventListener("message", (event) => {
  if (event.data === "skip") { event.waitUntil(self.skipWaiting()); }
  if (event.data === "leave") { event.waitUntil(leave()); }
  if (event.data === "heal" && event.ports[0]) {
    event.waitUntil(during(heal().catch(() => ({ missing: ["?"], healed: 0 })).then((found) => event.ports[0].postMessage(found))));
  }
  if (event.data === "version" && event.source) { event.source.postMessage({ version: VERSION }); }
});

const LARGEST = 12 << 20; // [bytes] of a shared file, as app/act has it
const MOST = 20; // files at once

// sender says who sent a form: "own" is a page of ours, "other" a page of
// another site. The system's share bears no origin, and neither does a page that
// hides its own: "unknown", of which the page decides (it knows whether the app
// is installed, without which no system shares with it).
function sender(request) {
  const origin = request.headers.get("origin");
  const from = request.referrer && request.referrer !== "about:client" ? new URL(request.referrer).origin : null;
  if (request.mode !== "navigate" || origin === self.location.origin) { return "own"; } // only our own pages fetch through us
  if (origin && origin !== "null" || from && from !== self.location.origin) { return "other"; }
  return "unknown";
}

// keep puts shared files into the inbox and sends the user to the page that
// reads it. What another site sends is not even read.
async function keep(request) {
  const who = sender(request);
  if (who === "other") { return Response.redirect("/?incoming=refused", 303); }
  try {
    const form = await request.formData();
    const inbox = await caches.open(INBOX);
    const parts = form.getAll("file").filter((f) => f && f.name !== undefined).slice(0, MOST);
    const text = [form.get("text"), form.get("url")].filter((t) => typeof t === "string" && t).join("\n");
    if (text) { parts.push(new File([text], String(form.get("title") || "shared").slice(0, 100) + ".txt", { type: "text/plain" })); }
    let n = 0;
    for (const file of parts) {
      const key = "/inbox/" + Date.now() + "-" + n++ + "/" + encodeURIComponent(file.name.slice(-200));
      const body = file.size > LARGEST ? file.slice(0, LARGEST + 1) : file; // the reader says that it is too large
      await inbox.put(key, new Response(body, { headers: { "Content-Type": "application/octet-stream", "X-Sender": who } }));
    }
    return Response.redirect("/?incoming=" + n, 303);
  } catch (err) {
    return Response.redirect("/?incoming=failed", 303);
  }
}

// Two versions are never mixed. A file that is missing here and another one on the
// site has this version given up until the next start: all comes from the network.
// The analysis alone is refused: the page that asks for it runs already.
let givenUp = false;

async function answer(request, url) {
  const cache = await caches.open(CACHE);
  if (givenUp) {
    try { return await fetch(request); } catch (err) { givenUp = false; } // what is here is better than nothing
  }
  const kept = await cache.match(url.pathname); // no name has a query, and a search that passes queries over reads every name
  if (kept) { return kept; }
  if (url.pathname in FILES) { // missing: had again as soon as there is a network
    try {
      return await take(cache, url.pathname);
    } catch (err) {
      if (err instanceof Other) {
        if (url.pathname === "/worker.wasm") { return Response.error(); }
        givenUp = true;
        return fetch(request);
      }
    }
  }
  if (request.mode === "navigate") {
    const plain = "/" + url.pathname.replace(/^\/+|\/+$/g, "");
    if (plain !== url.pathname && plain in FILES) { // one address per page, as the server does
      return Response.redirect(plain + url.search, 301);
    }
    const shell = await cache.match("/");
    if (shell) { return shell; } // the app says itself that there is no such page
  }
  return fetch(request);
}

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (url.origin !== self.location.origin) { return; }
  if (event.request.method === "POST" && url.pathname === "/incoming") {
    event.respondWith(keep(event.request));
    return;
  }
  if (event.request.method !== "GET") { return; }
  event.respondWith(during(answer(event.request, url)));
});
