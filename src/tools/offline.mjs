import { createHash } from 'node:crypto'
import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'vite'

/**
 * What no page of the site asks for: pictures for other programs, lists for search engines and feed readers, forms of the typefaces for
 * browsers that are too old for the site, the tests' own page.
 */
const notKept = /^(previews|harness)\/|\.(xml|ttf|woff|br|gz)$|^_headers$|^service-worker\.js$/

/**
 * Every file of a built site that is to be kept on a device.
 *
 * @param folder  of the built site
 * @returns       address and fingerprint, null for a file whose name has one; a page under its own address
 */
export function keptFiles(folder) {
  return globSync('**/*.*', { cwd: folder })
    .map((file) => file.replaceAll('\\', '/'))
    .filter((file) => !notKept.test(file))
    .sort()
    .map((file) => ({
      url: `/${file.replace(/(^|\/)index\.html$/, '$1')}`,
      revision: file.startsWith('_astro/') ? null : fingerprint(join(folder, file)),
    }))
}

const fingerprint = (file) => createHash('sha256').update(readFileSync(file)).digest('hex').slice(0, 16)

/** Writes service-worker.js beside the pages: it keeps the site on the device (src/offline). */
export async function writeServiceWorker(folder) {
  await build({
    configFile: false,
    logLevel: 'warn',
    publicDir: false,
    define: { siteFiles: JSON.stringify(keptFiles(folder)), 'process.env.NODE_ENV': '"production"' },
    build: {
      outDir: folder,
      emptyOutDir: false,
      target: ['safari16.4', 'firefox115', 'chrome111'],
      rolldownOptions: {
        input: fileURLToPath(new URL('../offline/service-worker.ts', import.meta.url)),
        output: { format: 'iife', entryFileNames: 'service-worker.js' },
      },
    },
  })
}

/**
 * In development nothing is kept: a worker that an earlier look at the built site left behind under the same address goes, and what it
 * kept with it.
 */
const leaving = `
  self.addEventListener('install', () => self.skipWaiting())
  self.addEventListener('activate', (event) => event.waitUntil((async () => {
    for (const name of await caches.keys()) await caches.delete(name)
    await self.registration.unregister()
    for (const page of await self.clients.matchAll({ type: 'window' })) page.navigate(page.url)
  })()))
`

export const offline = {
  name: 'offline',
  hooks: {
    'astro:server:setup': ({ server }) => {
      server.middlewares.use('/service-worker.js', (_request, response) => {
        response.writeHead(200, { 'Content-Type': 'text/javascript', 'Cache-Control': 'no-store' })
        response.end(leaving)
      })
    },
    'astro:build:done': ({ dir }) => writeServiceWorker(fileURLToPath(dir)),
  },
}
