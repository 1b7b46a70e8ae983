/* Keeps the whole handbook on the device. A build is kept whole or not at all; the one in use stays until a newer one
   has been taken by a tap. The build writes its list of files in below. */
"use strict";

const LIST = "the list of this build";
const SCOPE = new URL("./", self.location).href;
const OURS = "handbook " + SCOPE + " ";
const STORE = OURS + LIST.build;
const TYPES = { html: "text/html", json: "application/json", csv: "text/csv", xml: "application/xml" };

self.addEventListener("install", (event) => {
  if (!LIST.build) {
    self.skipWaiting();
    return;
  }
  event.waitUntil(keepAll().catch(async (error) => {
    await caches.delete(STORE);
    throw error;
  }));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(OURS) && name !== STORE) await caches.delete(name);
    }
    if (!LIST.build) await self.registration.unregister();
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  if (event.data === "day") event.ports[0].postMessage(LIST.day);
  if (event.data === "take") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const request = event.request;
  if (!LIST.build || request.method !== "GET" || !request.url.startsWith(SCOPE)) return;
  event.respondWith(answer(request));
});

/* Every file of the list, a few at a time, each compared with its hash: a server that is half way through an upload
   gives a failed install, not half of each. */
async function keepAll() {
  await caches.delete(STORE);
  const store = await caches.open(STORE);
  const waiting = LIST.files.slice();
  const take = async () => {
    for (let next = waiting.shift(); next; next = waiting.shift()) await keep(store, next[0], next[1]);
  };
  await Promise.all([take(), take(), take(), take()]);
}

async function keep(store, path, hash) {
  const url = SCOPE + path;
  const old = await kept(url);
  if (old && (await hashOf(await old.clone().arrayBuffer())) === hash) return store.put(url, old);
  const found = await fetch(url, { cache: "no-cache" });
  if (!found.ok || found.redirected) throw new Error(path + ": " + found.status);
  const bytes = await found.arrayBuffer();
  if ((await hashOf(bytes)) !== hash) throw new Error(path + " is of another build");
  return store.put(url, new Response(bytes, { headers: { "Content-Type": found.headers.get("Content-Type") || "" } }));
}

/* A file as an older build of this handbook has it. */
async function kept(url) {
  for (const name of await caches.keys()) {
    if (!name.startsWith(OURS) || name === STORE) continue;
    const found = await (await caches.open(name)).match(url);
    if (found) return found;
  }
  return undefined;
}

async function hashOf(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(hash, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function answer(request) {
  const url = new URL(request.url);
  const path = decodeURI(url.origin + url.pathname).slice(SCOPE.length);
  const page = path === "" || path.endsWith("/") ? path + "index.html" : path;
  if (page in LIST.pages) return unpacked(page);
  const store = await caches.open(STORE);
  const found = await store.match(SCOPE + path);
  if (found) return found;
  if (path + "/index.html" in LIST.pages) return Response.redirect(SCOPE + path + "/" + url.search, 301);
  try {
    return await fetch(request);
  } catch (error) {
    if (request.mode !== "navigate") throw error;
    return missing();
  }
}

async function unpacked(path) {
  const [pack, start, end] = LIST.pages[path];
  const store = await caches.open(STORE);
  const packed = await store.match(SCOPE + pack);
  /* The browser may have thrown the store away: then the network, if there is one. */
  if (!packed) return fetch(SCOPE + path);
  const plain = packed.body.pipeThrough(new DecompressionStream("gzip"));
  const bytes = (await new Response(plain).arrayBuffer()).slice(start, end);
  const type = TYPES[path.slice(path.lastIndexOf(".") + 1)];
  return new Response(bytes, { headers: { "Content-Type": type + "; charset=utf-8" } });
}

/* Red on black, whatever screen is chosen: a worker cannot know it. */
function missing() {
  const words = "<!doctype html><meta charset=utf-8><meta name=viewport content='width=device-width'>" +
    "<style>html{background:#000;color:red;font:bold 24px sans-serif}a{color:red}</style>" +
    "<title>Not here</title><h1>No such page is kept on this device</h1><p><a href='" + SCOPE + "'>Home</a></p>";
  return new Response(words, { status: 404, headers: { "Content-Type": "text/html; charset=utf-8" } });
}
