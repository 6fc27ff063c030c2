import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, test, vi } from 'vitest'
import { fetchSolvedFile, readSolvedFile } from '../../../../src/engine/scene/solved-files.ts'
import { demoRigNames } from '../../../demo-gear.ts'

const home = process.cwd()
afterEach(() => {
  process.chdir(home)
  vi.unstubAllGlobals()
})

test('every rig of content/gear has its file, and a rig that is not there has none', async () => {
  for (const name of demoRigNames()) expect((await readSolvedFile({ name }))?.length).toBeGreaterThan(1000)
  expect(await readSolvedFile({ name: 'mine' })).toBeUndefined()
})

test('a new rig without a file is refused, and how to make it is said', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'gear-'))
  mkdirSync(join(folder, 'content/gear'), { recursive: true })
  writeFileSync(join(folder, 'content/gear/new-rig.json'), '{}')
  process.chdir(folder)
  await expect(readSolvedFile({ name: 'new-rig' })).rejects.toThrow(
    /new-rig\.bin is missing; .*npm run solve-gear new-rig$/,
  )
  process.chdir(home)
  rmSync(folder, { recursive: true })
})

test('a file that does not arrive says why, also when it is too late', async () => {
  const asked = vi.fn(async (_address: string, _options: RequestInit) => new Response(null, { status: 404 }))
  vi.stubGlobal('fetch', asked)
  await expect(fetchSolvedFile('/a.bin')).rejects.toThrow('the site answered 404')
  expect(asked.mock.calls[0]?.[1].signal).toBeInstanceOf(AbortSignal)
  asked.mockRejectedValueOnce(new DOMException('signal timed out', 'TimeoutError'))
  await expect(fetchSolvedFile('/a.bin')).rejects.toThrow('it did not arrive within 20 seconds')
  asked.mockResolvedValueOnce(new Response(new Uint8Array([1, 2, 3])))
  await expect(fetchSolvedFile('/a.bin')).resolves.toEqual(new Uint8Array([1, 2, 3]))
})
