import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { pinkNoise } from '../../../../src/acoustics/index.ts'
import { readWav } from '../../../../src/acoustics/signals/read-wav.ts'
import { type Answer, answer, type Question, type TaskName } from '../../../../src/engine/workers/tasks.ts'
import type { CaptureEvents } from '../../../../src/sound/capture.ts'
import { MicrophoneError, type OpenMicrophone } from '../../../../src/sound/microphone.ts'
import { Recorder, type Recording, type RecordingDevice } from '../../../../src/widgets/compare/recorder.svelte.ts'
import type { AskEngine } from '../../../../src/widgets/compare/running-take.ts'

// Its real worklet is asked for by the build's own address.
vi.mock('../../../../src/sound/capture.worklet.ts?worker&url', () => ({ default: '' }))

const sampleRateHz = 8000
const pieceFrames = 800
/** A busy machine takes seconds for what takes a moment. */
const patience = { timeout: 60_000 }
const page = () => Object.assign(new EventTarget(), { hidden: false })
let shown = page()
const ends: (() => void)[] = []
beforeEach(() => {
  shown = page()
  vi.stubGlobal('document', shown)
  vi.stubGlobal('addEventListener', () => {})
  vi.stubGlobal('removeEventListener', () => {})
})
afterEach(() => {
  for (const end of ends.splice(0)) end()
  vi.unstubAllGlobals()
})

/** The engine's own functions, without its workers. */
const ask = async <N extends TaskName>(task: N, question: Question<N>) =>
  (await answer(task, question)).answer as Answer<N>

/** A device that gives what it is told to, and a recorder on it. */
function recorderOn(more: Partial<RecordingDevice> = {}, asking: AskEngine | null = ask) {
  const recorded: Recording[] = []
  const stopped = vi.fn()
  let events: CaptureEvents | undefined
  const microphone: OpenMicrophone = {
    stream: { getTracks: () => [{ stop: stopped }] } as unknown as MediaStream,
    deviceId: 'a',
    sampleRateHz,
    processing: { echoCancellation: 'off', noiseSuppression: 'off', autoGainControl: 'off' },
  }
  const device: RecordingDevice = {
    open: async () => microphone,
    list: async () => [{ deviceId: 'a', label: 'Interface' }],
    capture: async (_, given) => {
      events = given
      setImmediate(() => given.onPiece({ channels: [noise(0.1, 8), noise(0.1, 9)], timeMs: 0 }))
      return { sampleRateHz, end: stopped }
    },
    ...more,
  }
  const recorder = new Recorder(asking ?? undefined, (recording) => recorded.push(recording), device)
  ends.push(recorder.start())
  let timeMs = 1000
  return {
    recorder,
    recorded,
    stopped,
    microphone,
    events: () => events as CaptureEvents,
    /** Lets so many channels come in, piece by piece, the last of each stamped as the clock goes. */
    async play(channels: readonly Float32Array[]) {
      const frames = channels[0]?.length ?? 0
      for (let from = 0; from < frames; from += pieceFrames) {
        timeMs += (1000 * pieceFrames) / sampleRateHz
        events?.onPiece({ channels: channels.map((each) => each.slice(from, from + pieceFrames)), timeMs })
        // Each piece comes by a message of its own.
        await new Promise(setImmediate)
      }
    },
    wait(seconds: number) {
      timeMs += 1000 * seconds
    },
  }
}
const noise = (seconds: number, seed: number, gain = 1) =>
  pinkNoise({ sampleRateHz, durationS: seconds, seed }).map((sample) => gain * sample)
const channelsOf = async ({ wav }: Recording) => readWav(new Uint8Array(await wav.arrayBuffer())).channels

describe('recording on the page', () => {
  test('the microphone goes on at a press, shows its levels, and records nothing until it is told to', async () => {
    const { recorder, recorded, play, stopped } = recorderOn()
    expect(recorder.phase).toBe('off')
    await recorder.turnOn()
    expect(recorder.phase).toBe('on')
    expect(recorder.devices).toHaveLength(1)
    await play([noise(1, 1), noise(1, 2)])
    expect(recorder.levels.map(({ state }) => state)).toEqual(['good', 'good'])
    expect(recorder.elapsedS).toBe(0)
    recorder.finish()
    expect(recorded).toEqual([])
    expect(stopped).toHaveBeenCalled()
  })

  test('hands on what came while it recorded, in the order that was chosen, and lets the microphone go', async () => {
    const { recorder, recorded, play, stopped } = recorderOn()
    await recorder.turnOn()
    await play([noise(1, 1), noise(1, 2)])
    recorder.record([1, 0])
    const [first, second] = [noise(2, 3), noise(2, 4)]
    await play([first, second])
    expect(stopped).not.toHaveBeenCalled()
    recorder.finish()
    expect(recorder.phase).toBe('off')
    expect(stopped).toHaveBeenCalledOnce()
    expect(recorded).toMatchObject([{ durationS: 2, ended: 'reader', isProcessed: false }])
    const channels = await channelsOf(recorded[0] as Recording)
    expect(channels.map((samples) => Float32Array.from(samples))).toEqual([second, first])
    await play([noise(1, 1), noise(1, 2)])
    expect(recorded).toHaveLength(1)
  })

  test('says which microphone is louder while it records, as what came before it ends says', async () => {
    const { recorder, play } = recorderOn()
    await recorder.turnOn()
    recorder.record([0, 1])
    await play([noise(6, 1), noise(6, 1, 0.25)])
    await vi.waitFor(() => expect(recorder.running).toBeDefined(), patience)
    const { running } = recorder
    // Five blocks of 1.024 s, each begun half of one after the other.
    expect(running?.durationS).toBeGreaterThanOrEqual(6 * 0.512)
    // The same noise at a quarter: 20 lg 4 = 12.04 dB, in every band that the rate holds.
    for (const band of running?.paired ?? []) if (band) expect(band.levelDb).toBeCloseTo(12.0412, 3)
    expect(running?.channels.every(({ confidence }) => confidence.widest !== null)).toBe(true)
  })

  test('of a long recording only what is new is transformed, and the whole is enough at last', async () => {
    const stretches: number[] = []
    const watching = async <N extends TaskName>(task: N, question: Question<N>) => {
      if (task === 'recordingPart') {
        const { stretch } = question as Question<'recordingPart'>
        stretches.push((stretch.toFrame - stretch.fromFrame) / sampleRateHz)
      }
      return ask(task, question)
    }
    const { recorder, play } = recorderOn({}, watching)
    await recorder.turnOn()
    recorder.record([0, 1])
    const [first, second] = [noise(64, 5), noise(64, 6)]
    for (let fromS = 0; fromS < 64; fromS += 8) {
      const part = (samples: Float32Array) => samples.slice(fromS * sampleRateHz, (fromS + 8) * sampleRateHz)
      const before = recorder.running
      await play([part(first), part(second)])
      await vi.waitFor(() => expect(recorder.running).not.toBe(before), patience)
    }
    expect(Math.max(...stretches)).toBeLessThan(10)
    expect(recorder.running?.durationS).toBeGreaterThan(60)
    expect(recorder.running?.channels.every(({ confidence }) => confidence.isEnough)).toBe(true)
  })

  test('goes on without being judged when the engine fails', async () => {
    const { recorder, recorded, play } = recorderOn({}, async () => Promise.reject(new Error('no engine')))
    await recorder.turnOn()
    recorder.record([0])
    await play([noise(6, 1)])
    await vi.waitFor(() => expect(recorder.isUnjudged).toBe(true), patience)
    recorder.finish()
    expect(recorded).toMatchObject([{ durationS: 6, ended: 'reader' }])
  })

  test('an input that goes keeps what was recorded; one that only listens says that it is gone', async () => {
    const { recorder, recorded, play, events } = recorderOn()
    await recorder.turnOn()
    recorder.record([0, 1])
    await play([noise(3, 1), noise(3, 2)])
    events().onGone()
    expect(recorded).toMatchObject([{ durationS: 3, ended: 'gone' }])
    expect(recorder.phase).toBe('off')
    await recorder.turnOn()
    events().onGone()
    expect(recorder.problem).toEqual({ kind: 'gone', reason: '' })
    expect(recorded).toHaveLength(1)
  })

  test('a recording that is closed over is handed on, and not dropped', async () => {
    const { recorder, recorded, play, stopped } = recorderOn()
    await recorder.turnOn()
    recorder.record([0, 1])
    await play([noise(3, 1), noise(3, 2)])
    for (const end of ends.splice(0)) end()
    expect(recorded).toMatchObject([{ durationS: 3, ended: 'closed' }])
    expect([recorder.phase, recorder.problem]).toEqual(['off', undefined])
    expect(stopped).toHaveBeenCalledOnce()
  })

  test('sound that is not to be judged is recorded all the same', async () => {
    const { recorder, recorded, play } = recorderOn({}, null)
    await recorder.turnOn()
    recorder.record([0])
    await play([noise(7, 1)])
    expect([recorder.running, recorder.isUnjudged]).toEqual([undefined, false])
    recorder.finish()
    expect(recorded).toMatchObject([{ durationS: 7, ended: 'reader' }])
  })

  test('a gap in the sound ends the recording before it', async () => {
    const { recorder, recorded, play, wait } = recorderOn()
    await recorder.turnOn()
    recorder.record([0])
    await play([noise(3, 1)])
    wait(0.5)
    await play([noise(1, 1)])
    expect(recorder.phase).toBe('recording')
    wait(5)
    await play([noise(2, 1)])
    expect(recorded).toMatchObject([{ durationS: 4, ended: 'held' }])
  })

  test('a context that the device holds back ends it too', async () => {
    const { recorder, recorded, play, events } = recorderOn()
    await recorder.turnOn()
    recorder.record([0])
    await play([noise(2, 1)])
    events().onHeld()
    expect(recorded).toMatchObject([{ durationS: 2, ended: 'held' }])
  })

  test('ends by itself when it is as long as is held, with all of it', async () => {
    const { recorder, recorded, play } = recorderOn({}, async () => undefined as never)
    await recorder.turnOn()
    recorder.record([0])
    const minute = noise(60, 1)
    for (let n = 0; n < 11; n++) await play([minute])
    expect(recorded).toMatchObject([{ durationS: 600, ended: 'limit' }])
  })

  test('a page out of sight stops listening, unless it records; then it tells for how long', async () => {
    const { recorder, recorded, play, stopped } = recorderOn()
    const see = (hidden: boolean) => {
      shown.hidden = hidden
      shown.dispatchEvent(new Event('visibilitychange'))
    }
    await recorder.turnOn()
    see(true)
    expect(recorder.phase).toBe('off')
    expect(recorder.problem?.kind).toBe('hidden')
    expect(stopped).toHaveBeenCalledOnce()
    see(false)
    await recorder.turnOn()
    recorder.record([0])
    vi.useFakeTimers()
    try {
      see(true)
      vi.advanceTimersByTime(7000)
      see(false)
    } finally {
      vi.useRealTimers()
    }
    expect(recorder.phase).toBe('recording')
    expect(recorder.hiddenS).toBeCloseTo(7, 6)
    await play([noise(2, 1)])
    recorder.finish()
    expect(recorded).toHaveLength(1)
  })

  test('tells that the browser kept something on', async () => {
    const { recorder, recorded, play, microphone } = recorderOn()
    microphone.processing.autoGainControl = 'on'
    await recorder.turnOn()
    recorder.record([0])
    await play([noise(2, 1)])
    recorder.finish()
    expect(recorded[0]?.isProcessed).toBe(true)
  })

  test('whatever keeps the input shut is a problem by its kind', async () => {
    const open = vi.fn().mockRejectedValueOnce(new MicrophoneError('refused')).mockRejectedValueOnce(new Error('odd'))
    const { recorder } = recorderOn({ open })
    await recorder.turnOn()
    expect([recorder.phase, recorder.problem?.kind]).toEqual(['off', 'refused'])
    await recorder.turnOn()
    expect(recorder.problem).toEqual({ kind: 'failed', reason: 'odd' })
  })

  test('an input that brings nothing is not on', async () => {
    vi.useFakeTimers()
    try {
      const { recorder, stopped } = recorderOn({ capture: async () => ({ sampleRateHz, end: () => stopped() }) })
      const opening = recorder.turnOn()
      await vi.advanceTimersByTimeAsync(1000)
      expect(recorder.phase).toBe('opening')
      await vi.advanceTimersByTimeAsync(60_000)
      await opening
      expect([recorder.phase, recorder.problem?.kind]).toEqual(['off', 'taken'])
      expect(stopped).toHaveBeenCalledOnce()
    } finally {
      vi.useRealTimers()
    }
  })

  test('one microphone that pretends to be two is never taken for two', async () => {
    const capture: RecordingDevice['capture'] = async (_, given) => {
      events = given
      setImmediate(() => piece(new Float32Array(pieceFrames)))
      return { sampleRateHz, end: () => {} }
    }
    let events: CaptureEvents | undefined
    const piece = (samples: Float32Array) => events?.onPiece({ channels: [samples, samples.slice()], timeMs: 0 })
    const { recorder, recorded } = recorderOn({ capture })
    await recorder.turnOn()
    // Silent so far: nothing can be told, and both are recorded.
    recorder.record([0, 1])
    for (let n = 0; n < 20; n++) piece(noise(0.1, n))
    expect([recorder.phase, recorder.problem?.kind]).toEqual(['off', 'twice'])
    expect(recorded).toEqual([])
  })

  test('permission that comes after the reader has left opens nothing', async () => {
    let allow = (_: OpenMicrophone) => {}
    const { recorder, microphone, stopped } = recorderOn({ open: () => new Promise((resolve) => (allow = resolve)) })
    const opening = recorder.turnOn()
    recorder.turnOff()
    allow(microphone)
    await opening
    expect(stopped).toHaveBeenCalledOnce()
    expect(recorder.phase).toBe('off')
  })

  test('a page listens once: a second step takes the microphone, but never from a recording', async () => {
    const first = recorderOn()
    const second = recorderOn()
    await first.recorder.turnOn()
    await second.recorder.turnOn()
    expect([first.recorder.phase, second.recorder.phase]).toEqual(['off', 'on'])
    second.recorder.record([0])
    await first.recorder.turnOn()
    expect([first.recorder.phase, first.recorder.problem?.kind]).toEqual(['off', 'other'])
    expect(second.recorder.phase).toBe('recording')
  })
})
