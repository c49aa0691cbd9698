// Keeps the page on this phone, so that it opens with the network off. The build puts a line before this file that says
// VERSION and FILES: the name of every file of the page, and the beginning of its SHA-256.
//
// A version is taken in only when every file of it came and is what the build made; until then, and if anything is
// missing, the one before goes on working. A new version waits until the person asks for it. The one before is kept until
// the new one has started once, so that there is a way back.

/* global VERSION, FILES */
const HOME = new URL('./', self.location).href;
const PREFIX = `comb-scale ${HOME} `;
const NAME = PREFIX + VERSION;

const ours = async () => (await caches.keys()).filter((name) => name.startsWith(PREFIX));

async function hashOf(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return btoa(String.fromCharCode(...hash)).slice(0, 24);
}

/** The file as the build made it, from what is kept already or else from the host; throws when it is another one. */
async function fetched(name) {
  const url = HOME + name;
  // What the browser has already will do where its hash is right: a first visit need not fetch everything twice.
  for (const ask of [() => caches.match(url), () => fetch(url), () => fetch(url, { cache: 'reload' })]) {
    const answer = await ask();
    if (!answer?.ok) continue;
    const bytes = await answer.clone().arrayBuffer();
    if ((await hashOf(bytes)) === FILES[name]) return new Response(bytes, { headers: { 'Content-Type': answer.headers.get('Content-Type') ?? '' } });
  }
  throw new Error(`${name} is not what the build made`);
}

async function takeIn() {
  try {
    const cache = await caches.open(NAME);
    for (const name of Object.keys(FILES)) await cache.put(HOME + name, await fetched(name));
  } catch (trouble) {
    await caches.delete(NAME);
    throw trouble;
  }
}

/** From this version; from the one before where this one was put away; else from the host. */
async function answer(request, url) {
  // One question for the common case: each costs a slow phone some milliseconds, and a start asks for a dozen files.
  const own = await caches.match(url, { cacheName: NAME });
  if (own) return own;
  for (const cacheName of (await ours()).reverse()) {
    const kept = await caches.match(url, { cacheName });
    if (kept) return kept;
  }
  return fetch(request);
}

self.addEventListener('install', (event) => event.waitUntil(takeIn()));

self.addEventListener('fetch', (event) => {
  const url = event.request.url.split(/[?#]/)[0];
  if (event.request.method !== 'GET' || !url.startsWith(HOME)) return;
  const name = url.slice(HOME.length) || 'index.html';
  if (name in FILES || event.request.destination !== 'document') event.respondWith(answer(event.request, HOME + name));
});

const ORDERS = {
  /** The person asked for this version. */
  use: () => self.skipWaiting(),
  /** The page of this version has started: the ones before are not needed any more. */
  started: async () => {
    // Caches come in the order they were made in: a newer version that waits stands behind.
    const all = await ours();
    for (const name of all.slice(0, Math.max(0, all.indexOf(NAME)))) await caches.delete(name);
  },
  /** The page of this version does not start, and the person asked for the one before. */
  back: async () => {
    if ((await ours()).length > 1) await caches.delete(NAME);
  },
};

self.addEventListener('message', (event) => {
  const done = Promise.resolve(ORDERS[event.data]?.()).then(() => event.ports[0]?.postMessage('done'));
  event.waitUntil(done);
});
