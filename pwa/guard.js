// Stands before the service worker: a host that sends no policy leaves such a
// worker free to ask anybody. Everything by which it could is taken away or held
// to our own origin, for good.
"use strict";
(() => {
  const own = { fetch: self.fetch, importScripts: self.importScripts };
  const put = (name, value) => {
    for (let at = Object.getPrototypeOf(self); at; at = Object.getPrototypeOf(at)) {
      if (Object.hasOwn(at, name)) { delete at[name]; }
    }
    Object.defineProperty(self, name, { value, writable: false, configurable: false });
  };
  const refused = (what) => {
    const err = new TypeError("Ferrule asks nobody but its own site: " + what);
    console.info(String(err));
    return err;
  };
  const elsewhere = (url) => new URL(url, self.location.href).origin !== self.location.origin;
  put("fetch", async (input, init) => {
    const url = input instanceof Request ? input.url : String(input);
    if (elsewhere(url)) { throw refused(url); }
    return own.fetch.call(self, input, init);
  });
  put("importScripts", (...urls) => {
    for (const url of urls) { if (elsewhere(url)) { throw refused(url); } }
    return own.importScripts.apply(self, urls);
  });
  for (const name of ["XMLHttpRequest", "WebSocket", "WebSocketStream", "EventSource", "WebTransport", "RTCPeerConnection", "Worker", "SharedWorker", "BackgroundFetchManager"]) {
    put(name, undefined);
  }
  if (self.registration && self.registration.backgroundFetch) {
    Object.defineProperty(self.registration, "backgroundFetch", { value: undefined, configurable: false });
  }
  for (const name of ["add", "addAll"]) { // they fetch by themselves
    if (self.Cache) { Object.defineProperty(Cache.prototype, name, { value: undefined, writable: false, configurable: false }); }
  }
})();
