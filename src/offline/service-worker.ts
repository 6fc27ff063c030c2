import { PrecacheController } from 'workbox-precaching'
import { pageFor } from './page-for.ts'

// Keeps the whole site on the device, one version at a time. A page, and all that hangs on it, comes from the version that is kept, so
// that nothing of it is older or newer than the rest; without a network nothing is missing. A newer version is fetched beside it and waits
// until no page of the site is open any more, or until a reader asks for it. Its files have other names, and those of the version before
// are kept on: a page that is still open in another tab finds what it has not fetched yet.

/** What a service worker knows besides what pages know; TypeScript has one set of types for either. */
type Waiting = Event & { waitUntil: (work: Promise<unknown>) => void }
type Fetching = Event & { request: Request; respondWith: (answer: Promise<Response> | Response) => void }
type Worker = {
  skipWaiting: () => Promise<void>
  clients: { claim: () => Promise<void> }
  addEventListener: ((name: 'install' | 'activate', heard: (event: Waiting) => void) => void) &
    ((name: 'fetch', heard: (event: Fetching) => void) => void) &
    ((name: 'message', heard: (event: MessageEvent) => void) => void)
}

/** Written in at build: address and fingerprint of each file; without one, the name tells the content. */
declare const siteFiles: { url: string; revision: string | null }[]

const worker = self as unknown as Worker
const cacheName = 'round-the-back.site'
/** Stands in the same cache, and is no address of the site. */
const listKey = '/.kept-files'
const kept = new PrecacheController({ cacheName })
kept.addToCacheList(siteFiles)

/** An answer out of the cache; undefined where the cache does not have it. */
const fromCache = async (key: string | undefined): Promise<Response | undefined> =>
  key === undefined ? undefined : (await caches.open(cacheName)).match(key)

/** Throws away what neither this version nor the one before it has. */
async function forgetOlder(): Promise<void> {
  const cache = await caches.open(cacheName)
  const now = [...kept.getURLsToCacheKeys().values()]
  const before: string[] = (await (await cache.match(listKey))?.json().catch(() => [])) ?? []
  const wanted = new Set([...now, ...before, new URL(listKey, location.href).href])
  for (const { url } of await cache.keys()) if (!wanted.has(url)) await cache.delete(url)
  await cache.put(listKey, Response.json(now))
}

/** A page: the kept one; from the network what is not kept; the site's own answer for no address where there is no network. */
async function answerPage(request: Request): Promise<Response> {
  const { pathname, search } = new URL(request.url)
  const found = pageFor(pathname, (path) => kept.getCacheKeyForURL(path) !== undefined)
  if (found && found !== pathname) return Response.redirect(found + search, 301)
  const page = await fromCache(found && kept.getCacheKeyForURL(found))
  if (page) return page
  try {
    return await fetch(request)
  } catch (error) {
    const none = await fromCache(kept.getCacheKeyForURL('/404.html'))
    if (!none) throw error
    return new Response(none.body, { status: 404, headers: none.headers })
  }
}

worker.addEventListener('install', (event) => {
  kept.install(event as unknown as Parameters<typeof kept.install>[0])
})

worker.addEventListener('activate', (event) => {
  // The page that brought the first version along needs not be opened anew.
  event.waitUntil(forgetOlder().then(() => worker.clients.claim()))
})

worker.addEventListener('message', ({ data }) => {
  if (data === 'take over') worker.skipWaiting()
})

worker.addEventListener('fetch', (event) => {
  const { request } = event
  const { origin, pathname } = new URL(request.url)
  if (request.method !== 'GET' || origin !== location.origin) return
  if (request.mode === 'navigate') return event.respondWith(answerPage(request))
  const key = kept.getCacheKeyForURL(pathname)
  // Files of the version before are known by their names alone.
  if (key === undefined && !pathname.startsWith('/_astro/')) return
  event.respondWith(fromCache(key ?? pathname).then((file) => file ?? fetch(request)))
})
