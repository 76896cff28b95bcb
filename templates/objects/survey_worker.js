// Lets places of the survey be opened again without a connection. Made by the server, which fills in the first lines.

{% load i18n %}{% get_current_language as LANGUAGE_CODE %}const VERSION = "{{ version }}";
const ASSETS = [{% for asset in assets %}"{{ asset|escapejs }}"{% if not forloop.last %}, {% endif %}{% endfor %}];
const STATIC = "{{ plain|escapejs }}";
const FILES = `survey-files-${VERSION}`;
const WORDS = [{% for address in words %}"{{ address|escapejs }}"{% if not forloop.last %}, {% endif %}{% endfor %}];
const PAGES = "survey-pages";
const PHOTOS = "survey-photos";
const PATIENCE_MS = 6000; // a weak connection is given so long before the page kept on the device is shown
const SCOPE = new URL(self.registration.scope).pathname;

self.addEventListener("install", (event) => {
  event.waitUntil(install());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(activate());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (address.pathname.startsWith(STATIC) || WORDS.includes(address.pathname)) event.respondWith(file(request));
  else if (request.mode === "navigate" && address.pathname.startsWith(SCOPE)) event.respondWith(page(request, address));
  else if (request.destination === "image") event.respondWith(photo(request));
});

async function install() {
  const files = await caches.open(FILES);
  await files.addAll([...ASSETS, ...WORDS].map((asset) => new Request(asset, { cache: "reload" })));
  await self.skipWaiting();
}

async function activate() {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith("survey-files-") && name !== FILES);
  await Promise.all(older.map((name) => caches.delete(name)));
  await self.clients.claim();
}

// A file of the site: as kept with this version, else from the server.
async function file(request) {
  const files = await caches.open(FILES);
  const kept = await files.match(request);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) await files.put(request, answer.clone());
  return answer;
}

// A page: from the server and kept, else as it was kept last. One that leads to signing in is shown, never kept.
async function page(request, address) {
  const pages = await caches.open(PAGES);
  const kept = await pages.match(address.pathname);
  try {
    const answer = await (kept ? soon(fetch(request)) : fetch(request));
    if (answer.ok && !answer.redirected) await pages.put(address.pathname, answer.clone());
    return answer.status >= 500 && kept ? kept : answer;
  } catch {
    return kept ?? notKept(pages);
  }
}

function soon(answer) {
  return Promise.race([answer, new Promise((_, refuse) => setTimeout(refuse, PATIENCE_MS, new Error("too slow")))]);
}

async function photo(request) {
  const photos = await caches.open(PHOTOS);
  try {
    const answer = await fetch(request);
    if (answer.ok && !answer.redirected) await photos.put(request, answer.clone());
    return answer;
  } catch {
    return (await photos.match(request)) ?? Response.error();
  }
}

// A page just opened, and the photos of its objects: kept now, since it was loaded before this script was there.
self.addEventListener("message", (event) => event.waitUntil(keep(event.data, event.ports[0])));

async function keep({ page: address, photos }, whoAsked) {
  const pages = await caches.open(PAGES);
  await keepOnce(pages, address);
  whoAsked?.postMessage({ isKept: Boolean(await pages.match(address)) });
  const kept = await caches.open(PHOTOS);
  for (const each of photos) await keepOnce(kept, each);
}

async function keepOnce(cache, address) {
  if (await cache.match(address)) return;
  const answer = await fetch(address).catch(() => null);
  if (answer?.ok && !answer.redirected) await cache.put(address, answer);
}

async function linkTo(pages, kept) {
  const page = await (await pages.match(kept)).text();
  const title = page.match(/<h1[^>]*>([^<]*)</)?.[1] ?? "";
  return `<li><a href="${new URL(kept.url).pathname}">${title}</a></li>`;
}

async function notKept(pages) {
  const links = (await Promise.all((await pages.keys()).map((kept) => linkTo(pages, kept)))).join("");
  const others = links ? `<p>{{ said.others|escapejs }}</p><ul>${links}</ul>` : "";
  const words = `<!doctype html><html lang="{{ LANGUAGE_CODE }}"><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>{{ said.title|escapejs }}</title>
<h1>{{ said.title|escapejs }}</h1>
<p>{{ said.what_to_do|escapejs }}</p>${others}</html>`;
  const headers = { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": "default-src 'none'" };
  return new Response(words, { status: 503, headers });
}
