import { Blob } from 'node:buffer'
import { describe, expect, test } from 'vitest'
import { detailBands, LevelStream, thirdOctaveBands } from '../../../../../src/acoustics/index.ts'
import { compareAnswer } from '../../../../../src/engine/questions/compare/compare.ts'
import type { CompareQuestion, LevelSource, Take } from '../../../../../src/engine/questions/compare/compare-terms.ts'
import { recordingPart, recordingPlan } from '../../../../../src/engine/questions/compare/recording.ts'
import { refusedWords } from '../../../../../src/engine/questions/compare/refused.ts'
import { bandTableFile, microphoneFile } from '../../../../../src/engine/questions/compare/table-files.ts'
import { takeSummary } from '../../../../../src/engine/questions/compare/take.ts'
import { analyseRecording, type RecordingWork } from '../../../../../src/engine/workers/analyse-recording.ts'
import { answer } from '../../../../../src/engine/workers/tasks.ts'
import { noise } from '../../../acoustics/measuring/noise.ts'
import { chunk, format, pcm16, wavFile } from '../../../acoustics/measuring/wav-files.ts'

const sampleRateHz = 32000
const fileOf = (bytes: Uint8Array | string): globalThis.Blob => new Blob([bytes as never]) as unknown as globalThis.Blob

/** Answers as a worker does, one question after the other; says what it was asked. */
function workHere(
  options: { stopAfter?: number } = {},
): RecordingWork & { asked: string[]; steps: [number, number][] } {
  const asked: string[] = []
  const steps: [number, number][] = []
  return {
    asked,
    steps,
    async ask(task, question) {
      asked.push(task)
      return structuredClone((await answer(task, question)).answer) as never
    },
    async askEach(task, questions, onAnswer) {
      for (const [index, question] of questions.entries()) {
        if (index === options.stopAfter) return false
        asked.push(task)
        onAnswer((await answer(task, question)).answer as never, index)
      }
      return true
    },
    progress: (done, total) => void steps.push([done, total]),
  }
}

const samples = noise({ length: 2 ** 21, sampleRateHz, seed: 4 })
const behind = samples.map((sample, n) => (sample + (samples[n - 1] ?? 0)) / 2)

describe('a recording in the engine', () => {
  test('analysed in stretches is what it is analysed at once', async () => {
    const work = workHere()
    const analysed = await analyseRecording(work, fileOf(pcm16([samples, behind], sampleRateHz)))
    expect(analysed?.kind).toBe('analysed')
    if (analysed?.kind !== 'analysed') return
    expect(analysed.plan.stretches.length).toBeGreaterThan(2)
    expect(work.steps[0]).toEqual([0, analysed.plan.stretches.length])
    expect(work.steps.at(-1)).toEqual([analysed.plan.stretches.length, analysed.plan.stretches.length])
    const stream = new LevelStream({ sampleRateHz, channelCount: 2 })
    const written = (of: Float32Array) =>
      of.map((sample) => Math.max(-32768, Math.min(32767, Math.round(sample * 32768))) / 32768)
    stream.push([written(samples), written(behind)])
    expect(analysed.take).toEqual(takeSummary({ levels: stream.levels() }))
    expect(analysed.take.faults).toEqual([])
    expect(analysed.take.channels[0]?.confidence.isEnough).toBe(true)
  })

  test('stopped in between gives nothing', async () => {
    expect(await analyseRecording(workHere({ stopAfter: 1 }), fileOf(pcm16([samples], sampleRateHz)))).toBeUndefined()
  })

  test('one channel of several can be chosen', async () => {
    const file = fileOf(pcm16([behind, samples], sampleRateHz))
    const one = await analyseRecording(workHere(), file, [1])
    const alone = await analyseRecording(workHere(), fileOf(pcm16([samples], sampleRateHz)))
    expect(one?.kind === 'analysed' && one.take).toEqual(alone?.kind === 'analysed' && alone.take)
  })

  test('what is kept of it survives being written as JSON', async () => {
    const analysed = await analyseRecording(workHere(), fileOf(pcm16([samples, behind], sampleRateHz)))
    if (analysed?.kind !== 'analysed') throw new Error('not analysed')
    expect(JSON.parse(JSON.stringify(analysed.take))).toEqual(analysed.take)
  })

  test('too short, broken in the middle, or gone is refused, and nothing is thrown', async () => {
    expect(
      await recordingPlan({ file: fileOf(pcm16([samples.subarray(0, sampleRateHz)], sampleRateHz)) }),
    ).toMatchObject({
      kind: 'refused',
      problem: { kind: 'too-short', durationS: 1 },
    })
    const floats = Float32Array.from(samples.subarray(0, 2 ** 18))
    floats[200000] = Number.POSITIVE_INFINITY
    const broken = fileOf(
      wavFile([chunk('fmt ', format(3, 1, sampleRateHz, 32)), chunk('data', new Uint8Array(floats.buffer))]),
    )
    expect(await analyseRecording(workHere(), broken)).toEqual({
      kind: 'refused',
      problem: { kind: 'no-number', channel: 0, timeS: 6.25 },
    })
    const gone = {
      size: 100,
      slice: () => ({ arrayBuffer: () => Promise.reject(new Error('gone')) }),
    } as unknown as globalThis.Blob
    expect(await recordingPlan({ file: gone })).toEqual({ kind: 'refused', problem: { kind: 'unreadable' } })
    expect(await bandTableFile({ file: gone })).toEqual({ kind: 'refused', problem: { kind: 'unreadable' } })
  })

  test('a stretch is read no further than it reaches', async () => {
    const plan = await recordingPlan({ file: fileOf(pcm16([samples], sampleRateHz)) })
    if (plan.kind !== 'recording') throw new Error('refused')
    const part = await recordingPart({
      file: fileOf(pcm16([samples], sampleRateHz)),
      layout: plan.layout,
      channels: [0],
      stretch: plan.stretches[0] as (typeof plan.stretches)[number],
    })
    expect(part.kind === 'levels' && part.durationS).toBeLessThan(22)
  })
})

describe('tables of numbers in files', () => {
  test('are read in UTF-8 and UTF-16', async () => {
    const text = '63;80,5;78,25\n1000;70;60,5'
    const wide = new Uint8Array([
      0xff,
      0xfe,
      ...new Uint8Array(Uint16Array.from(text, (letter) => letter.charCodeAt(0)).buffer),
    ])
    const read = await bandTableFile({ file: fileOf(text) })
    expect(read).toMatchObject({ kind: 'table', outsideHz: [] })
    expect(await bandTableFile({ file: fileOf(wide) })).toEqual(read)
    expect(await microphoneFile({ file: fileOf('20 -3\n1000 0') })).toMatchObject({
      kind: 'microphone',
      levelsDb: [-3, 0],
    })
  })

  test('are refused in words that say what to do', async () => {
    const refused = async (file: globalThis.Blob) => {
      const read = await bandTableFile({ file })
      return read.kind === 'refused' ? refusedWords(read.problem) : ''
    }
    expect(await refused(fileOf(''))).toMatch(/empty.*choose another/)
    expect(await refused(fileOf('63;80\n80;loud'))).toMatch(/Line 2 reads “80;loud”.*frequency in Hz/)
    expect(await refused(fileOf(new Uint8Array(2_000_000)))).toMatch(/too large/)
    const microphone = await microphoneFile({ file: fileOf('20 0\n'.repeat(50_000)) })
    expect(microphone.kind === 'refused' && refusedWords(microphone.problem)).toMatch(/too large/)
  })

  test('every problem has its own sentence', async () => {
    const words = [
      refusedWords({ kind: 'no-wav', looksLike: 'mp3' }),
      refusedWords({ kind: 'no-wav', looksLike: 'text' }),
      refusedWords({ kind: 'sample-rate', sampleRateHz: 384000 }),
      refusedWords({ kind: 'too-short', durationS: 1, neededS: 4.096 }),
      refusedWords({ kind: 'channel-count', channelCount: 0 }),
    ]
    expect(words[0]).toBe(
      'This is no WAV file but an MP3, whatever its name says. Save the recording as WAV, PCM or float.',
    )
    expect(words[1]).toMatch(/plain text.*table/)
    expect(words[2]).toMatch(/384 kHz.*8 to 192 kHz/)
    expect(words[3]).toMatch(/lasts 1 s.*5 s or more/)
    expect(words[4]).toMatch(/0 channels/)
  })
})

describe('what two microphones say', () => {
  const takeOf = (channels: Float32Array[]): Take => {
    const stream = new LevelStream({ sampleRateHz: 48000, channelCount: channels.length })
    stream.push(channels)
    return takeSummary({ levels: stream.levels() })
  }
  const sound = noise({ length: 2 ** 21, sampleRateHz: 48000, seed: 9 })
  // Behind, as loud in the bass and without treble: a running mean of 24 samples.
  let running = 0
  const dull = sound.map((sample, n) => {
    running += (sample - (sound[n - 24] ?? 0)) / 24
    return running
  })
  const turnedDown = dull.map((sample) => sample * 0.5)
  const both = takeOf([sound, turnedDown])
  const match = takeOf([sound, sound.map((sample) => sample * 0.5)])
  const of = (take: Take, channel: number): LevelSource => ({ kind: 'take', take, channel })
  const question: CompareQuestion = {
    front: of(both, 0),
    behind: of(both, 1),
    match: { front: of(match, 0), behind: of(match, 1) },
    geometry: { front: { distanceM: 4 }, behind: { distanceM: 4 } },
    wallsAreEntered: true,
    bringTogether: false,
    frontDbA: 85,
  }

  test('the bass is the same, the treble is missing, and bass makes a larger share of the loudness', () => {
    const { verdict, heard, bands, unheardHz } = compareAnswer(question)
    expect(verdict.bassCause).toBe('hardly-any')
    expect(Math.abs(verdict.bass?.difference.levelDb ?? 99)).toBeLessThan(0.2)
    expect(verdict.bass?.difference.errorDb).toBeLessThan(0.05)
    expect(verdict.trebleBehind).toBe('missing')
    expect(heard?.front.aWeightedDb).toBeCloseTo(85, 6)
    expect((heard?.behind.bassShare ?? 0) > (heard?.front.bassShare ?? 1)).toBe(true)
    expect(heard?.behind.sones).toBeLessThan(heard?.front.sones ?? 0)
    expect(bands).toHaveLength(29)
    expect(unheardHz).toEqual([])
  })

  test('a question that came by message is answered alike', () => {
    expect(compareAnswer(structuredClone(question))).toEqual(compareAnswer(question))
    expect(compareAnswer(JSON.parse(JSON.stringify(question)) as CompareQuestion)).toEqual(compareAnswer(question))
  })

  test('the two changed over give the opposite', () => {
    const there = compareAnswer({ ...question, match: undefined })
    const back = compareAnswer({ ...question, match: undefined, front: question.behind, behind: question.front })
    expect(back.verdict.bass?.difference.levelDb).toBeCloseTo(-(there.verdict.bass?.difference.levelDb ?? 0), 9)
    expect(back.verdict.bass?.difference.errorDb).toBeCloseTo(there.verdict.bass?.difference.errorDb ?? 0, 9)
  })

  test('entered levels are compared in third octaves alone', () => {
    const levels = (db: number): LevelSource => ({ kind: 'entered', levelsDb: Array.from({ length: 29 }, () => db) })
    const answer = compareAnswer({ ...question, match: undefined, front: levels(80), behind: levels(74) })
    expect(answer.detail).toBeNull()
    expect(answer.verdict).toMatchObject({ bassCause: 'cannot-tell', doubt: 'no-detail', dips: [] })
    const apart = { front: { distanceM: 4 }, behind: { distanceM: 8 } }
    const far = { ...question, match: undefined, front: levels(80), behind: levels(74), geometry: apart }
    expect(compareAnswer(far).verdict.bassCause).toBe('distance')
    const together = compareAnswer({ ...far, bringTogether: true })
    expect(together.verdict.bassCause).toBe('hardly-any')
    expect(together.verdict.bass?.difference.levelDb).toBeCloseTo(6 - 20 * Math.log10(2), 9)
  })

  describe('with files of the microphones', () => {
    /** A microphone that rises by so many dB an octave from 1 kHz on, and falls as much below, between two frequencies. */
    const tilted = (perOctaveDb: number, fromHz = 20, toHz = 20000) => {
      const frequenciesHz = Array.from({ length: 200 }, (_, row) => fromHz * (toHz / fromHz) ** (row / 199))
      return { frequenciesHz, levelsDb: frequenciesHz.map((each) => perOctaveDb * Math.log2(each / 1000)) }
    }
    const bands = thirdOctaveBands(25, 16000)
    /** Levels as that microphone shows them. */
    const shown = (levelsDb: number[], perOctaveDb: number): LevelSource => ({
      kind: 'entered',
      levelsDb: levelsDb.map((level, at) => level + perOctaveDb * Math.log2((bands[at]?.centreHz ?? 1) / 1000)),
    })
    const front = bands.map((_, at) => 80 - 0.1 * at)
    const behind = bands.map((_, at) => 78 - 0.7 * at)
    const plain = { ...question, match: undefined }
    const differences = (answer: ReturnType<typeof compareAnswer>) =>
      answer.bands.map(({ difference }) => difference?.levelDb ?? Number.NaN)

    test('a tilt that was put in comes back out, without a match', () => {
      const answer = compareAnswer({
        ...plain,
        front: shown(front, 0.5),
        behind: shown(behind, -1),
        microphones: { front: tilted(0.5), behind: tilted(-1) },
      })
      // 0.05 dB: the tilt is taken off as the mean power of each band.
      for (const [at, level] of differences(answer).entries())
        expect(Math.abs(level - ((front[at] ?? 0) - (behind[at] ?? 0)))).toBeLessThan(0.05)
    })

    test('with a match the tilt of either counts once: the match tells only what is left', () => {
      const flat = bands.map(() => 70)
      const offDb = bands.map((_, at) => Math.sin(at))
      const off = (levels: number[]) => levels.map((level, at) => level + (offDb[at] ?? 0))
      const answer = compareAnswer({
        ...plain,
        front: shown(front, 0.5),
        behind: shown(off(behind), -1),
        match: { front: shown(flat, 0.5), behind: shown(off(flat), -1) },
        microphones: { front: tilted(0.5), behind: tilted(-1) },
      })
      for (const [at, level] of differences(answer).entries())
        expect(Math.abs(level - ((front[at] ?? 0) - (behind[at] ?? 0)))).toBeLessThan(0.05)
      // One file alone changes the levels and, matched by them, no difference.
      const alone = compareAnswer({
        ...plain,
        front: shown(front, 0.5),
        behind: shown(off(behind), -1),
        match: { front: shown(flat, 0.5), behind: shown(off(flat), -1) },
        microphones: { front: tilted(0.5) },
      })
      for (const [at, { levels }] of alone.bands.entries())
        expect(Math.abs((levels?.front.levelDb ?? 0) - (front[at] ?? 0))).toBeLessThan(0.05)
      for (const [at, level] of differences(alone).entries())
        expect(Math.abs(level - ((front[at] ?? 0) - (behind[at] ?? 0)))).toBeLessThan(0.05)
    })

    test('where the file does not reach nothing is corrected', () => {
      const microphones = { behind: tilted(-1, 100, 5000) }
      const answer = compareAnswer({ ...plain, front: shown(front, 0), behind: shown(behind, -1), microphones })
      for (const [at, { nominalHz, levels }] of answer.bands.entries()) {
        const inFile = nominalHz >= 100 && nominalHz <= 5000
        const tiltDb = -1 * Math.log2((bands[at]?.centreHz ?? 1) / 1000)
        const left = (levels?.behind.levelDb ?? 0) - (behind[at] ?? 0)
        expect(Math.abs(left - (inFile ? 0 : tiltDb)), `${nominalHz} Hz`).toBeLessThan(0.05)
      }
    })

    test('of recordings the detail is corrected as the bands are', () => {
      const one = compareAnswer(question)
      const microphones = { front: tilted(2, 50, 8000) }
      const other = compareAnswer({ ...plain, microphones })
      const bare = compareAnswer(plain)
      for (const [at, { centreHz }] of detailBands.entries()) {
        const changed = (other.detail?.[at]?.levelDb ?? 0) - (bare.detail?.[at]?.levelDb ?? 0)
        const wanted = centreHz >= 50 && centreHz <= 8000 ? -2 * Math.log2(centreHz / 1000) : 0
        expect(Math.abs(changed - wanted), `${centreHz} Hz`).toBeLessThan(0.05)
      }
      // Matched with the same file nothing but the levels changes.
      const matched = compareAnswer({ ...question, microphones })
      for (const [at, estimate] of (matched.detail ?? []).entries())
        expect(estimate?.levelDb ?? 0).toBeCloseTo(one.detail?.[at]?.levelDb ?? 0, 9)
    })
  })

  test('bands lost in the background are named, and the ear does without them', () => {
    const quiet: LevelSource = {
      kind: 'entered',
      levelsDb:
        both.channels[1]?.levels.map((estimate, band) => (band < 26 ? -120 : (estimate?.levelDb ?? 0) - 1)) ?? [],
    }
    const silent: LevelSource = { kind: 'entered', levelsDb: Array.from({ length: 29 }, () => -120) }
    const answer = compareAnswer({ ...question, quiet: { front: silent, behind: quiet } })
    expect(answer.unheardHz).toEqual([10000, 12500, 16000])
    expect(answer.bands[28]).toMatchObject({ difference: null, standing: { front: 'clear', behind: 'not-measured' } })
    expect(answer.heard).not.toBeNull()
  })
})
