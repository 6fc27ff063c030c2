// The site under test with a recorder in front of every page: for browsers whose driver does not hand over what a page says.
import { createServer, type Server } from 'node:http'
import { baseURL } from './readers.ts'

declare global {
  interface Window {
    heard: string[]
  }
}

/** Runs in the page, before its own scripts. */
function record() {
  const heard: string[] = []
  window.heard = heard
  for (const level of ['log', 'info', 'warn', 'error', 'debug'] as const) {
    const real = console[level]
    console[level] = (...words: unknown[]) => {
      heard.push(`${level}: ${words.join(' ')}`)
      real(...words)
    }
  }
  addEventListener('error', (event) => heard.push(`error: ${event.message}`), { capture: true })
  addEventListener('unhandledrejection', (event) => heard.push(`rejected: ${event.reason}`))
}

/** Serves what the tests' server gives, each page with the recorder as the first of its scripts; its policy stays, and allows it as the site's own. */
export function serveRecorded(port: number): Promise<Server> {
  const server = createServer(async (request, response) => {
    if (request.url === '/recorder.js') {
      response.writeHead(200, { 'Content-Type': 'text/javascript' })
      response.end(`(${record})()`)
      return
    }
    const given = await fetch(baseURL + request.url, { redirect: 'manual' })
    const kind = given.headers.get('content-type') ?? ''
    for (const name of ['content-type', 'content-security-policy', 'location', 'cache-control']) {
      const value = given.headers.get(name)
      if (value) response.setHeader(name, value)
    }
    response.statusCode = given.status
    if (!kind.startsWith('text/html')) {
      response.end(Buffer.from(await given.arrayBuffer()))
      return
    }
    response.end((await given.text()).replace(/<script\b|<\/head>/, '<script src="/recorder.js"></script>$&'))
  })
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, 'localhost', () => resolve(server))
  })
}
