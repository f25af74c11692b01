/**
 * Answers for the desk while it cannot be reached: the card's page and all that it is
 * made of. A new bundle is fetched whole before it takes the place of the old one.
 */
export {};

declare const self: ServiceWorkerGlobalScope;
/** Filled in when it is bundled: what to keep, and the name of the bundle. */
declare const __FILES__: readonly string[];
declare const __PAGES__: readonly string[];
declare const __BUILD__: string;

const OURS = "limen-card-";
const NAME = `${OURS}${__BUILD__}`;
const BUILD = "Limen-Build";
const PATIENCE = 1_200; // ms for a page; then the one that is kept is shown

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(NAME)
      .then((cache) => cache.addAll([...__FILES__, ...__PAGES__].map((url) => new Request(url, { cache: "reload" }))))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((one) => one.startsWith(OURS) && one !== NAME).map((one) => caches.delete(one))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (__PAGES__.includes(url.pathname)) event.respondWith(page(event, url.pathname));
  else if (__FILES__.includes(url.pathname)) event.respondWith(file(request));
});

/** The page as the desk has it now, if it answers soon; else as it is kept. */
async function page(event: FetchEvent, path: string): Promise<Response> {
  const cache = await caches.open(NAME);
  const kept = await cache.match(path, { ignoreVary: true });
  const fresh = fetch(event.request).then((answer) => taken(cache, path, answer));
  if (!kept) return fresh;
  event.waitUntil(fresh.catch(() => undefined));
  const late = new Promise<null>((done) => setTimeout(() => done(null), PATIENCE));
  const answer = await Promise.race([fresh.catch(() => null), late]);
  return answer?.ok ? answer : kept;
}

/** Kept only if it belongs to the files that are kept; another bundle comes whole. */
async function taken(cache: Cache, path: string, answer: Response): Promise<Response> {
  if (!answer.ok || answer.redirected) return answer;
  const build = answer.headers.get(BUILD);
  if (build === null || build === __BUILD__) await cache.put(path, answer.clone());
  else void self.registration.update();
  return answer;
}

async function file(request: Request): Promise<Response> {
  const kept = await caches.match(request, { ignoreVary: true });
  return kept ?? fetch(request);
}
