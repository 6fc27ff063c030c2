import { expect, test } from 'vitest'
import type { FadedParam } from '../../../src/sound/fader.ts'
import { createFader } from '../../../src/sound/fader.ts'
import type { SoundClock } from '../../../src/sound/sound-clock.ts'

/** A clock set by hand. */
function handClock(): SoundClock & { moveTo(timeS: number): void } {
  let nowS = 0
  let due: { timeS: number; callback: () => void | Promise<void> }[] = []
  return {
    leadS: 0,
    nowS: () => nowS,
    callAt: (timeS, callback) => {
      due.push({ timeS, callback })
    },
    moveTo(timeS) {
      const between = due.filter((each) => each.timeS <= timeS).sort((a, b) => a.timeS - b.timeS)
      due = due.filter((each) => each.timeS > timeS)
      for (const each of between) {
        nowS = Math.max(nowS, each.timeS)
        each.callback()
      }
      nowS = timeS
    },
  }
}

/** A parameter that can be read at any time. Source: Web Audio API, AudioParam automation, the two events used. */
function recordingParam(): FadedParam & { at(timeS: number): number } {
  let events: { kind: 'set' | 'ramp'; value: number; timeS: number }[] = []
  return {
    setValueAtTime: (value, timeS) => events.push({ kind: 'set', value, timeS }),
    linearRampToValueAtTime: (value, timeS) => events.push({ kind: 'ramp', value, timeS }),
    cancelScheduledValues: (timeS) => {
      events = events.filter((event) => event.timeS < timeS)
    },
    at(timeS) {
      const after = events.findIndex((event) => event.timeS > timeS)
      const before = events[after === -1 ? events.length - 1 : after - 1]
      const next = after === -1 ? undefined : events[after]
      if (!before) return Number.NaN
      if (next?.kind !== 'ramp') return before.value
      return before.value + ((next.value - before.value) * (timeS - before.timeS)) / (next.timeS - before.timeS)
    },
  }
}

const rampS = 0.04

function faderFrom(gain: number) {
  const clock = handClock()
  const param = recordingParam()
  return { clock, param, fader: createFader({ param, clock, gain, rampS }) }
}

test('a fade is a straight line that arrives when it says', () => {
  const { clock, param, fader } = faderFrom(1)
  clock.moveTo(2)
  expect(fader.fadeTo(0)).toBeCloseTo(2.04, 12)
  expect(param.at(1.9)).toBe(1)
  expect(param.at(2.01)).toBeCloseTo(0.75, 9)
  expect(param.at(2.03)).toBeCloseTo(0.25, 9)
  expect(param.at(3)).toBe(0)
})

test('wishes during a fade wait for its end, and only the newest is fulfilled', () => {
  const { clock, param, fader } = faderFrom(0)
  clock.moveTo(1)
  fader.fadeTo(1)
  clock.moveTo(1.01)
  expect(fader.fadeTo(0.2)).toBeCloseTo(1.08, 12)
  clock.moveTo(1.02)
  fader.fadeTo(0.6)
  clock.moveTo(2)
  expect(param.at(1.03)).toBeCloseTo(0.75, 9)
  expect(param.at(1.04)).toBeCloseTo(1, 9)
  expect(param.at(1.06)).toBeCloseTo(0.8, 9)
  expect(param.at(1.5)).toBe(0.6)
})

test('however fast the wishes come, the gain never moves faster than one full fade', () => {
  const { clock, param, fader } = faderFrom(0)
  for (let index = 0; index < 500; index++) {
    clock.moveTo(1 + index * 0.003)
    fader.fadeTo(index % 2)
  }
  clock.moveTo(4)
  let fastest = 0
  for (let timeS = 1; timeS < 3; timeS += 0.0005) {
    fastest = Math.max(fastest, Math.abs(param.at(timeS + 0.0005) - param.at(timeS)) / 0.0005)
  }
  // 1e-6: rounding of the quotient.
  expect(fastest).toBeLessThanOrEqual(1 / rampS + 1e-6)
  expect(param.at(4)).toBe(1)
})

test('a wish for the gain already reached changes nothing', () => {
  const { clock, param, fader } = faderFrom(0.5)
  clock.moveTo(1)
  expect(fader.fadeTo(0.5)).toBe(1)
  expect(fader.fadeTo(0.7)).toBeCloseTo(1.04, 12)
  expect(param.at(1.5)).toBe(0.7)
})

test('a jump is immediate and drops what was waiting', () => {
  const { clock, param, fader } = faderFrom(0)
  clock.moveTo(1)
  fader.fadeTo(1)
  fader.fadeTo(0.3)
  fader.jumpTo(0.9)
  expect(param.at(1)).toBe(0.9)
  clock.moveTo(2)
  expect(param.at(2)).toBe(0.9)
})
