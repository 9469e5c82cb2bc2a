// The service worker of the rounds pages: opens them, and shows the rounds that were
// fetched last, without a network. The server puts two lines before this file: version, the
// hash of all that is kept, and files, their addresses. It touches nothing but these files,
// the pages under /rounds and what the API tells of rounds; what is ticked off goes
// through the queue of the page.
/* global version, files */

const data = "lanewright-rounds-data";
const most = 80; // answers that are kept
const patience = 4000; // ms for an answer where an older one is there

addEventListener("install", (e) => e.waitUntil(install()));
addEventListener("activate", (e) => e.waitUntil(tidy()));

addEventListener("fetch", (e) => {
  const { request } = e;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  const file = request.mode === "navigate" ? pageOf(url.pathname) : url.pathname;
  if (files.includes(file)) e.respondWith(stored(file, request));
  else if (url.pathname === "/api/v1/plants" || /^\/api\/v1\/rounds(\/|$)/.test(url.pathname)) e.respondWith(newest(request));
});

/** pageOf is under what address the page at a path is kept: all rounds have one page. */
const pageOf = (path) => path.startsWith("/rounds/") ? "/rounds/-" : path;

/** install fetches all files, or fails and leaves the worker before in its place. */
async function install() {
  const cache = await caches.open(version);
  await cache.addAll(files.map((file) => new Request(file, { cache: "no-cache" })));
  await skipWaiting();
}

async function tidy() {
  const old = (await caches.keys()).filter((name) => name.startsWith("lanewright-rounds-") && name !== version && name !== data);
  await Promise.all(old.map((name) => caches.delete(name)));
  await clients.claim();
}

async function stored(file, request) {
  const cache = await caches.open(version);
  return await cache.match(file, { ignoreVary: true }) ?? fetch(request);
}

/** newest asks the server, and answers with what it said last where it is silent, slow,
 * failing, or where somebody else answers, as a network that wants a sign-in. */
async function newest(request) {
  const cache = await caches.open(data);
  const last = await cache.match(request, { ignoreVary: true });
  let answer;
  try {
    answer = await fetch(request, last && { signal: AbortSignal.timeout(patience) });
  } catch (error) {
    if (last) return last;
    throw error;
  }
  const own = (answer.headers.get("Content-Type") ?? "").includes("json") && answer.status < 500;
  if (own && answer.ok) await keep(cache, request, answer.clone());
  return own ? answer : last ?? answer;
}

/** keep keeps an answer with the moment it is of; the oldest ones go. */
async function keep(cache, request, answer) {
  const headers = new Headers(answer.headers);
  headers.set("Kept-Since", new Date().toISOString());
  try {
    await cache.put(request, new Response(await answer.blob(), { headers }));
    const kept = await cache.keys();
    await Promise.all(kept.slice(0, Math.max(0, kept.length - most)).map((old) => cache.delete(old)));
  } catch { /* a full device shows what the server says and keeps nothing */ }
}
