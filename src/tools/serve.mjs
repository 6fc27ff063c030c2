// Serves a built site: node src/tools/serve.mjs <folder> <port>. With --next the next free port is taken where that one is not.
import { readFileSync } from 'node:fs'
import { createServer } from 'node:http'
import { join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import sirv from 'sirv'
import { headersFor, pagesOf, policyOf } from './headers.mjs'
import { freePort, stop } from './set-up.mjs'

/**
 * What answers the requests for a built site: its files, compressed ones where the reader's browser takes them, the site's own page for
 * no address, and plain words for what is no request for a file at all.
 *
 * @param folder  of the built site, which stays as it is
 * @throws        if there is no built site
 */
export function siteHandler(folder) {
  const pages = new Set(pagesOf(folder))
  const policy = policyOf(folder)
  const notFound = readFileSync(join(folder, '404.html'))
  const files = sirv(folder, { etag: true, brotli: true, gzip: true })
  return (request, response) => {
    const refuse = (status, words) => {
      response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8' })
      response.end(`${words}\n`)
    }
    const path = pathIn(request.url)
    for (const [name, value] of Object.entries(headersFor(path ?? '/', policy))) response.setHeader(name, value)
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.setHeader('Allow', 'GET, HEAD')
      return refuse(405, 'This server only gives: GET and HEAD.')
    }
    if (path === undefined) return refuse(400, 'This is no address of a page.')
    if (pages.has(`${path}/`)) {
      const [at, query] = request.url.split(/(?=\?)/, 2)
      response.writeHead(301, { Location: `${at}/${query ?? ''}` })
      return response.end()
    }
    if (!isRange(request.headers.range)) delete request.headers.range
    const noFile = () => {
      // What is missing today may come tomorrow.
      response.writeHead(404, { 'Content-Type': 'text/html; charset=utf-8', 'Cache-Control': 'no-cache' })
      response.end(request.method === 'HEAD' ? undefined : notFound)
    }
    // A page has one address, with the slash; what is for hosts is no page.
    if (path === '/_headers' || (path.endsWith('/') && !pages.has(path))) return noFile()
    files(request, response, noFile)
  }
}

/** The path that is asked for, decoded; undefined where it is none, or leads out of the site. */
function pathIn(target = '') {
  try {
    const path = decodeURIComponent(target.split(/[?#]/, 1)[0] ?? '')
    const isPath = path.startsWith('/') && !/[\0\\]/.test(path) && !path.split('/').includes('..')
    return isPath ? path : undefined
  } catch {
    return undefined
  }
}

/** Whether a range asks for something; another one is passed over, as HTTP has it. */
function isRange(range) {
  const [, from, to] = /^bytes=(\d+)-(\d*)$/.exec(range ?? '') ?? []
  return from !== undefined && (to === '' || Number(from) <= Number(to))
}

/**
 * Serves a built site under localhost.
 *
 * @param port     wanted
 * @param orNext   whether another one will do
 * @returns        server and port
 * @throws         if the port is taken and no other will do
 */
export async function serve(folder, port, { orNext = false } = {}) {
  const server = createServer(siteHandler(resolve(folder)))
  // What is not even HTTP gets an answer, too.
  server.on('clientError', (_error, socket) => socket.writable && socket.end('HTTP/1.1 400 Bad Request\r\n\r\n'))
  for (let wanted = port; ; wanted += 1) {
    const at = orNext ? await freePort(wanted) : wanted
    try {
      await new Promise((done, failed) => {
        server.once('error', failed)
        server.listen(at, 'localhost', () => done(server.off('error', failed)))
      })
      return { server, port: at }
    } catch (error) {
      // Somebody else took it in between.
      if (!orNext || error.code !== 'EADDRINUSE' || wanted > port + 99) throw error
    }
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [folder = 'dist', port = '4321'] = process.argv.slice(2).filter((word) => !word.startsWith('--'))
  const orNext = process.argv.includes('--next')
  const { port: at } = await serve(folder, Number(port), { orNext }).catch((error) =>
    stop(error.code === 'EADDRINUSE' ? `Port ${port} is busy.` : `${folder} cannot be served: ${error.message}`),
  )
  if (orNext) console.log(`Round the Back is at http://localhost:${at}/  (Ctrl+C stops it)`)
}
