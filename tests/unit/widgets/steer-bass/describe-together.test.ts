import { describe, expect, test } from 'vitest'
import type { SteerMerits, SteerSet, SteerTogether } from '../../../../src/engine/questions/steer/steer-terms.ts'
import { evenHall } from '../../../../src/engine/scene/hall-terms.ts'
import { togetherSentence } from '../../../../src/widgets/steer-bass/describe-together.ts'

const set: SteerSet = {
  arrangement: 'pair',
  count: 2,
  spacingM: 1.35,
  delayS: 0.0039,
  inverted: true,
  turned: false,
  levelDb: 0,
}
const outdoors = { kind: 'outdoors', floor: 'hard' } as const
const merits = (rejectionDb: number, frontLossDb: number): SteerMerits => ({
  rejectionDb,
  frontLossDb,
  behindCutDb: rejectionDb,
  usable: null,
})
const solved = (
  alone: SteerMerits,
  together: SteerMerits,
  trimmed: SteerMerits,
  change: Partial<SteerSet> = {},
): SteerTogether => ({
  kind: 'solved',
  alone: { set, merits: alone },
  together: { set, merits: together },
  trimmed: { set: { ...set, ...change }, merits: trimmed },
  curves: { frontDb: [], behindDb: [], stackedFrontDb: [], stackedBehindDb: [] },
})
const say = (result: SteerTogether) => togetherSentence(result, { surroundings: outdoors, set }, 'm')

describe('what boxes do in each other’s way', () => {
  test('is told against each of them alone, and then what a trim brings', () => {
    expect(say(solved(merits(14.2, 1.4), merits(12.6, 2.3), merits(19.1, 1.9), { delayS: 0.0045 }))).toBe(
      'Solved together, the set keeps 13 dB from the back, not 14, and costs 1 dB more in front. It fits better with 4.5 ms for the rear box: 19 dB.',
    )
    expect(say(solved(merits(25, 1.4), merits(12, 1.4), merits(23.4, 3), { delayS: 0.0037, levelDb: -2.5 }))).toBe(
      'Solved together, the set keeps 12 dB from the back, not more than 20, and costs no more in front. It fits better with 3.7 ms and −2.5 dB for the rear box: more than 20 dB, for another 2 dB in front.',
    )
  })

  test('says so when nothing changes and no trim helps', () => {
    expect(say(solved(merits(2, 2), merits(2.2, 1.2), merits(2.2, 1.2)))).toBe(
      'Solved together, the set keeps 2 dB from the back, as with each box alone, and costs 1 dB less in front. No delay or level near these keeps more.',
    )
  })

  test('gives the front back what a trim spares', () => {
    expect(say(solved(merits(8, 3), merits(8, 3), merits(10, 2), { levelDb: 1 }))).toMatch(
      /with \+1 dB for the rear box: 10 dB, and the front gets 1 dB back\.$/,
    )
  })

  test('says that a hall was left out, that points have no bodies, and what room boxes need', () => {
    const hall = { kind: 'hall', design: evenHall({ lengthM: 12, widthM: 9, heightM: 4 }, 0.25) } as const
    const result = solved(merits(14, 1), merits(13, 1), merits(13, 1))
    expect(togetherSentence(result, { surroundings: hall, set }, 'm')).toMatch(
      /^Solved together outdoors, without the hall, /,
    )
    expect(say({ kind: 'points' })).toMatch(/no bodies/)
    const close: SteerTogether = { kind: 'too-close', gapM: 0.005, neededM: 0.01 }
    expect(say(close)).toMatch(/leave 1 cm or more/)
    expect(togetherSentence(close, { surroundings: outdoors, set }, 'ft')).toMatch(/leave 0\.5 in or more/)
  })
})
