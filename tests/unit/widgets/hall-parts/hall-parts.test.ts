import { describe, expect, test } from 'vitest'
import { makeAir, shoeboxModesHz } from '../../../../src/acoustics/index.ts'
import type { BandShares } from '../../../../src/engine/questions/hall/hall-balance.ts'
import type { HallMap } from '../../../../src/engine/questions/hall/hall-map.ts'
import type { HallAnswer } from '../../../../src/engine/questions/hall/hall-parts.ts'
import { demoHallStates } from '../../../../src/engine/scene/hall-content.ts'
import { defaultState, readLink, writeLink } from '../../../../src/state/share-link.ts'
import { guessHallVerdict } from '../../../../src/widgets/guess-hall/describe-guess-hall.ts'
import { guessHallLink } from '../../../../src/widgets/guess-hall/guess-hall-link.ts'
import {
  bassSentence,
  decayWords,
  equalSentence,
  hallFinding,
  hallSentence,
  hallShareWords,
  mapLevelAt,
  mapSentence,
  modeWords,
  nearestMode,
  partsWords,
  shareAtMark,
} from '../../../../src/widgets/hall-parts/describe-hall-parts.ts'
import {
  designOf,
  type HallPartsState,
  hallPartsLink,
  mapQuestionOf,
  questionOf,
} from '../../../../src/widgets/hall-parts/hall-parts-link.ts'

import { rigOf } from '../../../demo-gear.ts'

const link = hallPartsLink(['top-over-sub', 'compact-two-way'])
const shares = (change: Partial<BandShares> = {}): BandShares => ({
  direct: 0.04,
  early: 0.06,
  late: 0.9,
  hall: 0.96,
  gainDb: 14,
  ...change,
})
const answer = (change: Partial<HallAnswer> = {}): HallAnswer => ({
  distanceM: 2.5,
  frontM: 2.5,
  joiningHz: 76,
  lateFromHz: 112,
  here: { directDb: [], totalDb: [], lateDb: [] },
  front: { directDb: [], totalDb: [], lateDb: [] },
  shares: { here: shares(), front: shares({ hall: 0.21, gainDb: 1 }) },
  trebleDb: -11,
  trebleDirectDb: -29,
  bassDb: 0.4,
  bassDirectDb: -1.6,
  equalM: Array.from({ length: 36 }, (_, step) => (step === 18 ? 0 : 4.65)),
  equalToWall: false,
  decayS: 2.47,
  heard: null,
  ...change,
})
const behind = { xM: 0, zM: -2.5, bandHz: 2000 }

describe('the link of the hall', () => {
  test('keeps a whole state', () => {
    const state: HallPartsState = {
      rig: 'compact-two-way',
      hall: 'own',
      lengthM: 24,
      widthM: 12.5,
      heightM: 6,
      absorption: 0.3,
      xM: 4.25,
      zM: 7,
      bandHz: 500,
      view: 'resonances',
      frequencyHz: 62.5,
      source: 'corner',
      compare: 'halls',
      other: 'brick',
      referenceDbA: 95,
      signal: 'speech',
      level: 'matched',
      units: 'ft',
    }
    const params = writeLink(link, state, new URLSearchParams())
    expect(readLink(link, new URLSearchParams(params.toString()))).toMatchObject({ state, dropped: [] })
    const { surfaces, lengthM } = designOf(state, demoHallStates)
    expect(surfaces.floor).toEqual([0.3])
    expect(lengthM).toBe(24)
  })
  test('drops a hall of no size, absorption out of range and a hall that nobody has', () => {
    const { state, dropped } = readLink(
      link,
      new URLSearchParams('hall.widthM=0&hall.absorption=1.4&hall.hall=cathedral&hall.bandHz=1001&hall.zM=3'),
    )
    expect(state).toEqual({ ...defaultState(link), zM: 3 })
    expect(dropped).toHaveLength(4)
    expect(dropped[0]).toContain('outside 7 to 40 m')
    expect(dropped[1]).toContain('outside 0.03 to 0.8')
  })
})

describe('the hall in words', () => {
  test('the finding follows the place and what the hall does there; the number is its share', () => {
    expect(hallFinding(answer(), 180, 'behind')).toBe('behind')
    expect(hallFinding(answer(), 60, 'behind')).toBe('Here the hall brings the treble back')
    const alike = { trebleDb: 0.2, trebleDirectDb: 0 }
    expect(hallFinding(answer(alike), 0, 'behind')).toBe('Here most of this octave is the hall’s')
    expect(hallFinding(answer({ ...alike, shares: { here: shares({ hall: 0.3 }), front: shares() } }), 0, '')).toBe(
      'Here most of this octave is direct sound',
    )
    expect(shareAtMark(answer())).toBe('96 % the hall’s')
    expect(shareAtMark(answer({ shares: { here: shares({ hall: null }), front: shares() } }))).toBe('')
  })

  test('says how much is the hall’s, and what treble there would be without it', () => {
    expect(hallSentence(answer(), behind, 'm')).toBe(
      'In the octave about 2 kHz, 2.5 m behind the loudspeaker, 96 % of the sound is the hall’s. Without the hall, treble here would be about 29 dB under the front; with it, 11 dB under.',
    )
    expect(hallSentence(answer({ trebleDb: 0.2, trebleDirectDb: 0 }), { xM: 0, zM: 3, bandHz: 500 }, 'ft')).toBe(
      'In the octave about 500 Hz, 8 ft in front of the loudspeaker, 96 % of the sound is the hall’s. It changes nothing in the treble here against the front: as strong as in front.',
    )
  })
  test('says when reflections take away', () => {
    expect(hallShareWords(shares({ hall: null, gainDb: -3.2 }))).toBe(
      'the hall takes 3 dB away: its reflections cancel part of the direct sound',
    )
    expect(hallShareWords(shares({ hall: null, gainDb: -0.2 }))).toContain('cancel as much as they bring')
    expect(hallShareWords(shares({ hall: 0.003, gainDb: 0.06 }))).toBe('next to nothing of the sound is the hall’s')
    expect(hallShareWords(shares({ hall: 0.999 }))).toBe('all but all of the sound is the hall’s')
  })
  test('says what becomes of the bass, by cases', () => {
    expect(bassSentence(answer())).toBe(
      'Bass here is as strong as in front; without the hall it would be 2 dB under. In front, in the same octave, 21 % of the sound is the hall’s.',
    )
    expect(bassSentence(answer({ bassDb: 3, bassDirectDb: 3 }))).toContain(
      'Bass is 3 dB over the front, with the hall and without it.',
    )
  })
  test('names the line of equal strength, or says why there is none', () => {
    expect(equalSentence(answer(), 2000, 'm')).toBe(
      'In the octave about 2 kHz direct sound and all that the hall adds are equally strong 4.65 m in front of the box; straight behind the hall is the stronger one right from the box.',
    )
    expect(equalSentence(answer({ equalM: null }), 63, 'm')).toContain('The octave about 63 Hz reaches below 112 Hz')
    expect(equalSentence(answer({ equalToWall: true }), 2000, 'm')).toContain('as far as the far wall')
    expect(decayWords(2.47, 2000)).toBe('At 2 kHz the hall takes 2.5 s to fall by 60 dB.')
    expect(partsWords(shares(), true)).toBe('direct 4 %, early reflections 6 %, reverberant 90 %')
    expect(partsWords(shares({ early: 0.96, late: 0 }), false)).toBe('direct 4 %, all reflections 96 %')
  })
  test('names resonances by their half waves', () => {
    const modes = shoeboxModesHz({ lengthM: 18, widthM: 11, heightM: 4.6 }, 80, makeAir())
    const words = (orders: [number, number, number]) => modeWords({ frequencyHz: 1, orders })
    expect(words([3, 0, 1])).toBe('3 half waves along the hall, 1 up')
    expect(words([0, 1, 0])).toBe('1 half wave across the hall')
    expect(words([2, 3, 0])).toBe('2 half waves along the hall, 3 across it')
    expect(words([0, 0, 1])).toBe('1 half wave up')
    expect(nearestMode(modes, 46.8)?.orders).toEqual([0, 3, 0])
    expect(nearestMode([], 46.8)).toBeUndefined()
  })
  test('says where the map is loudest and what the listener gets', () => {
    const map: HallMap = {
      columns: 3,
      rows: 3,
      levelDb: Float32Array.from([0, -5, -9, -12, -20, -12, -3, -5, -2]),
      inside: new Uint8Array(9),
      loudestDb: 12.3,
      loudest: 'corner-behind',
      loudestAt: { xM: -3, zM: -3 },
      meanDb: -6,
      quietestDb: -20,
      sourceAt: { xM: 0, zM: 0 },
    }
    const hall = { lengthM: 18, widthM: 11, heightM: 4.6 }
    expect(mapLevelAt(map, hall, { xM: -3, zM: -3 })).toBe(0)
    expect(mapLevelAt(map, hall, { xM: 8, zM: 15 })).toBe(-2)
    expect(mapLevelAt(map, hall, { xM: 80, zM: 15 })).toBeUndefined()
    expect(mapSentence(map, { frequencyHz: 47, hall }, [], { xM: 2.5, zM: 6 }, 'm')).toBe(
      'At 47 Hz the loudest place is a corner at the wall behind the loudspeaker, 12 dB over what 4 m in front gets outdoors, on hard ground. Where you are it is 20 dB less. At the quietest place it is 20 dB less.',
    )
  })
})

describe('the guess', () => {
  test('tells how far off both were, and what that says', () => {
    const computed = { bareDb: -7.4, curtainsDb: -13.4 }
    expect(guessHallVerdict({ bareDb: -24, curtainsDb: -24 }, computed, -29.2)).toBe(
      'Bare, you were 17 dB too low; with curtains, you were 11 dB too low. A bare hall carries far more treble behind the box than the box sends there. In free air it would be about 29 dB down.',
    )
    expect(guessHallVerdict({ bareDb: -8, curtainsDb: -14 }, computed, -29)).toContain('You know your halls.')
    expect(guessHallVerdict({ bareDb: -8, curtainsDb: -6 }, computed, -29)).toContain('Curtains take more')
    expect(guessHallVerdict({ bareDb: 0, curtainsDb: -14 }, computed, -29)).toContain('does not make behind into front')
    expect(guessHallVerdict({ bareDb: -8, curtainsDb: -22 }, computed, -29)).toContain('Even with curtains')
  })
  test('its link drops what is no whole decibel', () => {
    const { state, dropped } = readLink(
      guessHallLink,
      new URLSearchParams('guess-hall.bareDb=-7.5&guess-hall.shown=true'),
    )
    expect(state).toEqual({ bareDb: -24, curtainsDb: -24, shown: true })
    expect(dropped).toHaveLength(1)
  })
})

test('the map that a page is built with answers the very question that the figure asks', () => {
  const rig = rigOf('top-over-sub')
  const state = defaultState(link)
  const asked = mapQuestionOf(state, questionOf(state, rig, demoHallStates))
  expect(asked).toEqual({ rig, hall: designOf(state, demoHallStates), frequencyHz: 47, source: 'usual' })
})
