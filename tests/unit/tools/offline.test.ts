import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { keptFiles } from '../../../src/tools/offline.mjs'

let folder: string
const write = (file: string, text: string) => {
  mkdirSync(dirname(join(folder, file)), { recursive: true })
  writeFileSync(join(folder, file), text)
}
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'offline-'))
  for (const file of [
    'index.html',
    '404.html',
    'lessons/index.html',
    'early.js',
    '_astro/a.Bc1.js',
    '_astro/x.9f.woff2',
  ])
    write(file, file)
  for (const file of [
    '_astro/x.9f.ttf',
    '_astro/x.9f.woff',
    'previews/home.png',
    'feed.xml',
    '_headers',
    'early.js.br',
  ])
    write(file, file)
})
afterAll(() => rmSync(folder, { recursive: true }))

test('pages stand under their own address, what has a hash in its name has no other fingerprint, and what no page asks for is left out', () => {
  const files = keptFiles(folder)
  expect(files.map(({ url }) => url).sort()).toEqual([
    '/',
    '/404.html',
    '/_astro/a.Bc1.js',
    '/_astro/x.9f.woff2',
    '/early.js',
    '/lessons/',
  ])
  for (const { url, revision } of files) expect(revision === null, url).toBe(url.startsWith('/_astro/'))
})

test('another content is another fingerprint', () => {
  const of = () => keptFiles(folder).find(({ url }) => url === '/')?.revision
  const before = of()
  write('index.html', 'anew')
  expect(of()).not.toBe(before)
})
