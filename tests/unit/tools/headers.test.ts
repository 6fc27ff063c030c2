import { expect, test } from 'vitest'
import { headersFor, hostHeaders, nginxServer } from '../../../src/tools/headers.mjs'

const policy = "default-src 'none'"
const pages = [
  '/',
  '/answers/',
  '/answers/why/',
  '/compare/',
  '/compare/sent/',
  '/embed/horn/',
  '/embed/wall/',
  '/es/',
  '/es/answers/',
  '/es/answers/why/',
  '/es/compare/',
  '/es/embed/horn/',
  '/own-box/',
  '/walk/',
]
const frame = (path: string) => headersFor(path, policy)['Content-Security-Policy'][1]
const records = (path: string) => /microphone=\(self\)/.test(headersFor(path, policy)['Permissions-Policy'])

test('what is made for other sites may be framed, in every language, and nothing else', () => {
  expect(pages.filter((path) => frame(path) === 'frame-ancestors *')).toEqual([
    '/embed/horn/',
    '/embed/wall/',
    '/es/embed/horn/',
  ])
  for (const path of ['/embed', '/lessons/embed/', '/own-box/embed/x/y', '/es/lessons/embed/'])
    expect(frame(path), path).toBe("frame-ancestors 'none'")
})

test('the microphone is for the pages that record, in every language', () => {
  expect(pages.filter(records)).toEqual(['/compare/', '/es/compare/', '/walk/'])
})

test('the rules of the file for hosts are few, meet each page once, and say what the server says', () => {
  const rules = hostHeaders(pages, policy)
    .trim()
    .split(/\n(?=\/)/)
    .map((rule) => rule.split('\n'))
    .slice(2)
  const meets = (rule = '', path: string) => (rule.endsWith('*') ? path.startsWith(rule.slice(0, -1)) : path === rule)
  for (const path of pages) {
    const met = rules.filter(([rule]) => meets(rule, path))
    expect(
      met.map(([rule]) => rule),
      path,
    ).toHaveLength(1)
    expect(met[0]).toContain(`  Content-Security-Policy: ${frame(path)}`)
    expect(met[0]).toContain(`  Permissions-Policy: ${headersFor(path, policy)['Permissions-Policy']}`)
  }
  expect(rules.map(([rule]) => rule)).toEqual([
    '/',
    '/answers/*',
    '/compare/',
    '/compare/sent/',
    '/embed/*',
    '/es/',
    '/es/answers/*',
    '/es/compare/',
    '/es/embed/horn/',
    '/own-box/',
    '/walk/',
  ])
})

test('nginx is told the same folders', () => {
  const block = nginxServer({ folder: '/srv/site', port: 80, policy })
  for (const [, pattern = '', value] of block.matchAll(/^ {2}"~(\^[^"]+)" "([^"]+)";$/gm))
    for (const path of pages) {
      const meant = value === 'frame-ancestors *' ? frame(path) === value : records(path) && value?.includes('(self)')
      // Two pages record, each with a line of its own.
      if (new RegExp(pattern).test(path)) expect(meant, `${pattern} ${path}`).toBe(true)
    }
  expect(block.match(/^ {2}"~/gm)).toHaveLength(3)
})
