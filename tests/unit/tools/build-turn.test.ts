import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { inBuildTurn } from '../../../src/tools/build-turn.mjs'

let folder: string
let name: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'build-turn-'))
  name = join(folder, 'builds')
})
afterEach(() => rmSync(folder, { recursive: true }))

test('pieces of work under one name come one after the other, whether they succeed or not', async () => {
  let [going, most] = [0, 0]
  const work = (fails: boolean) => async () => {
    going += 1
    most = Math.max(most, going)
    await new Promise((done) => setImmediate(done))
    going -= 1
    if (fails) throw new Error('not built')
    return 'built'
  }
  const results = await Promise.allSettled([false, true, false].map((fails) => inBuildTurn(name, work(fails))))
  expect(results.map(({ status }) => status).sort()).toEqual(['fulfilled', 'fulfilled', 'rejected'])
  expect(most).toBe(1)
  expect(existsSync(name)).toBe(false)
})

test('while it works it says who does; what a process that is gone left behind does not count', async () => {
  // No system gives such a number to a process.
  writeFileSync(name, String(2 ** 30))
  const pid = await inBuildTurn(name, async () => readFileSync(name, 'utf8'))
  expect(pid).toBe(String(process.pid))
})
