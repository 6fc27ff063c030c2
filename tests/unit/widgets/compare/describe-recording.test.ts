import { describe, expect, test, vi } from 'vitest'
import type { Take, TakeChannel } from '../../../../src/engine/questions/compare/compare-terms.ts'
import {
  endWords,
  enoughRule,
  levelWords,
  problemWords,
  processingWords,
  rateWords,
  recordingName,
  runningWords,
} from '../../../../src/widgets/compare/describe-recording.ts'
import { emptyTest, withPart } from '../../../../src/widgets/compare/kept-test.ts'
import { type RecordedFile, Recordings } from '../../../../src/widgets/compare/recordings.svelte.ts'

vi.mock('../../../../src/sound/capture.worklet.ts?worker&url', () => ({ default: '' }))

describe('a recording that is made here, in words', () => {
  test('a level names its place, what it is and the peak', () => {
    expect(levelWords('sound', 'front', { state: 'good', peakDb: -12.2 })).toBe('In front: good, peak −12 dB.')
    expect(levelWords('sound', 'behind', { state: 'quiet', peakDb: -47 })).toMatch(/^Behind: too quiet, peak −47 dB\./)
    expect(levelWords('match', 'one', { state: 'clipped', peakDb: 0 })).toMatch(/^Microphone: too loud, it clips/)
    expect(levelWords('match', 'one', { state: 'none', peakDb: null })).toMatch(/nothing comes in/)
  })

  test('without the sound a low level is as it should be; a microphone that is dead or clips is not', () => {
    expect(levelWords('quiet', 'front', { state: 'quiet', peakDb: -55 })).toMatch(
      /^In front: quiet, peak −55 dB\. Leave/,
    )
    expect(levelWords('quiet', 'front', { state: 'none', peakDb: null })).toMatch(/nothing comes in/)
    expect(levelWords('quiet', 'front', { state: 'clipped', peakDb: 0 })).toMatch(/too loud/)
  })

  test('what the browser keeps on and what it does not tell are two warnings; all off is none', () => {
    const off = { echoCancellation: 'off', noiseSuppression: 'off', autoGainControl: 'off' } as const
    expect(processingWords(off)).toEqual([])
    const [on, untold, ...more] = processingWords({ ...off, echoCancellation: 'untold', autoGainControl: 'on' })
    expect(on).toMatch(/^The browser keeps automatic gain on/)
    expect(untold).toMatch(/does not tell whether echo cancelling is off/)
    expect(more).toEqual([])
    expect(processingWords({ ...off, echoCancellation: 'on', noiseSuppression: 'on' })[0]).toMatch(
      /keeps echo cancelling and noise suppression on/,
    )
  })

  test('a rate that leaves bands out says up to where it reaches', () => {
    expect(rateWords(16000)).toBe('At 16000 samples a second nothing above 8 kHz is recorded.')
    expect(rateWords(44100)).toBe('')
    // The upper edge of the highest third octave, 16 kHz, lies at 17.8 kHz.
    expect(rateWords(32000)).toMatch(/nothing above 16 kHz/)
  })

  test('it is enough only when every microphone is', () => {
    const channel = (isEnough: boolean): TakeChannel => ({
      levels: [],
      detail: [],
      aWeightedDb: null,
      cWeightedDb: null,
      peak: 0.5,
      confidence: { widest: { halfDb: isEnough ? 0.8 : 1.4, nominalHz: 40 }, isEnough, furtherS: isEnough ? 0 : 12 },
    })
    const take = (second: boolean): Take => ({
      sampleRateHz: 48000,
      durationS: 15,
      keptS: 14,
      channels: [channel(true), channel(second)],
      paired: null,
      faults: [],
      clippedSamples: 0,
    })
    expect(runningWords(take(false))).toMatchObject({
      isEnough: false,
      words: expect.stringMatching(/about 15 s more/),
    })
    expect(runningWords(take(true))).toMatchObject({ isEnough: true, words: expect.stringMatching(/enough/) })
  })

  test('the rule says bands, limit and greatest length as they are computed', () => {
    expect(enoughRule()).toMatch(/every third octave of 40 Hz to 16 kHz .* within ±1 dB, .* After 10:00 it ends/)
  })

  test('a recording is called by its time, and says when the browser changed it', () => {
    const at = new Date(2026, 4, 3, 14, 5, 9)
    expect(recordingName(at, false)).toBe('recording of 14:05:09')
    expect(recordingName(at, true)).toBe('recording of 14:05:09 (the browser kept processing on)')
  })

  test('every problem has a sentence of its own', () => {
    const kinds = [
      'insecure',
      'unsupported',
      'refused',
      'none',
      'gone',
      'taken',
      'code',
      'failed',
      'other',
      'hidden',
      'twice',
    ] as const
    const words = kinds.map((kind) => problemWords({ kind, reason: 'odd' }))
    expect(new Set(words).size).toBe(kinds.length)
    for (const sentence of words) expect(sentence).toMatch(/^[A-Z].+[.)]$/)
    expect(words[kinds.indexOf('failed')]).toContain('odd')
  })
})

describe('recordings of a visit', () => {
  const recorded = (wanted: RecordedFile['wanted'], name: string, ended: RecordedFile['ended'] = 'reader') =>
    ({ step: 'sound', wanted, file: new File(['x'], name), durationS: 83, ended }) as const

  test('the newest of a place takes the place of the one before, in front first', () => {
    const recordings = new Recordings()
    recordings.add(recorded('behind', 'b'))
    recordings.add(recorded('front', 'a'))
    recordings.add(recorded('behind', 'c'))
    expect(recordings.of('sound').map(({ file }) => file.name)).toEqual(['a', 'c'])
    expect(recordings.of('match')).toEqual([])
    recordings.add(recorded('both', 'd'))
    expect(recordings.of('sound').map(({ file }) => file.name)).toEqual(['d'])
    recordings.clear()
    expect(recordings.of('sound')).toEqual([])
  })

  test('a step offers those that its levels come from', () => {
    const recordings = new Recordings()
    recordings.add(recorded('front', 'a'))
    recordings.add(recorded('behind', 'b'))
    const step = withPart(emptyTest().steps.sound, 'front', 'a', { kind: 'entered', levelsDb: [] })
    expect(recordings.takenBy('sound', step).map(({ file }) => file.name)).toEqual(['a'])
  })

  test('what did not end by the reader’s hand says when and why', () => {
    expect(endWords(recorded('both', 'a'))).toBe('')
    expect(endWords(recorded('both', 'a', 'limit'))).toMatch(/after 1:23, the longest/)
    expect(endWords(recorded('both', 'a', 'gone'))).toMatch(/went after 1:23: unplugged/)
    expect(endWords(recorded('both', 'a', 'held'))).toMatch(/held the sound back after 1:23/)
  })
})
