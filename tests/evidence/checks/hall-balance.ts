import {
  decayTimeS,
  equalStrengthM,
  type Hall,
  hallLevels,
  makeAir,
  monopole,
  octaveBands,
  type PlacedSource,
  type Radiation,
  thirdOctaveBands,
} from '../../../src/acoustics/index.ts'
import { demoHallStates } from '../../../src/engine/scene/hall-content.ts'
import { type HallDesign, hallOf } from '../../../src/engine/scene/hall-scene.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/hall-balance-digits.json' with { type: 'json' }

const air = makeAir()

/** A point source that sends ((1 + cos)/2)ⁿ of its axis pressure; its Q is 2n + 1. */
const beam =
  (exponent: number) =>
  (frequencyHz: number): Radiation => {
    const even = monopole(frequencyHz, air)
    return {
      ...even,
      powerW: even.powerW / (2 * exponent + 1),
      directivityIndexDb: 10 * Math.log10(2 * exponent + 1),
      pressureAt(point) {
        const { re, im } = even.pressureAt(point)
        const part = ((1 + point.zM / Math.hypot(point.xM, point.yM, point.zM)) / 2) ** exponent
        return { re: re * part, im: im * part }
      },
    }
  }

const sourceOf = (exponent: number): PlacedSource => ({
  radiation: beam(exponent),
  position: { xM: -2.5, yM: 1.9, zM: 3 },
  yawRad: 0,
  gain: 1,
  delayS: 0,
  polarity: 1,
})
const octave = thirdOctaveBands(1600, 2500)

/** Where the levels of the hall's figure have half of the octave straight ahead, m. */
function balanceM(alpha: number, exponent: number): number {
  const hall: Hall = { lengthM: 18, widthM: 11, heightM: 4.6, absorption: () => alpha }
  const open: Hall = { ...hall, absorption: () => 1 }
  const energies = [hall, open].map((each) => {
    const levels = hallLevels([sourceOf(exponent)], each, air)
    return (distanceM: number) =>
      levels
        .bandLevelsDb({ xM: -2.5, yM: 1.6, zM: 3 + distanceM }, octave)
        .reduce((sum, level) => sum + 10 ** (level / 10), 0)
  }) as [(distanceM: number) => number, (distanceM: number) => number]
  const strengths = (distanceM: number) => {
    const direct = energies[1](distanceM)
    return { direct, hall: energies[0](distanceM) - direct }
  }
  return equalStrengthM(strengths, 1, 14.9)
}

const distances: Check[] = digits.distances.map(({ alpha, withinM, exponent, distanceM }) => ({
  id: `hall-balance-${String(alpha).replace('.', '-')}-${exponent > 0 ? 'beam' : 'even'}`,
  quantity: 'Distance ahead at which direct sound and all that the hall adds are equally strong',
  unit: 'm',
  kind: 'method',
  source: 'numpy',
  place: 'hall-balance-digits.py, distances: all images by energy, searched from near to far',
  input: `source of Q = ${2 * exponent + 1}, hall of 18 × 11 × 4.6 m, α = ${alpha} everywhere, octave about 2 kHz, images to ${withinM} m`,
  expected: distanceM,
  tolerance: 0.1 * distanceM,
  toleranceReason:
    '10 % is 0.9 dB of the hall’s energy: the late field is a mean over places, about which images between smooth walls lie by up to 1 dB; farthest off is a beam along the hall, which meets smooth walls less often than an even field does',
  computed: () => balanceM(alpha, exponent),
}))

const designOf = (state: string): HallDesign =>
  (demoHallStates.find(({ key }) => key === state) as (typeof demoHallStates)[number]).design

const decays: Check[] = digits.decays.map(({ state, frequencyHz, decayS }) => ({
  id: `hall-decay-${state}-${frequencyHz}`,
  quantity: `Decay time of the demo hall, ${state}, by Eyring`,
  unit: 's',
  kind: 'outside',
  source: 'vorlaender-auralization',
  place:
    'tables of absorption, put into Eyring’s formula in hall-balance-digits.py; people with the floor that they cover, once',
  input: `${frequencyHz} Hz, 18 × 11 × 4.6 m`,
  expected: decayS,
  tolerance: 0.005 * decayS,
  toleranceReason: 'the tables are exact to the reader of them; 0.5 % for the formula of the air’s absorption',
  computed: () => {
    const centreHz = octaveBands(frequencyHz, frequencyHz)[0]?.centreHz as number
    return decayTimeS(hallOf(designOf(state)), centreHz, air)
  },
}))

/** Brickwork by octave, 125 Hz to 4 kHz. */
const brickwork = [0.02, 0.02, 0.03, 0.04, 0.05, 0.07]
const brick: Check[] = brickwork.map((expected, index) => {
  const frequencyHz = 125 * 2 ** index
  return {
    id: `hall-brick-${frequencyHz}`,
    quantity: 'Absorption of the bare brick walls of the demo hall',
    unit: '1',
    kind: 'outside',
    source: 'kaye-laby-tables',
    place: 'section 2.4.4, brickwork',
    input: `${frequencyHz} Hz`,
    expected,
    tolerance: 0.0101,
    toleranceReason: 'both tables are printed to 0.01, and two samples of brick differ by that',
    computed: () => designOf('brick').surfaces.wallLeft[index] as number,
  }
})

/** Direct sound against the hall's, and what the demo hall swallows. */
export const hallBalanceChecks: CheckGroup = {
  title: 'Direct sound against the hall’s, and what the demo hall swallows',
  checks: [...distances, ...decays, ...brick],
}
