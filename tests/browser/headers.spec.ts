// What goes with every answer, from the project's own server, from nginx by the printed configuration, and in the file for other hosts.
import { readFileSync } from 'node:fs'
import { createServer, request } from 'node:http'
import { connect } from 'node:net'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { headersFor, policyOf, recordingPages } from '../../src/tools/headers.mjs'
import { freePort } from '../../src/tools/set-up.mjs'
import { startNginx } from '../nginx-here.ts'
import { builtPages } from './built-pages.ts'
import { baseURL, port } from './readers.ts'
import { test } from './test.ts'

const site = join(import.meta.dirname, '../results/site')
const policy = policyOf(site)
const pages = builtPages

type Answer = { status: number; headers: Record<string, string | string[] | undefined>; body: Buffer }

/** One request as it is written, with nothing put right by a browser; policies that came one by one are told one by one. */
const ask = (origin: string, path: string, headers: Record<string, string> = {}, method = 'GET') =>
  new Promise<Answer>((done, fail) => {
    const { hostname, port } = new URL(origin)
    const asked = request({ hostname, port, path, headers, method }, (response) => {
      const parts: Buffer[] = []
      response.on('data', (part) => parts.push(part))
      response.on('end', () => {
        const policies = response.rawHeaders.filter((_, at, all) =>
          /^content-security-policy$/i.test(all[at - 1] ?? ''),
        )
        done({
          status: response.statusCode ?? 0,
          headers: { ...response.headers, 'content-security-policy': policies },
          body: Buffer.concat(parts),
        })
      })
    })
    asked.on('error', fail)
    asked.end()
  })

/** What a server must answer, whichever it is. */
async function expectServed(origin: string) {
  const everything = [
    ...pages,
    '/icon.svg',
    '/early.js',
    '/service-worker.js',
    '/manifest.webmanifest',
    '/icons/icon-192.png',
  ]
  const [page = ''] = /\/_astro\/[^"]+\.js/.exec(readFileSync(join(site, 'index.html'), 'utf8')) ?? []
  expect(page).not.toBe('')
  for (const path of [...everything, page, '/no/such/page/', '/_astro/none.js']) {
    const { status, headers } = await ask(origin, path)
    const isThere = !/\/no/.test(path)
    expect(status, path).toBe(isThere ? 200 : 404)
    for (const [name, value] of Object.entries(headersFor(path, policy)))
      expect(headers[name.toLowerCase()], `${path}: ${name}`).toEqual(
        // What is missing today may come tomorrow.
        name === 'Cache-Control' && !isThere ? 'no-cache' : value,
      )
  }
  const kinds: [string, RegExp][] = [
    ['/', /^text\/html; ?charset=utf-8$/i],
    [page, /^text\/javascript/],
    ['/icon.svg', /^image\/svg\+xml/],
    ['/manifest.webmanifest', /^application\/manifest\+json/],
    ['/search-index.json', /^application\/json/],
  ]
  for (const [path, kind] of kinds) expect((await ask(origin, path)).headers['content-type'], path).toMatch(kind)

  const missing = await ask(origin, '/no/such/page/')
  expect(missing.body.toString()).toContain('No such page')
  expect((await ask(origin, '/_headers')).status).toBe(404)
  const moved = await ask(origin, '/lessons?x=1')
  expect([moved.status, moved.headers['location']]).toEqual([301, '/lessons/?x=1'])

  const plain = await ask(origin, '/evidence/')
  const small = await ask(origin, '/evidence/', { 'accept-encoding': 'gzip' })
  expect(small.headers['content-encoding']).toBe('gzip')
  expect(small.body.length).toBeLessThan(plain.body.length / 4)
  const again = await ask(origin, '/evidence/', { 'if-none-match': String(plain.headers['etag']) })
  expect([again.status, again.body.length]).toEqual([304, 0])

  for (const path of [
    '/..%2f..%2fpackage.json',
    '/%2e%2e/%2e%2e/package.json',
    '/../../package.json',
    '/%00',
    '/%c0%af',
    '/%',
  ])
    expect([400, 404], path).toContain((await ask(origin, path)).status)
}

test('the project’s own server: every page and file with its headers, compressed, long kept where it has a hash', () =>
  expectServed(baseURL))

test('it answers what is no request for a file in one plain line, and goes on', async () => {
  for (const path of ['/..%2f..', '/%', '/%ff', '/%00', '/a/../../b', '/\\..\\b']) {
    const { status, headers, body } = await ask(baseURL, path)
    expect(status, path).toBe(400)
    expect(headers['content-type'], path).toMatch(/^text\/plain/)
    expect(body.toString(), path).toBe('This is no address of a page.\n')
  }
  for (const method of ['POST', 'DELETE', 'OPTIONS']) expect((await ask(baseURL, '/', {}, method)).status).toBe(405)
  expect((await ask(baseURL, '/', {}, 'HEAD')).body.length).toBe(0)
  for (const range of ['bytes=9-2', 'bytes=a-b', 'lines=1-2', 'bytes=0-1,4-5'])
    expect((await ask(baseURL, '/icon.svg', { range })).status, range).toBe(200)
  const part = await ask(baseURL, '/icon.svg', { range: 'bytes=0-9' })
  expect([part.status, part.body.length]).toEqual([206, 10])
  // A redirect never leads to another host, and a page has one address.
  for (const path of ['//evil.example', '//lessons', '/icon.svg/', '/404/'])
    expect((await ask(baseURL, path)).status, path).toBe(404)
  const nonsense = await new Promise<string>((done) => {
    const socket = connect(port, 'localhost', () => socket.end('NO HTTP AT ALL\r\n\r\n'))
    let said = ''
    socket.on('data', (text) => (said += text))
    socket.on('close', () => done(said))
  })
  expect(nonsense).toMatch(/^HTTP\/1\.1 400 /)
  expect((await ask(baseURL, '/')).status).toBe(200)
})

const nginx = process.env['NGINX_PATH']
if (nginx)
  test('nginx by the printed configuration: the same', async () => {
    const { origin, stop } = await startNginx(nginx, site, port + 40)
    try {
      await expectServed(origin)
    } finally {
      await stop()
    }
  })

test('the file for other hosts gives every page what the server gives', async () => {
  const rules = readFileSync(join(site, '_headers'), 'utf8')
    .trim()
    .split(/\n(?=\/)/)
    .map((rule) => {
      const [path = '', ...lines] = rule.split('\n')
      return { path, headers: lines.map((line) => /^ {2}([\w-]+): (.+)$/.exec(line)?.slice(1) as [string, string]) }
    })
  // What such hosts allow: a hundred rules, 2,000 characters a line.
  expect(rules.length).toBeLessThanOrEqual(100)
  for (const path of [...pages, '/icon.svg', '/_astro/x.js']) {
    const joined: Record<string, string[]> = {}
    for (const rule of rules) {
      const isMeant = rule.path.endsWith('*') ? path.startsWith(rule.path.slice(0, -1)) : path === rule.path
      if (isMeant) for (const [name, value] of rule.headers) joined[name] = [...(joined[name] ?? []), value]
    }
    for (const line of Object.values(joined).flat()) expect(line.length).toBeLessThan(1900)
    const wanted = headersFor(path, policy)
    const isPage = pages.includes(path)
    expect(joined['Content-Security-Policy'], path).toEqual(isPage ? wanted['Content-Security-Policy'] : [policy])
    expect(joined['Permissions-Policy'], path).toEqual(isPage ? [wanted['Permissions-Policy']] : undefined)
    expect(joined['X-Content-Type-Options']).toEqual(['nosniff'])
    expect(joined['Referrer-Policy']).toEqual([wanted['Referrer-Policy']])
    expect(joined['Cache-Control'], path).toEqual(path.startsWith('/_astro/') ? [wanted['Cache-Control']] : undefined)
  }
})

test('another site may frame what is made for it, and nothing else', async ({ page }) => {
  const host = createServer((_request, response) => {
    response.setHeader('content-type', 'text/html')
    response.end(
      `<iframe name="embed" src="${baseURL}/embed/walk-round/"></iframe><iframe name="whole" src="${baseURL}/"></iframe>`,
    )
  })
  const at = await freePort(port + 60)
  await new Promise<void>((done) => host.listen(at, 'localhost', done))
  try {
    const refused = page.waitForEvent('console', (message) => /frame-ancestors/.test(message.text()))
    await page.goto(`http://localhost:${at}/`)
    await refused
    await expect(page.frameLocator('[name=embed]').locator('.figure .sentence').first()).toBeVisible()
    await expect(page.frameLocator('[name=whole]').locator('h1')).toHaveCount(0)
  } finally {
    host.closeAllConnections()
    host.close()
  }
})

test('the microphone is for the pages that record, and for no other', async ({ page, context }) => {
  await context.grantPermissions(['microphone'])
  const allowed: string[] = []
  for (const path of pages) {
    // The policy comes with the head of the answer.
    await page.goto(path, { waitUntil: 'commit' })
    const mayRecord = await page.evaluate(() => {
      const { permissionsPolicy, featurePolicy } = document as unknown as Record<
        string,
        { allowsFeature(name: string): boolean }
      >
      return (permissionsPolicy ?? featurePolicy)?.allowsFeature('microphone')
    })
    if (mayRecord) allowed.push(path)
  }
  expect(allowed.filter((path) => !/^\/[a-z]{2}\//.test(path))).toEqual([...recordingPages].sort())
  // In another language the same ones.
  const bare = allowed.map((path) => path.replace(/^\/[a-z]{2}(?=\/)/, ''))
  expect(bare.filter((path) => !recordingPages.includes(path))).toEqual([])
})
