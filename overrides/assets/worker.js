// The service worker: answers with what is kept on this phone, and leaves everything else to the
// network. The build writes it to the site's root behind a line that sets sondebookShell: the
// files of the page "kept on this phone", each with its hash.
(() => {
  "use strict";
  var scope = new URL(self.registration.scope);
  // Caches belong to the host: the path keeps several sites on one host apart
  var PREFIX = "sondebook " + scope.pathname + " ";
  var INDEX = PREFIX + "kept";
  var SHELL = PREFIX + "shell ";
  var shell = self.sondebookShell;
  var START = "kept.html";

  function inSite(url) {
    return url.origin === scope.origin && url.pathname.startsWith(scope.pathname);
  }
  // The file that an address stands for: "guides/slug/" is its index.html
  function fileOf(url) {
    var path = url.pathname.slice(scope.pathname.length);
    return path === "" || path.endsWith("/") ? path + "index.html" : path;
  }
  function slugIn(file) {
    var found = /^guides\/([^/]+)\//.exec(file);
    return found && found[1];
  }
  function address(file) { return new URL(file, scope).href; }

  function hexadecimal(buffer) {
    return Array.from(new Uint8Array(buffer), byte => byte.toString(16).padStart(2, "0")).join("");
  }

  async function storeShell() {
    var cache = await caches.open(SHELL + shell.version);
    await Promise.all(shell.files.map(async file => {
      var answer = await fetch(address(file[0]) + "?h=" + file[1], { cache: "no-store" });
      var body = await answer.arrayBuffer();
      if (!answer.ok || hexadecimal(await crypto.subtle.digest("SHA-256", body)) !== file[1]) {
        throw new Error(file[0] + " is not what the build wrote");
      }
      var type = answer.headers.get("content-type") || "";
      await cache.put(address(file[0]), new Response(body, { headers: { "content-type": type } }));
    }));
  }

  async function dropOldShells() {
    var names = await caches.keys();
    await Promise.all(names.map(name => {
      return name.startsWith(SHELL) && name !== SHELL + shell.version && caches.delete(name);
    }));
  }

  // The file as it is kept with a vehicle. The record is replaced in one step when a whole newer
  // guide has arrived, so the files found through it are always of one build.
  async function fromVehicle(slug, file) {
    var record = await caches.match(address("kept/" + slug), { cacheName: INDEX });
    if (!record) { return undefined; }
    var cacheName = PREFIX + slug + " " + (await record.json()).version;
    return await caches.match(address(file), { cacheName: cacheName })
      // Some hosts leave .html out of their addresses
      || caches.match(address(file + ".html"), { cacheName: cacheName });
  }
  function fromShell(file) {
    return caches.match(address(file), { cacheName: SHELL + shell.version });
  }

  // The page that asks: the one on its way for a navigation, the one that is open for the rest
  async function fileOfPage(event) {
    if (event.request.mode === "navigate") { return fileOf(new URL(event.request.url)); }
    var client = event.clientId && await self.clients.get(event.clientId);
    return client ? fileOf(new URL(client.url)) : "";
  }

  async function answer(event) {
    var file = fileOf(new URL(event.request.url));
    var page = await fileOfPage(event);
    var slug = slugIn(page) || slugIn(file);
    var kept = slug && await fromVehicle(slug, file);
    if (!kept && page === START) { kept = await fromShell(file); }
    if (kept) { return kept; }
    try {
      return await fetch(event.request);
    } catch (broken) {
      if (event.request.mode !== "navigate") { throw broken; }
      return Response.redirect(address(START) + "?missing=" + encodeURIComponent(file), 302);
    }
  }

  self.addEventListener("install", event => {
    event.waitUntil(storeShell().then(() => self.skipWaiting()));
  });
  self.addEventListener("activate", event => {
    event.waitUntil(dropOldShells().then(() => self.clients.claim()));
  });
  self.addEventListener("fetch", event => {
    var url = new URL(event.request.url);
    // What is fetched in order to be kept carries its hash, and must come from the network; so
    // must the lists of files
    if (event.request.method !== "GET" || !inSite(url) || url.searchParams.has("h")
      || fileOf(url).startsWith("offline/")) { return; }
    event.respondWith(answer(event));
  });
})();
