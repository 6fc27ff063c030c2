// 2,000 spoilt files for every reader of one. The list is complete by construction: a reader in src that is not on it fails the test by name.
import { globSync, readFileSync } from 'node:fs'
import { describe, expect, test, vi } from 'vitest'
import {
  openWav,
  readBandTable,
  readMicrophoneFile,
  recordingBands,
  writeBandTable,
} from '../../../src/acoustics/index.ts'
import { RecordingError } from '../../../src/acoustics/measuring/recording-problem.ts'
import { readWav } from '../../../src/acoustics/signals/read-wav.ts'
import { writeWav } from '../../../src/acoustics/signals/write-wav.ts'
import { usualAir } from '../../../src/engine/scene/air.ts'
import { exportCourse, importCourse } from '../../../src/state/course-file.ts'
import { readEnclosure, writeEnclosure } from '../../../src/state/enclosure.ts'
import { changeLessonCheck } from '../../../src/state/lesson-checks.ts'
import { readPlan, writePlan } from '../../../src/state/plan-file.ts'
import { importRigs, rigsFile, savedRigs } from '../../../src/state/saved-rigs.ts'
import { readTest, writeTest } from '../../../src/widgets/compare/kept-test.ts'
import { readLetter, writeLetter } from '../../../src/widgets/compare-sent/letter.ts'
import { readWalks, writeWalks } from '../../../src/widgets/phone-walk/kept-walks.ts'
import { readHumidityPct, readTemperatureC } from '../../../src/words/air.ts'
import { readLengthM } from '../../../src/words/measures.ts'
import { caseOf } from '../acoustics/measuring/verdict-cases.ts'
import { FakeStorage, fakePage } from '../state/fake-page.ts'
import { known, smallPlan } from '../state/plan-samples.ts'
import { wholeTest } from '../widgets/compare/test-fixture.ts'
import { aWalk } from '../widgets/phone-walk/walk-fixture.ts'
import { badNumbers, Spoiler } from './spoil.ts'

const count = 2000
const rigs = ['top-over-sub', 'compact-two-way'].map((name) => {
  const { cabinets } = JSON.parse(readFileSync(`content/gear/${name}.json`, 'utf8'))
  return { name, rig: { name, cabinets } }
})
const tones = [0, 1].map((channel) => Float32Array.from({ length: 400 }, (_, at) => Math.sin(at / (7 + channel)) / 2))
const wav = writeWav({ sampleRateHz: 48000, channels: tones }, 'pcm16')
const levels = recordingBands.map((_, band) => (band % 9 === 4 ? null : 60 - band / 2))
const { bands, detail, geometry } = caseOf('wall', 3).given
const letter = writeLetter({
  test: {
    bands: bands.map(({ levels, difference }) => (levels && difference ? { levels, difference } : null)),
    detail,
    geometry: geometry as NonNullable<typeof geometry>,
    wallsAreEntered: true,
    bringTogether: false,
    air: usualAir,
  },
  isPractice: false,
  isMatched: true,
  hasQuiet: false,
  isCorrected: { front: false, behind: false },
  date: '2026-11-29',
  note: 'left “stack”',
})
const sender = { name: 'Ada', reach: '+44 1632 960000', note: 'for Friday' }

/** What a reader has given: something of its own, or in words why not. Whatever else it throws fails. */
type Outcome = { value: unknown } | { refused: string }
/** Gives one file to a reader, in the way that the page does. */
type Reader = { good: () => string | Uint8Array | Promise<string>; read: (file: never) => unknown; json?: boolean }

/** Readers that throw what they refuse, as they say; the page has words for each kind. */
const throwing =
  <File>(read: (file: File) => unknown, refusal: new (...args: never[]) => Error) =>
  async (file: File): Promise<Outcome> => {
    try {
      return { value: await read(file) }
    } catch (error) {
      if (error instanceof refusal) return { refused: error.message }
      throw error
    }
  }
/** Readers that give words in place of a value. */
const telling =
  (read: (text: string) => unknown) =>
  (text: string): Outcome => {
    const value = read(text)
    return typeof value === 'string' ? { refused: value } : { value }
  }
const course = async (text: string): Promise<Outcome> => {
  fakePage()
  const { changed, of, problem } = await importCourse(text)
  return problem ? { refused: problem } : { value: { changed, of, file: JSON.parse(exportCourse()) } }
}
const rigsOf = async (text: string): Promise<Outcome> => {
  const store = new FakeStorage()
  const { added, problems } = await importRigs(text, store)
  const kept = savedRigs.read(store)
  // What was taken in is there, and can be read.
  expect([kept.things.length, kept.problems]).toEqual([added, []])
  return added > 0 ? { value: kept.things } : { refused: problems[0] ?? 'nothing in it' }
}
const source = (bytes: Uint8Array) => ({
  size: bytes.length,
  slice: async (from: number, to: number) => bytes.slice(from, to),
})

const readers: Record<string, Reader> = {
  importCourse: {
    good: async () => {
      fakePage()
      await changeLessonCheck('more-boxes', {}, () => ({ done: { right: 6, of: 8, on: '2026-11-29' } }))
      return exportCourse()
    },
    read: course,
    json: true,
  },
  importRigs: { good: () => rigsFile(rigs), read: rigsOf, json: true },
  openWav: { good: () => wav, read: throwing((bytes: Uint8Array) => openWav(source(bytes)), RecordingError) },
  readBandTable: {
    good: () => writeBandTable({ front: levels, behind: levels }),
    read: throwing(readBandTable, RecordingError),
  },
  readEnclosure: { good: () => writeEnclosure({ from: sender, rigs }), read: telling(readEnclosure) },
  readHumidityPct: {
    good: () => '45 %',
    read: (text: string) => ({ value: Number.isNaN(readHumidityPct(text)) ? null : 1 }),
  },
  readLengthM: {
    good: () => '4 ft 5 in',
    read: (text: string) => ({ value: Number.isNaN(readLengthM(text, 1)) ? null : 1 }),
  },
  readLetter: { good: () => letter, read: telling(readLetter) },
  readMicrophoneFile: {
    good: () =>
      `* a microphone\n${levels.map((level, band) => `${20 * 2 ** (band / 3)}\t${(level ?? 0) / 20}`).join('\n')}`,
    read: throwing(readMicrophoneFile, RecordingError),
  },
  readPlan: { good: () => writePlan(smallPlan), read: telling((text) => readPlan(text, known)), json: true },
  readTemperatureC: {
    good: () => '68 °F',
    read: (text: string) => ({ value: Number.isNaN(readTemperatureC(text, 'ft')) ? null : 1 }),
  },
  readTest: { good: () => writeTest(wholeTest()), read: telling(readTest), json: true },
  readWalks: { good: () => writeWalks([aWalk(), aWalk('walk-2')]), read: telling(readWalks), json: true },
  readWav: { good: () => wav, read: throwing(readWav, RecordingError) },
}

describe('a spoilt file', () => {
  test('every reader is on the list', () => {
    const found = globSync('src/**/*.ts').flatMap((file) =>
      [
        ...readFileSync(file, 'utf8').matchAll(
          /^export (?:async )?(?:function |const )((?:read|import|open)[A-Z]\w*)(?: = )?(?:async )?\((?:text: string|bytes: Uint8Array|\{ size, slice \}: ByteSource)/gm,
        ),
      ].map(([, name]) => name),
    )
    expect(Object.keys(readers)).toEqual(found.sort())
  })

  for (const [name, { good, read, json }] of Object.entries(readers))
    test(`${name}: gives something sound or says in short why not`, async () => {
      // A browser without locks: taking turns has tests of its own.
      vi.stubGlobal('navigator', {})
      const whole = await good()
      const give = async (file: unknown): Promise<Outcome> => (await read(file as never)) as Outcome
      expect(await give(whole), 'as it was written').toHaveProperty('value')
      const spoiler = new Spoiler(1311)
      let changed = 0
      for (let round = 0; round < count; round++) {
        const file =
          whole instanceof Uint8Array ? spoiler.bytes(whole) : json ? spoiler.json(whole) : spoiler.text(whole)
        const outcome = await give(file).catch((error) => expect.fail(`${String(file).slice(0, 2000)}\n${error.stack}`))
        if (String(file) !== String(whole)) changed += 1
        const wrong =
          'value' in outcome
            ? badNumbers(outcome.value)
            : outcome.refused === '' || outcome.refused.length > 600
              ? [`${outcome.refused.length} characters: ${outcome.refused.slice(0, 700)}`]
              : []
        if (wrong.length > 0) expect.fail(`${String(file).slice(0, 2000)}\n${wrong.join('\n')}`)
      }
      expect(changed).toBeGreaterThan(0.9 * count)
      expect(Object.keys(Object.prototype)).toEqual([])
      vi.unstubAllGlobals()
    })
})
