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

// fill puts every file into the cache of this version. Content is checked, so
// a site that is being replaced meanwhile can never be mixed from two versions.
async function fill() {
  const cache = await caches.open(CACHE);
  const older = (await caches.keys()).filter((k) => k.startsWith(PREFIX) && k !== CACHE);
  const take = async (path, hash) => {
    for (const name of older) { // an unchanged file need not be fetched again
      const kept = await (await caches.open(name)).match(path);
      if (kept && (await digest(await kept.clone().arrayBuffer())) === hash) {
        await cache.put(path, kept);
        return;
      }
    }
    const response = await fetch(new Request(path, { cache: "no-cache", credentials: "same-origin" }));
    if (!response.ok) { throw new Error(path + ": status " + response.status); }
    // A redirected response may not answer a navigation, so its body is kept
    // in a plain one.
    const clean = response.redirected
      ? new Response(await response.clone().blob(), { headers: response.headers })
      : response;
    if ((await digest(await clean.clone().arrayBuffer())) !== hash) {
      throw new Error(path + ": is not the file of version " + VERSION);
    }
    await cache.put(path, clean);
  };
  await Promise.all(Object.entries(FILES).map(([path, hash]) => take(path, hash)));
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

self.addEventListener("message", (event) => {
  if (event.data === "skip") { event.waitUntil(self.skipWaiting()); }
  if (event.data === "version" && event.source) { event.source.postMessage({ version: VERSION }); }
});

// keep puts shared files into the inbox and sends the user to the page that reads it.
async function keep(request) {
  try {
    const form = await request.formData();
    const inbox = await caches.open(INBOX);
    const parts = form.getAll("file").filter((f) => f && f.name !== undefined);
    const text = [form.get("text"), form.get("url")].filter(Boolean).join("\n");
    if (text) { parts.push(new File([text], (form.get("title") || "shared") + ".txt", { type: "text/plain" })); }
    let n = 0;
    for (const file of parts) {
      const key = "/inbox/" + Date.now() + "-" + n++ + "/" + encodeURIComponent(file.name);
      await inbox.put(key, new Response(file, { headers: { "Content-Type": "application/octet-stream" } }));
    }
    return Response.redirect("/?incoming=" + n, 303);
  } catch (err) {
    return Response.redirect("/?incoming=failed", 303);
  }
}

async function answer(request, url) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(url.pathname, { ignoreSearch: true });
  if (kept) { return kept; }
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
  event.respondWith(answer(event.request, url));
});
