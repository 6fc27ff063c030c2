// A built site as a server sends it, compressed and with files kept that never change: what pages are timed against.
import { existsSync, readFileSync, statSync } from 'node:fs'
import { createServer } from 'node:http'
import { extname, join, normalize } from 'node:path'
import { gzipSync } from 'node:zlib'

const kinds = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.xml': 'application/xml',
  '.txt': 'text/plain',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
}
/** What is compressed already. */
const asItIs = ['.png', '.woff2']

/**
 * @param folder  the built site
 * @param port    a free one
 * @returns       the server, once it listens
 */
export function serveCompressed(folder, port) {
  const sent = new Map()
  const answerTo = (path) => {
    const file = join(folder, normalize(path), path.endsWith('/') ? 'index.html' : '')
    const isThere = existsSync(file) && statSync(file).isFile()
    const body = readFileSync(isThere ? file : join(folder, '404.html'))
    const kind = isThere ? extname(file) : '.html'
    const isPacked = !asItIs.includes(kind)
    return {
      status: isThere ? 200 : 404,
      body: isPacked ? gzipSync(body) : body,
      headers: {
        'Content-Type': kinds[kind] ?? 'application/octet-stream',
        'Cache-Control': path.startsWith('/_astro/') ? 'public, max-age=31536000, immutable' : 'no-cache',
        ...(isPacked && { 'Content-Encoding': 'gzip' }),
      },
    }
  }
  const server = createServer(({ url }, response) => {
    const path = decodeURIComponent(new URL(url, 'http://localhost').pathname)
    if (!sent.has(path)) sent.set(path, answerTo(path))
    const { status, headers, body } = sent.get(path)
    response.writeHead(status, { ...headers, 'Content-Length': body.length })
    response.end(body)
  })
  return new Promise((resolve) => {
    server.listen(port, () => resolve(server))
  })
}
