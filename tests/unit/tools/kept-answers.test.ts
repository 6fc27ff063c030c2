import { cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { keptAnswers } from '../../../src/tools/kept-answers.mjs'

let folder: string
let kept: string

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'kept-answers-'))
  kept = join(folder, 'kept')
  for (const [file, text] of [
    ['src/acoustics/speed.ts', '343'],
    ['content/gear/box.json', '{}'],
    ['tests/evidence/checks/air.ts', 'air'],
    ['package-lock.json', '{}'],
  ] as const)
    write(file, text)
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

function write(file: string, text: string) {
  mkdirSync(join(folder, file, '..'), { recursive: true })
  writeFileSync(join(folder, file), text)
}

/** A build, in a process of its own as far as the module knows: what it computes, and what it does before it is done. */
async function build(compute: () => unknown, meanwhile = () => {}) {
  vi.resetModules()
  const { keptAtBuild } = await import('../../../src/widgets/at-build/kept-at-build.ts')
  const { hooks } = keptAnswers(folder, kept)
  hooks['astro:config:setup']({ command: 'build' })
  const answer = await keptAtBuild('answer', { of: 1 }, compute)
  meanwhile()
  hooks['astro:build:done']()
  return answer
}

const never = () => {
  throw new Error('computed again')
}
const whole = { levels: new Float64Array([1 / 3, Number.NaN]), none: undefined, far: -0, by: new Map([['a', 1]]) }

test('the next build of the same files takes over what one computed, to the last bit', async () => {
  await build(() => whole)
  expect(await build(never)).toEqual(whole)
  expect(await build(() => Promise.resolve(never()))).toEqual(whole)
})

test('what a promise brings is kept as well', async () => {
  expect(await build(() => Promise.resolve(7))).toBe(7)
  expect(await build(never)).toBe(7)
})

test.each(['src/acoustics/speed.ts', 'content/gear/box.json', 'tests/evidence/checks/air.ts', 'package-lock.json'])(
  'a change of %s leaves nothing of what was kept',
  async (file) => {
    await build(() => 1)
    write(file, 'another')
    expect(await build(() => 2)).toBe(2)
    expect(readdirSync(kept)).toHaveLength(1)
  },
)

test('a file more, or one under another name, counts as a change', async () => {
  await build(() => 1)
  write('src/acoustics/more.ts', '')
  expect(await build(() => 2)).toBe(2)
  cpSync(join(folder, 'src/acoustics/more.ts'), join(folder, 'src/acoustics/moved.ts'))
  rmSync(join(folder, 'src/acoustics/more.ts'))
  expect(await build(() => 3)).toBe(3)
})

test('a build during which a file changes keeps nothing', async () => {
  await build(
    () => 1,
    () => write('src/acoustics/speed.ts', '344'),
  )
  expect(await build(() => 2)).toBe(2)
})

test('another question under the same name is another answer, and without a build nothing is kept', async () => {
  await build(() => 1)
  vi.resetModules()
  const { keptAtBuild } = await import('../../../src/widgets/at-build/kept-at-build.ts')
  keptAnswers(folder, kept).hooks['astro:config:setup']({ command: 'dev' })
  expect(keptAtBuild('answer', { of: 1 }, () => 2)).toBe(2)
  expect(keptAtBuild('answer', { of: 2 }, () => 3)).toBe(3)
  expect(keptAtBuild('answer', { of: 1 }, never)).toBe(2)
})
