import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { pinkNoise } from '../../../../src/acoustics/index.ts'
import type { HeardPlace } from '../../../../src/engine/questions/phone-walk/phone-terms.ts'
import { type Answer, answer, type Question, type TaskName } from '../../../../src/engine/workers/tasks.ts'
import type { CaptureEvents } from '../../../../src/sound/capture.ts'
import type { OpenMicrophone } from '../../../../src/sound/microphone.ts'
import type { RecordingDevice } from '../../../../src/widgets/compare/recorder.svelte.ts'
import { type Against, type HoldKind, Listening } from '../../../../src/widgets/phone-walk/listening.svelte.ts'

// Its real worklet is asked for by the build's own address.
vi.mock('../../../../src/sound/capture.worklet.ts?worker&url', () => ({ default: '' }))

const sampleRateHz = 8000
const pieceFrames = 800
/** A busy machine takes seconds for what takes a moment. */
const patience = { timeout: 60_000 }
const ends: (() => void)[] = []
let shown = Object.assign(new EventTarget(), { hidden: false })
beforeEach(() => {
  shown = Object.assign(new EventTarget(), { hidden: false })
  vi.stubGlobal('document', shown)
  vi.stubGlobal('addEventListener', () => {})
  vi.stubGlobal('removeEventListener', () => {})
})
afterEach(() => {
  for (const end of ends.splice(0)) end()
  vi.useRealTimers()
  vi.unstubAllGlobals()
})

/** The engine's own functions, without its workers. */
const ask = async <N extends TaskName>(task: N, question: Question<N>) =>
  (await answer(task, question)).answer as Answer<N>
const noise = (seconds: number, seed: number, gain = 1) =>
  pinkNoise({ sampleRateHz, durationS: seconds, seed }).map((sample) => gain * sample)

/** An ear on a device that gives what it is told to; what it holds is what the walk then holds against. */
async function ear(asking = ask) {
  const held: { kind: HoldKind; place: HeardPlace }[] = []
  const stopped = vi.fn()
  let events: CaptureEvents | undefined
  const device: RecordingDevice = {
    open: async () =>
      ({
        stream: { getTracks: () => [{ stop: stopped }] },
        deviceId: 'a',
        sampleRateHz,
        processing: { echoCancellation: 'off', noiseSuppression: 'off', autoGainControl: 'off' },
      }) as unknown as OpenMicrophone,
    list: async () => [],
    capture: async (_, given) => {
      events = given
      setImmediate(() => given.onPiece({ channels: [new Float32Array(80)], timeMs: 1 }))
      return { sampleRateHz, end: stopped }
    },
  }
  const newest = (kind: HoldKind) => held.findLast((each) => each.kind === kind)?.place.levels ?? null
  const against = (): Against => ({ front: newest('front'), quiet: newest('quiet') })
  const listening = new Listening(asking, against, (kind, place) => held.push({ kind, place }), device)
  ends.push(listening.start())
  await listening.turnOn()
  let timeMs = 1000
  return {
    listening,
    held,
    stopped,
    wait(seconds: number) {
      timeMs += 1000 * seconds
    },
    /** Lets sound come in, piece by piece, each with time to be worked on. */
    async play(samples: Float32Array) {
      for (let from = 0; from < samples.length; from += pieceFrames) {
        timeMs += (1000 * pieceFrames) / sampleRateHz
        events?.onPiece({ channels: [samples.slice(from, from + pieceFrames)], timeMs })
        await new Promise(setImmediate)
      }
    },
  }
}

/** Plays on until something has come of it. */
async function until(playing: { play(samples: Float32Array): Promise<void> }, done: () => boolean, seed: number) {
  for (let count = 0; count < 60 && !done(); count++) await playing.play(noise(1, seed + count))
  expect(done()).toBe(true)
}

describe('listening', () => {
  test('holds the front until it is enough, then tells what comes against it, and marks a place', async () => {
    const one = await ear()
    const { listening, held } = one
    listening.hold('front')
    expect(listening.holding?.kind).toBe('front')
    await until(one, () => held.length === 1, 1)
    expect(listening.holding).toBeUndefined()
    const front = held[0]?.place as HeardPlace
    expect(front.keptS).toBeGreaterThanOrEqual(8)
    // Half as much: 6.02 dB less in every band.
    listening.drop()
    await one.play(noise(12, 100, 0.5))
    await vi.waitFor(() => expect(listening.here).toBeDefined(), patience)
    const middle = listening.here?.ranges.middle
    expect(middle?.kind === 'told' ? middle.found.difference.levelDb : 0).toBeCloseTo(6.02, 0)
    listening.hold('place')
    expect(listening.here).toBeUndefined()
    for (let count = 0; count < 60 && held.length < 2; count++) await one.play(noise(1, 200 + count, 0.5))
    expect(held[1]?.kind).toBe('place')
    const band = 15
    const lessDb = (front.levels[band]?.levelDb ?? 0) - (held[1]?.place.levels[band]?.levelDb ?? 0)
    expect(Math.abs(lessDb - 6.02)).toBeLessThan(1)
  })

  test('counts nothing that came before the press', async () => {
    const one = await ear()
    await one.play(noise(20, 1, 4))
    one.listening.hold('place')
    await until(one, () => one.held.length === 1, 50)
    const other = await ear()
    other.listening.hold('place')
    await until(other, () => other.held.length === 1, 50)
    const [first, second] = [one, other].map(({ held }) => held[0]?.place.levels.map((each) => each?.levelDb))
    expect(first).toEqual(second)
  })

  test('says that it waits when nothing new comes in, and what stood there stays to be seen as old', async () => {
    const one = await ear()
    one.listening.hold('front')
    await until(one, () => one.held.length === 1, 1)
    await one.play(noise(6, 90))
    await vi.waitFor(() => expect(one.listening.here).toBeDefined(), patience)
    expect(one.listening.isWaiting).toBe(false)
    // The clock goes on, and nothing comes.
    const now = Date.now()
    vi.spyOn(Date, 'now').mockImplementation(() => now + 3000)
    await vi.waitFor(() => expect(one.listening.isWaiting).toBe(true), patience)
    expect(one.listening.here).toBeDefined()
    await one.play(noise(3, 91))
    await vi.waitFor(() => expect(one.listening.isWaiting).toBe(false), patience)
    vi.restoreAllMocks()
  })

  test('a gap in the sound ends a hold, and says so', async () => {
    const one = await ear()
    one.listening.hold('place')
    await one.play(noise(4, 1))
    one.wait(3)
    await one.play(noise(1, 2))
    expect(one.listening.problem).toBe('interrupted')
    expect(one.listening.holding).toBeUndefined()
    expect(one.held).toEqual([])
    one.listening.hold('place')
    expect(one.listening.problem).toBeUndefined()
    await until(one, () => one.held.length === 1, 3)
  })

  test('out of sight the microphone is let go, and a hold is dropped', async () => {
    const one = await ear()
    one.listening.hold('place')
    await one.play(noise(2, 1))
    shown.hidden = true
    shown.dispatchEvent(new Event('visibilitychange'))
    expect(one.stopped).toHaveBeenCalled()
    expect(one.listening.recorder.problem?.kind).toBe('hidden')
    await vi.waitFor(() => expect(one.listening.problem).toBe('interrupted'), patience)
    expect(one.held).toEqual([])
  })

  test('silence is not kept as a place', async () => {
    const one = await ear()
    one.listening.hold('place')
    for (let count = 0; count < 90 && !one.listening.problem; count++) await one.play(new Float32Array(sampleRateHz))
    expect(one.listening.problem).toBe('silent')
    expect(one.held).toEqual([])
  })

  test('what has been held so far can be taken, and a hold can be dropped', async () => {
    const one = await ear()
    one.listening.hold('front')
    expect(one.listening.canTake).toBe(false)
    await one.play(noise(5, 1))
    await vi.waitFor(() => expect(one.listening.canTake).toBe(true), patience)
    one.listening.takeNow()
    expect(one.held).toHaveLength(1)
    one.listening.hold('place')
    one.listening.drop()
    await one.play(noise(12, 2))
    expect(one.held).toHaveLength(1)
  })

  test('a place that cannot be worked out is said', async () => {
    const one = await ear(async <N extends TaskName>(task: N, question: Question<N>) => {
      if (task === 'phoneHeld') throw new Error('no')
      return ask(task, question)
    })
    one.listening.hold('place')
    await one.play(noise(3, 1))
    await vi.waitFor(() => expect(one.listening.problem).toBe('unjudged'), patience)
  })
})
