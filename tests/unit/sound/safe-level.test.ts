import { beforeEach, expect, test } from 'vitest'
import type { ArrivingPeak } from '../../../src/sound/arriving-peak.ts'
import { safePeak } from '../../../src/sound/ceiling.ts'
import { createFader } from '../../../src/sound/fader.ts'
import { createSafeLevel, type SafeLevel } from '../../../src/sound/safe-level.ts'
import type { SoundClock } from '../../../src/sound/sound-clock.ts'

const rampS = 0.04
let nowS = 0
let due: { timeS: number; call: () => void | Promise<void> }[] = []
const clock: SoundClock = {
  leadS: 0,
  nowS: () => nowS,
  callAt: (timeS, call) => due.push({ timeS, call }),
}
/** Lets time pass, with everything that falls due in it. */
const passTo = (timeS: number): void => {
  for (;;) {
    const next = due.filter((each) => each.timeS <= timeS).sort((a, b) => a.timeS - b.timeS)[0]
    if (!next) break
    due = due.filter((each) => each !== next)
    nowS = Math.max(nowS, next.timeS)
    void next.call()
  }
  nowS = timeS
}

const peaks =
  (here: number, front: number): ArrivingPeak =>
  (place) =>
    place === 'here' ? here : front
const noGains = { here: 0, front: 0 }
const decibels = (ratio: number): number => 20 * Math.log10(ratio)

/** A level with faders that keep their ramps, and what it tells. */
const made = (arriving: ArrivingPeak, heard = true) => {
  /** The gains to which each place has been faded. */
  const ramps = { here: [] as number[], front: [] as number[] }
  const fader = (place: 'here' | 'front') =>
    createFader({
      param: {
        setValueAtTime: () => {},
        linearRampToValueAtTime: (gain: number) => ramps[place].push(gain),
        cancelScheduledValues: () => {},
      },
      clock,
      gain: 0,
      rampS,
    })
  const faders = { here: fader('here'), front: fader('front') }
  const told: number[] = []
  const level = createSafeLevel({
    clock,
    arriving,
    volumeGain: 1,
    isHeard: () => heard,
    play: (gains) => Math.max(faders.here.fadeTo(gains.here), faders.front.fadeTo(gains.front)),
    onTurnedDown: (value) => told.push(value),
  })
  return { level, ramps, told }
}
const last = (gains: number[]): number => gains.at(-1) ?? 0
const settled = (level: SafeLevel): SafeLevel => {
  passTo(nowS + 10)
  return level
}

beforeEach(() => {
  nowS = 0
  due = []
})

test('the louder place sets one gain for both, by as much as it passes the safe peak', () => {
  const { level, ramps, told } = made(peaks(2 * safePeak, safePeak))
  settled(level)
  expect(last(ramps.here)).toBeCloseTo(0.5, 12)
  expect(level.turnedDownDb).toBeCloseTo(decibels(2), 12)
  level.setPlace('front')
  settled(level)
  // The quieter place keeps its difference: it comes down by the same 6 dB, though it would not clip.
  expect(last(ramps.front)).toBeCloseTo(0.5, 12)
  expect(last(ramps.here)).toBe(0)
  expect(told).toEqual([expect.closeTo(decibels(2), 12)])
})

test('below the safe peak the volume is what is played, and nothing is told', () => {
  const { level, ramps, told } = made(peaks(2 * safePeak, safePeak))
  level.setVolumeGain(0.49)
  settled(level)
  expect(last(ramps.here)).toBe(0.49)
  expect(level.turnedDownDb).toBe(0)
  expect(told.at(-1)).toBe(0)
})

test('what matching takes from the louder place need not be taken once more', () => {
  const { level, ramps } = made(peaks(safePeak, 2 * safePeak))
  level.setGainsDb({ here: 0, front: -decibels(2) })
  settled(level)
  expect(level.turnedDownDb).toBeCloseTo(0, 9)
  expect(last(ramps.here)).toBeCloseTo(1, 9)
})

test('something louder is brought in only when the level is down, and something quieter at once; up goes the level last', () => {
  const { level, ramps } = made(peaks(safePeak, safePeak))
  settled(level)
  const broughtS: number[] = []
  const bringIn = () => broughtS.push(nowS)
  const startS = nowS
  level.admit({ arriving: peaks(4 * safePeak, safePeak), gainsDb: noGains, bringIn })
  expect(broughtS).toEqual([])
  passTo(startS + 0.5)
  expect(broughtS).toEqual([expect.closeTo(startS + rampS, 9)])
  expect(last(ramps.here)).toBeCloseTo(0.25, 12)
  passTo(startS + 5)
  level.admit({ arriving: peaks(safePeak, safePeak), gainsDb: noGains, bringIn })
  expect(broughtS).toHaveLength(2)
  passTo(startS + 5.5)
  expect(last(ramps.here)).toBeCloseTo(0.25, 12)
  passTo(startS + 11)
  expect(last(ramps.here)).toBe(1)
  expect(level.turnedDownDb).toBe(0)
})

test('while changes follow each other the level stays where the loudest of them wants it', () => {
  const { level } = made(peaks(safePeak, safePeak))
  settled(level)
  const bringIn = () => {}
  level.admit({ arriving: peaks(2 * safePeak, 0.1), gainsDb: noGains, bringIn })
  for (let step = 0; step < 20; step++) {
    passTo(nowS + 0.1)
    level.admit({ arriving: peaks(0.1, 0.1), gainsDb: noGains, bringIn })
    expect(level.turnedDownDb).toBeCloseTo(decibels(2), 12)
  }
  passTo(nowS + 10)
  expect(level.turnedDownDb).toBe(0)
})

test('a loop that begins over one that rings out has room for both peaks, until that one has gone', () => {
  const { level } = made(peaks(safePeak, 0.1))
  settled(level)
  const bringIn = () => {}
  level.admit({ arriving: peaks(safePeak / 2, 0.1), gainsDb: noGains, over: true, bringIn })
  expect(level.turnedDownDb).toBeCloseTo(decibels(1.5), 12)
  passTo(nowS + 0.3)
  level.admit({ arriving: peaks(safePeak, 0.1), gainsDb: noGains, over: true, bringIn })
  expect(level.turnedDownDb).toBeCloseTo(decibels(1.5), 12)
  passTo(nowS + 10)
  expect(level.turnedDownDb).toBe(0)
})

test('where nothing is heard everything is brought in at once, and what came before is forgotten', () => {
  const { level } = made(peaks(8 * safePeak, 1), false)
  let broughtIn = 0
  level.admit({ arriving: peaks(2 * safePeak, 1), gainsDb: noGains, bringIn: () => broughtIn++ })
  expect(broughtIn).toBe(1)
  expect(level.turnedDownDb).toBeCloseTo(decibels(2), 12)
})
