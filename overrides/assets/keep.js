// Keeps a vehicle on this phone, whole or not at all, and lists what is kept. The service worker
// (sw.js) answers with it. Every sentence stands in the page; this script chooses and fills them.
(() => {
  "use strict";
  var panel = document.getElementById("keeping");
  if (!panel) { return; }
  var words = panel.dataset;
  var root = new URL(words.root || "./", location.href);
  // Caches belong to the host: the path keeps several sites on one host apart
  var PREFIX = "sondebook " + root.pathname + " ";
  var INDEX = PREFIX + "kept";
  var AT_ONCE = 4;

  function filled(sentence, gaps) {
    return sentence.replace(/\{(\w+)\}/g, (gap, name) => gaps[name]);
  }
  function size(bytes) { return Math.max(1, Math.round(bytes / 1000)) + "\u00a0kB"; }
  // A day of the build is the same day everywhere; a moment on this phone is of its own zone
  function day(text) {
    var how = { day: "numeric", month: "long", year: "numeric" };
    if (text.length === 10) { how.timeZone = "UTC"; }
    return new Date(text).toLocaleDateString(document.documentElement.lang, how);
  }
  function address(file) { return new URL(file, root).href; }
  function recordAt(slug) { return address("kept/" + slug); }
  function cacheOf(slug, version) { return PREFIX + slug + " " + version; }

  // Why this browser cannot, as the name of the sentence; empty when it can
  function hindrance() {
    if (!/^https?:$/.test(location.protocol)) { return "file"; }
    if (!window.isSecureContext) { return "insecure"; }
    return "serviceWorker" in navigator && window.caches && crypto.subtle ? "" : "unable";
  }

  // What went wrong, as the name of a sentence and its gaps
  function Fault(name, gaps) { this.sentence = name; this.gaps = gaps || {}; }
  function faultOf(error) {
    if (error instanceof Fault) { return error; }
    return new Fault(error && error.name === "QuotaExceededError" ? "full" : "broken");
  }

  async function records() {
    if (!await caches.has(INDEX)) { return []; }
    var index = await caches.open(INDEX);
    var found = await Promise.all((await index.keys()).map(async key => {
      var record = await index.match(key);
      return record && record.json();
    }));
    return found.filter(Boolean).sort((one, other) => one.title < other.title ? -1 : 1);
  }
  async function recordOf(slug) {
    var found = await caches.match(recordAt(slug), { cacheName: INDEX });
    return found ? found.json() : null;
  }

  async function listOf(slug) {
    var answer;
    // A stored answer may be a second old, and name files of the build before
    try { answer = await fetch(address("offline/" + slug + ".json"), { cache: "no-store" }); }
    catch (error) { throw new Fault("broken"); }
    if (answer.status === 404 || answer.status === 410) { throw new Fault("gone"); }
    if (!answer.ok) { throw new Fault("broken"); }
    try { return await answer.json(); } catch (error) { throw new Fault("broken"); }
  }

  async function hashOf(body) {
    var bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
    return Array.from(bytes, byte => byte.toString(16).padStart(2, "0")).join("");
  }

  async function download(file) {
    var answer, body;
    try {
      // With its hash: the worker lets it pass, and no cache on the way has an older one
      answer = await fetch(address(file[0]) + "?h=" + file[1], { cache: "no-store" });
      body = await answer.arrayBuffer();
    } catch (error) { throw new Fault("broken"); }
    if (!answer.ok || await hashOf(body) !== file[1]) { throw new Fault("changing"); }
    // Built anew: an answer that came by a redirect must not be given to a navigation
    var type = answer.headers.get("content-type") || "application/octet-stream";
    return new Response(body, { headers: { "content-type": type } });
  }

  // Every file of a list into one cache: those already there stay, unchanged ones are copied from
  // what is kept, the rest is fetched.
  async function gather(list, old, cache, tell) {
    var before = {};
    if (old) { before = Object.fromEntries(old.files); }
    var waiting = list.files.slice(), done = 0, bytes = 0, fault = null;
    async function take() {
      while (waiting.length && !fault) {
        var file = waiting.shift();
        try {
          if (!await cache.match(address(file[0]))) {
            var same = before[file[0]] === file[1] && await caches.match(
              address(file[0]), { cacheName: cacheOf(old.vehicle, old.version) }
            );
            await cache.put(address(file[0]), same || await download(file));
          }
          done += 1;
          bytes += file[2];
          tell(done, bytes);
        } catch (error) { fault = fault || faultOf(error); }
      }
    }
    await Promise.all(Array.from({ length: AT_ONCE }, take));
    if (fault) { throw new Fault(fault.sentence, { done: done, of: list.files.length }); }
  }

  async function dropOthers(slug, version) {
    var names = await caches.keys();
    await Promise.all(names.map(name => {
      var isOther = name.startsWith(PREFIX + slug + " ") && name !== cacheOf(slug, version);
      return isOther && caches.delete(name);
    }));
  }

  // One at a time, in whatever tab
  function alone(slug, work) {
    return navigator.locks ? navigator.locks.request(PREFIX + slug, work) : work();
  }

  // Keeps what the list names, and gives the record. Until the record is written, which is one
  // step, the old guide is whole and is the one that is shown.
  function keep(slug, list, tell) {
    return alone(slug, async () => {
      var old = await recordOf(slug);
      var name = cacheOf(slug, list.version);
      if (!old || old.version !== list.version) {
        try {
          await gather(list, old, await caches.open(name), tell);
        } catch (error) {
          // What has come is used when it is tried again; a full store needs the room
          if (faultOf(error).sentence === "full") { await caches.delete(name); }
          throw error;
        }
      }
      await startWorker();
      var kept = old && old.version === list.version ? old.kept : new Date().toISOString();
      var record = { ...list, kept: kept };
      try {
        await (await caches.open(INDEX)).put(recordAt(slug), new Response(JSON.stringify(record)));
      } catch (error) { throw faultOf(error); }
      await dropOthers(slug, list.version);
      return record;
    });
  }
  function remove(slug) {
    return alone(slug, async () => {
      await (await caches.open(INDEX)).delete(recordAt(slug));
      await dropOthers(slug, "");
    });
  }

  function register() {
    return navigator.serviceWorker.register(address("sw.js"), { scope: root.pathname });
  }
  async function startWorker() {
    var registration;
    try { registration = await register(); } catch (error) {
      if (await navigator.serviceWorker.getRegistration(root.href)) { return; }
      throw new Fault("unreached");
    }
    // Asked for, not needed: where it is refused the browser may clear the store by itself
    if (navigator.storage && navigator.storage.persist) { navigator.storage.persist(); }
    var worker = registration.installing || registration.waiting;
    if (registration.active || !worker) { return; }
    await new Promise((resolve, reject) => {
      function look() {
        if (worker.state === "activated") { resolve(); }
        if (worker.state === "redundant") { reject(new Fault("unreached")); }
      }
      worker.addEventListener("statechange", look);
      look();
    });
  }

  function one(name, within) { return (within || panel).querySelector("[data-is=" + name + "]"); }
  function say(place, name, gaps) {
    place.textContent = name ? filled(words[name], gaps || {}) : "";
    place.dataset.said = name;
  }
  function sayFault(place, error) {
    var fault = faultOf(error);
    var isUntold = fault.sentence === "broken" && !fault.gaps.of;
    say(place, isUntold ? "unreached" : fault.sentence, fault.gaps);
  }
  function sayKept(place, record) {
    say(place, record.built ? "kept" : "keptUndated", {
      built: day(record.built), kept: day(record.kept), size: size(record.bytes)
    });
  }
  function progress(bar, list) {
    bar.max = list.bytes;
    bar.value = 0;
    bar.hidden = false;
    return (done, bytes) => { bar.value = bytes; };
  }

  // On a page of a vehicle
  function vehiclePanel(slug) {
    var said = one("said"), bar = one("progress");
    var button = one("keep"), away = one("remove");
    function show(record) {
      button.hidden = Boolean(record);
      away.hidden = !record;
      bar.hidden = true;
      if (record) { sayKept(said, record); }
    }
    async function work(makeList) {
      button.disabled = away.disabled = true;
      try {
        var list = await makeList();
        say(said, "working", { size: size(list.bytes) });
        show(await keep(slug, list, progress(bar, list)));
        return true;
      } catch (error) {
        var old = await recordOf(slug);
        show(old);
        sayFault(said, error);
        return false;
      } finally { button.disabled = away.disabled = false; }
    }
    async function lookForNewer(record) {
      var list;
      try { list = await listOf(slug); } catch (error) {
        if (faultOf(error).sentence === "gone") { say(said, "gone"); }
        return;
      }
      if (list.version === record.version) {
        if (list.built !== record.built) { show(await keep(slug, list, () => {})); }
        return;
      }
      var isNew = await work(() => list);
      if (isNew) {
        if (list.built) { say(said, "updated", { built: day(list.built) }); }
        one("again").hidden = false;
      }
    }
    button.addEventListener("click", () => {
      work(() => listOf(slug));
    });
    away.addEventListener("click", async () => {
      await remove(slug);
      show(null);
      say(said, "removed");
      one("again").hidden = true;
    });
    // The size is asked for when the reader comes near, not on every page
    function tellSize() {
      listOf(slug).then(list => {
        if (!said.dataset.said) { say(said, "offered", { size: size(list.bytes) }); }
      }, () => { /* told when the button is pressed */ });
    }
    recordOf(slug).then(record => {
      show(record);
      if (record) { lookForNewer(record); return; }
      var watch = new IntersectionObserver(seen => {
        if (seen.some(each => each.isIntersecting)) {
          watch.disconnect();
          tellSize();
        }
      }, { rootMargin: "50%" });
      watch.observe(panel);
    });
  }

  // On the page of what is kept
  function keptPanel() {
    var list = one("list"), pattern = one("row");
    async function update(record, row) {
      var newer;
      try {
        newer = await listOf(record.vehicle);
        if (newer.version === record.version) { return; }
        var now = await keep(record.vehicle, newer, progress(one("progress", row), newer));
        sayKept(one("said", row), now);
      } catch (error) {
        var fault = faultOf(error);
        // Without a connection there is nothing newer to tell of
        if (fault.sentence !== "broken" || fault.gaps.of) { sayFault(one("said", row), fault); }
      } finally { one("progress", row).hidden = true; }
    }
    function rowOf(record) {
      var row = pattern.content.firstElementChild.cloneNode(true);
      var link = row.querySelector("a");
      link.href = address("guides/" + encodeURIComponent(record.vehicle) + "/index.html");
      link.textContent = record.title;
      sayKept(one("said", row), record);
      var away = one("remove", row);
      away.setAttribute("aria-label", away.textContent + ": " + record.title);
      away.addEventListener("click", async () => {
        await remove(record.vehicle);
        row.remove();
        tellCount(list.children.length);
      });
      return row;
    }
    function tellCount(count) { say(one("said"), count ? "" : "nothing"); }
    var missing = new URLSearchParams(location.search).get("missing");
    if (missing) { say(one("missing"), "missing"); one("missing").hidden = false; }
    records().then(async found => {
      tellCount(found.length);
      var rows = found.map(rowOf);
      list.replaceChildren(...rows);
      panel.hidden = false;
      if (found.length) {
        // The worker of a newer site comes here, since no page of a vehicle may be open
        register().catch(() => { /* without a connection */ });
      }
      for (var at = 0; at < found.length; at += 1) { await update(found[at], rows[at]); }
    });
  }

  var why = hindrance();
  // The list is shown when it is known, so that nothing is pushed down
  panel.hidden = !why && !words.vehicle;
  if (why) {
    say(one("said"), why);
    panel.classList.add("hindered");
  } else if (words.vehicle) {
    vehiclePanel(words.vehicle);
  } else {
    keptPanel();
  }
})();
